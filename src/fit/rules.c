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

    /* cassette */

    /* hub */

    /* brakes */

    /* derailleur */
    &fit_capacity,
    &fit_single_cage,

    /* shifter */
    &fit_front_shifting,
    &fit_left_idle,
    &fit_front_left_behind,

    /* chain guide */
    &fit_chain_guide,
};

const size_t fit_rules_n = sizeof fit_rules / sizeof fit_rules[0];
