/* SPDX-License-Identifier: Apache-2.0 */
/*
 * From what a bike's file says of its rider to the figures that are reckoned with; and the bound that hills make of them.
 * Densities: ISO 2533 (1975), 1.225 kg/m3 at the sea and 1.0581 at a geopotential height of 1500 m; a speed of 2.751203 m/s on 10 %
 * for 250 W is a row of tests/reference/load_speed.csv.
 */
#include "app/climb.h"
#include "support/near.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static struct trade_bike bike;
static struct ride_rider rider;

static int new_bike(void **state) {
    (void)state;
    return trade_bike_init(&bike) == BASE_OK ? 0 : -1;
}

static int old_bike(void **state) {
    (void)state;
    trade_bike_clear(&bike);
    return 0;
}

static void say(enum trade_property property, double value) {
    trade_set(&bike.rider, property, trade_number(value, BASE_MEASURED));
}

static void say_band(enum trade_property property, int16_t low, int16_t high) {
    struct trade_counts *band = base_arena_alloc(&bike.arena, 1, sizeof *band + 2 * sizeof band->at[0]);
    assert_non_null(band);
    band->n = 2;
    band->at[0] = low;
    band->at[1] = high;
    trade_set(&bike.rider, property, (struct trade_value){.counts = band, .known = BASE_MEASURED});
}

/* The rider, once all is said. */
static enum app_power_from ask(void) {
    assert_int_equal(trade_bike_complete(&bike), BASE_OK);
    trade_bike_complete_rider(&bike);
    return app_rider_of(&rider, &bike);
}

/* Nobody bears a cadence that they like less than: the usual 50 of a band from 60 are as much less of a lower one. */
static void test_who_likes_it_slow_bears_it_slower(void **state) {
    (void)state;
    say_band(TRADE_RIDER_CADENCE_RPM, 48, 70);
    ask();
    assert_near(rider.least_rpm.value, 40.0, 1e-12);
    assert_int_equal(rider.least_rpm.known, BASE_ASSUMED);
    say_band(TRADE_RIDER_CLIMB_CADENCE_RPM, 36, 60);
    ask();
    assert_near(rider.least_rpm.value, 30.0, 1e-12);
    assert_near(rider.flat.low_rpm, 48.0, 0);
    assert_near(rider.climb.high_rpm, 60.0, 0);
}

static void test_who_likes_it_fast_bears_what_others_bear(void **state) {
    (void)state;
    say_band(TRADE_RIDER_CADENCE_RPM, 85, 105);
    ask();
    assert_near(rider.least_rpm.value, 50.0, 0);
    say(TRADE_RIDER_LEAST_CADENCE_RPM, 62);
    ask();
    assert_near(rider.least_rpm.value, 62.0, 0);
    assert_int_equal(rider.least_rpm.known, BASE_MEASURED);
}

static void test_air_is_the_standards_where_nobody_told(void **state) {
    (void)state;
    ask();
    assert_near(rider.air_density_kg_m3.value, 1.225, 5e-5);
    assert_int_equal(rider.air_density_kg_m3.known, BASE_ASSUMED);
    say(TRADE_RIDER_HEIGHT_M, 1500.354); /* 1500 m geopotential */
    ask();
    assert_near(rider.air_density_kg_m3.value, 1.0581, 5e-5);
    assert_int_equal(rider.air_density_kg_m3.known, BASE_TABLE);
    say(TRADE_RIDER_AIR_DENSITY_KG_M3, 1.1);
    ask();
    assert_near(rider.air_density_kg_m3.value, 1.1, 0);
}

/* Some of the weather is better than none, and as good as assumed; all of it is measured. */
static void test_weather_is_as_known_as_all_of_it(void **state) {
    (void)state;
    say(TRADE_RIDER_AIR_TEMPERATURE_C, 15);
    say(TRADE_RIDER_AIR_PRESSURE_HPA, 1013.25);
    ask();
    assert_near(rider.air_density_kg_m3.value, 1.225, 1e-3);
    assert_int_equal(rider.air_density_kg_m3.known, BASE_ASSUMED);
    say(TRADE_RIDER_AIR_HUMIDITY_PERCENT, 0);
    ask();
    assert_int_equal(rider.air_density_kg_m3.known, BASE_MEASURED);
}

/* The best that is known of the power, whatever else was said. */
static void test_power_comes_from_the_best_that_is_known(void **state) {
    (void)state;
    say(TRADE_RIDER_MASS_KG, 70);
    assert_int_equal(ask(), APP_POWER_TRAINING);
    say(TRADE_RIDER_POWER_W_PER_KG, 3);
    assert_int_equal(ask(), APP_POWER_PER_KG);
    assert_near(rider.power_w.value, 210.0, 1e-9);
    say(TRADE_RIDER_KNOWN_CLIMB_GRADIENT_PERCENT, 10);
    say(TRADE_RIDER_KNOWN_CLIMB_LENGTH_M, 1000);
    assert_int_equal(ask(), APP_POWER_PER_KG); /* without its time a climb tells nothing */
    say(TRADE_RIDER_KNOWN_CLIMB_TIME_S, 1000 / 2.751203);
    assert_int_equal(ask(), APP_POWER_CLIMB);
    say(TRADE_RIDER_POWER_W, 180);
    assert_int_equal(ask(), APP_POWER_GIVEN);
    assert_near(rider.power_w.value, 180.0, 0);
}

/* The hill that asks for the lowest gear bounds it, and no bound that was wished becomes wider. */
static void test_the_hardest_hill_bounds_the_lowest_gear(void **state) {
    (void)state;
    struct trade_wish wish;
    trade_wish_init(&wish);
    wish.climbs[0] = (struct trade_climb){6, 70, (double)NAN, BASE_OPEN};
    wish.climbs[1] = (struct trade_climb){12, 60, (double)NAN, BASE_OPEN};
    wish.n_climbs = 2;
    ask();
    assert_int_equal(app_climb_bound(&wish, &bike), BASE_OK);
    assert_true(wish.climbs[1].lowest_m_max < wish.climbs[0].lowest_m_max);
    assert_near(wish.lowest_m_max, wish.climbs[1].lowest_m_max, 0);
    assert_int_equal(wish.climbs[0].known, BASE_ASSUMED);
    wish.lowest_m_max = 0.5;
    assert_int_equal(app_climb_bound(&wish, &bike), BASE_OK);
    assert_near(wish.lowest_m_max, 0.5, 0);
}

/* At a cadence the development is what the speed covers in a turn, so that twice the cadence takes half of it. */
static void test_a_cadence_takes_its_gear(void **state) {
    (void)state;
    static struct app_climb slow, fast;
    struct base_arena arena;
    struct fit_build now;
    base_arena_init(&arena, 0);
    ask();
    fit_build_now(&now, &bike);
    assert_int_equal(app_climb_of(&slow, &arena, &bike, &now, 8, 40), BASE_OK);
    assert_int_equal(app_climb_of(&fast, &arena, &bike, &now, 8, 80), BASE_OK);
    assert_near(slow.needed_m, 60.0 * slow.speed_mps / 40.0, 1e-9);
    assert_near(fast.needed_m, slow.needed_m / 2.0, 1e-9);
    assert_true(isnan(slow.length_m));
    assert_false(slow.has_cadences); /* nothing is known of this bike's gears */
    base_arena_clear(&arena);
}

int main(void) {
#define TEST(NAME) cmocka_unit_test_setup_teardown(NAME, new_bike, old_bike)
    const struct CMUnitTest tests[] = {TEST(test_who_likes_it_slow_bears_it_slower),
                                       TEST(test_who_likes_it_fast_bears_what_others_bear),
                                       TEST(test_air_is_the_standards_where_nobody_told),
                                       TEST(test_weather_is_as_known_as_all_of_it),
                                       TEST(test_power_comes_from_the_best_that_is_known),
                                       TEST(test_the_hardest_hill_bounds_the_lowest_gear),
                                       TEST(test_a_cadence_takes_its_gear)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
