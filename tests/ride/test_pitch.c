/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The steepest pitches of a road, and how they were ridden.
 */
#include "ride/pitch.h"
#include "road.h"
#include "support/near.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static struct ride_cell cells[ROAD_CELLS];

static void fill(double gradient, size_t from, size_t to) {
    for (size_t i = from; i < to; i++) {
        cells[i] = (struct ride_cell){10.0, gradient};
    }
}

static void test_three_of_four(void **state) {
    (void)state;
    struct ride_pitch pitches[3];
    fill(0.01, 0, 400);
    fill(0.12, 50, 70);
    fill(0.03, 70, 73); /* eases for 30 m: still the same pitch */
    fill(0.12, 73, 80);
    fill(0.14, 150, 152); /* steep, but 20 m long */
    fill(0.10, 200, 240);
    fill(0.13, 300, 310);
    fill(0.11, 390, 400); /* up to the very end */
    assert_int_equal(ride_pitches_of(pitches, 3, cells, 400), 3);
    assert_near(pitches[0].from_m, 500.0, 1e-9);
    assert_near(pitches[0].length_m, 300.0, 1e-9);
    assert_near(pitches[0].gradient, 0.111, 0.0005); /* 27 cells at 12 %, 3 at 3 % */
    assert_int_equal(pitches[0].n, 30);
    assert_near(pitches[1].from_m, 3000.0, 1e-9);
    assert_near(pitches[1].gradient, 0.13, 1e-9);
    assert_near(pitches[2].from_m, 3900.0, 1e-9);
    assert_near(pitches[2].length_m, 100.0, 1e-9);
}

static void test_none_where_it_is_flat(void **state) {
    (void)state;
    struct ride_pitch pitches[RIDE_PITCHES_MAX];
    fill(0.035, 0, 400);
    assert_int_equal(ride_pitches_of(pitches, RIDE_PITCHES_MAX, cells, 400), 0);
    fill(0.15, 100, 104);
    assert_int_equal(ride_pitches_of(pitches, RIDE_PITCHES_MAX, cells, 400), 0);
}

/* Whatever the road: in order, apart, and none of those left out is steeper. */
static void test_whatever_the_road(void **state) {
    (void)state;
    struct random_source random = {4301};
    for (int road = 0; road < 50; road++) {
        struct ride_pitch few[3], many[RIDE_PITCHES_MAX];
        road_roll(cells, ROAD_CELLS, &random);
        size_t n_few = ride_pitches_of(few, 3, cells, ROAD_CELLS),
               n_many = ride_pitches_of(many, RIDE_PITCHES_MAX, cells, ROAD_CELLS);
        assert_true(n_few <= n_many && n_few <= 3);
        double least = INFINITY;
        for (size_t i = 0; i < n_few; i++) {
            least = fmin(least, few[i].gradient);
            assert_true(i == 0 || few[i].first >= few[i - 1].first + few[i - 1].n);
            assert_near(few[i].from_m, 10.0 * (double)few[i].first, 1e-6);
        }
        size_t steeper = 0;
        for (size_t i = 0; i < n_many; i++) {
            steeper += many[i].gradient > least;
        }
        assert_true(n_few == 0 || steeper == n_few - 1);
    }
}

static void test_how_it_was_ridden(void **state) {
    (void)state;
    struct ride_moment moments[4] = {{.time_s = 2.0F, .rpm = 60.0F},
                                     {.time_s = 4.0F, .rpm = 90.0F},
                                     {.time_s = 10.0F, .mode = RIDE_MODE_WALKED},
                                     {.time_s = 1.0F, .mode = RIDE_MODE_COASTING}};
    struct ride_run run = {.moments = moments};
    fill(0.1, 0, 4);
    struct ride_stretch all = ride_stretch_of(&run, cells, 0, 4), last = ride_stretch_of(&run, cells, 3, 1);
    assert_near(all.time_s, 17.0, 1e-6);
    assert_near(all.rpm, 80.0, 1e-6);
    assert_near(all.foot_m, 10.0, 1e-6);
    assert_near(last.rpm, 0.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_three_of_four),
        cmocka_unit_test(test_none_where_it_is_flat),
        cmocka_unit_test(test_whatever_the_road),
        cmocka_unit_test(test_how_it_was_ridden),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
