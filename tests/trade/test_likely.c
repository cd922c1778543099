/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Which usual values can stand beside what is known of the bike. All from the standards tables, whose rows carry their
 * sources; the reasons are common practice.
 */
#include "made.h"

#include "trade/likely.h"

static struct trade_bike bike;

static int new_bike(void **state) {
    made_setup(state);
    return trade_bike_init(&bike) == BASE_OK ? 0 : -1;
}

static int old_bike(void **state) {
    trade_bike_clear(&bike);
    return made_clear(state);
}

static bool may_stand(enum trade_slot slot, enum trade_property property, unsigned word) {
    assert_int_equal(trade_bike_complete(&bike), BASE_OK);
    struct trade_value value = trade_word(word, BASE_ASSUMED);
    return trade_may_stand(&bike, slot, property, &value);
}

static bool family(unsigned pull) { return may_stand(TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_PULL, pull); }
static bool body(unsigned spline) { return may_stand(TRADE_SLOT_FREEHUB_BODY, TRADE_FREEHUB_BODY_SPLINE, spline); }

/* A lever clicks through nine sprockets: it is of a family for nine, whichever. */
static void test_the_family_clicks_as_often_as_there_are_sprockets(void **state) {
    (void)state;
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 9, 11, 34);
    assert_true(family(TRADE_PULL_R17_9));
    assert_true(family(TRADE_PULL_ONE_9));
    assert_false(family(TRADE_PULL_R17_8));
    assert_false(family(TRADE_PULL_R12_10));
    give(made_in(&bike, TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_POSITIONS, 10); /* counted: one to spare */
    assert_true(family(TRADE_PULL_R12_10));
    assert_false(family(TRADE_PULL_R17_9));
}

static void test_without_sprockets_any_family_may_be(void **state) {
    (void)state;
    assert_true(family(TRADE_PULL_R17_8));
    assert_true(family(TRADE_PULL_R11_11));
}

/* The short body and the threaded nose came with sprockets of 10 teeth, for 11 and 12 of them (Freehub body comparison,
 * Hands on Bike blog, 2022). */
static void test_a_nine_speed_cassette_sits_on_keys_or_deep_splines(void **state) {
    (void)state;
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 9, 11, 34);
    assert_true(body(TRADE_SPLINE_NINE_KEY));
    assert_true(body(TRADE_SPLINE_DEEP_8));
    assert_false(body(TRADE_SPLINE_SHORT_23));
    assert_false(body(TRADE_SPLINE_THREADED_NOSE));
}

/* 10 teeth do not pass the nine keys (Off-road freehub guide, a wheel-part maker's article). */
static void test_ten_teeth_want_a_body_made_for_them(void **state) {
    (void)state;
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 12, 10, 51);
    assert_false(body(TRADE_SPLINE_NINE_KEY));
    assert_true(body(TRADE_SPLINE_SHORT_23));
    assert_true(body(TRADE_SPLINE_THREADED_NOSE));
}

/* 32 teeth go on a 104 mm circle and not on 110; 22 go on 64 mm and not on 74, which wants 24 (bolt circle crib sheet). */
static void test_rings_that_are_there_go_on_their_circle(void **state) {
    (void)state;
    give(made_in(&bike, TRADE_SLOT_OUTER_RING), TRADE_RING_TEETH, 44);
    assert_true(may_stand(TRADE_SLOT_CRANK, TRADE_CRANK_MOUNT, TRADE_RING_MOUNT_FIVE_ARM_110));
    give(made_in(&bike, TRADE_SLOT_MIDDLE_RING), TRADE_RING_TEETH, 32);
    give(made_in(&bike, TRADE_SLOT_INNER_RING), TRADE_RING_TEETH, 22);
    assert_true(may_stand(TRADE_SLOT_CRANK, TRADE_CRANK_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_104));
    assert_false(may_stand(TRADE_SLOT_CRANK, TRADE_CRANK_MOUNT, TRADE_RING_MOUNT_FIVE_ARM_110));
    assert_true(may_stand(TRADE_SLOT_CRANK, TRADE_CRANK_INNER_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_64));
    assert_false(may_stand(TRADE_SLOT_CRANK, TRADE_CRANK_INNER_MOUNT, TRADE_RING_MOUNT_FIVE_ARM_74));
}

int main(void) {
#define TEST(NAME) cmocka_unit_test_setup_teardown(NAME, new_bike, old_bike)
    const struct CMUnitTest tests[] = {
        TEST(test_the_family_clicks_as_often_as_there_are_sprockets),
        TEST(test_without_sprockets_any_family_may_be),
        TEST(test_a_nine_speed_cassette_sits_on_keys_or_deep_splines),
        TEST(test_ten_teeth_want_a_body_made_for_them),
        TEST(test_rings_that_are_there_go_on_their_circle),
    };
    return cmocka_run_group_tests_name("likely", tests, NULL, NULL);
}
