/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The registry: every rule, in the order in which findings are told, from the crank back and up to the bar.
 */
#include "fit/rules.h"

const struct fit_rule *const fit_rules[] = {
    /* crank */
    &fit_arm_length,
    &fit_arm_clearance,

    /* rings */
    &fit_ring_mount_outer,
    &fit_ring_mount_middle,
    &fit_ring_mount_inner,
    &fit_ring_order,
    &fit_ring_washers,
    &fit_ring_chain_outer,
    &fit_ring_chain_middle,
    &fit_ring_chain_inner,
    &fit_stay_clearance_outer,
    &fit_stay_clearance_middle,
    &fit_stay_clearance_inner,

    /* bottom bracket */
    &fit_spindle,
    &fit_shell,
    &fit_bracket_spacer,
    &fit_cup_spacers,

    /* chain */
    &fit_chain_hold,
    &fit_chain_sprockets,
    &fit_chain_length,
    &fit_wear,
    &fit_ring_wear_outer,
    &fit_ring_wear_middle,
    &fit_ring_wear_inner,

    /* cassette */
    &fit_cassette_body,
    &fit_cassette_gap,
    &fit_chain_tyre_outer,
    &fit_chain_tyre_middle,
    &fit_chain_tyre_inner,

    /* hub */
    &fit_body_hub,
    &fit_hub_frame,
    &fit_wheel_size,
    &fit_tyre_width,

    /* brakes */
    &fit_wheel_brake,
    &fit_rotor_mount,
    &fit_rotor_size,
    &fit_rotor_needed,
    &fit_rotor_worn,
    &fit_lever_brake_right,
    &fit_lever_brake_left,
    &fit_lever_bar_right,
    &fit_lever_bar_left,

    /* derailleur */
    &fit_hanger,
    &fit_hanger_frame,
    &fit_hanger_straight,
    &fit_extender,
    &fit_largest_sprocket,
    &fit_least_largest,
    &fit_cage_ground,
    &fit_capacity,
    &fit_single_cage,

    /* shifter */
    &fit_shift_family,
    &fit_shift_steps,
    &fit_lever_shifter_right,
    &fit_lever_shifter_left,
    &fit_shifter_lever_right,
    &fit_shifter_lever_left,
    &fit_shifter_seat_right,
    &fit_shifter_seat_left,
    &fit_cables,
    &fit_front_parts,
    &fit_front_shifting,
    &fit_rings_shift,
    &fit_left_idle,
    &fit_front_left_behind,

    /* chain guide */
    &fit_chain_guide,
};

const size_t fit_rules_n = sizeof fit_rules / sizeof fit_rules[0];
