/* SPDX-License-Identifier: Apache-2.0 */
/* The circles of a chain wheel against two published tables, one worked page and one textbook. */
#include "mech/sprocket.h"
#include "support/near.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* Half the last printed digit. */
#define DIGITS_3 0.0005
#define DIGITS_4 0.00005
#define DIGITS_5 0.000005
#define DIGITS_6 0.0000005

static void test_circles_by_the_formula(void **state) {
    (void)state;
    struct reference *r = reference_open("sprocket_circles");
    while (reference_next(r)) {
        int teeth = reference_count(r, "teeth");
        double pitch_mm = 0.0, outside_mm = 0.0;
        assert_int_equal(mech_sprocket_pitch_diameter_mm(&pitch_mm, teeth), BASE_OK);
        assert_int_equal(mech_sprocket_outside_diameter_mm(&outside_mm, teeth), BASE_OK);
        reference_check(r, "unit_pitch_diameter", pitch_mm / MECH_PITCH_MM, DIGITS_5);
        reference_check(r, "unit_outside_diameter", outside_mm / MECH_PITCH_MM, DIGITS_4);
        reference_check(r, "pitch_diameter_mm", pitch_mm, DIGITS_3);
        reference_check(r, "outside_diameter_mm", outside_mm, DIGITS_3);
    }
    reference_close(r, 52);
}

static void test_circles_as_printed_for_any_pitch(void **state) {
    (void)state;
    struct reference *r = reference_open("sprocket_printed");
    while (reference_next(r)) {
        int teeth = reference_count(r, "teeth");
        double scale = reference_number(r, "pitch_mm") / MECH_PITCH_MM;
        double pitch_mm = 0.0, outside_mm = 0.0;
        assert_int_equal(mech_sprocket_pitch_diameter_mm(&pitch_mm, teeth), BASE_OK);
        reference_check(r, "pitch_diameter_mm", pitch_mm * scale, reference_number(r, "tolerance_mm"));
        if (reference_has(r, "outside_diameter_mm")) {
            assert_int_equal(mech_sprocket_outside_diameter_mm(&outside_mm, teeth), BASE_OK);
            reference_check(r, "outside_diameter_mm", outside_mm * scale, reference_number(r, "outside_tolerance_mm"));
        }
    }
    reference_close(r, 55);
}

static void test_pitch_radius(void **state) {
    (void)state;
    struct reference *r = reference_open("pitch_radius");
    while (reference_next(r)) {
        double radius_mm = 0.0;
        assert_int_equal(mech_sprocket_pitch_radius_mm(&radius_mm, reference_count(r, "teeth")), BASE_OK);
        reference_check(r, "radius_mm", radius_mm, DIGITS_6);
    }
    reference_close(r, 14);
}

/* Neighbouring pins of a seated chain are one pitch apart, so the chord over one tooth is the pitch. */
static void test_the_chord_of_a_tooth_is_the_pitch(void **state) {
    (void)state;
    for (int teeth = MECH_TEETH_MIN; teeth <= MECH_TEETH_MAX; teeth++) {
        double radius_mm = 0.0, diameter_mm = 0.0;
        assert_int_equal(mech_sprocket_pitch_radius_mm(&radius_mm, teeth), BASE_OK);
        assert_int_equal(mech_sprocket_pitch_diameter_mm(&diameter_mm, teeth), BASE_OK);
        double turn = 2.0 * acos(-1.0) / teeth;
        assert_near(hypot(radius_mm * cos(turn) - radius_mm, radius_mm * sin(turn)), 12.7, 1e-11);
        assert_near(diameter_mm, 2.0 * radius_mm, 1e-12);
    }
}

/* A caliper over an even wheel reads the root circle; over an odd one the farthest pair of tooth gaps, found here by
 * trying all of them. */
static void test_caliper_reads_the_farthest_pair_of_gaps(void **state) {
    (void)state;
    for (int teeth = MECH_TEETH_MIN; teeth <= 60; teeth++) {
        double root_mm = 0.0, caliper_mm = 0.0, radius_mm = 0.0, farthest_mm = 0.0;
        assert_int_equal(mech_sprocket_root_diameter_mm(&root_mm, teeth), BASE_OK);
        assert_int_equal(mech_sprocket_caliper_diameter_mm(&caliper_mm, teeth), BASE_OK);
        assert_int_equal(mech_sprocket_pitch_radius_mm(&radius_mm, teeth), BASE_OK);
        for (int i = 1; i < teeth; i++) {
            double turn = 2.0 * acos(-1.0) * i / teeth;
            farthest_mm = fmax(farthest_mm, hypot(radius_mm * cos(turn) - radius_mm, radius_mm * sin(turn)));
        }
        assert_near(caliper_mm, farthest_mm - MECH_ROLLER_MM, 1e-9);
        assert_near(root_mm, 2.0 * radius_mm - MECH_ROLLER_MM, 1e-12);
        assert_true(teeth % 2 == 0 ? fabs(caliper_mm - root_mm) < 1e-12 : caliper_mm < root_mm);
    }
}

static void test_teeth_out_of_range_are_refused(void **state) {
    (void)state;
    enum base_status (*const circles[])(double *, int) = {
        mech_sprocket_pitch_diameter_mm, mech_sprocket_pitch_radius_mm,     mech_sprocket_outside_diameter_mm,
        mech_sprocket_root_diameter_mm,  mech_sprocket_caliper_diameter_mm,
    };
    const int teeth[] = {-32, 0, 1, 2, MECH_TEETH_MIN - 1, MECH_TEETH_MAX + 1, INT32_MAX, INT32_MIN};
    for (size_t c = 0; c < sizeof circles / sizeof circles[0]; c++) {
        for (size_t t = 0; t < sizeof teeth / sizeof teeth[0]; t++) {
            double out = -1.0;
            assert_int_equal(circles[c](&out, teeth[t]), BASE_BAD_INPUT);
            assert_near(out, -1.0, 0.0);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_circles_by_the_formula),
        cmocka_unit_test(test_circles_as_printed_for_any_pitch),
        cmocka_unit_test(test_pitch_radius),
        cmocka_unit_test(test_the_chord_of_a_tooth_is_the_pitch),
        cmocka_unit_test(test_caliper_reads_the_farthest_pair_of_gaps),
        cmocka_unit_test(test_teeth_out_of_range_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
