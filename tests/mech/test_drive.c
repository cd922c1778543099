/* SPDX-License-Identifier: Apache-2.0 */
/* Losses of the drive: figures worked apart from the code, then what was measured: orders, and a mean within its spread. */
#include "mech/drive.h"
#include "mech/line.h"
#include "support/near.h"
#include "support/random.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static const struct mech_drive usual = {.friction = 0.18, .cage_n = 10.0, .wheel_teeth = 12};

static double efficiency(const struct mech_drive *drive, int ring, int sprocket, double power_w, double cadence_rpm) {
    double tension_n = mech_drive_tension_n(power_w, ring, cadence_rpm);
    struct mech_drive_loss loss = mech_drive_loss_of(drive, ring, sprocket, tension_n, 0.0);
    return mech_drive_efficiency(&loss);
}

static void test_efficiency_by_gear(void **state) {
    (void)state;
    struct reference *r = reference_open("drive_loss");
    while (reference_next(r)) {
        int ring = reference_count(r, "ring"), sprocket = reference_count(r, "sprocket");
        double power_w = reference_number(r, "power_w"), cadence_rpm = reference_number(r, "cadence_rpm");
        reference_check(r, "tension_n", mech_drive_tension_n(power_w, ring, cadence_rpm), 0.0005);
        reference_check(r, "efficiency", efficiency(&usual, ring, sprocket, power_w, cadence_rpm), 1e-6);
    }
    reference_close(r, 5);
}

/* Two wheels and nothing else: tension has no say. Half of the last digit. */
static void test_a_drive_without_derailleur(void **state) {
    (void)state;
    struct reference *r = reference_open("drive_plain");
    while (reference_next(r)) {
        const struct mech_drive plain = {.friction = reference_number(r, "friction")};
        int ring = reference_count(r, "ring"), sprocket = reference_count(r, "sprocket");
        struct mech_drive_loss loss = mech_drive_loss_of(&plain, ring, sprocket, 300.0, 0.0);
        reference_check(r, "loss", 1.0 - mech_drive_efficiency(&loss), plain.friction < 0.1 ? 5e-7 : 5e-6);
    }
    reference_close(r, 6);
}

/* 10 N of slack in 310 N of pull, so 300 N net: the sum over the joints gives 0.006456. */
static void test_slack_counts_on_both_sides(void **state) {
    (void)state;
    const struct mech_drive slack = {.friction = 0.090537, .cage_n = 10.0};
    struct mech_drive_loss loss = mech_drive_loss_of(&slack, 52, 21, 300.0, 0.0);
    assert_near(loss.seating, 0.006456, 5e-7);
    assert_near(loss.wheels, 0.0, 0.0);
}

static void test_tension(void **state) {
    (void)state;
    struct reference *r = reference_open("drive_tension");
    while (reference_next(r)) {
        double tension_n = mech_drive_tension_n(reference_number(r, "power_w"), reference_count(r, "ring"),
                                                reference_number(r, "cadence_rpm"));
        reference_check(r, "tension_n", tension_n, 1e-3);
        reference_check(r, "published_n", tension_n, 0.01 * tension_n);
    }
    reference_close(r, 2);
}

static void test_angles_of_teeth(void **state) {
    (void)state;
    struct reference *r = reference_open("drive_angles");
    while (reference_next(r)) {
        int teeth = reference_count(r, "teeth");
        if (reference_has(r, "articulation_deg")) {
            reference_check(r, "articulation_deg", mech_drive_articulation_deg(teeth), 1e-4);
        }
        if (reference_has(r, "ripple_percent")) {
            reference_check(r, "ripple_percent", mech_drive_ripple_percent(teeth), 1e-4);
        }
    }
    reference_close(r, 6);
}

/* What was measured, as an order, at any power and cadence that is ridden. */
static void test_order_of_gears_as_measured(void **state) {
    (void)state;
    struct reference *r = reference_open("drive_order");
    while (reference_next(r)) {
        int better_ring = reference_count(r, "better_ring"), better_sprocket = reference_count(r, "better_sprocket");
        int worse_ring = reference_count(r, "worse_ring"), worse_sprocket = reference_count(r, "worse_sprocket");
        for (double power_w = 50.0; power_w <= 400.0; power_w += 50.0) {
            for (double rpm = 50.0; rpm <= 100.0; rpm += 10.0) {
                reference_claim(r,
                                efficiency(&usual, better_ring, better_sprocket, power_w, rpm) >
                                    efficiency(&usual, worse_ring, worse_sprocket, power_w, rpm),
                                "the larger wheels lose less");
            }
        }
    }
    reference_close(r, 4);
}

/* Higher tension, less lost (Spicer et al. 2001): wherever the cage pulls. */
static void test_efficiency_rises_with_tension(void **state) {
    (void)state;
    struct random_source random = {7};
    for (int round = 0; round < 500; round++) {
        int ring = random_int(&random, 20, 53), sprocket = random_int(&random, 9, 52);
        double rpm = random_between(&random, 40.0, 110.0), power_w = random_between(&random, 50.0, 600.0);
        assert_true(efficiency(&usual, ring, sprocket, 1.1 * power_w, rpm) >
                    efficiency(&usual, ring, sprocket, power_w, rpm));
    }
}

/* 53/11 and 53/13 at 250 W: 2.1 % with a spread of 1.5 points, measured from 100 to 400 W (Smit et al., Sports Engineering,
 * 2023). */
static void test_mean_loss_is_within_what_was_measured(void **state) {
    (void)state;
    double mean = 0.5 * (efficiency(&usual, 53, 11, 250.0, 90.0) + efficiency(&usual, 53, 13, 250.0, 90.0));
    assert_near(100.0 * (1.0 - mean), 2.1, 1.5);
    /* A friction laboratory's 1.5 W between 53/15 and 39/11 at 250 W (report of 9 April 2015): here within half of it. */
    double watts = 250.0 * (efficiency(&usual, 53, 15, 250.0, 95.0) - efficiency(&usual, 39, 11, 250.0, 95.0));
    assert_near(watts, 1.5, 0.75);
}

/* Nothing below 0.81, the worst that was ever measured, and for what is ridden nothing below 0.93: the model knows of no
 * losses but friction. */
static void test_model_stays_inside_the_measured_envelope(void **state) {
    (void)state;
    const struct mech_drive worst = {.friction = 0.22, .cage_n = 10.0, .wheel_teeth = 11};
    for (int ring = 28; ring <= 53; ring++) {
        for (int sprocket = 10; sprocket <= 52; sprocket++) {
            for (double power_w = 50.0; power_w <= 500.0; power_w += 50.0) {
                assert_true(efficiency(&worst, ring, sprocket, power_w, 60.0) > 0.93);
                assert_true(efficiency(&worst, ring, sprocket, power_w, 60.0) < 1.0);
            }
        }
    }
}

/* With the friction that the source took, mu 0.1 on a pin of 1.83 mm; half of the last digit. */
static void test_a_crooked_chain(void **state) {
    (void)state;
    const struct mech_drive clean = {.friction = 0.090537};
    struct reference *r = reference_open("drive_crooked");
    while (reference_next(r)) {
        double angle_deg = -1.0;
        assert_int_equal(
            mech_line_angle_deg(&angle_deg, reference_number(r, "offset_mm"), reference_number(r, "chainstay_mm")),
            BASE_OK);
        reference_check(r, "angle_deg", angle_deg, 5e-5);
        struct mech_drive_loss loss = mech_drive_loss_of(&clean, 32, 16, 300.0, angle_deg);
        struct mech_drive_loss other_way = mech_drive_loss_of(&clean, 32, 16, 300.0, -angle_deg);
        if (reference_has(r, "loss")) {
            reference_check(r, "loss", loss.crooked, 5e-5);
        }
        assert_near(other_way.crooked, loss.crooked, 0.0);
    }
    reference_close(r, 4);
    /* The laboratory's worst gears cost some 3 W of 250 with the angle, of which half is the angle's: 0.6 %. The term stays
     * below that up to the 3.3 degrees that a bicycle reaches. */
    assert_true(mech_drive_loss_of(&usual, 39, 11, 300.0, 3.3).crooked < 0.006);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_efficiency_by_gear),
        cmocka_unit_test(test_a_drive_without_derailleur),
        cmocka_unit_test(test_slack_counts_on_both_sides),
        cmocka_unit_test(test_tension),
        cmocka_unit_test(test_angles_of_teeth),
        cmocka_unit_test(test_order_of_gears_as_measured),
        cmocka_unit_test(test_efficiency_rises_with_tension),
        cmocka_unit_test(test_mean_loss_is_within_what_was_measured),
        cmocka_unit_test(test_model_stays_inside_the_measured_envelope),
        cmocka_unit_test(test_a_crooked_chain),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
