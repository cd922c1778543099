/* SPDX-License-Identifier: Apache-2.0 */
/* Chain line: published positions and examples, the shoulder as the fixed point, windows and angles. */
#include "mech/line.h"
#include "support/near.h"
#include "support/random.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <string.h>

#include <cmocka.h>

static struct mech_line_hub hub_of(struct reference *r) {
    return (struct mech_line_hub){.width_mm = reference_number(r, "hub_width_mm"),
                                  .recess_mm = reference_number(r, "recess_mm")};
}

static struct mech_line_cassette cassette_of(struct reference *r) {
    struct mech_line_cassette c = {.pitch_mm = reference_number(r, "pitch_mm"),
                                   .thickness_mm = reference_number(r, "thickness_mm")};
    c.stack_mm = mech_line_stack_mm(reference_count(r, "sprockets"), c.pitch_mm, c.thickness_mm);
    return c;
}

/* A published series, sprocket by sprocket, printed without rounding. */
static void test_published_series_of_sprocket_positions(void **state) {
    (void)state;
    struct reference *r = reference_open("cassette_positions");
    while (reference_next(r)) {
        struct mech_line_hub hub = hub_of(r);
        struct mech_line_cassette cassette = cassette_of(r);
        double shoulder_mm = mech_line_shoulder_mm(&hub, &cassette, reference_number(r, "gap_mm"));
        reference_check(r, "line_mm", mech_line_sprocket_mm(&cassette, shoulder_mm, reference_count(r, "sprocket")),
                        1e-9);
    }
    reference_close(r, 10);
}

static void test_stacks_as_published(void **state) {
    (void)state;
    struct reference *r = reference_open("cassette_stack");
    while (reference_next(r)) {
        struct mech_line_cassette cassette = cassette_of(r);
        reference_check(r, "stack_mm", cassette.stack_mm, reference_number(r, "tolerance_mm"));
    }
    reference_close(r, 5);
}

/* From the locknut: half the hub less the plane, whatever the hub. All to one decimal. */
static void test_ends_of_the_cassette_from_the_locknut(void **state) {
    (void)state;
    struct reference *r = reference_open("cassette_span");
    while (reference_next(r)) {
        int n = reference_count(r, "sprockets");
        struct mech_line_cassette cassette = cassette_of(r);
        struct mech_line_hub plain = {.width_mm = 135.0}, recessed = {.width_mm = 142.0, .recess_mm = 3.5};
        double gap_mm = reference_number(r, "gap_mm");
        double plain_mm = mech_line_shoulder_mm(&plain, &cassette, gap_mm);
        double recessed_mm = mech_line_shoulder_mm(&recessed, &cassette, gap_mm);
        reference_check(r, "stack_mm", cassette.stack_mm, 0.05);
        reference_check(r, "smallest_mm", 67.5 - mech_line_sprocket_mm(&cassette, plain_mm, 1), 0.05);
        reference_check(r, "smallest_recessed_mm", 71.0 - mech_line_sprocket_mm(&cassette, recessed_mm, 1), 0.05);
        reference_check(r, "largest_mm", 67.5 - mech_line_sprocket_mm(&cassette, plain_mm, n), 0.05);
        reference_check(r, "largest_recessed_mm", 71.0 - mech_line_sprocket_mm(&cassette, recessed_mm, n), 0.05);
    }
    reference_close(r, 7);
}

static void test_rear_line_by_hub_and_count(void **state) {
    (void)state;
    struct reference *r = reference_open("rear_line");
    while (reference_next(r)) {
        struct mech_line_hub hub = hub_of(r);
        struct mech_line_cassette cassette = cassette_of(r);
        double gap_mm = reference_number(r, "gap_mm");
        double line_mm = mech_line_rear_mm(&hub, cassette.stack_mm, gap_mm);
        reference_check(r, "line_mm", line_mm, 0.05);
        double shoulder_mm = mech_line_shoulder_mm(&hub, &cassette, gap_mm);
        assert_near(mech_line_middle_mm(&cassette, shoulder_mm), line_mm, 1e-12);
    }
    reference_close(r, 42);
}

static void test_measured_lines_as_published(void **state) {
    (void)state;
    struct reference *r = reference_open("line_examples");
    while (reference_next(r)) {
        double width_mm = reference_number(r, "width_mm");
        double distance_mm = reference_number(r, "distance_mm") - reference_number(r, "inset_mm");
        double line_mm = strcmp(reference_word(r, "from"), "tube") == 0
                             ? mech_line_front_mm(width_mm, distance_mm)
                             : mech_line_from_locknut_mm(width_mm, distance_mm);
        reference_check(r, "line_mm", line_mm, 1e-9);
    }
    reference_close(r, 6);
}

/* However thick the ring and the tube, two readings give the plane between the ring's faces. */
static void test_two_readings_need_neither_tube_nor_thickness(void **state) {
    (void)state;
    struct random_source random = {11};
    for (int round = 0; round < 200; round++) {
        double plane = random_between(&random, 38.0, 60.0), tube = random_between(&random, 25.0, 45.0);
        double thick = random_between(&random, 1.5, 4.0);
        double outer_to_left = plane + thick / 2.0 + tube / 2.0, inner_to_right = plane - thick / 2.0 - tube / 2.0;
        assert_near(mech_line_front_two_mm(outer_to_left, inner_to_right), plane, 1e-12);
        assert_near(mech_line_front_mm(tube, inner_to_right + thick / 2.0), plane, 1e-12);
    }
}

/* An 8-speed stack of 35.4 off, a 10-speed one of 37.2 on, same hub: the shoulder stays, the gap shrinks by 1.8, and the
 * smallest sprocket moves outward by 1.8 and by the tenth that its sprocket is thinner (from the parts, by hand). */
static void test_new_cassette_sits_on_the_old_shoulder(void **state) {
    (void)state;
    const struct mech_line_hub hub = {.width_mm = 135.0};
    const struct mech_line_cassette eight = {.stack_mm = 35.4, .pitch_mm = 4.8, .thickness_mm = 1.8};
    const struct mech_line_cassette ten = {.stack_mm = 37.2, .pitch_mm = 3.95, .thickness_mm = 1.6};
    double shoulder_mm = mech_line_shoulder_mm(&hub, &eight, 3.0);
    assert_near(shoulder_mm, 29.1, 1e-12);
    assert_near(mech_line_gap_mm(&hub, &eight, shoulder_mm), 3.0, 1e-12);
    assert_near(mech_line_gap_mm(&hub, &ten, shoulder_mm), 1.2, 1e-12);
    double moved_mm = mech_line_sprocket_mm(&ten, shoulder_mm, 1) - mech_line_sprocket_mm(&eight, shoulder_mm, 1);
    assert_near(moved_mm, 1.8 + 0.1, 1e-12);
    assert_near(mech_line_middle_mm(&ten, shoulder_mm) - mech_line_middle_mm(&eight, shoulder_mm), 0.9, 1e-12);
}

/* A spacer moves the cassette out by its thickness, an overhang in; the frame's offset moves all of it. */
static void test_spacers_overhang_and_offset_move_the_cassette(void **state) {
    (void)state;
    struct mech_line_hub hub = {.width_mm = 142.0, .recess_mm = 3.5};
    struct mech_line_cassette c = {.stack_mm = 39.0, .pitch_mm = 3.74, .thickness_mm = 1.6};
    double shoulder_mm = mech_line_shoulder_mm(&hub, &c, 3.0);
    double middle_mm = mech_line_middle_mm(&c, shoulder_mm);
    c.spacers_mm = 1.85;
    assert_near(mech_line_middle_mm(&c, shoulder_mm), middle_mm + 1.85, 1e-12);
    assert_near(mech_line_gap_mm(&hub, &c, shoulder_mm), 3.0 - 1.85, 1e-12);
    c.overhang_mm = 2.0;
    assert_near(mech_line_middle_mm(&c, shoulder_mm), middle_mm - 0.15, 1e-12);
    hub.offset_mm = 3.0;
    assert_near(mech_line_shoulder_mm(&hub, &c, mech_line_gap_mm(&hub, &c, shoulder_mm)), shoulder_mm, 1e-12);
    assert_near(mech_line_rear_mm(&hub, 39.0, 3.0), middle_mm + 3.0, 1e-12);
}

static void test_gap_and_shoulder_both_ways(void **state) {
    (void)state;
    struct random_source random = {12};
    for (int round = 0; round < 1000; round++) {
        struct mech_line_hub hub = {random_between(&random, 120.0, 197.0), random_between(&random, 0.0, 5.0),
                                    random_between(&random, -6.0, 6.0)};
        struct mech_line_cassette c = {random_between(&random, 24.0, 45.0), random_between(&random, 3.0, 5.5),
                                       random_between(&random, 1.5, 2.4), random_between(&random, 0.0, 5.0),
                                       random_between(&random, 0.0, 4.0)};
        double gap_mm = random_between(&random, 0.0, 8.0);
        double shoulder_mm = mech_line_shoulder_mm(&hub, &c, gap_mm);
        assert_near(mech_line_gap_mm(&hub, &c, shoulder_mm), gap_mm, 1e-12);
        assert_near(mech_line_middle_mm(&c, shoulder_mm), mech_line_rear_mm(&hub, c.stack_mm, gap_mm), 1e-12);
    }
}

static void test_least_gap(void **state) {
    (void)state;
    struct reference *r = reference_open("gap_least");
    while (reference_next(r)) {
        assert_in_range(reference_count(r, "sprockets"), 8, 12);
        double width_mm = reference_number(r, "chain_width_mm"), thick_mm = reference_number(r, "thickness_mm");
        reference_check(r, "gap_mm", mech_line_gap_least_mm(width_mm, thick_mm), reference_number(r, "tolerance_mm"));
    }
    reference_close(r, 2);
}

static void test_chain_angles_as_published(void **state) {
    (void)state;
    struct reference *r = reference_open("chain_angle");
    while (reference_next(r)) {
        double offset_mm = reference_number(r, "offset_mm"), distance_mm = reference_number(r, "distance_mm");
        double angle_deg = -1.0, other_deg = -1.0;
        assert_int_equal(mech_line_angle_deg(&angle_deg, offset_mm, distance_mm), BASE_OK);
        assert_int_equal(mech_line_angle_deg(&other_deg, -offset_mm, distance_mm), BASE_OK);
        reference_check(r, "angle_deg", angle_deg, reference_number(r, "tolerance_deg"));
        assert_near(other_deg, -angle_deg, 0.0);
    }
    reference_close(r, 6);
}

/* Stay 435 and drop 35 stand 433.589668 apart from above (derived); 5-4-3 is exact. */
static void test_axle_distance_from_above(void **state) {
    (void)state;
    double distance_mm = -1.0;
    assert_int_equal(mech_line_axle_distance_mm(&distance_mm, 435.0, 35.0), BASE_OK);
    assert_near(distance_mm, 433.589668, 5e-7);
    assert_int_equal(mech_line_axle_distance_mm(&distance_mm, 500.0, -300.0), BASE_OK);
    assert_near(distance_mm, 400.0, 1e-12);
    assert_int_equal(mech_line_axle_distance_mm(&distance_mm, 435.0, 0.0), BASE_OK);
    assert_near(distance_mm, 435.0, 1e-12);
}

static void test_error_is_measured_from_the_nearer_edge(void **state) {
    (void)state;
    assert_near(mech_line_error_mm(49.0, 48.0, 50.0), 0.0, 0.0);
    assert_near(mech_line_error_mm(48.0, 48.0, 50.0), 0.0, 0.0);
    assert_near(mech_line_error_mm(50.0, 48.0, 50.0), 0.0, 0.0);
    assert_near(mech_line_error_mm(52.5, 48.0, 50.0), 2.5, 0.0);
    assert_near(mech_line_error_mm(44.0, 48.0, 50.0), -4.0, 0.0);
    assert_near(mech_line_error_mm(44.0, 42.0, 42.0), 2.0, 0.0);
    assert_int_equal(mech_line_error_steps(0.0), 0);
    assert_int_equal(mech_line_error_steps(0.2), 0);
    assert_int_equal(mech_line_error_steps(0.25), 1);
    assert_int_equal(mech_line_error_steps(-0.6), 1);
    assert_int_equal(mech_line_error_steps(-4.0), 8);
    assert_int_equal(mech_line_error_steps(2.5), 5);
}

static void test_what_has_no_angle_gives_a_status(void **state) {
    (void)state;
    const double nan = (double)NAN;
    double out = -1.0;
    assert_int_equal(mech_line_axle_distance_mm(&out, 35.0, 35.0), BASE_NO);
    assert_int_equal(mech_line_axle_distance_mm(&out, 35.0, -435.0), BASE_NO);
    assert_int_equal(mech_line_axle_distance_mm(&out, 0.0, 0.0), BASE_BAD_INPUT);
    assert_int_equal(mech_line_axle_distance_mm(&out, nan, 35.0), BASE_BAD_INPUT);
    assert_int_equal(mech_line_axle_distance_mm(&out, 435.0, nan), BASE_BAD_INPUT);
    assert_int_equal(mech_line_axle_distance_mm(&out, INFINITY, 35.0), BASE_BAD_INPUT);
    assert_int_equal(mech_line_angle_deg(&out, 5.0, 0.0), BASE_BAD_INPUT);
    assert_int_equal(mech_line_angle_deg(&out, 5.0, -391.0), BASE_BAD_INPUT);
    assert_int_equal(mech_line_angle_deg(&out, nan, 391.0), BASE_BAD_INPUT);
    assert_int_equal(mech_line_angle_deg(&out, 5.0, INFINITY), BASE_BAD_INPUT);
    assert_near(out, -1.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_published_series_of_sprocket_positions),
        cmocka_unit_test(test_stacks_as_published),
        cmocka_unit_test(test_ends_of_the_cassette_from_the_locknut),
        cmocka_unit_test(test_rear_line_by_hub_and_count),
        cmocka_unit_test(test_measured_lines_as_published),
        cmocka_unit_test(test_two_readings_need_neither_tube_nor_thickness),
        cmocka_unit_test(test_new_cassette_sits_on_the_old_shoulder),
        cmocka_unit_test(test_spacers_overhang_and_offset_move_the_cassette),
        cmocka_unit_test(test_gap_and_shoulder_both_ways),
        cmocka_unit_test(test_least_gap),
        cmocka_unit_test(test_chain_angles_as_published),
        cmocka_unit_test(test_axle_distance_from_above),
        cmocka_unit_test(test_error_is_measured_from_the_nearer_edge),
        cmocka_unit_test(test_what_has_no_angle_gives_a_status),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
