/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Legs of a track on the ellipsoid, against geodesics: printed ones, and GeodSolve (Debian's geographiclib-tools) over
 * random legs, also over the date line and round the poles.
 */
#define _POSIX_C_SOURCE 200809L

#include "ride/earth.h"
#include "support/near.h"
#include "support/random.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include <cmocka.h>

#define LEGS 4000
#define LEG_M 1e-5 /* 0.01 mm: what a leg under 1 km is good to */

struct leg {
    struct ride_position from, to;
};

static void test_legs_of_the_table(void **state) {
    (void)state;
    struct reference *r = reference_open("earth_legs");
    while (reference_next(r)) {
        struct ride_position from = {reference_number(r, "latitude_deg"), reference_number(r, "longitude_deg")};
        struct ride_position to = {reference_number(r, "to_latitude_deg"), reference_number(r, "to_longitude_deg")};
        reference_check(r, "length_m", ride_leg_m(from, to), reference_number(r, "tolerance_m"));
    }
    reference_close(r, 7);
}

static double wrapped(double longitude_deg) { return remainder(longitude_deg, 360.0); }

/* A leg under 1 km, anywhere up to 88.9 degrees; every eighth one crosses the date line. */
static struct leg random_leg(struct random_source *random, int i) {
    struct leg leg;
    double reach_deg = pow(10.0, random_between(random, -5.0, -2.2));
    leg.from.latitude_deg = random_between(random, -88.9, 88.9);
    leg.from.longitude_deg = i % 8 ? random_between(random, -180.0, 180.0) : 180.0 - reach_deg / 2;
    leg.to.latitude_deg = leg.from.latitude_deg + random_between(random, -reach_deg, reach_deg);
    /* Near 89 degrees a step to the side turns the meridians; there a leg of a track is some metres. */
    leg.to.longitude_deg = wrapped(leg.from.longitude_deg + random_between(random, -reach_deg, reach_deg));
    return leg;
}

/* Some metres from a pole, across it too. */
static struct leg polar_leg(struct random_source *random, int i) {
    double pole = i % 2 ? 1.0 : -1.0;
    return (struct leg){{pole * (90.0 - random_between(random, 0.0, 0.002)), random_between(random, -180.0, 180.0)},
                        {pole * (90.0 - random_between(random, 0.0, 0.002)), random_between(random, -180.0, 180.0)}};
}

/* The geodesics of these legs, m, by GeodSolve. */
static void solve(double *out_m, const struct leg *legs, size_t n) {
    char name[] = "/tmp/cw-legs-XXXXXX", command[128];
    int file = mkstemp(name);
    assert_true(file >= 0);
    FILE *stream = fdopen(file, "w");
    assert_non_null(stream);
    for (size_t i = 0; i < n; i++) {
        fprintf(stream, "%.17g %.17g %.17g %.17g\n", legs[i].from.latitude_deg, legs[i].from.longitude_deg,
                legs[i].to.latitude_deg, legs[i].to.longitude_deg);
    }
    fclose(stream);
    snprintf(command, sizeof command, "GeodSolve -i -p 6 --input-file %s", name);
    FILE *answers = popen(command, "r");
    assert_non_null(answers);
    for (size_t i = 0; i < n; i++) {
        double azimuth, end_azimuth;
        assert_int_equal(fscanf(answers, "%lf %lf %lf", &azimuth, &end_azimuth, &out_m[i]), 3);
    }
    assert_int_equal(pclose(answers), 0);
    unlink(name);
}

static void test_random_legs(void **state) {
    (void)state;
    static struct leg legs[LEGS];
    static double geodesic_m[LEGS];
    struct random_source random = {20261};
    for (int i = 0; i < LEGS; i++) {
        legs[i] = i % 4 ? random_leg(&random, i) : polar_leg(&random, i / 4);
    }
    solve(geodesic_m, legs, LEGS);
    int short_ones = 0;
    for (int i = 0; i < LEGS; i++) {
        assert_near(ride_leg_m(legs[i].from, legs[i].to), geodesic_m[i], LEG_M);
        short_ones += geodesic_m[i] < 10.0;
    }
    assert_in_range(short_ones, LEGS / 10, LEGS / 2); /* as well as legs of hundreds of metres */
}

static void test_there_and_back(void **state) {
    (void)state;
    struct random_source random = {20262};
    for (int i = 0; i < LEGS; i++) {
        struct leg leg = random_leg(&random, i);
        double there_m = ride_leg_m(leg.from, leg.to);
        assert_near(ride_leg_m(leg.to, leg.from), there_m, 1e-9 * there_m);
        assert_near(ride_leg_m(leg.from, leg.from), 0.0, 0.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_legs_of_the_table),
        cmocka_unit_test(test_random_legs),
        cmocka_unit_test(test_there_and_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
