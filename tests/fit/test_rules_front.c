/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What every rule of the front half keeps: its reads are just those that it looks at, its verdicts are well formed, and
 * each of its reasons has a sentence. What each of them decides is tested beside its joint: test_rules_<joint>.c.
 */
#include "fit/probe.h"
#include "fit/rules.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <string.h>

#include <cmocka.h>

static const struct fit_rule *const front[] = {
    &fit_arm_length,
    &fit_arm_clearance,
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
    &fit_spindle,
    &fit_shell,
    &fit_bracket_spacer,
    &fit_cup_spacers,
    &fit_chain_hold,
    &fit_chain_sprockets,
    &fit_chain_length,
    &fit_wear,
    &fit_ring_wear_outer,
    &fit_ring_wear_middle,
    &fit_ring_wear_inner,
    &fit_capacity,
    &fit_single_cage,
    &fit_front_parts,
    &fit_front_shifting,
    &fit_rings_shift,
    &fit_left_idle,
    &fit_front_left_behind,
    &fit_chain_guide,
};
#define FRONT (sizeof front / sizeof front[0])

static void contract(void **state) {
    (void)state;
    for (size_t i = 0; i < FRONT; i++) {
        probe_contract(front[i], "fit-front.csv", 2026 + i);
        probe_asks(front[i], 11 + i);
    }
}

/* Each stands in the registry once, is found by its id, and tells its variants apart. */
static void registered(void **state) {
    (void)state;
    for (size_t i = 0; i < FRONT; i++) {
        unsigned n = 0;
        for (size_t r = 0; r < fit_rules_n; r++) {
            n += fit_rules[r] == front[i];
            bool twin = fit_rules[r] != front[i] && strcmp(fit_rules[r]->id, front[i]->id) == 0;
            assert_false(twin && fit_rules[r]->variant == front[i]->variant);
        }
        assert_int_equal(n, 1);
        assert_string_equal(fit_find_rule(front[i]->id)->id, front[i]->id);
    }
    assert_null(fit_find_rule("ring-mounts"));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(contract),
        cmocka_unit_test(registered),
    };
    return cmocka_run_group_tests_name("rules of the front half", tests, NULL, NULL);
}
