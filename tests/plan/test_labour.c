/* SPDX-License-Identifier: Apache-2.0 */
/* What is done at the stand. Which work a change brings is common practice of the trade, told beside each case. */
#include "trade/made.h"

#include "plan/made_values.h"

static struct trade_bike bike;
static struct trade_part parts[TRADE_SLOTS];
static struct fit_build build;

static int setup(void **state) {
    (void)state;
    return made_bike_and_parts(&bike, parts);
}

static int teardown(void **state) {
    trade_bike_clear(&bike);
    return made_clear(state);
}

static void stands(enum trade_slot slot) { bike.fitted[slot].state = TRADE_THERE; }
static void lacks(enum trade_slot slot) { bike.fitted[slot].state = TRADE_EMPTY; }
static void as_it_stands(void) { fit_build_now(&build, &bike); }
static void goes_in(enum trade_slot slot) { build.at[slot] = (struct fit_choice){FIT_NEW, &parts[slot]}; }
static void comes_off(enum trade_slot slot) { build.at[slot] = (struct fit_choice){FIT_NONE, NULL}; }

/* Is it done in this build? By the clock: when it alone takes time. */
static bool done(enum trade_operation operation) {
    struct trade_shop shop;
    trade_shop_init(&shop);
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        shop.minutes[o] = o == operation ? 5 : 0;
    }
    trade_shop_settle(&shop);
    const struct plan_values values = made_values(&bike, &build, &shop);
    assert_true(values.tenths == 0 || values.tenths == 50);
    assert_int_equal(values.labour_minor, values.tenths == 0 ? 0 : 500); /* 5 minutes at 60.00 an hour */
    return values.tenths == 50;
}

/* The rotor moves from hub to hub with the wheel; a rim-brake bike has none. */
static void a_new_wheel_moves_a_rotor_only_where_there_is_one(void **state) {
    (void)state;
    lacks(TRADE_SLOT_REAR_ROTOR);
    as_it_stands();
    goes_in(TRADE_SLOT_REAR_WHEEL);
    assert_false(done(TRADE_OPERATION_ROTOR));
    assert_true(done(TRADE_OPERATION_WHEEL_SWAP));
    goes_in(TRADE_SLOT_REAR_ROTOR);
    assert_true(done(TRADE_OPERATION_ROTOR));
    stands(TRADE_SLOT_REAR_ROTOR);
    as_it_stands();
    assert_false(done(TRADE_OPERATION_ROTOR));
    goes_in(TRADE_SLOT_REAR_WHEEL);
    assert_true(done(TRADE_OPERATION_ROTOR));
}

/* The spacers that come with a bracket are part of fitting it; more of them only where some lie, or go. */
static void a_new_bracket_places_spacers_only_where_some_lie(void **state) {
    (void)state;
    lacks(TRADE_SLOT_CUP_SPACERS);
    as_it_stands();
    goes_in(TRADE_SLOT_BOTTOM_BRACKET);
    assert_false(done(TRADE_OPERATION_CUP_SPACERS));
    assert_true(done(TRADE_OPERATION_BOTTOM_BRACKET));
    goes_in(TRADE_SLOT_CUP_SPACERS);
    assert_true(done(TRADE_OPERATION_CUP_SPACERS));
    stands(TRADE_SLOT_CUP_SPACERS);
    as_it_stands();
    goes_in(TRADE_SLOT_BOTTOM_BRACKET);
    assert_true(done(TRADE_OPERATION_CUP_SPACERS));
}

/* Electronic shifting has no cable: nothing is renewed, nothing was there. */
static void no_cable_is_renewed_where_there_is_none(void **state) {
    (void)state;
    lacks(TRADE_SLOT_CABLES);
    as_it_stands();
    goes_in(TRADE_SLOT_RIGHT_SHIFTER);
    goes_in(TRADE_SLOT_REAR_DERAILLEUR);
    assert_false(done(TRADE_OPERATION_REAR_CABLE));
    goes_in(TRADE_SLOT_CABLES);
    assert_true(done(TRADE_OPERATION_REAR_CABLE));
    stands(TRADE_SLOT_CABLES);
    as_it_stands();
    goes_in(TRADE_SLOT_REAR_DERAILLEUR);
    assert_true(done(TRADE_OPERATION_REAR_CABLE));
}

/* A body is pulled off and another one put on. One that leaves with its wheel is left alone. */
static void a_body_that_leaves_with_its_wheel_is_no_work(void **state) {
    (void)state;
    stands(TRADE_SLOT_FREEHUB_BODY);
    as_it_stands();
    goes_in(TRADE_SLOT_REAR_WHEEL);
    comes_off(TRADE_SLOT_FREEHUB_BODY);
    assert_false(done(TRADE_OPERATION_BODY));
    assert_true(done(TRADE_OPERATION_CASSETTE_OFF_ON));
    goes_in(TRADE_SLOT_FREEHUB_BODY);
    assert_true(done(TRADE_OPERATION_BODY));
}

/* Washers slip under the ring bolts one after the other, with the crank on; a ring comes off over the spindle's end. */
static void washers_leave_the_crank_on(void **state) {
    (void)state;
    lacks(TRADE_SLOT_RING_WASHERS);
    stands(TRADE_SLOT_OUTER_RING);
    as_it_stands();
    goes_in(TRADE_SLOT_RING_WASHERS);
    assert_false(done(TRADE_OPERATION_CRANK_OFF_ON));
    assert_true(done(TRADE_OPERATION_RINGS));
    goes_in(TRADE_SLOT_OUTER_RING);
    assert_true(done(TRADE_OPERATION_CRANK_OFF_ON));
}

/* A ring that stays when the crank goes is bolted to the new one. */
static void rings_that_stay_move_to_a_new_crank(void **state) {
    (void)state;
    stands(TRADE_SLOT_OUTER_RING);
    as_it_stands();
    assert_false(done(TRADE_OPERATION_RINGS));
    goes_in(TRADE_SLOT_CRANK);
    assert_true(done(TRADE_OPERATION_RINGS));
}

/* The plate of some front derailleurs sits between shell and drive-side cup: crank and cup come off before it does. */
static void a_derailleur_under_the_cup_takes_the_crank_off(void **state) {
    (void)state;
    static const struct {
        enum trade_front_mount mount;
        bool cup;
    } mounts[] = {{TRADE_FRONT_MOUNT_BAND_31_8, false}, {TRADE_FRONT_MOUNT_CUP_BRACKET, true}};
    for (unsigned i = 0; i < 2; i++) {
        stands(TRADE_SLOT_FRONT_DERAILLEUR);
        trade_set(&bike.fitted[TRADE_SLOT_FRONT_DERAILLEUR].part, TRADE_FRONT_DERAILLEUR_MOUNT,
                  trade_word(mounts[i].mount, BASE_MEASURED));
        as_it_stands();
        assert_false(done(TRADE_OPERATION_BOTTOM_BRACKET));
        comes_off(TRADE_SLOT_FRONT_DERAILLEUR);
        assert_int_equal(done(TRADE_OPERATION_CRANK_OFF_ON), mounts[i].cup);
        assert_int_equal(done(TRADE_OPERATION_BOTTOM_BRACKET), mounts[i].cup);
        assert_true(done(TRADE_OPERATION_FRONT_SHIFTING_OFF));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_new_wheel_moves_a_rotor_only_where_there_is_one, setup, teardown),
        cmocka_unit_test_setup_teardown(a_new_bracket_places_spacers_only_where_some_lie, setup, teardown),
        cmocka_unit_test_setup_teardown(no_cable_is_renewed_where_there_is_none, setup, teardown),
        cmocka_unit_test_setup_teardown(a_body_that_leaves_with_its_wheel_is_no_work, setup, teardown),
        cmocka_unit_test_setup_teardown(washers_leave_the_crank_on, setup, teardown),
        cmocka_unit_test_setup_teardown(rings_that_stay_move_to_a_new_crank, setup, teardown),
        cmocka_unit_test_setup_teardown(a_derailleur_under_the_cup_takes_the_crank_off, setup, teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
