/* SPDX-License-Identifier: Apache-2.0 */
/* Gears: the table's order, range, development both ways, repeated gears. */
#include "mech/gear.h"
#include "mech/sprocket.h"
#include "support/near.h"
#include "support/random.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define RINGS_MAX 3
#define SPROCKETS_MAX 13

static void test_range_as_the_trade_states_it(void **state) {
    (void)state;
    struct reference *r = reference_open("gear_range");
    while (reference_next(r)) {
        double lowest = mech_gear_ratio(reference_count(r, "lowest_ring"), reference_count(r, "largest_sprocket"));
        double highest = mech_gear_ratio(reference_count(r, "highest_ring"), reference_count(r, "smallest_sprocket"));
        reference_check(r, "range_percent", mech_gear_range_percent(lowest, highest), 0.05);
    }
    reference_close(r, 4);
}

static void test_speed_and_cadence_both_ways(void **state) {
    (void)state;
    struct reference *r = reference_open("gear_speed");
    while (reference_next(r)) {
        double development_m = reference_number(r, "development_m");
        double cadence_rpm = reference_number(r, "cadence_rpm");
        reference_check(r, "speed_kmh", mech_gear_speed_kmh(development_m, cadence_rpm), 1e-5);
        reference_check(r, "cadence_rpm", mech_gear_cadence_rpm(development_m, reference_number(r, "speed_kmh")), 1e-4);
    }
    reference_close(r, 2);
}

/* One turn of 32/16 turns the wheel twice: worked by hand, with a circumference of 2 m and a crank of 1 m / pi, so that
 * the pedal's path is as long as the wheel's. */
static void test_development_inches_and_crank_ratio_by_hand(void **state) {
    (void)state;
    double ratio = mech_gear_ratio(32, 16);
    double pi = acos(-1.0);
    assert_near(ratio, 2.0, 0.0);
    assert_near(mech_gear_development_m(ratio, 2000.0), 4.0, 1e-15);
    /* A wheel of 27 in rolls 27 x 25.4 x pi mm; its gear inches are then ratio x 27, as old gear charts print them. */
    double rolling_mm = 27.0 * 25.4 * pi;
    assert_near(mech_gear_inches(mech_gear_development_m(ratio, rolling_mm)), 54.0, 1e-12);
    assert_near(mech_gear_inches_nominal(ratio, 27.0), 54.0, 1e-12);
    assert_near(mech_gear_inches_nominal(mech_gear_ratio(52, 13), 27.0), 108.0, 1e-12);
    assert_near(mech_gear_crank_ratio(ratio, 2000.0, 1000.0 / pi), 2.0, 1e-12);
}

static void fill_random_teeth(int *teeth, size_t n, int low, int high, struct random_source *random) {
    for (size_t i = 0; i < n; i++) {
        teeth[i] = random_int(random, low, high);
    }
}

/* In the list of n gears, those of this ring and sprocket. */
static size_t times_in(const struct mech_gear *gears, size_t n, int ring, int sprocket) {
    size_t times = 0;
    for (size_t i = 0; i < n; i++) {
        times += gears[i].ring == ring && gears[i].sprocket == sprocket;
    }
    return times;
}

static size_t times_of(const int *teeth, size_t n, int wanted) {
    size_t times = 0;
    for (size_t i = 0; i < n; i++) {
        times += teeth[i] == wanted;
    }
    return times;
}

/* Rising, ties by the smaller ring, each pairing as often as it was given. */
static void test_table_holds_every_gear_in_rising_ratio(void **state) {
    (void)state;
    struct random_source random = {1};
    for (int round = 0; round < 300; round++) {
        int rings[RINGS_MAX], sprockets[SPROCKETS_MAX];
        struct mech_gear gears[RINGS_MAX * SPROCKETS_MAX];
        size_t n_rings = (size_t)random_int(&random, 1, RINGS_MAX);
        size_t n_sprockets = (size_t)random_int(&random, 1, SPROCKETS_MAX);
        size_t n = n_rings * n_sprockets;
        fill_random_teeth(rings, n_rings, 20, 52, &random);
        fill_random_teeth(sprockets, n_sprockets, 9, 52, &random);
        assert_int_equal(mech_gear_table(gears, rings, n_rings, sprockets, n_sprockets), BASE_OK);
        for (size_t i = 0; i < n; i++) {
            assert_near(gears[i].ratio, (double)gears[i].ring / gears[i].sprocket, 0.0);
            size_t given =
                times_of(rings, n_rings, gears[i].ring) * times_of(sprockets, n_sprockets, gears[i].sprocket);
            assert_int_equal(times_in(gears, n, gears[i].ring, gears[i].sprocket), given);
            if (i > 0) {
                assert_true(gears[i - 1].ratio < gears[i].ratio ||
                            (gears[i - 1].ratio <= gears[i].ratio && gears[i - 1].ring <= gears[i].ring));
            }
        }
    }
}

/* 22/11 and 34/17 are the same gear to the last bit; the smaller ring comes first whatever the order of the rings. */
static void test_equal_gears_put_the_smaller_ring_first(void **state) {
    (void)state;
    const int sprockets[] = {17, 11};
    const int falling[] = {34, 22}, rising[] = {22, 34};
    struct mech_gear gears[4];
    assert_int_equal(mech_gear_table(gears, falling, 2, sprockets, 2), BASE_OK);
    assert_int_equal(gears[1].ring, 22);
    assert_int_equal(gears[2].ring, 34);
    assert_near(gears[1].ratio, gears[2].ratio, 0.0);
    assert_int_equal(mech_gear_table(gears, rising, 2, sprockets, 2), BASE_OK);
    assert_int_equal(gears[1].ring, 22);
    assert_int_equal(gears[2].ring, 34);
}

/* 34 and 22 with 11-17-34: 22/34 .647, 34/34 1, 22/17 1.294, 22/11 = 34/17 = 2, 34/11 3.09: one repeated below 4 %. */
static void test_steps_and_repeated_gears(void **state) {
    (void)state;
    const int rings[] = {34, 22}, sprockets[] = {11, 17, 34};
    struct mech_gear gears[6];
    assert_int_equal(mech_gear_table(gears, rings, 2, sprockets, 3), BASE_OK);
    assert_int_equal(mech_gear_repeats(gears, 6, 4.0), 1);
    assert_int_equal(mech_gear_repeats(gears, 6, 30.0), 2);
    assert_int_equal(mech_gear_repeats(gears, 6, 1000.0), 5);
    assert_int_equal(mech_gear_repeats(gears, 1, 4.0), 0);
    assert_int_equal(mech_gear_repeats(gears, 0, 4.0), 0);
    assert_near(mech_gear_step_percent(gears[1].ratio, gears[2].ratio), 100.0 * 5.0 / 17.0, 1e-12);
    double product = 1.0;
    for (size_t i = 1; i < 6; i++) {
        product *= 1.0 + mech_gear_step_percent(gears[i - 1].ratio, gears[i].ratio) / 100.0;
    }
    assert_near(product * 100.0, mech_gear_range_percent(gears[0].ratio, gears[5].ratio), 1e-9);
}

static void test_teeth_that_no_wheel_has_leave_the_table_untouched(void **state) {
    (void)state;
    const int good[] = {32}, bad[] = {32, 0}, huge[] = {MECH_TEETH_MAX + 1};
    struct mech_gear gears[2] = {{-1, -1, -1.0}, {-1, -1, -1.0}};
    assert_int_equal(mech_gear_table(gears, good, 1, bad, 2), BASE_BAD_INPUT);
    assert_int_equal(mech_gear_table(gears, bad, 2, good, 1), BASE_BAD_INPUT);
    assert_int_equal(mech_gear_table(gears, huge, 1, good, 1), BASE_BAD_INPUT);
    assert_int_equal(mech_gear_table(gears, good, 0, good, 1), BASE_BAD_INPUT);
    assert_int_equal(mech_gear_table(gears, good, 1, good, 0), BASE_BAD_INPUT);
    for (size_t i = 0; i < 2; i++) {
        assert_true(gears[i].ring == -1 && gears[i].sprocket == -1);
        assert_near(gears[i].ratio, -1.0, 0.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_range_as_the_trade_states_it),
        cmocka_unit_test(test_speed_and_cadence_both_ways),
        cmocka_unit_test(test_development_inches_and_crank_ratio_by_hand),
        cmocka_unit_test(test_table_holds_every_gear_in_rising_ratio),
        cmocka_unit_test(test_equal_gears_put_the_smaller_ring_first),
        cmocka_unit_test(test_steps_and_repeated_gears),
        cmocka_unit_test(test_teeth_that_no_wheel_has_leave_the_table_untouched),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
