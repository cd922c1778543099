/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The registry: every rule, in the order in which findings are told, from the crank back and up to the bar.
 */
#include "fit/rules.h"

const struct fit_rule *const fit_rules[] = {
    /* crank */

    /* rings */
    &fit_ring_order,

    /* bottom bracket */

    /* chain */

    /* cassette */

    /* hub */

    /* brakes */

    /* derailleur */

    /* shifter */

    /* chain guide */
};

const size_t fit_rules_n = sizeof fit_rules / sizeof fit_rules[0];
