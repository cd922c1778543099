/* SPDX-License-Identifier: Apache-2.0 */
/* What a job needs beside the parts of the slots. Each is common practice of the trade, told beside its case; what hangs on
 * something that nobody has read is not passed over. */
#include "trade/made.h"

#include "fit/small_parts.h"

static struct trade_bike bike;
static struct trade_part parts[TRADE_SLOTS];
static struct fit_build build;

static int setup(void **state) {
    made_setup(state);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        parts[s] = made_part(trade_slot_rows[s].kind);
    }
    return trade_bike_init(&bike) == BASE_OK ? 0 : -1;
}

static int teardown(void **state) {
    trade_bike_clear(&bike);
    return made_clear(state);
}

static struct trade_part *stands(enum trade_slot slot) { return made_in(&bike, slot); }
static void lacks(enum trade_slot slot) { bike.fitted[slot].state = TRADE_EMPTY; }
static void as_it_stands(void) { fit_build_now(&build, &bike); }
static void comes_off(enum trade_slot slot) { build.at[slot] = (struct fit_choice){FIT_NONE, NULL}; }
static struct trade_part *goes_in(enum trade_slot slot) {
    build.at[slot] = (struct fit_choice){FIT_NEW, &parts[slot]};
    return &parts[slot];
}
static bool needs(enum trade_small_part part) { return fit_small_parts(&bike, &build) >> part & 1; }

/* A crank with rings in the outer and the inner place, and in the middle one when there are three. */
static void stands_with_rings(int mount, int inner_mount, unsigned rings) {
    struct trade_part *crank = stands(TRADE_SLOT_CRANK);
    if (mount >= 0) {
        give_word(crank, TRADE_CRANK_MOUNT, (unsigned)mount);
    }
    if (inner_mount >= 0) {
        give_word(crank, TRADE_CRANK_INNER_MOUNT, (unsigned)inner_mount);
    }
    stands(TRADE_SLOT_OUTER_RING);
    stands(TRADE_SLOT_INNER_RING);
    lacks(TRADE_SLOT_MIDDLE_RING);
    if (rings == 3) {
        stands(TRADE_SLOT_MIDDLE_RING);
    }
    as_it_stands();
}

static void leave_only(enum trade_slot ring) {
    for (unsigned slot = TRADE_SLOT_OUTER_RING; slot <= TRADE_SLOT_INNER_RING; slot++) {
        if (slot != ring) {
            comes_off(slot);
        }
    }
}

static void nothing_is_needed_where_nothing_changes(void **state) {
    (void)state;
    stands_with_rings(TRADE_RING_MOUNT_FIVE_ARM_130, TRADE_RING_MOUNT_FIVE_ARM_130, 2);
    assert_int_equal(fit_small_parts(&bike, &build), 0);
}

/* Bolts as long as two rings bottom in their nuts and clamp nothing when one ring is left. */
static void two_rings_on_one_circle_become_one(void **state) {
    (void)state;
    stands_with_rings(TRADE_RING_MOUNT_FIVE_ARM_130, TRADE_RING_MOUNT_FIVE_ARM_130, 2);
    leave_only(TRADE_SLOT_INNER_RING);
    assert_true(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS));
    assert_false(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS_UNREAD));
    as_it_stands();
    leave_only(TRADE_SLOT_OUTER_RING);
    goes_in(TRADE_SLOT_OUTER_RING);
    assert_true(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS));
    goes_in(TRADE_SLOT_CRANK); /* the bolts went with the old crank */
    assert_false(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS));
}

/* The inner ring of an off-road double or of a triple has bolts of its own, on a smaller circle. */
static void a_ring_with_bolts_of_its_own_keeps_them(void **state) {
    (void)state;
    stands_with_rings(TRADE_RING_MOUNT_FOUR_ARM_104, TRADE_RING_MOUNT_FOUR_ARM_64, 2);
    leave_only(TRADE_SLOT_OUTER_RING);
    assert_false(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS));
    assert_false(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS_UNREAD));
    stands_with_rings(TRADE_RING_MOUNT_FOUR_ARM_104, TRADE_RING_MOUNT_FOUR_ARM_64, 3);
    leave_only(TRADE_SLOT_INNER_RING);
    assert_false(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS));
    as_it_stands();
    leave_only(TRADE_SLOT_MIDDLE_RING);
    assert_true(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS));
    as_it_stands();
    comes_off(TRADE_SLOT_OUTER_RING); /* three become two, of which one sits on the long bolts */
    assert_true(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS));
    as_it_stands();
    comes_off(TRADE_SLOT_INNER_RING); /* the two on the long bolts stay */
    assert_false(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS));
}

/* A ring that goes on the spindle's splines has no bolts through arms. */
static void direct_rings_need_no_ring_bolts(void **state) {
    (void)state;
    stands_with_rings(TRADE_RING_MOUNT_DIRECT_3_BOLT, TRADE_RING_MOUNT_DIRECT_3_BOLT, 2);
    leave_only(TRADE_SLOT_OUTER_RING);
    assert_false(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS));
    assert_false(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS_UNREAD));
}

static void bolts_that_nobody_read_are_told_as_such(void **state) {
    (void)state;
    stands_with_rings(TRADE_RING_MOUNT_FIVE_ARM_130, -1, 2);
    leave_only(TRADE_SLOT_INNER_RING);
    assert_false(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS));
    assert_true(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS_UNREAD));
    trade_set(&bike.fitted[TRADE_SLOT_CRANK].part, TRADE_CRANK_MOUNT, trade_open());
    stands_with_rings(-1, -1, 3);
    leave_only(TRADE_SLOT_MIDDLE_RING);
    assert_false(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS));
    assert_true(needs(TRADE_SMALL_PART_SHORT_RING_BOLTS_UNREAD));
}

/* A pin that was pressed out is not used again, nor are most joining links from ten sprockets on. */
static void a_chain_that_was_opened_wants_a_joining_link(void **state) {
    (void)state;
    struct trade_part *chain = stands(TRADE_SLOT_CHAIN);
    give_word(chain, TRADE_CHAIN_JOINING, TRADE_JOINING_PIN);
    as_it_stands();
    assert_false(needs(TRADE_SMALL_PART_JOINING_LINK));
    goes_in(TRADE_SLOT_CASSETTE);
    assert_true(needs(TRADE_SMALL_PART_JOINING_LINK));
    give_word(chain, TRADE_CHAIN_JOINING, TRADE_JOINING_QUICK_LINK);
    give_word(chain, TRADE_CHAIN_FAMILY, TRADE_CHAIN_FAMILY_NINE);
    assert_false(needs(TRADE_SMALL_PART_JOINING_LINK));
    give_word(chain, TRADE_CHAIN_FAMILY, TRADE_CHAIN_FAMILY_TEN);
    assert_true(needs(TRADE_SMALL_PART_JOINING_LINK));
    goes_in(TRADE_SLOT_CHAIN); /* with its own link in the box */
    give_word(&parts[TRADE_SLOT_CHAIN], TRADE_CHAIN_FAMILY, TRADE_CHAIN_FAMILY_TEN);
    give_word(&parts[TRADE_SLOT_CHAIN], TRADE_CHAIN_JOINING, TRADE_JOINING_QUICK_LINK);
    assert_false(needs(TRADE_SMALL_PART_JOINING_LINK));
    give_word(&parts[TRADE_SLOT_CHAIN], TRADE_CHAIN_JOINING, TRADE_JOINING_PIN);
    assert_true(needs(TRADE_SMALL_PART_JOINING_LINK));
}

/* Every cut cable gets a cap, or it frays; a hole in the frame lets water in. */
static void cables_leave_holes_and_want_caps(void **state) {
    (void)state;
    stands(TRADE_SLOT_FRONT_DERAILLEUR);
    as_it_stands();
    goes_in(TRADE_SLOT_CABLES);
    assert_true(needs(TRADE_SMALL_PART_GEAR_CABLE_CAP));
    assert_false(needs(TRADE_SMALL_PART_FRONT_CABLE_PLUG_UNREAD));
    comes_off(TRADE_SLOT_CABLES);
    comes_off(TRADE_SLOT_FRONT_DERAILLEUR);
    assert_false(needs(TRADE_SMALL_PART_GEAR_CABLE_CAP));
    assert_true(needs(TRADE_SMALL_PART_FRONT_CABLE_PLUG_UNREAD));
    assert_false(needs(TRADE_SMALL_PART_FRONT_CABLE_PLUG));
    give_word(&bike.frame, TRADE_FRAME_FRONT_CABLE, TRADE_CABLE_ROUTE_INSIDE);
    assert_true(needs(TRADE_SMALL_PART_FRONT_CABLE_PLUG));
    assert_false(needs(TRADE_SMALL_PART_FRONT_CABLE_PLUG_UNREAD));
    give_word(&bike.frame, TRADE_FRAME_FRONT_CABLE, TRADE_CABLE_ROUTE_OUTSIDE);
    assert_false(needs(TRADE_SMALL_PART_FRONT_CABLE_PLUG));
    assert_false(needs(TRADE_SMALL_PART_FRONT_CABLE_PLUG_UNREAD));
}

/* Pads that ran on another rotor, or in its grease, are not bedded in again. */
static void a_new_rotor_wants_new_pads(void **state) {
    (void)state;
    stands(TRADE_SLOT_REAR_ROTOR);
    as_it_stands();
    goes_in(TRADE_SLOT_REAR_WHEEL);
    assert_false(needs(TRADE_SMALL_PART_BRAKE_PADS));
    goes_in(TRADE_SLOT_REAR_ROTOR);
    assert_true(needs(TRADE_SMALL_PART_BRAKE_PADS));
}

/* A hose is cut and ended anew, and bled; a cable that was cut off at its end does not go through another lever; the
 * clamp of a lever on a drop bar sits under the tape. */
static void a_new_brake_lever_brings_its_small_parts(void **state) {
    (void)state;
    as_it_stands();
    give_word(goes_in(TRADE_SLOT_LEFT_BRAKE_LEVER), TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_DOT);
    assert_true(needs(TRADE_SMALL_PART_HOSE_END));
    assert_false(needs(TRADE_SMALL_PART_BRAKE_CABLE));
    assert_false(needs(TRADE_SMALL_PART_BAR_TAPE));
    give_word(&bike.frame, TRADE_FRAME_BAR, TRADE_BAR_DROP);
    as_it_stands();
    assert_false(needs(TRADE_SMALL_PART_BAR_TAPE));
    give_word(goes_in(TRADE_SLOT_RIGHT_BRAKE_LEVER), TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_SHORT);
    assert_true(needs(TRADE_SMALL_PART_BRAKE_CABLE));
    assert_false(needs(TRADE_SMALL_PART_HOSE_END));
    assert_true(needs(TRADE_SMALL_PART_BAR_TAPE));
}

/* Beside a twist shifter sits a short grip. */
static void grips_follow_twist_shifters(void **state) {
    (void)state;
    give_word(stands(TRADE_SLOT_LEFT_SHIFTER), TRADE_SHIFTER_SEAT, TRADE_SEAT_TWIST);
    give_word(stands(TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_SEAT, TRADE_SEAT_OWN_CLAMP);
    as_it_stands();
    comes_off(TRADE_SLOT_LEFT_SHIFTER);
    assert_true(needs(TRADE_SMALL_PART_LONG_LEFT_GRIP));
    assert_false(needs(TRADE_SMALL_PART_LONG_RIGHT_GRIP));
    assert_false(needs(TRADE_SMALL_PART_SHORT_LEFT_GRIP));
    as_it_stands();
    give_word(goes_in(TRADE_SLOT_LEFT_SHIFTER), TRADE_SHIFTER_SEAT, TRADE_SEAT_TWIST);
    assert_false(needs(TRADE_SMALL_PART_LONG_LEFT_GRIP));
    assert_false(needs(TRADE_SMALL_PART_SHORT_LEFT_GRIP));
    give_word(goes_in(TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_SEAT, TRADE_SEAT_TWIST);
    assert_true(needs(TRADE_SMALL_PART_SHORT_RIGHT_GRIP));
}

#define TEST(NAME) cmocka_unit_test_setup_teardown(NAME, setup, teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(nothing_is_needed_where_nothing_changes),  TEST(two_rings_on_one_circle_become_one),
        TEST(a_ring_with_bolts_of_its_own_keeps_them),  TEST(direct_rings_need_no_ring_bolts),
        TEST(bolts_that_nobody_read_are_told_as_such),  TEST(a_chain_that_was_opened_wants_a_joining_link),
        TEST(cables_leave_holes_and_want_caps),         TEST(a_new_rotor_wants_new_pads),
        TEST(a_new_brake_lever_brings_its_small_parts), TEST(grips_follow_twist_shifters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
