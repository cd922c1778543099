/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What nobody said of the rider. The figures are those of the published rows: 0.559 and 0.0077 of 557 urban cyclists
 * (Tengattini 2017), 0.310 and 0.0046 of towed racing bikes (di Prampero et al. 1979), 0.0214 of cross-country tyres (Maier et
 * al.); what is usual on such a bike is common practice.
 */
#include "made.h"

#include "trade/complete.h"

static struct trade_bike bike;

static int new_bike(void **state) {
    made_setup(state);
    return trade_bike_init(&bike) == BASE_OK ? 0 : -1;
}

static int old_bike(void **state) {
    trade_bike_clear(&bike);
    return made_clear(state);
}

static void complete(int use, int bar) {
    if (use >= 0) {
        give_word(&bike.self, TRADE_BIKE_USE, (unsigned)use);
    }
    if (bar >= 0) {
        give_word(&bike.frame, TRADE_FRAME_BAR, (unsigned)bar);
    }
    assert_int_equal(trade_bike_complete(&bike), BASE_OK);
    trade_bike_complete_rider(&bike);
}

static void test_a_town_bike_is_ridden_upright_on_asphalt(void **state) {
    (void)state;
    complete(TRADE_USE_CITY, TRADE_BAR_FLAT);
    assert_word(&bike.rider, TRADE_RIDER_POSITION, TRADE_POSITION_UPRIGHT, BASE_ASSUMED);
    assert_number(&bike.rider, TRADE_RIDER_CDA_M2, 0.559, 0, BASE_ASSUMED);
    assert_number(&bike.rider, TRADE_RIDER_CRR, 0.0077, 0, BASE_ASSUMED);
}

static void test_an_off_road_bike_is_ridden_off_road(void **state) {
    (void)state;
    complete(TRADE_USE_OFF_ROAD, TRADE_BAR_FLAT);
    assert_word(&bike.rider, TRADE_RIDER_POSITION, TRADE_POSITION_FLAT_BAR, BASE_ASSUMED);
    assert_number(&bike.rider, TRADE_RIDER_CRR, 0.0214, 0, BASE_ASSUMED);
}

static void test_a_drop_bar_is_held_on_the_hoods_whatever_the_use(void **state) {
    (void)state;
    complete(TRADE_USE_TOURING, TRADE_BAR_DROP);
    assert_word(&bike.rider, TRADE_RIDER_POSITION, TRADE_POSITION_HOODS, BASE_ASSUMED);
}

/* A flat bar is the usual one, and the tyres and roads those of a town. */
static void test_a_bike_of_which_nothing_is_known_has_a_rider(void **state) {
    (void)state;
    complete(-1, -1);
    assert_word(&bike.rider, TRADE_RIDER_POSITION, TRADE_POSITION_FLAT_BAR, BASE_ASSUMED);
    assert_word(&bike.rider, TRADE_RIDER_TYRE_AND_GROUND, TRADE_GROUND_TOWN_ASPHALT, BASE_ASSUMED);
    assert_word(&bike.rider, TRADE_RIDER_TRAINING, TRADE_TRAINING_RECREATIONAL, BASE_ASSUMED);
    assert_false(trade_is_open(trade_get(&bike.rider, TRADE_RIDER_MASS_KG)));
    assert_false(trade_is_open(trade_get(&bike.rider, TRADE_RIDER_GRIP)));
}

/* A child weighs 32 kg (WHO growth reference 2007, median at ten years, from memory) and is of a grown-up's shape: of half the
 * height everything that the wind meets is a quarter, and the mass an eighth. */
static void test_a_child_is_smaller_than_a_grown_up(void **state) {
    (void)state;
    complete(TRADE_USE_CHILD, TRADE_BAR_FLAT);
    assert_number(&bike.rider, TRADE_RIDER_MASS_KG, 32, 0, BASE_ASSUMED);
    assert_number(&bike.rider, TRADE_RIDER_CDA_M2, 0.559 * 0.552, 0.0005, BASE_ASSUMED); /* (32 / 78)^(2/3) = 0.552 */
}

static void test_the_childs_own_mass_tells_its_drag(void **state) {
    (void)state;
    give(&bike.rider, TRADE_RIDER_MASS_KG, 78.0 / 8);
    complete(TRADE_USE_CHILD, TRADE_BAR_FLAT);
    assert_number(&bike.rider, TRADE_RIDER_MASS_KG, 78.0 / 8, 0, BASE_MEASURED);
    assert_number(&bike.rider, TRADE_RIDER_CDA_M2, 0.559 / 4, 1e-12, BASE_ASSUMED);
}

/* A grown-up on a child's bike is no more than a grown-up, and a drag that was measured is the rider's own. */
static void test_nobody_grows_on_a_childs_bike(void **state) {
    (void)state;
    give(&bike.rider, TRADE_RIDER_MASS_KG, 100);
    complete(TRADE_USE_CHILD, TRADE_BAR_FLAT);
    assert_number(&bike.rider, TRADE_RIDER_CDA_M2, 0.559, 0, BASE_ASSUMED);
}

/* What was asked for makes a figure of a table, unless its row is remembered; a given figure is never touched. */
static void test_what_was_said_goes_first(void **state) {
    (void)state;
    give_word(&bike.rider, TRADE_RIDER_POSITION, TRADE_POSITION_DROPS);
    give_word(&bike.rider, TRADE_RIDER_TYRE_AND_GROUND, TRADE_GROUND_RACING_ASPHALT);
    give_word(&bike.rider, TRADE_RIDER_TRAINING, TRADE_TRAINING_TRAINED);
    give(&bike.rider, TRADE_RIDER_GRIP, 0.65);
    complete(TRADE_USE_CITY, TRADE_BAR_FLAT);
    assert_number(&bike.rider, TRADE_RIDER_CDA_M2, 0.310, 0, BASE_TABLE);
    assert_number(&bike.rider, TRADE_RIDER_CRR, 0.0046, 0, BASE_TABLE);
    assert_number(&bike.rider, TRADE_RIDER_GRIP, 0.65, 0, BASE_MEASURED);
    assert_number(&bike.rider, TRADE_RIDER_POWER_W_PER_KG, 3.4, 1e-12, BASE_ASSUMED); /* half way from 3 to 3.8 */
}

/* Cadence and power stay open: a plan counts on knowing that nobody was asked. */
static void test_cadence_and_power_stay_as_they_are(void **state) {
    (void)state;
    complete(TRADE_USE_ROAD, TRADE_BAR_DROP);
    assert_open(&bike.rider, TRADE_RIDER_CADENCE_RPM);
    assert_open(&bike.rider, TRADE_RIDER_POWER_W);
    assert_open(&bike.rider, TRADE_RIDER_COM_FORWARD_MM);
}

static void test_the_crank_tells_its_length(void **state) {
    (void)state;
    give(made_in(&bike, TRADE_SLOT_CRANK), TRADE_CRANK_ARM_MM, 172.5);
    complete(-1, -1);
    assert_number(&bike.rider, TRADE_RIDER_CRANK_MM, 172.5, 0, BASE_MEASURED);
}

#define test(NAME) cmocka_unit_test_setup_teardown(NAME, new_bike, old_bike)

int main(void) {
    const struct CMUnitTest tests[] = {
        test(test_a_town_bike_is_ridden_upright_on_asphalt),
        test(test_an_off_road_bike_is_ridden_off_road),
        test(test_a_drop_bar_is_held_on_the_hoods_whatever_the_use),
        test(test_a_bike_of_which_nothing_is_known_has_a_rider),
        test(test_a_child_is_smaller_than_a_grown_up),
        test(test_the_childs_own_mass_tells_its_drag),
        test(test_nobody_grows_on_a_childs_bike),
        test(test_what_was_said_goes_first),
        test(test_cadence_and_power_stay_as_they_are),
        test(test_the_crank_tells_its_length),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
