/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What every rule of the rear half keeps: its reads are just those that it looks at, its verdicts are well formed, and
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

static const struct fit_rule *const rear[] = {
    &fit_cassette_body,
    &fit_cassette_gap,
    &fit_chain_tyre_outer,
    &fit_chain_tyre_middle,
    &fit_chain_tyre_inner,
    &fit_body_hub,
    &fit_hub_frame,
    &fit_wheel_size,
    &fit_tyre_width,
    &fit_wheel_brake,
    &fit_rotor_mount,
    &fit_rotor_size,
    &fit_rotor_needed,
    &fit_rotor_worn,
    &fit_lever_brake_right,
    &fit_lever_brake_left,
    &fit_lever_bar_right,
    &fit_lever_bar_left,
    &fit_hanger,
    &fit_hanger_frame,
    &fit_hanger_straight,
    &fit_extender,
    &fit_largest_sprocket,
    &fit_least_largest,
    &fit_cage_ground,
    &fit_shift_family,
    &fit_shift_steps,
    &fit_lever_shifter_right,
    &fit_lever_shifter_left,
    &fit_shifter_lever_right,
    &fit_shifter_lever_left,
    &fit_shifter_seat_right,
    &fit_shifter_seat_left,
    &fit_cables,
};
#define REAR (sizeof rear / sizeof rear[0])

static void contract(void **state) {
    (void)state;
    for (size_t i = 0; i < REAR; i++) {
        probe_contract(rear[i], "fit-rear.csv", 1974 + i);
        probe_asks(rear[i], 1974 + i);
    }
}

/* Each stands in the registry once, is found by its id, and tells its variants apart. */
static void registered(void **state) {
    (void)state;
    for (size_t i = 0; i < REAR; i++) {
        unsigned n = 0;
        for (size_t r = 0; r < fit_rules_n; r++) {
            n += fit_rules[r] == rear[i];
            bool twin = fit_rules[r] != rear[i] && strcmp(fit_rules[r]->id, rear[i]->id) == 0;
            assert_false(twin && fit_rules[r]->variant == rear[i]->variant);
        }
        assert_int_equal(n, 1);
        assert_string_equal(fit_find_rule(rear[i]->id)->id, rear[i]->id);
    }
    assert_null(fit_find_rule("rotor"));
}

/* What stops the bike can't be overruled (stated so by the trade's practice; nothing else is kept from a mechanic). */
static void safety(void **state) {
    (void)state;
    static const char *const stops[] = {"wheel-brake", "rotor-mount", "rotor-size", "rotor-needed",
                                        "rotor-worn",  "lever-brake", "lever-bar"};
    for (size_t i = 0; i < REAR; i++) {
        bool expected = false;
        for (size_t s = 0; s < sizeof stops / sizeof stops[0]; s++) {
            expected = expected || strcmp(stops[s], rear[i]->id) == 0;
        }
        assert_int_equal(rear[i]->safety, expected);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(contract),
        cmocka_unit_test(registered),
        cmocka_unit_test(safety),
    };
    return cmocka_run_group_tests_name("rules of the rear half", tests, NULL, NULL);
}
