/* SPDX-License-Identifier: Apache-2.0 */
/* A hill in each gear: balance of power, losses that fit the cadence, states, the gear that is taken, a known climb. */
#include "ride/climb.h"
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

static const struct mech_drive chain = {.friction = 0.18, .cage_n = 10.0, .wheel_teeth = 12};
static const struct ride_band band = {60.0, 90.0, BASE_MEASURED};

static struct ride_gear gear_of(int ring, int sprocket) {
    return (struct ride_gear){ring, sprocket, 2.1 * ring / sprocket, 0.0};
}

static void test_development_and_cadence(void **state) {
    (void)state;
    struct reference *r = reference_open("climb_development");
    while (reference_next(r)) {
        double speed = reference_number(r, "speed_kmh") / 3.6, rpm = reference_number(r, "cadence_rpm");
        reference_check(r, "development_m", ride_climb_development_m(speed, rpm), 1e-5);
        reference_check(r, "cadence_rpm", ride_climb_cadence_rpm(speed, reference_number(r, "development_m")), 1e-4);
    }
    reference_close(r, 2);
}

/* With a fixed efficiency of 0.976 the speeds are those of the road load's table: 250 W on 10 % are 2.751203 m/s, on 20 %
 * 1.451697 m/s (worked apart from the code), whatever the gear. */
static void test_a_fixed_efficiency_gives_one_speed(void **state) {
    (void)state;
    const struct ride_drive drive = {.efficiency = 0.976, .chain = chain};
    const struct { double gradient, speed_mps; } hills[] = {{0.10, 2.751203}, {0.20, 1.451697}};
    for (size_t h = 0; h < 2; h++) {
        for (int sprocket = 11; sprocket <= 51; sprocket += 8) {
            const struct ride_road road = {.gradient = hills[h].gradient};
            const struct ride_gear gear = gear_of(32, sprocket);
            struct ride_in_gear in;
            assert_int_equal(ride_climb_in_gear(&in, &road_machine, &road, 250.0, &drive, &gear, &band), BASE_OK);
            assert_near(in.speed_mps, hills[h].speed_mps, 1e-5);
            assert_near(in.cadence_rpm * gear.development_m / 60.0, in.speed_mps, 1e-12);
            assert_near(in.efficiency, 0.976, 0.0);
            assert_near(in.loss.seating + in.loss.wheels + in.loss.crooked, 0.0, 0.0);
        }
    }
}

/* The same speeds the other way round, as cadences; and back from any hill that a gear was ridden on. */
static void test_the_gradient_of_a_cadence(void **state) {
    (void)state;
    const struct ride_drive fixed = {.efficiency = 0.976, .chain = chain}, chain_only = {(double)NAN, chain};
    const struct { double gradient, speed_mps; } hills[] = {{0.10, 2.751203}, {0.20, 1.451697}};
    const struct ride_gear plain = gear_of(32, 40);
    double gradient;
    for (size_t h = 0; h < 2; h++) {
        double rpm = ride_climb_cadence_rpm(hills[h].speed_mps, plain.development_m);
        assert_int_equal(ride_climb_gradient(&gradient, &road_machine, 250.0, &fixed, &plain, rpm), BASE_OK);
        assert_near(gradient, hills[h].gradient, 1e-6);
    }
    struct random_source random = {7};
    for (int round = 0; round < 1000; round++) {
        const struct ride_road road = {.gradient = random_between(&random, -0.03, 0.4)};
        struct ride_gear gear = gear_of(random_int(&random, 22, 52), random_int(&random, 9, 52));
        double power_w = random_between(&random, 60.0, 800.0);
        struct ride_in_gear in;
        assert_int_equal(ride_climb_in_gear(&in, &road_machine, &road, power_w, &chain_only, &gear, &band), BASE_OK);
        assert_int_equal(ride_climb_gradient(&gradient, &road_machine, power_w, &chain_only, &gear, in.cadence_rpm),
                         BASE_OK);
        assert_near(gradient, road.gradient, 1e-8);
    }
    gradient = -1.0;
    assert_int_equal(ride_climb_gradient(&gradient, &road_machine, 1900.0, &fixed, &plain, 1.0), BASE_NO);
    assert_near(gradient, -1.0, 0.0);
}

/* What arrives at the wheel is what the road takes; the losses are those of the cadence that comes out. */
static void test_losses_and_cadence_agree(void **state) {
    (void)state;
    const struct ride_drive drive = {.efficiency = (double)NAN, .chain = chain};
    struct random_source random = {51};
    for (int round = 0; round < 1000; round++) {
        const struct ride_road road = {random_between(&random, -0.05, 0.3), random_between(&random, -3.0, 6.0)};
        struct ride_gear gear = gear_of(random_int(&random, 22, 52), random_int(&random, 9, 52));
        gear.angle_deg = random_between(&random, -3.0, 3.0);
        double power_w = random_between(&random, 40.0, 800.0);
        struct ride_in_gear in;
        assert_int_equal(ride_climb_in_gear(&in, &road_machine, &road, power_w, &drive, &gear, &band), BASE_OK);
        struct ride_load load = ride_load_steady(&road_machine, &road, in.speed_mps);
        assert_near(ride_load_total_w(&load), power_w * in.efficiency, 1e-8 * power_w);
        double tension_n = mech_drive_tension_n(power_w, gear.ring, in.cadence_rpm);
        struct mech_drive_loss loss = mech_drive_loss_of(&chain, gear.ring, gear.sprocket, tension_n, gear.angle_deg);
        assert_near(in.efficiency, mech_drive_efficiency(&loss), 1e-9);
    }
}

/* Turning in a gear half as long is twice as fast, exactly so with a fixed efficiency. */
static void test_cadence_scales_with_the_gear(void **state) {
    (void)state;
    const struct ride_drive drive = {.efficiency = 0.95, .chain = chain};
    const struct ride_road road = {.gradient = 0.08};
    struct ride_gear one = gear_of(34, 17), other = gear_of(34, 34);
    struct ride_in_gear in_one, in_other;
    assert_int_equal(ride_climb_in_gear(&in_one, &road_machine, &road, 180.0, &drive, &one, &band), BASE_OK);
    assert_int_equal(ride_climb_in_gear(&in_other, &road_machine, &road, 180.0, &drive, &other, &band), BASE_OK);
    assert_near(in_other.cadence_rpm, 2.0 * in_one.cadence_rpm, 1e-10);
}

/* On the ends of the band, worked backwards from the speed that a power gives: the band holds both its ends. */
static void test_states_at_the_ends_of_the_band(void **state) {
    (void)state;
    const struct ride_drive drive = {.efficiency = 0.976, .chain = chain};
    const struct ride_road road = {.gradient = 0.10};
    struct ride_gear gear = {32, 32, ride_climb_development_m(2.751203, 75.0), 0.0};
    struct ride_in_gear in;
    assert_int_equal(ride_climb_in_gear(&in, &road_machine, &road, 250.0, &drive, &gear, &band), BASE_OK);
    assert_int_equal(in.state, RIDE_IN_BAND);
    const struct ride_band from_here = {in.cadence_rpm, 200.0, BASE_MEASURED},
                           to_here = {20.0, in.cadence_rpm, BASE_MEASURED};
    assert_int_equal(ride_climb_in_gear(&in, &road_machine, &road, 250.0, &drive, &gear, &from_here), BASE_OK);
    assert_int_equal(in.state, RIDE_IN_BAND);
    assert_int_equal(ride_climb_in_gear(&in, &road_machine, &road, 250.0, &drive, &gear, &to_here), BASE_OK);
    assert_int_equal(in.state, RIDE_IN_BAND);
    gear.development_m = ride_climb_development_m(2.751203, 59.9);
    assert_int_equal(ride_climb_in_gear(&in, &road_machine, &road, 250.0, &drive, &gear, &band), BASE_OK);
    assert_int_equal(in.state, RIDE_BELOW);
    gear.development_m = ride_climb_development_m(2.751203, 90.1);
    assert_int_equal(ride_climb_in_gear(&in, &road_machine, &road, 250.0, &drive, &gear, &band), BASE_OK);
    assert_int_equal(in.state, RIDE_ABOVE);
}

static struct ride_in_gear at_cadence(double cadence_rpm, double efficiency) {
    enum ride_state state = cadence_rpm < 60.0 ? RIDE_BELOW : cadence_rpm > 90.0 ? RIDE_ABOVE : RIDE_IN_BAND;
    return (struct ride_in_gear){.efficiency = efficiency, .cadence_rpm = cadence_rpm, .state = state};
}

/* The middle of 60..90 as a ratio is 73.5. */
static void test_the_gear_that_is_taken(void **state) {
    (void)state;
    const struct ride_in_gear several[] = {at_cadence(95.0, 0.97), at_cadence(80.0, 0.97), at_cadence(70.0, 0.97),
                                           at_cadence(61.0, 0.97)};
    assert_int_equal(ride_climb_choose(several, 4, &band), 2);
    const struct ride_in_gear alike[] = {at_cadence(73.0, 0.95), at_cadence(72.9, 0.97), at_cadence(40.0, 0.97)};
    assert_int_equal(ride_climb_choose(alike, 3, &band), 1);
    /* 72 and 75 are within a twentieth of the middle, 69 is not. */
    const struct ride_in_gear near_middle[] = {at_cadence(72.0, 0.95), at_cadence(75.0, 0.97), at_cadence(69.0, 0.99)};
    assert_int_equal(ride_climb_choose(near_middle, 3, &band), 1);
    const struct ride_in_gear grinding[] = {at_cadence(52.0, 0.95), at_cadence(47.0, 0.97)};
    assert_int_equal(ride_climb_choose(grinding, 2, &band), 0);
    const struct ride_in_gear gap[] = {at_cadence(120.0, 0.97), at_cadence(55.0, 0.97)};
    assert_int_equal(ride_climb_choose(gap, 2, &band), 1);
    assert_int_equal(ride_climb_choose(gap, 1, &band), 0);
}

/* A power from a climb that was ridden is the power that rides it so: 1 km of 10 % in 363.477 s takes 250 W at 0.976
 * (worked apart from the code). */
static void test_power_from_a_known_climb(void **state) {
    (void)state;
    assert_near(ride_climb_power_w(&road_machine, 0.10, 1000.0, 363.477, 0.976), 250.0, 1e-3);
    assert_near(ride_climb_power_w(&road_machine, -0.10, 1000.0, 100.0, 0.976), 0.0, 0.0);
    struct random_source random = {53};
    for (int round = 0; round < 300; round++) {
        const struct ride_road road = {.gradient = random_between(&random, 0.02, 0.25)};
        double power_w = random_between(&random, 60.0, 600.0), speed;
        assert_int_equal(ride_load_speed_mps(&speed, &road_machine, &road, 0.95 * power_w), BASE_OK);
        double length_m = random_between(&random, 200.0, 9000.0);
        double told = ride_climb_power_w(&road_machine, road.gradient, length_m, length_m / speed, 0.95);
        assert_near(told, power_w, 1e-9 * power_w);
    }
}

static void test_what_cannot_be_is_refused(void **state) {
    (void)state;
    const struct ride_drive drive = {.efficiency = (double)NAN, .chain = chain};
    const struct ride_road wall = {.gradient = 2.0};
    const struct ride_gear gear = gear_of(32, 32);
    struct ride_in_gear in = {.speed_mps = -1.0};
    assert_int_equal(ride_climb_in_gear(&in, &road_machine, &wall, 250.0, &drive, &gear, &band), BASE_BAD_INPUT);
    assert_near(in.speed_mps, -1.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_development_and_cadence),      cmocka_unit_test(test_a_fixed_efficiency_gives_one_speed),
        cmocka_unit_test(test_the_gradient_of_a_cadence),    cmocka_unit_test(test_losses_and_cadence_agree),
        cmocka_unit_test(test_cadence_scales_with_the_gear), cmocka_unit_test(test_states_at_the_ends_of_the_band),
        cmocka_unit_test(test_the_gear_that_is_taken),       cmocka_unit_test(test_power_from_a_known_climb),
        cmocka_unit_test(test_what_cannot_be_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
