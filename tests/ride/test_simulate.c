/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A ride over a route: the balance of energy, closed forms, an integration in time that shares no code with it, and what
 * must hold whatever the road.
 */
#include "road.h"
#include "support/failing.h"
#include "support/near.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static const struct ride_gearing no_gears = {NULL, 0};
static struct base_arena arena;
static struct ride_cell cells[2 * ROAD_CELLS], halves[2 * ROAD_CELLS];

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

static struct ride_run ride(const struct ride_habits *habits, struct ride_gearing gearing, const struct ride_cell *way,
                            size_t n) {
    struct ride_run run;
    assert_int_equal(ride_simulate(&run, &arena, &road_machine, habits, gearing, way, n), BASE_OK);
    return run;
}

static double lost_j(const struct ride_energy *e) {
    return e->air + e->rolling + e->bearings + e->gravity + e->kinetic + e->drive + e->brakes;
}

/* --- energy -------------------------------------------------------------------------------------------------------- */

static void check_balance(const struct ride_run *run, const struct ride_cell *way, size_t n) {
    double rise_m = 0.0, time_s = 0.0, distance_m = 0.0;
    for (size_t i = 0; i < n; i++) {
        rise_m += way[i].length_m * sin(atan(way[i].gradient));
    }
    for (int s = 0; s < RIDE_MODES; s++) {
        time_s += run->mode_s[s];
        distance_m += run->mode_m[s];
    }
    assert_near(lost_j(&run->energy), run->energy.rider, 1e-9 * run->energy.rider);
    assert_near(run->energy.gravity, 85.0 * 9.80665 * rise_m, 1e-6 * run->energy.rider);
    assert_near(time_s, run->time_s, 1e-9 * run->time_s);
    assert_near(distance_m, run->distance_m, 1e-9 * run->distance_m);
    assert_true(run->energy.brakes >= 0.0 && run->energy.drive > 0.0);
}

static void test_energy_balances(void **state) {
    (void)state;
    struct random_source random = {4101};
    struct ride_choice gears[ROAD_GEARS];
    for (int road = 0; road < 20; road++) {
        road_roll(cells, 500, &random);
        struct ride_run free = ride(&road_habits, no_gears, cells, 500);
        struct ride_run geared = ride(&road_habits, road_gears(gears), cells, 500);
        check_balance(&free, cells, 500);
        check_balance(&geared, cells, 500);
        /* With one efficiency in all gears, whoever need not walk nor spin out rides as without any. */
        if (geared.mode_s[RIDE_MODE_WALKED] + geared.mode_s[RIDE_MODE_ABOVE] <= 0.0) {
            assert_near(geared.time_s, free.time_s, 1e-6 * free.time_s);
        }
    }
}

/* --- closed forms -------------------------------------------------------------------------------------------------- */

static void fill(double length_m, double gradient, size_t from, size_t to) {
    for (size_t i = from; i < to; i++) {
        cells[i] = (struct ride_cell){length_m, gradient};
    }
}

/* Derived: 1 km at 10 % with 250 W at the steady speed of 2.751203 m/s (drive 0.976). */
static void test_a_steady_climb(void **state) {
    (void)state;
    struct ride_habits habits = road_habits;
    habits.power_w = 250.0;
    fill(10.0, 0.10, 0, 100);
    assert_near(ride(&habits, no_gears, cells, 100).time_s, 1000.0 / 2.751203, 1e-3);
}

/* Coasting down a hill without end: v = sqrt(2 m g (sin a - Crr cos a) / (rho CdA)) where bearings take nothing. */
static void test_coasting_downhill(void **state) {
    (void)state;
    struct ride_machine smooth = road_machine;
    struct ride_habits habits = road_habits;
    struct ride_run run;
    smooth.bearings_n = smooth.bearings_n_s_m = 0.0;
    habits.brake_mps = 100.0;
    fill(10.0, -0.10, 0, 1000);
    assert_int_equal(ride_simulate(&run, &arena, &smooth, &habits, no_gears, cells, 1000), BASE_OK);
    double a = atan(0.10);
    double terminal = sqrt(2.0 * 85.0 * 9.80665 * (sin(a) - 0.005 * cos(a)) / (1.225 * 0.32));
    assert_near(run.moments[999].speed_mps, terminal, 1e-5);
    assert_near(run.energy.brakes, 0.0, 1e-6);
}

/* A coast-down with R = 3.2 + 0.19 v^2 N and 80 kg from 10 m/s, after the towing law of di Prampero et al. 1979: 5.055932
 * m/s after 30 s, and the time to any speed is (m / sqrt(a b)) (atan(v0 sqrt(b / a)) - atan(v sqrt(b / a))). */
static void test_coast_down(void **state) {
    (void)state;
    const struct ride_machine towed = {.mass_kg = 80.0,
                                       .drag_area_m2 = 2.0 * 0.19 / 1.225,
                                       .crr = 3.2 / (80.0 * RIDE_GRAVITY_MPS2),
                                       .air_density_kg_m3 = 1.225,
                                       .wheel_radius_m = 0.3};
    struct ride_habits habits = road_habits;
    struct ride_run run;
    habits.coast_mps = 1.0;
    habits.brake_mps = 10.0;
    fill(1.0, -0.30, 0, 100); /* braked to 10 m/s by its end */
    fill(0.1, 0.0, 100, 4000);
    assert_int_equal(ride_simulate(&run, &arena, &towed, &habits, no_gears, cells, 4000), BASE_OK);
    assert_near(run.moments[99].speed_mps, 10.0, 1e-6);
    double time_s = 0.0, root = sqrt(0.19 / 3.2), checked = 0.0;
    for (size_t i = 100; i < 4000 && run.moments[i].mode == RIDE_MODE_COASTING; i++) {
        double v = run.moments[i].speed_mps, middle_s = time_s + run.moments[i].time_s / 2.0;
        assert_near(middle_s, 80.0 / sqrt(3.2 * 0.19) * (atan(10.0 * root) - atan(v * root)), 1e-4 * middle_s + 1e-4);
        time_s += run.moments[i].time_s;
        if (time_s >= 30.0 && checked <= 0.0) {
            checked = v;
        }
    }
    assert_near(checked, 5.055932, 0.003); /* in the next cell of 0.1 m */
}

/* --- against an integration in time -------------------------------------------------------------------------------- */

/* dv/dt of the same rider, written out anew. */
static double push(double v, double gradient, double wheel_w) {
    double a = atan(gradient), m = 85.0, inert = m + 0.14 / (0.311 * 0.311);
    double against =
        0.5 * 1.225 * 0.32 * v * v + 0.005 * m * 9.80665 * cos(a) + 0.091 + 0.0087 * v + m * 9.80665 * sin(a);
    return (wheel_w / v - against) / inert;
}

static double gradient_at(double x) { return 0.06 * sin(x / 150.0); }

/* A wave of hills on which nobody coasts, by Runge and Kutta's fourth order in time. */
static double time_by_time(double length_m, double v, double wheel_w) {
    const double dt = 0.01;
    double x = 0.0, t = 0.0;
    while (x < length_m) {
        double k1 = push(v, gradient_at(x), wheel_w), x2 = x + 0.5 * dt * v, v2 = v + 0.5 * dt * k1;
        double k2 = push(v2, gradient_at(x2), wheel_w), x3 = x + 0.5 * dt * v2, v3 = v + 0.5 * dt * k2;
        double k3 = push(v3, gradient_at(x3), wheel_w), x4 = x + dt * v3, v4 = v + dt * k3;
        double k4 = push(v4, gradient_at(x4), wheel_w);
        x += dt * (v + 2.0 * v2 + 2.0 * v3 + v4) / 6.0;
        v += dt * (k1 + 2.0 * k2 + 2.0 * k3 + k4) / 6.0;
        t += dt;
    }
    return t - (x - length_m) / v;
}

static void test_against_an_integration_in_time(void **state) {
    (void)state;
    struct ride_habits habits = road_habits;
    habits.coast_mps = 40.0;
    for (size_t i = 0; i < 1000; i++) {
        cells[i] = (struct ride_cell){10.0, gradient_at(10.0 * (double)i + 5.0)};
    }
    const struct ride_road start = {cells[0].gradient, 0.0};
    double v;
    assert_int_equal(ride_load_speed_mps(&v, &road_machine, &start, 200.0 * 0.976), BASE_OK);
    double exact_s = time_by_time(10000.0, v, 200.0 * 0.976);
    assert_near(ride(&habits, no_gears, cells, 1000).time_s, exact_s, 2e-4 * exact_s);
}

/* --- what must hold ------------------------------------------------------------------------------------------------ */

static void test_half_the_step_changes_little(void **state) {
    (void)state;
    struct random_source random = {4102};
    struct ride_choice gears[ROAD_GEARS];
    for (int road = 0; road < 10; road++) {
        road_roll(cells, ROAD_CELLS, &random);
        road_halve(halves, cells, ROAD_CELLS);
        struct ride_run whole = ride(&road_habits, road_gears(gears), cells, ROAD_CELLS);
        struct ride_run half = ride(&road_habits, road_gears(gears), halves, 2 * ROAD_CELLS);
        assert_near(half.time_s, whole.time_s, 0.005 * whole.time_s);
        for (int s = 0; s < RIDE_MODES; s++) {
            assert_near(half.mode_s[s], whole.mode_s[s], 0.005 * whole.time_s);
        }
    }
}

/* k times the mass, the drag, the bearings and the power ride the same way, with k times the energy. */
static void test_scaling(void **state) {
    (void)state;
    struct random_source random = {4103};
    road_roll(cells, 1000, &random);
    struct ride_run one = ride(&road_habits, no_gears, cells, 1000), more;
    struct ride_machine larger = road_machine;
    struct ride_habits stronger = road_habits;
    const double k = 1.7;
    larger.mass_kg *= k;
    larger.drag_area_m2 *= k;
    larger.bearings_n *= k;
    larger.bearings_n_s_m *= k;
    larger.wheel_inertia_kg_m2 *= k;
    stronger.power_w *= k;
    assert_int_equal(ride_simulate(&more, &arena, &larger, &stronger, no_gears, cells, 1000), BASE_OK);
    assert_near(more.time_s, one.time_s, 1e-9 * one.time_s);
    assert_near(more.energy.rider, k * one.energy.rider, 1e-9 * more.energy.rider);
    assert_near(more.energy.air, k * one.energy.air, 1e-9 * more.energy.rider);
}

/* The way back: what was gained in height is given back, and what was climbed is coasted. */
static void test_there_and_back(void **state) {
    (void)state;
    struct random_source random = {4104};
    road_roll(cells, 1000, &random);
    for (size_t i = 0; i < 1000; i++) {
        halves[i] = (struct ride_cell){cells[999 - i].length_m, -cells[999 - i].gradient};
    }
    struct ride_run there = ride(&road_habits, no_gears, cells, 1000),
                    back = ride(&road_habits, no_gears, halves, 1000);
    assert_near(there.energy.gravity + back.energy.gravity, 0.0, 1e-9 * there.energy.rider);
    assert_near(there.distance_m, back.distance_m, 1e-9 * there.distance_m);
}

static void test_more_power_is_never_slower(void **state) {
    (void)state;
    struct random_source random = {4105};
    road_roll(cells, 1000, &random);
    double before_s = INFINITY;
    for (double power_w = 60.0; power_w <= 400.0; power_w += 20.0) {
        struct ride_habits habits = road_habits;
        habits.power_w = power_w;
        struct ride_run run = ride(&habits, no_gears, cells, 1000);
        assert_true(run.time_s < before_s);
        before_s = run.time_s;
    }
}

/* --- on foot, and spun out ----------------------------------------------------------------------------------------- */

static struct ride_gearing only(struct ride_choice *gear, double development_m) {
    *gear = (struct ride_choice){development_m, 0.976, 0, 0};
    return (struct ride_gearing){gear, 1};
}

/* On 20 % 200 W hold 1.16 m/s; a gear of 1.4 m turns 50 rpm at that, one of 2 m turns 35. */
static void test_where_the_lowest_gear_can_not_be_turned(void **state) {
    (void)state;
    struct ride_choice gear;
    fill(10.0, 0.0, 0, 50);
    fill(10.0, 0.20, 50, 100);
    fill(10.0, 0.0, 100, 150);
    struct ride_run rides = ride(&road_habits, only(&gear, 1.4), cells, 150);
    assert_near(rides.mode_s[RIDE_MODE_WALKED], 0.0, 0.0);
    assert_true(rides.mode_m[RIDE_MODE_BELOW] > 400.0 && rides.slowest_rpm > 45.0);
    struct ride_run walks = ride(&road_habits, only(&gear, 2.0), cells, 150);
    assert_true(walks.mode_m[RIDE_MODE_WALKED] > 400.0 && walks.mode_m[RIDE_MODE_WALKED] < 520.0);
    assert_near(walks.mode_s[RIDE_MODE_WALKED], walks.mode_m[RIDE_MODE_WALKED], 1e-9); /* 1 m/s */
    assert_int_equal(walks.moments[149].mode, RIDE_MODE_ABOVE);
    check_balance(&walks, cells, 150);
}

static void test_spun_out(void **state) {
    (void)state;
    struct ride_choice gear;
    fill(10.0, -0.03, 0, 200);
    struct ride_run free = ride(&road_habits, no_gears, cells, 200);
    struct ride_run spun = ride(&road_habits, only(&gear, 4.0), cells, 200);
    assert_true(spun.time_s > free.time_s);
    /* 115 rpm x 4 m: what the hill makes beyond is coasted, what it lacks is pedalled softly. */
    assert_true(spun.energy.rider < free.energy.rider);
    assert_near(spun.mode_s[RIDE_MODE_IN_BAND] + spun.mode_s[RIDE_MODE_BELOW], 0.0, 0.0);
    struct ride_run high = ride(&road_habits, only(&gear, 9.0), cells, 200);
    assert_near(high.time_s, free.time_s, 1e-9 * free.time_s);
}

/* --- shifting ------------------------------------------------------------------------------------------------------ */

static void test_shifts_as_a_rider_would(void **state) {
    (void)state;
    struct ride_choice gears[ROAD_GEARS];
    const struct ride_band band = {70.0, 95.0, BASE_MEASURED};
    struct ride_shifter shifter;
    ride_shifter_init(&shifter, road_gears(gears), &band, 7.0);
    unsigned ring = gears[shifter.gear].ring;
    double rpm = ride_gear_rpm(&gears[shifter.gear], 7.0);
    assert_true(rpm > 75.0 && rpm < 89.0); /* near the middle, 81.5 */
    ride_shifter_pedal(&shifter, &band, 7.0 * 96.0 / rpm, 1.5);
    assert_int_equal(shifter.rear + shifter.front, 0); /* a blip */
    ride_shifter_pedal(&shifter, &band, 7.0, 1.0);
    ride_shifter_pedal(&shifter, &band, 7.0 * 96.0 / rpm, 1.5);
    assert_int_equal(shifter.rear + shifter.front, 0); /* and another, apart from it */
    ride_shifter_pedal(&shifter, &band, 7.0 * 96.0 / rpm, 1.5);
    assert_in_range(shifter.rear, 1, 2);
    assert_int_equal(shifter.front, 0);
    assert_int_equal(gears[shifter.gear].ring, ring);
    /* 1.6 m/s: on the large ring nothing turns 70 rpm, the small one has 30/34 with 1.85 m: 52 rpm. */
    ride_shifter_pedal(&shifter, &band, 1.6, 3.0);
    assert_int_equal(gears[shifter.gear].ring, 0);
    assert_near(gears[shifter.gear].development_m, 2.1 * 30 / 34, 1e-9);
    /* 4 m/s is served by the small ring: it stays. */
    size_t front = shifter.front;
    ride_shifter_pedal(&shifter, &band, 4.0, 3.0);
    assert_int_equal(shifter.front, front);
    /* 12 m/s: 30/11 would turn 126 rpm, so now the ring is changed. */
    ride_shifter_pedal(&shifter, &band, 12.0, 3.0);
    assert_int_equal(shifter.front, front + 1);
    assert_true(ride_gear_rpm(&gears[shifter.gear], 12.0) <= 95.0);
}

/* Whatever the road, the time in the gears is the time that was pedalled, and who has a gear for it is in the band. */
static void test_time_in_the_gears(void **state) {
    (void)state;
    struct random_source random = {4106};
    struct ride_choice gears[ROAD_GEARS];
    road_roll(cells, ROAD_CELLS, &random);
    struct ride_run run = ride(&road_habits, road_gears(gears), cells, ROAD_CELLS);
    double sum_s = 0.0, sum_m = 0.0;
    for (size_t i = 0; i < ROAD_GEARS; i++) {
        sum_s += run.gear_s[i];
        sum_m += run.gear_m[i];
        assert_true(run.gear_climb_m[i] <= run.gear_m[i]);
    }
    assert_near(sum_s, run.mode_s[RIDE_MODE_IN_BAND] + run.mode_s[RIDE_MODE_BELOW] + run.mode_s[RIDE_MODE_ABOVE],
                1e-6 * sum_s);
    assert_near(sum_m, run.mode_m[RIDE_MODE_IN_BAND] + run.mode_m[RIDE_MODE_BELOW] + run.mode_m[RIDE_MODE_ABOVE],
                1e-6 * sum_m);
    for (size_t i = 0; i < ROAD_CELLS; i++) {
        const struct ride_moment *m = &run.moments[i];
        if (m->mode == RIDE_MODE_BELOW) {
            assert_true(60.0 * m->speed_mps / gears[0].development_m < 70.001);
        } else if (m->mode == RIDE_MODE_ABOVE) {
            assert_true(60.0 * m->speed_mps / gears[ROAD_GEARS - 1].development_m > 94.999);
        }
    }
    assert_true(run.rear_shifts > 50 && run.front_shifts > 5 && run.front_shifts < run.rear_shifts);
    assert_true(run.widest_step > 1.05 && run.widest_step < 3.0);
}

static void test_when_memory_runs_out(void **state) {
    (void)state;
    struct ride_choice gears[ROAD_GEARS];
    fill(10.0, 0.01, 0, 100);
    for (int n = 0;; n++) {
        struct ride_run run = {.time_s = -1.0};
        struct base_arena own;
        base_arena_init(&own, 0);
        own.fail_after = n;
        enum base_status status = ride_simulate(&run, &own, &road_machine, &road_habits, road_gears(gears), cells, 100);
        base_arena_clear(&own);
        if (status == BASE_OK) {
            assert_int_equal(n, 4);
            break;
        }
        assert_int_equal(status, BASE_NO_MEMORY);
        assert_true(run.time_s < 0.0);
    }
    struct ride_run run;
    assert_int_equal(ride_simulate(&run, &arena, &road_machine, &road_habits, no_gears, cells, 0), BASE_BAD_INPUT);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_energy_balances),
        cmocka_unit_test(test_a_steady_climb),
        cmocka_unit_test(test_coasting_downhill),
        cmocka_unit_test(test_coast_down),
        cmocka_unit_test(test_against_an_integration_in_time),
        cmocka_unit_test(test_half_the_step_changes_little),
        cmocka_unit_test(test_scaling),
        cmocka_unit_test(test_there_and_back),
        cmocka_unit_test(test_more_power_is_never_slower),
        cmocka_unit_test(test_where_the_lowest_gear_can_not_be_turned),
        cmocka_unit_test(test_spun_out),
        cmocka_unit_test(test_shifts_as_a_rider_would),
        cmocka_unit_test(test_time_in_the_gears),
        cmocka_unit_test(test_when_memory_runs_out),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
