/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The sound bikes and the pool of parts of world.c, in words: 'property=value', lists with commas. Sizes as they are common
 * in the trade; which part meets which bike is marked by the bike's letter, and only a hint.
 */
#ifndef PLAN_WORLD_PARTS_H
#define PLAN_WORLD_PARTS_H

struct in_words {
    const char *where; /* a slot, or bike, frame, wheel, rider; of a pool part its kind */
    const char *text;
    const char *bikes; /* of a pool part: letters of the bikes that it is meant for */
};

/* A: three rings and eight sprockets, flat bar, square spindle, shifters built into the brake levers. */
static const struct in_words bike_a[] = {
    {"bike", "use=touring", ""},
    {"frame",
     "hub_width_mm=135 axle=quick_release recess_mm=0 chainstay_mm=445 bottom_bracket_drop_mm=60 gap_mm=5 "
     "shell=english "
     "shell_width_mm=68 bar=flat brake=rim_linear_pull right_lever_brake=rim_linear_pull "
     "left_lever_brake=rim_linear_pull material=aluminium stay_60_mm=34 stay_70_mm=36 stay_80_mm=38 stay_100_mm=42 "
     "guide_mounts=band",
     ""},
    {"wheel", "rolling_mm=2220 bead_seat_mm=622 tyre_width_mm=42", ""},
    {"crank",
     "spindle=square_jis arm_mm=170 hold=taper_bolt places=outer,middle,inner mount=four_arm_104 "
     "inner_mount=four_arm_64 "
     "rings_fixed=no outer_plane_mm=57.4 middle_plane_mm=50 inner_plane_mm=42.7 q_mm=180",
     ""},
    {"outer_ring", "teeth=48 place=outer mount=four_arm_104 profile=ramped chains=up_to_8", ""},
    {"middle_ring", "teeth=36 place=middle mount=four_arm_104 profile=ramped chains=up_to_8", ""},
    {"inner_ring", "teeth=26 place=inner mount=four_arm_64 profile=plain chains=up_to_8", ""},
    {"bottom_bracket",
     "shell=english least_shell_mm=68 widest_shell_mm=68 spindle=square_jis spindle_mm=118 right_overhang_mm=0", ""},
    {"chain", "family=up_to_8 links=112 worn_percent=0.3", ""},
    {"cassette",
     "sprockets=11,13,15,18,21,24,28,32 spline=nine_key class_mm=35 spacer_mm=0 spacing=common overhang_mm=0 worn=no",
     ""},
    {"freehub_body", "spline=nine_key length_mm=35", ""},
    {"rear_wheel",
     "hub_width_mm=135 axle=quick_release kind=cassette bodies=nine_key body_fixed=no long_body=no bead_seat_mm=622 "
     "rim_brake=yes rotor_mount=none least_tyre_mm=32 widest_tyre_mm=50",
     ""},
    {"hanger", "kind=standard straight=yes replaceable=yes", ""},
    {"rear_derailleur",
     "pulls=r17_7,r17_8 largest_teeth=34 least_largest_teeth=24 capacity_teeth=43 cage=long clutch=no single_only=no "
     "front_step_teeth=22 chain_rule=ordinary mounts=standard",
     ""},
    {"front_derailleur", "mount=band_31_8 bracket_mm=0 step_teeth=22", ""},
    {"right_shifter", "side=right actuation=indexed pull=r17_8 positions=8 seat=in_lever bar=flat unit=right-8", ""},
    {"left_shifter", "side=left actuation=indexed positions=3 seat=in_lever bar=flat unit=left-3", ""},
    {"right_brake_lever", "side=right pull=long carries_shifter=yes bar=flat unit=right-8", ""},
    {"left_brake_lever", "side=left pull=long carries_shifter=yes bar=flat unit=left-3", ""},
    {"cables", "use=flat_bar", ""},
};

/* B: two rings and ten sprockets, disc brakes, outboard cups, shifters on brackets of the brake levers. */
static const struct in_words bike_b[] = {
    {"bike", "use=off_road", ""},
    {"frame",
     "hub_width_mm=142 axle=thru_12 recess_mm=3.5 chainstay_mm=437 bottom_bracket_drop_mm=60 gap_mm=3.6 shell=press_41 "
     "shell_width_mm=92 bar=flat brake=disc_mineral right_lever_brake=disc_mineral left_lever_brake=disc_mineral "
     "material=aluminium stay_60_mm=38 stay_70_mm=40 stay_80_mm=42 largest_rotor_mm=180 guide_mounts=band",
     ""},
    {"wheel", "rolling_mm=2281 bead_seat_mm=622 tyre_width_mm=56", ""},
    {"crank",
     "spindle=hollow_24 arm_mm=175 hold=pinch_bolts places=outer,inner mount=four_arm_104 inner_mount=four_arm_64 "
     "rings_fixed=no outer_plane_mm=51.3 inner_plane_mm=44.7 q_mm=169",
     ""},
    {"outer_ring", "teeth=38 place=outer mount=four_arm_104 profile=ramped chains=ten", ""},
    {"inner_ring", "teeth=24 place=inner mount=four_arm_64 profile=plain chains=ten", ""},
    {"bottom_bracket", "shell=press_41 least_shell_mm=89.5 widest_shell_mm=92 spindle=hollow_24", ""},
    {"chain", "family=ten links=112 worn_percent=0.3", ""},
    {"cassette",
     "sprockets=11,13,15,17,19,21,24,28,32,36 spline=nine_key class_mm=35 spacer_mm=0 spacing=common overhang_mm=0.8 "
     "worn=no",
     ""},
    {"freehub_body", "spline=nine_key length_mm=35", ""},
    {"rear_wheel",
     "hub_width_mm=142 axle=thru_12 kind=cassette bodies=nine_key,threaded_nose body_fixed=no long_body=no "
     "bead_seat_mm=622 rim_brake=no rotor_mount=six_bolt least_tyre_mm=45 widest_tyre_mm=62",
     ""},
    {"rear_rotor", "size_mm=160 mount=six_bolt thickness_mm=1.7", ""},
    {"hanger", "kind=standard straight=yes replaceable=yes", ""},
    {"rear_derailleur",
     "pulls=r12_10 largest_teeth=36 least_largest_teeth=32 capacity_teeth=43 cage=long clutch=yes single_only=no "
     "front_step_teeth=16 chain_rule=ordinary mounts=standard",
     ""},
    {"front_derailleur", "mount=direct_low bracket_mm=0 step_teeth=14", ""},
    {"right_shifter", "side=right actuation=indexed pull=r12_10 positions=10 seat=bracket_a bar=flat", ""},
    {"left_shifter", "side=left actuation=indexed positions=2 seat=bracket_a bar=flat", ""},
    {"right_brake_lever", "side=right pull=mineral carries_shifter=no brackets=bracket_a bar=flat", ""},
    {"left_brake_lever", "side=left pull=mineral carries_shifter=no brackets=bracket_a bar=flat", ""},
    {"cables", "use=flat_bar", ""},
};

/* C: two rings and eight sprockets on the road, drop bar, the front derailleur on a plate under the cup. */
static const struct in_words bike_c[] = {
    {"bike", "use=road", ""},
    {"frame",
     "hub_width_mm=130 axle=quick_release recess_mm=0 chainstay_mm=415 bottom_bracket_drop_mm=70 gap_mm=4 "
     "shell=english "
     "shell_width_mm=68 bar=drop brake=rim_caliper right_lever_brake=rim_caliper left_lever_brake=rim_caliper "
     "material=steel stay_60_mm=28 stay_70_mm=30 stay_80_mm=32 stay_100_mm=36 guide_mounts=band",
     ""},
    {"wheel", "rolling_mm=2105 bead_seat_mm=622 tyre_width_mm=28", ""},
    {"crank",
     "spindle=square_jis arm_mm=172.5 hold=taper_bolt places=outer,inner mount=five_arm_130 inner_mount=five_arm_130 "
     "rings_fixed=no outer_plane_mm=46 inner_plane_mm=41 q_mm=150",
     ""},
    {"outer_ring", "teeth=52 place=outer mount=five_arm_130 profile=ramped chains=up_to_8,nine", ""},
    {"inner_ring", "teeth=42 place=inner mount=five_arm_130 profile=plain chains=up_to_8,nine", ""},
    {"bottom_bracket",
     "shell=english least_shell_mm=68 widest_shell_mm=68 spindle=square_jis spindle_mm=110.5 right_overhang_mm=0", ""},
    {"cup_spacers", "place=cups thickness_mm=1", ""},
    {"chain", "family=up_to_8 links=108 worn_percent=0.3", ""},
    {"cassette",
     "sprockets=12,13,15,17,19,21,23,26 spline=nine_key class_mm=35 spacer_mm=0 spacing=common overhang_mm=0 worn=no",
     ""},
    {"cassette_spacer", "place=cassette thickness_mm=1.85", ""},
    {"freehub_body", "spline=nine_key length_mm=36.8", ""},
    {"rear_wheel",
     "hub_width_mm=130 axle=quick_release kind=cassette bodies=nine_key body_fixed=no long_body=yes bead_seat_mm=622 "
     "rim_brake=yes rotor_mount=none least_tyre_mm=20 widest_tyre_mm=35",
     ""},
    {"hanger", "kind=standard straight=yes replaceable=no", ""},
    {"rear_derailleur",
     "pulls=r17_7,r17_8,r17_9 largest_teeth=28 least_largest_teeth=23 capacity_teeth=28 cage=short clutch=no "
     "single_only=no front_step_teeth=14 chain_rule=ordinary mounts=standard",
     ""},
    {"front_derailleur", "mount=cup_bracket bracket_mm=2.5 step_teeth=14", ""},
    {"right_shifter", "side=right actuation=indexed pull=r17_8 positions=8 seat=down_tube", ""},
    {"left_shifter", "side=left actuation=friction seat=down_tube", ""},
    {"right_brake_lever", "side=right pull=short carries_shifter=no bar=drop", ""},
    {"left_brake_lever", "side=left pull=short carries_shifter=no bar=drop", ""},
    {"cables", "use=drop_bar", ""},
};

/* D: three rings and a threaded freewheel in town; half of it nobody has looked at. */
static const struct in_words bike_d[] = {
    {"bike", "use=city", ""},
    {"frame",
     "hub_width_mm=135 axle=nutted recess_mm=0 chainstay_mm=455 gap_mm=4 shell=english shell_width_mm=68 bar=flat "
     "brake=rim_linear_pull right_lever_brake=rim_linear_pull left_lever_brake=rim_linear_pull material=steel "
     "guide_mounts=band",
     ""},
    {"wheel", "rolling_mm=2190 bead_seat_mm=622 tyre_width_mm=40", ""},
    {"crank",
     "spindle=square_jis arm_mm=170 hold=taper_bolt places=outer,middle,inner mount=five_arm_110 "
     "inner_mount=five_arm_74 "
     "rings_fixed=no outer_plane_mm=54.7 middle_plane_mm=47.5 inner_plane_mm=40.3 q_mm=176",
     ""},
    {"outer_ring", "teeth=48 place=outer mount=five_arm_110 profile=ramped chains=up_to_8", ""},
    {"middle_ring", "teeth=38 place=middle mount=five_arm_110 profile=ramped chains=up_to_8", ""},
    {"inner_ring", "teeth=28 place=inner mount=five_arm_74 profile=plain chains=up_to_8", ""},
    {"bottom_bracket", "shell=english spindle=square_jis spindle_mm=118 right_overhang_mm=0", ""},
    {"chain", "family=up_to_8 links=114 worn_percent=0.2", ""},
    {"cassette", "sprockets=14,16,18,20,22,24,28 spline=threaded spacing=common overhang_mm=0 worn=no", ""},
    {"rear_wheel",
     "hub_width_mm=135 axle=nutted kind=threaded bead_seat_mm=622 rim_brake=yes rotor_mount=none least_tyre_mm=28 "
     "widest_tyre_mm=47",
     ""},
    {"rear_derailleur",
     "pulls=r17_6,r17_7 largest_teeth=34 least_largest_teeth=24 capacity_teeth=43 cage=long single_only=no "
     "front_step_teeth=22 chain_rule=ordinary mounts=standard",
     ""},
    {"front_derailleur", "mount=band_28_6 step_teeth=22", ""},
    {"right_shifter", "side=right actuation=indexed pull=r17_7 positions=7 seat=own_clamp bar=flat", ""},
    {"left_shifter", "side=left actuation=indexed positions=3 seat=own_clamp bar=flat", ""},
    {"right_brake_lever", "side=right pull=long carries_shifter=no bar=flat", ""},
    {"left_brake_lever", "side=left pull=long carries_shifter=no bar=flat", ""},
};

static const struct in_words pool[] = {
    {"crank",
     "spindle=square_jis spindle_mm=113 arm_mm=170 hold=taper_bolt places=outer mount=four_arm_104 rings_fixed=no "
     "line_mm=47.5 outer_plane_mm=47.5 q_mm=170",
     "ad"},
    {"crank",
     "spindle=square_jis spindle_mm=118 arm_mm=172.5 hold=taper_bolt places=outer,middle,inner mount=four_arm_104 "
     "inner_mount=four_arm_64 rings_fixed=no line_mm=50 spacing_mm=7.3 q_mm=176",
     "ad"},
    {"crank",
     "spindle=hollow_24 arm_mm=175 hold=pinch_bolts places=outer mount=direct_3_bolt rings_fixed=no line_mm=49 "
     "outer_plane_mm=49 q_mm=172",
     "b"},
    {"crank",
     "spindle=hollow_24 arm_mm=175 hold=pinch_bolts places=outer mount=four_arm_104 rings_fixed=no line_mm=49 "
     "outer_plane_mm=49 q_mm=172",
     "b"},
    {"crank",
     "spindle=square_iso spindle_mm=111 arm_mm=172.5 hold=taper_bolt places=outer,inner mount=five_arm_130 "
     "inner_mount=five_arm_130 rings_fixed=no line_mm=43.5 spacing_mm=6 q_mm=150",
     "c"},
    {"crank",
     "spindle=square_jis spindle_mm=110.5 arm_mm=172.5 hold=taper_bolt places=outer mount=five_arm_130 rings_fixed=no "
     "line_mm=43.5 outer_plane_mm=43.5 q_mm=150",
     "c"},
    {"ring", "teeth=32 mount=four_arm_104 profile=wide_narrow chains=up_to_8,nine", "a"},
    {"ring", "teeth=36 mount=four_arm_104 profile=wide_narrow chains=up_to_8,nine,ten,eleven", "ab"},
    {"ring", "teeth=32 mount=four_arm_104 profile=wide_narrow chains=ten,eleven", "b"},
    {"ring", "teeth=30 mount=direct_3_bolt profile=wide_narrow chains=ten,eleven offset_mm=6", "b"},
    {"ring", "teeth=38 mount=four_arm_104 profile=ramped chains=ten", "b"},
    {"ring", "teeth=44 mount=four_arm_104 profile=plain chains=up_to_8,nine", "a"},
    {"ring", "teeth=24 mount=four_arm_64 profile=plain chains=up_to_8,nine,ten", "ab"},
    {"ring", "teeth=26 mount=four_arm_64 profile=plain chains=up_to_8", "a"},
    {"ring", "teeth=42 mount=five_arm_130 profile=wide_narrow chains=up_to_8,nine,ten", "c"},
    {"ring", "teeth=44 mount=five_arm_130 profile=wide_narrow chains=nine,ten,eleven", "c"},
    {"ring", "teeth=50 mount=five_arm_130 profile=ramped chains=up_to_8,nine", "c"},
    {"ring", "teeth=38 mount=five_arm_110 profile=wide_narrow chains=up_to_8", "d"},
    {"ring", "teeth=42 mount=five_arm_110 profile=plain chains=up_to_8", "d"},
    {"spacer", "place=cups thickness_mm=2.5", "acd"},
    {"spacer", "place=cups thickness_mm=1", "acd"},
    {"spacer", "place=cups thickness_mm=3.5", "c"},
    {"spacer", "place=ring_bolts thickness_mm=1", "abcd"},
    {"spacer", "place=ring_bolts thickness_mm=1.2", "abcd"},
    {"spacer", "place=cassette thickness_mm=1.85", "c"},
    {"spacer", "place=cassette thickness_mm=1", "abc"},
    {"spacer", "place=cassette thickness_mm=4.5", "ab"},
    {"bottom_bracket",
     "shell=english least_shell_mm=68 widest_shell_mm=68 spindle=square_jis spindle_mm=113 right_overhang_mm=0", "acd"},
    {"bottom_bracket",
     "shell=english least_shell_mm=68 widest_shell_mm=68 spindle=square_jis spindle_mm=122.5 right_overhang_mm=0",
     "ad"},
    {"bottom_bracket",
     "shell=english least_shell_mm=68 widest_shell_mm=73 spindle=square_iso spindle_mm=111 right_overhang_mm=0", "c"},
    {"bottom_bracket", "shell=english least_shell_mm=68 widest_shell_mm=73 spindle=hollow_24", "acd"},
    {"bottom_bracket", "shell=press_41 least_shell_mm=89.5 widest_shell_mm=92 spindle=hollow_24", "b"},
    {"bottom_bracket", "shell=press_41 least_shell_mm=92 widest_shell_mm=92 spindle=hollow_30", "b"},
    {"chain", "family=up_to_8 links=116 worn_percent=0", "acd"},
    {"chain", "family=nine links=116 worn_percent=0", "ac"},
    {"chain", "family=nine links=106 worn_percent=0", "ac"},
    {"chain", "family=ten links=118 worn_percent=0", "abc"},
    {"chain", "family=eleven links=118 worn_percent=0", "b"},
    {"cassette",
     "sprockets=11,13,15,18,21,24,28,34 spline=nine_key class_mm=35 spacer_mm=0 spacing=common overhang_mm=0 worn=no",
     "a"},
    {"cassette",
     "sprockets=11,13,16,20,24,28,34,40 spline=nine_key class_mm=35 spacer_mm=0 spacing=common overhang_mm=3 worn=no",
     "a"},
    {"cassette",
     "sprockets=11,13,15,17,20,23,26,30,34 spline=nine_key class_mm=35 spacer_mm=0 spacing=common overhang_mm=0 "
     "worn=no",
     "ac"},
    {"cassette",
     "sprockets=11,13,15,17,19,21,24,28,32,36 spline=nine_key class_mm=35 spacer_mm=1 spacing=common overhang_mm=0 "
     "worn=no",
     "ab"},
    {"cassette",
     "sprockets=11,13,15,17,19,21,24,28,34,42 spline=nine_key class_mm=35 spacer_mm=0 spacing=common overhang_mm=3.6 "
     "worn=no",
     "b"},
    {"cassette",
     "sprockets=10,12,14,16,18,21,24,28,33,39,45 spline=threaded_nose spacer_mm=0 spacing=common overhang_mm=4 worn=no",
     "b"},
    {"cassette",
     "sprockets=13,14,15,17,19,21,23,26 spline=nine_key class_mm=35 spacer_mm=0 spacing=common overhang_mm=0 worn=no",
     "c"},
    {"cassette",
     "sprockets=12,13,14,15,17,19,21,24,27 spline=nine_key class_mm=35 spacer_mm=0 spacing=common overhang_mm=0 "
     "worn=no",
     "c"},
    {"cassette", "sprockets=14,16,18,20,22,24,34 spline=threaded spacer_mm=0 spacing=common overhang_mm=0 worn=no",
     "d"},
    {"cassette", "sprockets=13,15,17,19,21,24,28 spline=threaded spacer_mm=0 spacing=common overhang_mm=0 worn=no",
     "d"},
    {"freehub_body", "spline=nine_key length_mm=35", "abc"},
    {"freehub_body", "spline=nine_key length_mm=36.8", "c"},
    {"freehub_body", "spline=threaded_nose length_mm=33", "b"},
    {"freehub_body", "spline=short_23 length_mm=33", ""},
    {"rear_wheel",
     "hub_width_mm=135 axle=quick_release kind=cassette bodies=nine_key body_fixed=no long_body=no bead_seat_mm=622 "
     "rim_brake=yes rotor_mount=none least_tyre_mm=28 widest_tyre_mm=50 shoulder_mm=27",
     "ad"},
    {"rear_wheel",
     "hub_width_mm=135 axle=quick_release kind=cassette bodies=nine_key body_fixed=no long_body=no bead_seat_mm=622 "
     "rim_brake=yes rotor_mount=none least_tyre_mm=28 widest_tyre_mm=50 comes_with_body=nine_key comes_with_body_mm=35",
     "ad"},
    {"rear_wheel",
     "hub_width_mm=130 axle=quick_release kind=cassette bodies=nine_key body_fixed=no long_body=yes bead_seat_mm=622 "
     "rim_brake=yes rotor_mount=none least_tyre_mm=23 widest_tyre_mm=35 comes_with_body=nine_key "
     "comes_with_body_mm=36.8",
     "c"},
    {"rear_wheel",
     "hub_width_mm=142 axle=thru_12 kind=cassette bodies=nine_key,short_23,threaded_nose body_fixed=no long_body=no "
     "bead_seat_mm=622 rim_brake=no rotor_mount=six_bolt least_tyre_mm=45 widest_tyre_mm=62",
     "b"},
    {"rear_wheel",
     "hub_width_mm=130 axle=quick_release kind=cassette bodies=nine_key body_fixed=no long_body=yes bead_seat_mm=622 "
     "rim_brake=yes rotor_mount=none least_tyre_mm=23 widest_tyre_mm=35",
     "c"},
    {"rear_wheel",
     "hub_width_mm=135 axle=nutted kind=threaded bodies=threaded body_fixed=no long_body=no bead_seat_mm=622 "
     "rim_brake=yes rotor_mount=none least_tyre_mm=28 widest_tyre_mm=50",
     "d"},
    {"rotor", "size_mm=160 mount=six_bolt thickness_mm=1.8", "b"},
    {"rotor", "size_mm=180 mount=six_bolt thickness_mm=1.8", "b"},
    {"rotor", "size_mm=160 mount=centre_spline thickness_mm=1.8", ""},
    {"hanger", "kind=standard straight=yes replaceable=yes", "abcd"},
    {"hanger", "kind=long_direct straight=yes replaceable=yes", "abc"},
    {"hanger", "kind=universal straight=yes replaceable=yes", ""},
    {"hanger_extender", "kind=standard adds_teeth=6", "abc"},
    {"hanger_extender", "kind=standard adds_teeth=4", "abcd"},
    {"rear_derailleur",
     "pulls=r17_7,r17_8,r17_9 largest_teeth=36 least_largest_teeth=24 capacity_teeth=45 cage=long clutch=no "
     "single_only=no "
     "front_step_teeth=22 chain_rule=ordinary mounts=standard",
     "acd"},
    {"rear_derailleur",
     "pulls=r17_8,r17_9 largest_teeth=42 least_largest_teeth=34 capacity_teeth=33 cage=long clutch=yes single_only=yes "
     "front_step_teeth=0 chain_rule=wide_single mounts=standard",
     "ac"},
    {"rear_derailleur",
     "pulls=r12_10 largest_teeth=42 least_largest_teeth=36 capacity_teeth=43 cage=long clutch=yes single_only=no "
     "front_step_teeth=16 chain_rule=ordinary mounts=standard,long_direct",
     "b"},
    {"rear_derailleur",
     "pulls=r12_10 largest_teeth=46 least_largest_teeth=40 capacity_teeth=39 cage=long clutch=yes single_only=yes "
     "front_step_teeth=0 chain_rule=wide_single mounts=standard",
     "b"},
    {"rear_derailleur",
     "pulls=r11_11 largest_teeth=46 least_largest_teeth=40 capacity_teeth=39 cage=long clutch=yes single_only=yes "
     "front_step_teeth=0 chain_rule=wide_single mounts=long_direct",
     "b"},
    {"front_derailleur", "mount=band_31_8 bracket_mm=0 step_teeth=22", "a"},
    {"front_derailleur", "mount=band_28_6 bracket_mm=0 step_teeth=14", "cd"},
    {"front_derailleur", "mount=direct_low bracket_mm=0 step_teeth=16", "b"},
    {"shifter", "side=right actuation=indexed pull=r17_8 positions=8 seat=own_clamp bar=flat", "a"},
    {"shifter", "side=right actuation=indexed pull=r17_9 positions=9 seat=own_clamp bar=flat", "a"},
    {"shifter", "side=right actuation=indexed pull=r17_8 positions=8 seat=in_lever bar=flat unit=right-8", "a"},
    {"shifter", "side=right actuation=indexed pull=r12_10 positions=10 seat=own_clamp bar=flat", "ab"},
    {"shifter", "side=right actuation=indexed pull=r12_10 positions=10 seat=bracket_a bar=flat", "b"},
    {"shifter", "side=right actuation=indexed pull=r11_11 positions=11 seat=bracket_a bar=flat", "b"},
    {"shifter", "side=right actuation=friction seat=down_tube", "c"},
    {"shifter", "side=right actuation=indexed pull=r17_9 positions=9 seat=bar_end bar=drop", "c"},
    {"shifter", "side=right actuation=indexed pull=r17_7 positions=7 seat=twist bar=flat", "d"},
    {"shifter", "side=either actuation=friction seat=own_clamp bar=flat", "abd"},
    {"shifter", "side=left actuation=indexed positions=3 seat=own_clamp bar=flat", "ad"},
    {"shifter", "side=left actuation=indexed positions=2 seat=bracket_a bar=flat", "b"},
    {"brake_lever", "side=right pull=long carries_shifter=no bar=flat", "ad"},
    {"brake_lever", "side=right pull=long carries_shifter=yes bar=flat unit=right-8", "a"},
    {"brake_lever", "side=left pull=long carries_shifter=no bar=flat", "ad"},
    {"brake_lever", "side=either pull=long carries_shifter=no bar=flat", "ad"},
    {"brake_lever", "side=either pull=mineral carries_shifter=no brackets=bracket_a,bracket_b bar=flat", "b"},
    {"brake_lever", "side=either pull=short carries_shifter=no bar=drop", "c"},
    {"chain_guide", "mount=band least_teeth=28 most_teeth=44 single_only=yes", "abcd"},
    {"chain_guide", "mount=high_direct least_teeth=28 most_teeth=36 single_only=yes", ""},
    {"cable_set", "use=flat_bar", "abd"},
    {"cable_set", "use=drop_bar", "c"},
};

#endif
