/* SPDX-License-Identifier: Apache-2.0 */
/* Bolt circles and tyres against published charts. */
#include "mech/bolt_circle.h"
#include "mech/tyre.h"
#include "support/near.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static void test_hole_distances_as_printed(void **state) {
    (void)state;
    struct reference *r = reference_open("bolt_circle_printed");
    while (reference_next(r)) {
        int arms = reference_count(r, "arms");
        double circle_mm = reference_number(r, "bolt_circle_mm"), holes_mm = -1.0, again_mm = -1.0;
        double tolerance_mm = reference_number(r, "tolerance_mm");
        assert_int_equal(mech_bolt_circle_hole_distance_mm(&holes_mm, circle_mm, arms), BASE_OK);
        reference_check(r, "hole_distance_mm", holes_mm, tolerance_mm);
        /* What a caliper that reads the printed distance would call it: within the same tolerance, grown by the factor. */
        assert_int_equal(mech_bolt_circle_mm(&again_mm, reference_number(r, "hole_distance_mm"), arms), BASE_OK);
        assert_near(again_mm, circle_mm, 1.75 * tolerance_mm);
    }
    reference_close(r, 27);
}

static void test_room_under_the_smallest_ring(void **state) {
    (void)state;
    struct reference *r = reference_open("bolt_circle_room");
    while (reference_next(r)) {
        double circle_mm = reference_number(r, "bolt_circle_mm"), holes_mm = -1.0, room_mm = -1.0;
        assert_int_equal(mech_bolt_circle_hole_distance_mm(&holes_mm, circle_mm, reference_count(r, "arms")), BASE_OK);
        assert_int_equal(mech_bolt_circle_room_mm(&room_mm, circle_mm, reference_count(r, "teeth")), BASE_OK);
        reference_check(r, "hole_distance_mm", holes_mm, 0.005);
        reference_check(r, "room_mm", room_mm, 0.05);
    }
    reference_close(r, 26);
}

static void test_factors_as_printed(void **state) {
    (void)state;
    struct reference *r = reference_open("bolt_circle_factor");
    while (reference_next(r)) {
        double circle_mm = -1.0;
        assert_int_equal(mech_bolt_circle_mm(&circle_mm, 1.0, reference_count(r, "arms")), BASE_OK);
        reference_check(r, "factor", circle_mm, 0.0005);
    }
    reference_close(r, 3);
}

static void test_circle_and_distance_both_ways(void **state) {
    (void)state;
    for (int arms = 3; arms <= 12; arms++) {
        for (double circle_mm = 40.0; circle_mm < 160.0; circle_mm += 7.3) {
            double holes_mm = -1.0, again_mm = -1.0;
            assert_int_equal(mech_bolt_circle_hole_distance_mm(&holes_mm, circle_mm, arms), BASE_OK);
            assert_int_equal(mech_bolt_circle_mm(&again_mm, holes_mm, arms), BASE_OK);
            assert_near(again_mm, circle_mm, 1e-11);
            double turn = 2.0 * acos(-1.0) / arms;
            assert_near(holes_mm, circle_mm / 2.0 * hypot(cos(turn) - 1.0, sin(turn)), 1e-11);
        }
    }
}

static void test_what_is_no_bolt_circle_gives_a_status(void **state) {
    (void)state;
    const double nan = (double)NAN, bad[] = {nan, INFINITY, 0.0, -104.0, 301.0};
    double out = -1.0;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(mech_bolt_circle_mm(&out, bad[i], 4), BASE_BAD_INPUT);
        assert_int_equal(mech_bolt_circle_hole_distance_mm(&out, bad[i], 4), BASE_BAD_INPUT);
        assert_int_equal(mech_bolt_circle_room_mm(&out, bad[i], 32), BASE_BAD_INPUT);
    }
    for (int arms = -1; arms < 3; arms++) {
        assert_int_equal(mech_bolt_circle_mm(&out, 73.6, arms), BASE_BAD_INPUT);
        assert_int_equal(mech_bolt_circle_hole_distance_mm(&out, 104.0, arms), BASE_BAD_INPUT);
    }
    assert_int_equal(mech_bolt_circle_mm(&out, 73.6, 13), BASE_BAD_INPUT);
    assert_int_equal(mech_bolt_circle_room_mm(&out, 104.0, 3), BASE_BAD_INPUT);
    assert_near(out, -1.0, 0.0);
}

/* The chart is for loaded wheels, the formula for the printed size: some 1.5 % apart (the spread that riders measure
 * between loaded and unloaded), and up to 4 % for small or wide tyres, as the rows say. */
static void test_circumference_beside_the_printed_chart(void **state) {
    (void)state;
    struct reference *r = reference_open("tyre_chart");
    while (reference_next(r)) {
        double by_formula_mm =
            mech_tyre_circumference_mm(reference_number(r, "width_mm"), reference_number(r, "bead_seat_mm"));
        reference_check(r, "circumference_mm", by_formula_mm,
                        reference_number(r, "circumference_mm") * reference_number(r, "tolerance_percent") / 100.0);
    }
    reference_close(r, 32);
}

static void test_circumference_by_the_formula(void **state) {
    (void)state;
    struct reference *r = reference_open("tyre_formula");
    while (reference_next(r)) {
        double width_mm = reference_number(r, "width_mm"), bead_mm = reference_number(r, "bead_seat_mm");
        reference_check(r, "circumference_mm", mech_tyre_circumference_mm(width_mm, bead_mm), 0.5);
    }
    reference_close(r, 32);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_hole_distances_as_printed),
        cmocka_unit_test(test_room_under_the_smallest_ring),
        cmocka_unit_test(test_factors_as_printed),
        cmocka_unit_test(test_circle_and_distance_both_ways),
        cmocka_unit_test(test_what_is_no_bolt_circle_gives_a_status),
        cmocka_unit_test(test_circumference_beside_the_printed_chart),
        cmocka_unit_test(test_circumference_by_the_formula),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
