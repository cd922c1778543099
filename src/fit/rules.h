/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Every rule by name, for the registry (rules.c) and for tests. Each is described in its own file.
 */
#ifndef FIT_RULES_H
#define FIT_RULES_H

#include "fit/fit.h"

/* Front half: crank, rings, bottom bracket, chain, and what works the front. */
extern const struct fit_rule fit_arm_length;
extern const struct fit_rule fit_arm_clearance;
extern const struct fit_rule fit_ring_mount_outer;
extern const struct fit_rule fit_ring_mount_middle;
extern const struct fit_rule fit_ring_mount_inner;
extern const struct fit_rule fit_ring_order;
extern const struct fit_rule fit_ring_washers;
extern const struct fit_rule fit_ring_chain_outer;
extern const struct fit_rule fit_ring_chain_middle;
extern const struct fit_rule fit_ring_chain_inner;
extern const struct fit_rule fit_stay_clearance_outer;
extern const struct fit_rule fit_stay_clearance_middle;
extern const struct fit_rule fit_stay_clearance_inner;
extern const struct fit_rule fit_spindle;
extern const struct fit_rule fit_shell;
extern const struct fit_rule fit_bracket_spacer;
extern const struct fit_rule fit_cup_spacers;
extern const struct fit_rule fit_chain_hold;
extern const struct fit_rule fit_chain_sprockets;
extern const struct fit_rule fit_chain_length;
extern const struct fit_rule fit_wear;
extern const struct fit_rule fit_ring_wear_outer;
extern const struct fit_rule fit_ring_wear_middle;
extern const struct fit_rule fit_ring_wear_inner;
extern const struct fit_rule fit_capacity;
extern const struct fit_rule fit_single_cage;
extern const struct fit_rule fit_front_parts;
extern const struct fit_rule fit_front_shifting;
extern const struct fit_rule fit_rings_shift;
extern const struct fit_rule fit_left_idle;
extern const struct fit_rule fit_front_left_behind;
extern const struct fit_rule fit_chain_guide;

/* Rear half: cassette, hub, brakes, derailleur, shifter. */
extern const struct fit_rule fit_cassette_body;
extern const struct fit_rule fit_cassette_gap;
extern const struct fit_rule fit_chain_tyre_outer;
extern const struct fit_rule fit_chain_tyre_middle;
extern const struct fit_rule fit_chain_tyre_inner;
extern const struct fit_rule fit_body_hub;
extern const struct fit_rule fit_hub_frame;
extern const struct fit_rule fit_wheel_size;
extern const struct fit_rule fit_tyre_width;
extern const struct fit_rule fit_wheel_brake;
extern const struct fit_rule fit_rotor_mount;
extern const struct fit_rule fit_rotor_size;
extern const struct fit_rule fit_rotor_needed;
extern const struct fit_rule fit_rotor_worn;
extern const struct fit_rule fit_lever_brake_right;
extern const struct fit_rule fit_lever_brake_left;
extern const struct fit_rule fit_lever_bar_right;
extern const struct fit_rule fit_lever_bar_left;
extern const struct fit_rule fit_hanger;
extern const struct fit_rule fit_hanger_frame;
extern const struct fit_rule fit_hanger_straight;
extern const struct fit_rule fit_extender;
extern const struct fit_rule fit_largest_sprocket;
extern const struct fit_rule fit_least_largest;
extern const struct fit_rule fit_cage_ground;
extern const struct fit_rule fit_shift_family;
extern const struct fit_rule fit_shift_steps;
extern const struct fit_rule fit_lever_shifter_right;
extern const struct fit_rule fit_lever_shifter_left;
extern const struct fit_rule fit_shifter_lever_right;
extern const struct fit_rule fit_shifter_lever_left;
extern const struct fit_rule fit_shifter_seat_right;
extern const struct fit_rule fit_shifter_seat_left;
extern const struct fit_rule fit_cables;

#endif
