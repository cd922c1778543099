/* SPDX-License-Identifier: Apache-2.0 */
/*
 * From positions to points along the way: what is kept, what is left out, where a track breaks off.
 */
#include "ride/route.h"
#include "support/failing.h"
#include "support/near.h"
#include "support/random.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static struct base_arena arena;
static struct ride_route route;
static double longitude_per_m, latitude_per_m;

static int set_up(void **state) {
    (void)state;
    base_arena_init(&arena, 0);
    ride_route_init(&route, &arena, true);
    longitude_per_m = 1e-4 / ride_leg_m((struct ride_position){45.0, 7.0}, (struct ride_position){45.0, 7.0001});
    latitude_per_m = 1e-4 / ride_leg_m((struct ride_position){45.0, 7.0}, (struct ride_position){45.0001, 7.0});
    return 0;
}

static int tear_down(void **state) {
    (void)state;
    base_arena_clear(&arena);
    return 0;
}

/* A fix so many metres east and north of a place, at a time. */
static void add(double east_m, double north_m, double time_s) {
    struct ride_fix fix = {{45.0 + north_m * latitude_per_m, 7.0 + east_m * longitude_per_m}, 100.0, time_s};
    assert_int_equal(ride_route_add(&route, &fix), BASE_OK);
}

static void end_with(double length_m, double tolerance_m) {
    assert_int_equal(ride_route_end(&route), BASE_OK);
    assert_near(ride_route_length_m(&route), length_m, tolerance_m);
}

static void test_a_straight_way(void **state) {
    (void)state;
    for (int i = 0; i <= 100; i++) {
        add(10.0 * i, 0.0, 2.0 * i);
    }
    end_with(1000.0, 0.01);
    assert_int_equal(route.n, 101);
    assert_int_equal(route.given, 101);
    assert_int_equal(route.times, 101);
    assert_near(route.moving_s, 200.0, 1e-9);
    assert_int_equal(route.breaks + route.standing + route.astray + route.times_back, 0);
}

/* A receiver that drifts 2 m about a place for ten minutes makes no way. */
static void test_standing_still(void **state) {
    (void)state;
    struct random_source random = {9101};
    for (int i = 0; i <= 50; i++) {
        add(10.0 * i, 0.0, 2.0 * i);
    }
    for (int i = 0; i < 600; i++) {
        add(500.0 + random_between(&random, -2.0, 2.0), random_between(&random, -2.0, 2.0), 100.0 + i);
    }
    for (int i = 1; i <= 50; i++) {
        add(500.0 + 10.0 * i, 0.0, 700.0 + 2.0 * i);
    }
    end_with(1000.0, 6.0);
    assert_in_range(route.standing, 590, 602);
    assert_int_equal(route.astray, 0);
}

static void test_the_same_point_again_and_again(void **state) {
    (void)state;
    for (int i = 0; i < 50; i++) {
        add(0.0, 0.0, (double)NAN);
    }
    end_with(0.0, 0.0);
    assert_int_equal(route.n, 1);
    assert_int_equal(route.standing, 49);
}

static void test_a_position_that_jumps_away_and_back(void **state) {
    (void)state;
    for (int i = 0; i <= 100; i++) {
        add(10.0 * i, i == 40 ? 900.0 : 0.0, (double)NAN);
    }
    end_with(1000.0, 0.01);
    assert_int_equal(route.astray, 1);
}

/* Out along a road with few points and back again is a way, by its times. */
static void test_out_and_back(void **state) {
    (void)state;
    add(0.0, 0.0, 0.0);
    add(600.0, 0.0, 120.0);
    add(10.0, 0.0, 200.0);
    end_with(1190.0, 0.1);
    assert_int_equal(route.astray, 0);
}

static void test_a_planned_route_keeps_its_points(void **state) {
    (void)state;
    ride_route_init(&route, &arena, false);
    add(0.0, 0.0, (double)NAN);
    add(9000.0, 0.0, (double)NAN);
    add(10.0, 0.0, (double)NAN);
    end_with(17990.0, 0.1);
    assert_int_equal(route.breaks, 0);
}

static void test_pieces(void **state) {
    (void)state;
    for (int i = 0; i <= 10; i++) {
        add(10.0 * i, 0.0, (double)NAN);
    }
    ride_route_new_piece(&route); /* a pause: it goes on 50 m further */
    for (int i = 15; i <= 25; i++) {
        add(10.0 * i, 0.0, (double)NAN);
    }
    ride_route_new_piece(&route); /* goes on 12.7 km away */
    for (int i = 0; i <= 10; i++) {
        add(250.0 + 12700.0 + 10.0 * i, 0.0, (double)NAN);
    }
    ride_route_new_piece(&route); /* an empty piece, and one at the end */
    ride_route_new_piece(&route);
    end_with(350.0, 0.01);
    assert_int_equal(route.breaks, 1);
    assert_near(route.breaks_m, 12700.0, 1.0);
    size_t broken = 0;
    for (size_t i = 0; i < route.n; i++) {
        broken += route.points[i].after_break;
    }
    assert_int_equal(broken, 1);
}

/* Within a piece a recorder that lost its way for long makes a break too. */
static void test_lost_within_a_piece(void **state) {
    (void)state;
    add(0.0, 0.0, 0.0);
    add(10.0, 0.0, 2.0);
    add(5000.0, 0.0, 1000.0);
    add(5010.0, 0.0, 1002.0);
    end_with(20.0, 0.01);
    assert_int_equal(route.breaks, 1);
}

static void test_over_the_date_line_and_a_pole(void **state) {
    (void)state;
    for (int i = 0; i <= 10; i++) {
        struct ride_fix fix = {{0.0, i < 5 ? 179.9995 + 0.0001 * i : -180.0 + 0.0001 * (i - 5)}, 5.0, (double)NAN};
        assert_int_equal(ride_route_add(&route, &fix), BASE_OK);
    }
    end_with(10 * 11.1319490793, 1e-4);
    ride_route_init(&route, &arena, true);
    for (int i = 0; i <= 10; i++) {
        struct ride_fix fix = {{90.0 - 0.0001 * fabs(i - 5.0), i < 5 ? 30.0 : -150.0}, 5.0, (double)NAN};
        assert_int_equal(ride_route_add(&route, &fix), BASE_OK);
    }
    end_with(10 * 11.16939,
             1e-3); /* a degree of the meridian at the pole: 111.694 km, by the ellipsoid's c = a^2 / b */
}

static void test_times_that_go_back(void **state) {
    (void)state;
    for (int i = 0; i <= 20; i++) {
        add(10.0 * i, 0.0, i == 7 || i == 12 ? 0.0 : 2.0 * i);
    }
    end_with(200.0, 0.01);
    assert_int_equal(route.times_back, 2);
    assert_int_equal(route.first_back, 8);
}

static void test_heights_that_can_not_be(void **state) {
    (void)state;
    static const double heights_m[] = {100.0, 10000.0, -600.0, 100.0, 0.0};
    for (int i = 0; i < 5; i++) {
        struct ride_fix fix = {{45.0, 7.0 + 10.0 * i * longitude_per_m}, heights_m[i], (double)NAN};
        assert_int_equal(ride_route_add(&route, &fix), BASE_OK);
    }
    end_with(40.0, 0.01);
    assert_int_equal(route.heights, 5);
    assert_int_equal(route.heights_wild, 2);
    assert_true(isnan(route.points[1].height_m) && isnan(route.points[2].height_m));
    assert_near(route.points[4].height_m, 0.0, 0.0);
}

static void test_when_memory_runs_out(void **state) {
    (void)state;
    bool failed = false;
    support_fail_after(1);
    for (int i = 0; i < 100000 && !failed; i++) {
        struct ride_fix fix = {{45.0, 7.0 + 10.0 * i * longitude_per_m}, 5.0, (double)NAN};
        failed = ride_route_add(&route, &fix) == BASE_NO_MEMORY;
    }
    support_fail_after(-1);
    assert_true(failed);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_straight_way, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_standing_still, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_the_same_point_again_and_again, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_a_position_that_jumps_away_and_back, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_out_and_back, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_a_planned_route_keeps_its_points, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_pieces, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_lost_within_a_piece, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_over_the_date_line_and_a_pole, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_times_that_go_back, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_heights_that_can_not_be, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_when_memory_runs_out, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
