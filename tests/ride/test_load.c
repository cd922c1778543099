/* SPDX-License-Identifier: Apache-2.0 */
/* Road load: each term, speed from power both ways, coasting, units, energy. */
#include "ride/load.h"
#include "road.h"
#include "support/near.h"
#include "support/random.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define TABLE_EFFICIENCY 0.976

static struct ride_road uphill(double gradient) { return (struct ride_road){.gradient = gradient}; }

static void test_terms_and_their_sum(void **state) {
    (void)state;
    struct reference *r = reference_open("load_terms");
    while (reference_next(r)) {
        const struct ride_road road = uphill(reference_number(r, "gradient"));
        struct ride_load load = ride_load_steady(&road_machine, &road, reference_number(r, "speed_mps"));
        if (reference_has(r, "air_w")) {
            reference_check(r, "air_w", load.air_w, 1e-5);
            reference_check(r, "rolling_w", load.rolling_w, 1e-5);
            reference_check(r, "bearings_w", load.bearings_w, 1e-5);
        }
        reference_check(r, "rider_w", ride_load_rider_w(ride_load_total_w(&load), TABLE_EFFICIENCY), 1e-5);
    }
    reference_close(r, 4);
}

static void test_speed_from_power(void **state) {
    (void)state;
    struct reference *r = reference_open("load_speed");
    while (reference_next(r)) {
        const struct ride_road road = uphill(reference_number(r, "gradient"));
        double speed = -1.0;
        assert_int_equal(
            ride_load_speed_mps(&speed, &road_machine, &road, TABLE_EFFICIENCY * reference_number(r, "rider_w")),
            BASE_OK);
        reference_check(r, "speed_mps", speed, 1e-5);
    }
    reference_close(r, 8);
}

/* 1 km of 10 % at 250 W, at the steady speed of the table above: 363.477 s, which is 1000 m / 2.751203 m/s. */
static void test_a_kilometre_uphill(void **state) {
    (void)state;
    const struct ride_road road = uphill(0.10);
    double speed = -1.0;
    assert_int_equal(ride_load_speed_mps(&speed, &road_machine, &road, TABLE_EFFICIENCY * 250.0), BASE_OK);
    assert_near(1000.0 / speed, 363.477, 1e-3);
}

/* The paper's example, from memory: no more is asked of it than that each term stands within a thousandth, since its
 * gravity is 9.81 m/s2. */
static void test_worked_example_of_the_paper(void **state) {
    (void)state;
    struct reference *r = reference_open("load_example");
    while (reference_next(r)) {
        const struct ride_machine machine = {.mass_kg = reference_number(r, "mass_kg"),
                                             .drag_area_m2 = reference_number(r, "drag_area_m2"),
                                             .wheel_drag_area_m2 = reference_number(r, "wheel_drag_area_m2"),
                                             .crr = reference_number(r, "crr"),
                                             .air_density_kg_m3 = reference_number(r, "air_density_kg_m3"),
                                             .bearings_n = RIDE_BEARINGS_N,
                                             .bearings_n_s_m = RIDE_BEARINGS_N_S_M,
                                             .wheel_inertia_kg_m2 = RIDE_WHEEL_INERTIA_KG_M2,
                                             .wheel_radius_m = RIDE_WHEEL_RADIUS_M};
        double headwind_mps = ride_load_headwind_mps(
            reference_number(r, "wind_mps"), reference_number(r, "wind_from_deg"), reference_number(r, "heading_deg"));
        reference_check(r, "headwind_mps", headwind_mps, 5e-7);
        const struct ride_road road = {reference_number(r, "gradient"), headwind_mps};
        struct ride_load load = ride_load_steady(&machine, &road, reference_number(r, "speed_mps"));
        load.kinetic_w = ride_load_kinetic_w(&machine, reference_number(r, "from_mps"), reference_number(r, "to_mps"),
                                             reference_number(r, "duration_s"));
        reference_check(r, "air_w", load.air_w, 1e-3 * load.air_w);
        reference_check(r, "rolling_w", load.rolling_w, 1e-3 * load.rolling_w);
        reference_check(r, "bearings_w", load.bearings_w, 1e-3 * load.bearings_w);
        reference_check(r, "gravity_w", load.gravity_w, 1e-3 * load.gravity_w);
        reference_check(r, "kinetic_w", load.kinetic_w, 1e-3 * load.kinetic_w);
        print_message("# the whole is %.3f W at an efficiency of 0.97698; the printed answer is remembered as 213 W\n",
                      ride_load_rider_w(ride_load_total_w(&load), 0.97698));
    }
    reference_close(r, 1);
}

/* R = 3.2 + 0.19 v2 N for 80 kg that do not turn: the towed racing bicycle of 1979. */
static struct ride_machine towed(void) {
    return (struct ride_machine){.mass_kg = 80.0,
                                 .drag_area_m2 = 2.0 * 0.19 / 1.225,
                                 .crr = 3.2 / (80.0 * RIDE_GRAVITY_MPS2),
                                 .air_density_kg_m3 = 1.225,
                                 .wheel_radius_m = RIDE_WHEEL_RADIUS_M};
}

static void test_towing_law(void **state) {
    (void)state;
    struct reference *r = reference_open("load_towing");
    while (reference_next(r)) {
        const struct ride_machine machine = towed();
        const struct ride_road flat = uphill(0.0);
        double speed = reference_number(r, "speed_mps");
        struct ride_load load = ride_load_steady(&machine, &flat, speed);
        reference_check(r, "force_n", ride_load_force_n(&machine, &flat, speed), 1e-12);
        reference_check(r, "power_w", ride_load_total_w(&load), 1e-10);
    }
    reference_close(r, 1);
}

struct motion {
    double speed_mps;
    double distance_m;
};

/* The classic Runge-Kutta step of fourth order on dv/dt = -F(v) / m, for a machine on the flat that coasts; its error over
 * 121 s in steps of 10 ms is far below the tolerances. */
static struct motion step(const struct ride_machine *machine, struct motion now, double dt_s) {
    const struct ride_road flat = uphill(0.0);
    double mass = ride_load_inert_mass_kg(machine);
    double a1 = -ride_load_force_n(machine, &flat, now.speed_mps) / mass;
    double v2 = now.speed_mps + 0.5 * dt_s * a1;
    double a2 = -ride_load_force_n(machine, &flat, v2) / mass;
    double v3 = now.speed_mps + 0.5 * dt_s * a2;
    double a3 = -ride_load_force_n(machine, &flat, v3) / mass;
    double v4 = now.speed_mps + dt_s * a3;
    double a4 = -ride_load_force_n(machine, &flat, v4) / mass;
    return (struct motion){now.speed_mps + dt_s / 6.0 * (a1 + 2.0 * a2 + 2.0 * a3 + a4),
                           now.distance_m + dt_s / 6.0 * (now.speed_mps + 2.0 * v2 + 2.0 * v3 + v4)};
}

static void test_coast_down(void **state) {
    (void)state;
    struct reference *r = reference_open("load_coast_down");
    const struct ride_machine machine = towed();
    while (reference_next(r)) {
        struct motion now = {10.0, 0.0};
        double time_s = reference_number(r, "time_s");
        int steps = (int)ceil(time_s / 0.01);
        for (int i = 0; i < steps; i++) {
            now = step(&machine, now, time_s / steps);
        }
        reference_check(r, "speed_mps", now.speed_mps, 1e-5);
        if (reference_has(r, "distance_m")) {
            reference_check(r, "distance_m", now.distance_m, 1e-5);
        }
    }
    reference_close(r, 2);
}

/* Without bearings the coasting speed has a closed form: sqrt(2 m g (sin a - Crr cos a) / (rho CdA)). At -10 % it is
 * 20.050408 m/s for the table's rider. */
static void test_coasting_without_bearings_has_a_closed_form(void **state) {
    (void)state;
    struct ride_machine machine = road_machine;
    machine.bearings_n = machine.bearings_n_s_m = 0.0;
    for (double gradient = -0.3; gradient < -0.006; gradient += 0.01) {
        const struct ride_road road = uphill(gradient);
        double angle = atan(-gradient), speed = -1.0;
        double closed = sqrt(2.0 * 85.0 * RIDE_GRAVITY_MPS2 * (sin(angle) - 0.005 * cos(angle)) / (1.225 * 0.32));
        assert_int_equal(ride_load_speed_mps(&speed, &machine, &road, 0.0), BASE_OK);
        assert_near(speed, closed, 1e-9 * closed);
    }
    const struct ride_road road = uphill(-0.10);
    double speed = -1.0;
    assert_int_equal(ride_load_speed_mps(&speed, &machine, &road, 0.0), BASE_OK);
    assert_near(speed, 20.050408, 1e-6);
}

static struct ride_machine random_machine(struct random_source *random) {
    return (struct ride_machine){.mass_kg = random_between(random, 20.0, 200.0),
                                 .drag_area_m2 = random_between(random, 0.1, 1.0),
                                 .wheel_drag_area_m2 = random_between(random, 0.0, 0.05),
                                 .crr = random_between(random, 0.002, 0.1),
                                 .air_density_kg_m3 = random_between(random, 0.6, 1.4),
                                 .bearings_n = RIDE_BEARINGS_N,
                                 .bearings_n_s_m = RIDE_BEARINGS_N_S_M,
                                 .wheel_inertia_kg_m2 = RIDE_WHEEL_INERTIA_KG_M2,
                                 .wheel_radius_m = RIDE_WHEEL_RADIUS_M};
}

/* Whatever the wind and the hill: a power gives a speed, and that speed takes that power. */
static void test_speed_and_power_turn_each_other_round(void **state) {
    (void)state;
    struct random_source random = {17};
    for (int round = 0; round < 2000; round++) {
        struct ride_machine machine = random_machine(&random);
        const struct ride_road road = {random_between(&random, -0.3, 0.4), random_between(&random, -15.0, 15.0)};
        double power = random_between(&random, 1.0, 1500.0), speed = -1.0;
        assert_int_equal(ride_load_speed_mps(&speed, &machine, &road, power), BASE_OK);
        struct ride_load load = ride_load_steady(&machine, &road, speed);
        /* Terms of opposite sign cancel on a hill, so the error is that of the largest of them. */
        assert_near(ride_load_total_w(&load), power, 1e-11 * (fabs(load.gravity_w) + fabs(load.air_w) + power));
        assert_near(ride_load_force_n(&machine, &road, speed) * speed, power,
                    1e-11 * (fabs(load.gravity_w) + fabs(load.air_w) + power));
    }
}

/* More of what resists, less speed; more power, more speed. */
static void test_speed_falls_with_all_that_resists(void **state) {
    (void)state;
    struct random_source random = {23};
    for (int round = 0; round < 500; round++) {
        const struct ride_machine machine = random_machine(&random);
        const struct ride_road road = {random_between(&random, 0.0, 0.3), random_between(&random, 0.0, 10.0)};
        struct ride_machine worse[] = {machine, machine, machine, machine};
        struct ride_road steeper = road, windier = road;
        double power = random_between(&random, 50.0, 500.0), speed = -1.0, other = -1.0;
        worse[0].mass_kg *= 1.01;
        worse[1].drag_area_m2 *= 1.01;
        worse[2].crr *= 1.01;
        worse[3].air_density_kg_m3 *= 1.01;
        steeper.gradient += 0.001;
        windier.headwind_mps += 0.1;
        assert_int_equal(ride_load_speed_mps(&speed, &machine, &road, power), BASE_OK);
        for (size_t i = 0; i < sizeof worse / sizeof worse[0]; i++) {
            assert_int_equal(ride_load_speed_mps(&other, &worse[i], &road, power), BASE_OK);
            assert_true(other < speed);
        }
        assert_int_equal(ride_load_speed_mps(&other, &machine, &steeper, power), BASE_OK);
        assert_true(other < speed);
        assert_int_equal(ride_load_speed_mps(&other, &machine, &windier, power), BASE_OK);
        assert_true(other < speed);
        assert_int_equal(ride_load_speed_mps(&other, &machine, &road, 1.01 * power), BASE_OK);
        assert_true(other > speed);
    }
}

/* Units: mass, areas, bearings and power k times as large leave every speed as it is, since every force is k times as
 * large; and a head wind is as much as the same speed through still air. */
static void test_scaling(void **state) {
    (void)state;
    struct random_source random = {29};
    for (int round = 0; round < 500; round++) {
        const struct ride_machine machine = random_machine(&random);
        const struct ride_road road = {random_between(&random, -0.1, 0.2), random_between(&random, -5.0, 5.0)};
        double k = random_between(&random, 0.6, 1.8), power = random_between(&random, 50.0, 800.0);
        double speed = -1.0, scaled_speed = -1.0;
        struct ride_machine scaled = machine;
        scaled.mass_kg *= k;
        scaled.drag_area_m2 *= k;
        scaled.wheel_drag_area_m2 *= k;
        scaled.bearings_n *= k;
        scaled.bearings_n_s_m *= k;
        assert_int_equal(ride_load_speed_mps(&speed, &machine, &road, power), BASE_OK);
        assert_int_equal(ride_load_speed_mps(&scaled_speed, &scaled, &road, k * power), BASE_OK);
        assert_near(scaled_speed / speed, 1.0, 1e-10);

        const struct ride_road calm = {road.gradient, 0.0}, windy = {road.gradient, 3.0};
        double through = ride_load_steady(&machine, &calm, speed + 3.0).air_w / (speed + 3.0);
        assert_near(ride_load_steady(&machine, &windy, speed).air_w / speed, through, 1e-12 * through);
    }
}

/* A tail wind that is faster than the rider pushes; one from the side does neither; one that turns by 180 degrees turns
 * its sign. */
static void test_wind(void **state) {
    (void)state;
    const struct ride_road road = {0.0, -10.0};
    assert_true(ride_load_steady(&road_machine, &road, 5.0).air_w < 0.0);
    assert_near(ride_load_headwind_mps(8.0, 90.0, 0.0), 0.0, 1e-15);
    assert_near(ride_load_headwind_mps(8.0, 45.0, 45.0), 8.0, 0.0);
    assert_near(ride_load_headwind_mps(8.0, 225.0, 45.0), -8.0, 1e-12);
    assert_near(ride_load_headwind_mps(8.0, 60.0, 0.0), 4.0, 1e-14);
}

/* Work of the kinetic term is the change of 1/2 (m + I / r2) v2, however the way is cut into pieces. */
static void test_kinetic_energy_adds_up(void **state) {
    (void)state;
    double mass = 85.0 + 0.14 / (0.311 * 0.311), work = 0.0;
    assert_near(ride_load_inert_mass_kg(&road_machine), mass, 1e-12);
    const double speeds[] = {2.0, 3.5, 1.0, 9.0, 4.0}, times[] = {3.0, 0.5, 20.0, 7.0};
    for (size_t i = 0; i < 4; i++) {
        work += times[i] * ride_load_kinetic_w(&road_machine, speeds[i], speeds[i + 1], times[i]);
    }
    assert_near(work, 0.5 * mass * (16.0 - 4.0), 1e-9);
}

static void test_the_drive_loses_only_what_it_carries(void **state) {
    (void)state;
    assert_near(ride_load_rider_w(95.0, 0.95), 100.0, 1e-12);
    assert_near(ride_load_rider_w(0.0, 0.95), 0.0, 0.0);
    assert_near(ride_load_rider_w(-300.0, 0.95), 0.0, 0.0);
}

static void test_what_stands_still_stands_still(void **state) {
    (void)state;
    const struct ride_road flat = uphill(0.0), up = uphill(0.05), barely = uphill(-0.005);
    double speed = -1.0;
    assert_int_equal(ride_load_speed_mps(&speed, &road_machine, &flat, 0.0), BASE_OK);
    assert_near(speed, 0.0, 0.0);
    assert_int_equal(ride_load_speed_mps(&speed, &road_machine, &up, 0.0), BASE_OK);
    assert_near(speed, 0.0, 0.0);
    /* Rolling alone holds a hill of Crr; the bearings hold a little more. */
    assert_int_equal(ride_load_speed_mps(&speed, &road_machine, &barely, 0.0), BASE_OK);
    assert_near(speed, 0.0, 0.0);
}

static void test_what_cannot_be_is_refused(void **state) {
    (void)state;
    const double nan = (double)NAN;
    const struct ride_road flat = uphill(0.0), wall = uphill(1.5), down = uphill(-0.5);
    struct ride_machine machine = road_machine;
    double speed = -1.0;
    assert_int_equal(ride_load_speed_mps(&speed, &machine, &flat, nan), BASE_BAD_INPUT);
    assert_int_equal(ride_load_speed_mps(&speed, &machine, &flat, -1.0), BASE_BAD_INPUT);
    assert_int_equal(ride_load_speed_mps(&speed, &machine, &flat, 5001.0), BASE_BAD_INPUT);
    assert_int_equal(ride_load_speed_mps(&speed, &machine, &wall, 100.0), BASE_BAD_INPUT);
    machine.drag_area_m2 = machine.bearings_n_s_m = 0.0;
    assert_int_equal(ride_load_speed_mps(&speed, &machine, &down, 0.0), BASE_BAD_INPUT);
    machine = road_machine;
    machine.mass_kg = nan;
    assert_int_equal(ride_load_speed_mps(&speed, &machine, &flat, 100.0), BASE_BAD_INPUT);
    machine = road_machine;
    machine.crr = 0.31;
    assert_int_equal(ride_load_speed_mps(&speed, &machine, &flat, 100.0), BASE_BAD_INPUT);
    assert_near(speed, -1.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_terms_and_their_sum),
        cmocka_unit_test(test_speed_from_power),
        cmocka_unit_test(test_a_kilometre_uphill),
        cmocka_unit_test(test_worked_example_of_the_paper),
        cmocka_unit_test(test_towing_law),
        cmocka_unit_test(test_coast_down),
        cmocka_unit_test(test_coasting_without_bearings_has_a_closed_form),
        cmocka_unit_test(test_speed_and_power_turn_each_other_round),
        cmocka_unit_test(test_speed_falls_with_all_that_resists),
        cmocka_unit_test(test_scaling),
        cmocka_unit_test(test_wind),
        cmocka_unit_test(test_kinetic_energy_adds_up),
        cmocka_unit_test(test_the_drive_loses_only_what_it_carries),
        cmocka_unit_test(test_what_stands_still_stands_still),
        cmocka_unit_test(test_what_cannot_be_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
