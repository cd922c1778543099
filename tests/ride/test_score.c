/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Scores of many gearings on one route, against going through every cell, and against the full ride.
 */
#include "ride/score.h"
#include "road.h"
#include "support/failing.h"
#include "support/near.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static struct base_arena arena;
static struct ride_cell cells[ROAD_CELLS];
static struct ride_run run;
static struct ride_speeds *speeds;

static int set_up(void **state) {
    (void)state;
    struct random_source random = {4201};
    struct ride_habits habits = road_habits;
    habits.climb.low_rpm = 60.0;
    base_arena_init(&arena, 0);
    road_roll(cells, ROAD_CELLS, &random);
    const struct ride_gearing none = {NULL, 0};
    return ride_simulate(&run, &arena, &road_machine, &habits, none, cells, ROAD_CELLS) != BASE_OK ||
           ride_speeds_new(&speeds, &run, &habits, cells, ROAD_CELLS) != BASE_OK;
}

static int tear_down(void **state) {
    (void)state;
    ride_speeds_free(speeds);
    base_arena_clear(&arena);
    return 0;
}

/* The shares, cell by cell. */
static struct ride_score by_cell(const double *developments_m, size_t n) {
    struct ride_score s = {0};
    double all_s = 0.0;
    for (size_t i = 0; i < ROAD_CELLS; i++) {
        double v = run.moments[i].speed_mps, t = run.moments[i].time_s, low = cells[i].gradient >= 0.03 ? 60.0 : 70.0;
        bool in_band = false;
        for (size_t g = 0; g < n; g++) {
            double rpm = 60.0 * v / developments_m[g];
            in_band = in_band || (rpm >= low && rpm <= 95.0);
        }
        double slowest = 60.0 * v / developments_m[0], fastest = 60.0 * v / developments_m[n - 1];
        *(run.moments[i].mode == RIDE_MODE_COASTING ? &s.coasting
          : in_band                                 ? &s.in_band
          : slowest < 40.0                          ? &s.walked
          : slowest < low                           ? &s.below
          : fastest > 95.0                          ? &s.above
                                                    : &s.between) += t;
        all_s += t;
    }
    s.coasting /= all_s, s.in_band /= all_s, s.walked /= all_s, s.below /= all_s, s.above /= all_s, s.between /= all_s;
    return s;
}

static void test_as_cell_by_cell(void **state) {
    (void)state;
    struct random_source random = {4202};
    double between = 0.0;
    for (int bike = 0; bike < 300; bike++) {
        double developments_m[12], next = random_between(&random, 1.0, 3.5);
        size_t n = (size_t)random_int(&random, 1, 12);
        for (size_t g = 0; g < n; g++) {
            developments_m[g] = next;
            next *= random_between(&random, 1.0, 1.7);
        }
        struct ride_score got = ride_score_of(speeds, developments_m, n), want = by_cell(developments_m, n);
        assert_near(got.in_band, want.in_band, 1e-6);
        assert_near(got.below, want.below, 1e-6);
        assert_near(got.above, want.above, 1e-6);
        assert_near(got.between, want.between, 1e-6);
        assert_near(got.coasting, want.coasting, 1e-6);
        assert_near(got.walked, want.walked, 1e-6);
        assert_near(got.in_band + got.below + got.above + got.between + got.coasting + got.walked, 1.0, 1e-9);
        between += got.between;
    }
    assert_true(between > 1.0); /* gaps between gears did occur */
}

static void test_speeds_that_are_kept_up(void **state) {
    (void)state;
    double before = INFINITY;
    for (double share = 0.0; share <= 1.0; share += 0.05) {
        double kept_mps = ride_speeds_climbing_mps(speeds, share), slower_s = 0.0, climbing_s = 0.0;
        for (size_t i = 0; i < ROAD_CELLS; i++) {
            if (cells[i].gradient >= 0.03 && run.moments[i].mode != RIDE_MODE_COASTING) {
                climbing_s += run.moments[i].time_s;
                slower_s += run.moments[i].speed_mps < kept_mps ? run.moments[i].time_s : 0.0F;
            }
        }
        assert_true(slower_s <= (1.0 - share) * climbing_s + 1e-3);
        assert_true(kept_mps <= before);
        before = kept_mps;
    }
    for (double share = 0.05; share < 1.0; share += 0.05) {
        double high_mps = ride_speeds_pedalled_mps(speeds, share), past_s = 0.0, at_s = 0.0, all_s = 0.0;
        for (size_t i = 0; i < ROAD_CELLS; i++) {
            if (run.moments[i].mode != RIDE_MODE_COASTING) {
                all_s += run.moments[i].time_s;
                past_s += run.moments[i].speed_mps > high_mps ? run.moments[i].time_s : 0.0F;
                at_s += run.moments[i].speed_mps >= high_mps ? run.moments[i].time_s : 0.0F;
            }
        }
        assert_true(past_s <= (1.0 - share) * all_s + 1e-3);
        assert_true(at_s >= (1.0 - share) * all_s - 1e-3);
    }
    assert_true(ride_speeds_pedalled_mps(speeds, 0.5) < ride_speeds_pedalled_mps(speeds, 0.99));
}

static void test_when_memory_runs_out(void **state) {
    (void)state;
    long n = 0;
    for (bool failed = true; failed; n++) {
        struct ride_speeds *own = NULL;
        support_fail_after(n);
        enum base_status status = ride_speeds_new(&own, &run, &road_habits, cells, ROAD_CELLS);
        failed = support_failed();
        support_fail_after(-1);
        assert_int_equal(status, failed ? BASE_NO_MEMORY : BASE_OK);
        ride_speeds_free(own);
    }
    assert_true(n > 5);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_as_cell_by_cell),
        cmocka_unit_test(test_speeds_that_are_kept_up),
        cmocka_unit_test(test_when_memory_runs_out),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
