/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Heights to gradients: slopes that must come out as they are, noise against what statistics says of it, and heights
 * that are wrong in the ways of real recorders.
 */
#include "ride/profile.h"
#include "support/failing.h"
#include "support/near.h"
#include "support/random.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#define MOST 4000
#define METRE_DEG 8.99e-6 /* of latitude, about */

typedef double height_at(double distance_m);

/* A route due north whose points stand `spacing_m` apart. The heights are those of `height`, then changed by the test. */
static struct ride_point points[MOST];
static struct ride_route route_of(size_t n, double spacing_m, height_at *height) {
    assert_true(n <= MOST);
    for (size_t i = 0; i < n; i++) {
        points[i] = (struct ride_point){.distance_m = (double)i * spacing_m, .height_m = height((double)i * spacing_m)};
    }
    return (struct ride_route){.points = points, .n = n};
}

static struct base_arena arena;
static struct ride_profile profile_of(const struct ride_route *route) {
    struct ride_profile profile;
    assert_int_equal(ride_profile_of(&profile, &arena, route), BASE_OK);
    return profile;
}

static int set_up(void **state) {
    (void)state;
    base_arena_init(&arena, 0);
    return 0;
}

static int tear_down(void **state) {
    (void)state;
    base_arena_clear(&arena);
    return 0;
}

/* --- roads --------------------------------------------------------------------------------------------------------- */

static double ramp(double d) { return 100.0 + 0.05 * d; }
static double flat(double d) {
    (void)d;
    return 250.0;
}
static double hill(double d) { return 300.0 + 40.0 * exp(-pow((d - 2000.0) / 400.0, 2)); }

static void test_a_ramp_comes_out_as_it_is(void **state) {
    (void)state;
    static const double spacings_m[] = {3.0, 7.3, 10.0, 48.0, 250.0};
    for (size_t s = 0; s < sizeof spacings_m / sizeof spacings_m[0]; s++) {
        size_t n = (size_t)(1000.0 / spacings_m[s]) + 1;
        double length_m = (double)(n - 1) * spacings_m[s];
        struct ride_route route = route_of(n, spacings_m[s], ramp);
        struct ride_profile profile = profile_of(&route);
        assert_near(profile.length_m, length_m, 1e-9);
        assert_near(profile.climb_m, 0.05 * length_m, 1e-9);
        assert_near(profile.descent_m, 0.0, 0.0);
        for (size_t i = 0; i < profile.n; i++) {
            assert_near(profile.cells[i].gradient, 0.05, 1e-9);
        }
        assert_near(profile.heights_m[profile.n], ramp(length_m), 1e-8);
    }
}

static void test_a_hill_does_not_move(void **state) {
    (void)state;
    struct ride_route route = route_of(401, 10.0, hill);
    struct ride_profile profile = profile_of(&route);
    for (size_t i = 0; i < profile.n / 2; i++) {
        assert_near(profile.cells[i].gradient, -profile.cells[profile.n - 1 - i].gradient, 1e-9);
    }
    /* The line of 100 m cuts a top of this width by some decimetres, never more than it rises within it. */
    assert_in_range((int)(profile.climb_m * 10.0), 390, 400);
    assert_near(profile.climb_m, profile.descent_m, 1e-6);
}

static void test_turns_of_the_way(void **state) {
    (void)state;
    static const double heights_m[] = {12, 17, 15, 20, 22, 18, 15, 16, 14, 12};
    struct reference *r = reference_open("climb_turns");
    while (reference_next(r)) {
        double up_m, down_m;
        ride_climb_of(&up_m, &down_m, heights_m, 10, reference_number(r, "reversal_m"));
        reference_check(r, "up_m", up_m, 1e-12);
        reference_check(r, "down_m", down_m, 1e-12);
    }
    reference_close(r, 4);
}

/* --- noise --------------------------------------------------------------------------------------------------------- */

static double normal(struct random_source *random) {
    return sqrt(-2.0 * log(random_between(random, 1e-12, 1.0))) * cos(random_between(random, 0.0, 6.283185307179586));
}

/* N steps of white noise rise sigma N / sqrt(pi) in all: the mean size of a difference of two normal variables is
 * 2 sigma / sqrt(pi), half of them up. */
static void test_climb_of_noise(void **state) {
    (void)state;
    static double heights_m[MOST];
    struct random_source random = {8301};
    double sum_m = 0.0;
    for (int run = 0; run < 100; run++) {
        double up_m, down_m;
        for (int i = 0; i <= 2000; i++) {
            heights_m[i] = normal(&random);
        }
        ride_climb_of(&up_m, &down_m, heights_m, 2001, 0.0);
        sum_m += up_m;
    }
    assert_near(sum_m / 100.0, 2000.0 / sqrt(acos(-1.0)), 0.01 * 2000.0 / sqrt(acos(-1.0)));
}

/* Standard error of a slope by least squares over n points: sqrt(12 / (n (n^2 - 1))) sigma / spacing. */
static void test_slope_of_noise(void **state) {
    (void)state;
    struct random_source random = {8302};
    double squares = 0.0;
    const int runs = 20000;
    for (int run = 0; run < runs; run++) {
        double heights_m[11];
        for (int i = 0; i < 11; i++) {
            heights_m[i] = normal(&random);
        }
        double slope = ride_slope_of(heights_m, 11, 10.0);
        squares += slope * slope;
    }
    assert_near(sqrt(squares / runs), 0.009535, 0.02 * 0.009535);
}

static void test_noise_is_estimated_and_smoothed(void **state) {
    (void)state;
    static const double sigmas_m[] = {0.3, 1.0, 3.0};
    struct random_source random = {8303};
    for (size_t s = 0; s < 3; s++) {
        struct ride_route route = route_of(2001, 10.0, flat);
        for (size_t i = 0; i < route.n; i++) {
            points[i].height_m += sigmas_m[s] * normal(&random);
        }
        struct ride_profile profile = profile_of(&route);
        double squares = 0.0;
        for (size_t i = 0; i < profile.n; i++) {
            squares += profile.cells[i].gradient * profile.cells[i].gradient;
        }
        assert_near(profile.noise_m, sigmas_m[s], 0.08 * sigmas_m[s]);
        assert_true(sqrt(squares / (double)profile.n) < 0.017); /* 0.015 is aimed at */
        assert_true(profile.climb_m < 0.05 * sigmas_m[s] * 2000.0 / sqrt(acos(-1.0)));
        assert_true(s < 2 ? profile.slope_m == RIDE_SLOPE_LEAST_M : profile.slope_m > RIDE_SLOPE_LEAST_M);
    }
}

/* --- wrong heights ------------------------------------------------------------------------------------------------- */

static void check_is_ramp(const struct ride_profile *profile, double tolerance) {
    for (size_t i = 0; i < profile->n; i++) {
        assert_near(profile->cells[i].gradient, 0.05, tolerance);
    }
}

static void test_spikes(void **state) {
    (void)state;
    struct ride_route route = route_of(301, 5.0, ramp);
    points[0].height_m = 0.0; /* no fix yet */
    points[100].height_m += 400.0;
    points[101].height_m += 300.0;
    points[200].height_m = 8000.0;
    points[300].height_m -= 60.0;
    struct ride_profile profile = profile_of(&route);
    assert_int_equal(profile.spikes, 5);
    check_is_ramp(&profile, 0.005); /* the two at the ends went on level */
    assert_near(profile.climb_m, 75.0, 0.6);
}

static void test_a_steep_road_has_no_spikes(void **state) {
    (void)state;
    struct ride_route route = route_of(301, 20.0, hill);
    for (size_t i = 0; i < route.n; i++) {
        points[i].height_m = 30.0 * sin((double)i * 20.0 / 100.0); /* up and down at 30 % within 300 m */
    }
    assert_int_equal(profile_of(&route).spikes, 0);
}

static void test_gaps_between_heights(void **state) {
    (void)state;
    struct ride_route route = route_of(301, 5.0, ramp);
    for (size_t i = 50; i < 150; i++) {
        points[i].height_m = (double)NAN;
    }
    points[200].height_m = (double)NAN;
    struct ride_profile profile = profile_of(&route);
    check_is_ramp(&profile, 1e-9);
    assert_near(profile.bridged_m, 505.0, 1e-9);
}

static void test_heights_in_whole_metres(void **state) {
    (void)state;
    struct ride_route route = route_of(1001, 4.0, ramp);
    for (size_t i = 0; i < route.n; i++) {
        points[i].height_m = floor(points[i].height_m + 0.5);
    }
    struct ride_profile profile = profile_of(&route);
    check_is_ramp(&profile, 0.011);
    assert_near(profile.climb_m, 200.0, 1.0);
}

/* Whatever lies between two pieces makes neither a slope nor a climb. */
static void test_a_break_makes_no_slope(void **state) {
    (void)state;
    struct ride_route route = route_of(201, 10.0, flat);
    points[100].after_break = true;
    points[100].distance_m = points[99].distance_m;
    for (size_t i = 100; i < route.n; i++) {
        points[i].distance_m = points[99].distance_m + (double)(i - 100) * 10.0;
        points[i].height_m += 300.0;
    }
    struct ride_profile profile = profile_of(&route);
    for (size_t i = 0; i < profile.n; i++) {
        assert_near(profile.cells[i].gradient, 0.0, 1e-12);
    }
    assert_near(profile.climb_m, 0.0, 0.0);
    assert_near(profile.length_m, 1990.0, 1e-9);
}

static void test_a_piece_without_heights_is_left_out(void **state) {
    (void)state;
    struct ride_route route = route_of(201, 10.0, ramp);
    points[100].after_break = true;
    points[100].distance_m = points[99].distance_m;
    for (size_t i = 100; i < route.n; i++) {
        points[i].distance_m = points[99].distance_m + (double)(i - 100) * 10.0;
        points[i].height_m = (double)NAN;
    }
    struct ride_profile profile = profile_of(&route);
    assert_near(profile.length_m, 990.0, 1e-9);
    assert_near(profile.unknown_m, 1000.0, 1e-9);
    for (size_t i = 0; i < 100; i++) {
        points[i].height_m = (double)NAN;
    }
    assert_int_equal(ride_profile_of(&profile, &arena, &route), BASE_NO);
}

static void test_nothing_is_steeper_than_can_be_ridden(void **state) {
    (void)state;
    struct ride_route route = route_of(101, 10.0, ramp);
    for (size_t i = 0; i < route.n; i++) {
        points[i].height_m = 0.6 * points[i].distance_m;
    }
    struct ride_profile profile = profile_of(&route);
    assert_int_equal(profile.clamped, profile.n);
    assert_near(profile.cells[50].gradient, RIDE_GRADIENT_MOST, 0.0);
}

static void test_when_memory_runs_out(void **state) {
    (void)state;
    for (long n = 0;; n++) {
        struct ride_profile profile = {.n = 77};
        struct ride_route route = route_of(3000, 10.0, hill);
        struct base_arena own;
        base_arena_init(&own, 0);
        support_fail_after(n);
        enum base_status status = ride_profile_of(&profile, &own, &route);
        bool failed = support_failed();
        support_fail_after(-1);
        assert_int_equal(status, failed ? BASE_NO_MEMORY : BASE_OK);
        assert_true(failed ? profile.n == 77 : profile.n == 2999);
        base_arena_clear(&own);
        if (!failed) {
            assert_true(n > 2);
            break;
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_ramp_comes_out_as_it_is),
        cmocka_unit_test(test_a_hill_does_not_move),
        cmocka_unit_test(test_turns_of_the_way),
        cmocka_unit_test(test_climb_of_noise),
        cmocka_unit_test(test_slope_of_noise),
        cmocka_unit_test(test_noise_is_estimated_and_smoothed),
        cmocka_unit_test(test_spikes),
        cmocka_unit_test(test_a_steep_road_has_no_spikes),
        cmocka_unit_test(test_gaps_between_heights),
        cmocka_unit_test(test_heights_in_whole_metres),
        cmocka_unit_test(test_a_break_makes_no_slope),
        cmocka_unit_test(test_a_piece_without_heights_is_left_out),
        cmocka_unit_test(test_nothing_is_steeper_than_can_be_ridden),
        cmocka_unit_test(test_when_memory_runs_out),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
