/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What parts that stand together tell of each other. Expected words follow from common practice (what is bolted, screwed
 * or slid on each other fits); figures carry their source.
 */
#include "made.h"

static struct trade_bike bike;

static int new_bike(void **state) {
    made_setup(state);
    return trade_bike_init(&bike) == BASE_OK ? 0 : -1;
}

static int old_bike(void **state) {
    trade_bike_clear(&bike);
    return made_clear(state);
}

static void complete(void) { assert_int_equal(trade_bike_complete(&bike), BASE_OK); }

static struct trade_part *in(enum trade_slot slot) { return &bike.fitted[slot].part; }

static void test_a_slot_says_side_and_place(void **state) {
    (void)state;
    struct trade_part *either = made_in(&bike, TRADE_SLOT_LEFT_SHIFTER);
    made_in(&bike, TRADE_SLOT_INNER_RING);
    made_in(&bike, TRADE_SLOT_CUP_SPACERS);
    give_word(either, TRADE_SHIFTER_SIDE, TRADE_SIDE_EITHER);
    complete();
    assert_word(in(TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_SIDE, TRADE_SIDE_RIGHT, BASE_TABLE);
    assert_word(either, TRADE_SHIFTER_SIDE, TRADE_SIDE_EITHER, BASE_MEASURED);
    assert_word(in(TRADE_SLOT_LEFT_BRAKE_LEVER), TRADE_BRAKE_LEVER_SIDE, TRADE_SIDE_LEFT, BASE_TABLE);
    assert_word(in(TRADE_SLOT_INNER_RING), TRADE_RING_PLACE, TRADE_PLACE_INNER, BASE_TABLE);
    assert_word(in(TRADE_SLOT_CUP_SPACERS), TRADE_SPACER_PLACE, TRADE_SPACER_PLACE_CUPS, BASE_TABLE);
}

static void test_the_wheel_is_as_wide_as_the_frame_it_stands_in(void **state) {
    (void)state;
    give(&bike.frame, TRADE_FRAME_HUB_WIDTH_MM, 142);
    give_name(&bike.wheel, TRADE_WHEEL_TYRE, "40-622");
    complete();
    const struct trade_part *wheel = in(TRADE_SLOT_REAR_WHEEL);
    assert_number(wheel, TRADE_REAR_WHEEL_HUB_WIDTH_MM, 142, 0, BASE_TABLE);
    assert_word(wheel, TRADE_REAR_WHEEL_AXLE, TRADE_AXLE_THRU_12, BASE_ASSUMED);
    assert_number(wheel, TRADE_REAR_WHEEL_BEAD_SEAT_MM, 622, 0, BASE_TABLE);
}

static void test_the_axle_in_hand_goes_before_the_usual_one(void **state) {
    (void)state;
    struct trade_part *wheel = made_in(&bike, TRADE_SLOT_REAR_WHEEL);
    give(wheel, TRADE_REAR_WHEEL_HUB_WIDTH_MM, 135);
    give_word(wheel, TRADE_REAR_WHEEL_AXLE, TRADE_AXLE_NUTTED);
    complete();
    assert_number(&bike.frame, TRADE_FRAME_HUB_WIDTH_MM, 135, 0, BASE_TABLE);
    assert_word(&bike.frame, TRADE_FRAME_AXLE, TRADE_AXLE_NUTTED, BASE_TABLE);
    assert_number(&bike.frame, TRADE_FRAME_RECESS_MM, 0, 0, BASE_TABLE); /* crib sheet: slotted dropouts */
}

static void test_a_freewheel_sits_on_a_threaded_hub_without_a_body(void **state) {
    (void)state;
    give_word(made_in(&bike, TRADE_SLOT_CASSETTE), TRADE_CASSETTE_SPLINE, TRADE_SPLINE_THREADED);
    complete();
    assert_word(in(TRADE_SLOT_REAR_WHEEL), TRADE_REAR_WHEEL_KIND, TRADE_HUB_KIND_THREADED, BASE_TABLE);
    assert_false(trade_bike_has(&bike, TRADE_SLOT_FREEHUB_BODY));
}

static void test_a_threaded_hub_tells_the_freewheel(void **state) {
    (void)state;
    give_word(made_in(&bike, TRADE_SLOT_REAR_WHEEL), TRADE_REAR_WHEEL_KIND, TRADE_HUB_KIND_THREADED);
    complete();
    assert_word(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_SPLINE, TRADE_SPLINE_THREADED, BASE_TABLE);
    assert_false(trade_bike_has(&bike, TRADE_SLOT_FREEHUB_BODY));
}

/* 8 to 10 speeds on a nine-key body: nine keys (common practice). 12 speeds on the long one may be the newer road kind
 * (Freehub types, standards and compatibility, Cyclabo, 2023). */
static void test_body_and_cassette_tell_each_others_splines(void **state) {
    (void)state;
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 9, 11, 34);
    give_word(made_in(&bike, TRADE_SLOT_FREEHUB_BODY), TRADE_FREEHUB_BODY_SPLINE, TRADE_SPLINE_NINE_KEY);
    complete();
    assert_word(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_SPLINE, TRADE_SPLINE_NINE_KEY, BASE_TABLE);
    assert_number(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_CLASS_MM, 35, 0, BASE_TABLE);
    assert_word(in(TRADE_SLOT_REAR_WHEEL), TRADE_REAR_WHEEL_KIND, TRADE_HUB_KIND_CASSETTE, BASE_TABLE);
}

static void test_a_cassette_tells_the_body_that_nobody_has_seen(void **state) {
    (void)state;
    give_word(made_in(&bike, TRADE_SLOT_CASSETTE), TRADE_CASSETTE_SPLINE, TRADE_SPLINE_DEEP_8);
    complete();
    assert_word(in(TRADE_SLOT_FREEHUB_BODY), TRADE_FREEHUB_BODY_SPLINE, TRADE_SPLINE_DEEP_8, BASE_TABLE);
    assert_number(in(TRADE_SLOT_FREEHUB_BODY), TRADE_FREEHUB_BODY_LENGTH_MM, 38, 0, BASE_TABLE); /* workshop's page */
}

static void test_two_kinds_that_fit_tell_nothing(void **state) {
    (void)state;
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 12, 11, 34);
    give_word(made_in(&bike, TRADE_SLOT_FREEHUB_BODY), TRADE_FREEHUB_BODY_SPLINE, TRADE_SPLINE_NINE_KEY);
    complete();
    assert_open(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_SPLINE);
    assert_open(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_CLASS_MM);
}

static void give_eleven_on(double body_mm) {
    struct trade_part *cassette = made_in(&bike, TRADE_SLOT_CASSETTE);
    struct trade_part *body = made_in(&bike, TRADE_SLOT_FREEHUB_BODY);
    give_sprockets(cassette, 11, 11, 34);
    give_word(cassette, TRADE_CASSETTE_SPLINE, TRADE_SPLINE_NINE_KEY);
    give_word(body, TRADE_FREEHUB_BODY_SPLINE, TRADE_SPLINE_NINE_KEY);
    give(body, TRADE_FREEHUB_BODY_LENGTH_MM, body_mm);
}

/* An 11-speed cassette is 35 or 36.8 mm wide; the wide one does not go on a body of 35 mm (Cyclabo, 2023). */
static void test_a_short_body_carries_the_narrow_eleven(void **state) {
    (void)state;
    give_eleven_on(35);
    complete();
    assert_number(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_CLASS_MM, 35, 0, BASE_TABLE);
}

static void test_a_long_body_may_carry_either_eleven(void **state) {
    (void)state;
    give_eleven_on(36.8);
    complete();
    assert_open(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_CLASS_MM);
}

static void test_with_nothing_behind_it_the_cassette_fills_the_body(void **state) {
    (void)state;
    give_eleven_on(36.8);
    bike.fitted[TRADE_SLOT_CASSETTE_SPACER].state = TRADE_EMPTY;
    complete();
    assert_number(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_CLASS_MM, 36.8, 0, BASE_TABLE);
}

/* 7 sprockets fill 31 mm; on a 35 mm body a spacer lies behind them, seen or not (BikeRadar forum Workshop FAQs, 2013). */
static void test_a_seven_speed_cassette_is_not_as_long_as_its_body(void **state) {
    (void)state;
    struct trade_part *body = made_in(&bike, TRADE_SLOT_FREEHUB_BODY);
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 7, 13, 34);
    give_word(body, TRADE_FREEHUB_BODY_SPLINE, TRADE_SPLINE_NINE_KEY);
    give(body, TRADE_FREEHUB_BODY_LENGTH_MM, 35);
    complete();
    assert_number(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_CLASS_MM, 31, 0, BASE_TABLE);
}

static void test_a_shifter_tells_the_spacing_of_as_many_sprockets(void **state) {
    (void)state;
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 9, 11, 32);
    give_word(made_in(&bike, TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_PULL, TRADE_PULL_R17_9);
    complete();
    assert_word(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_SPACING, TRADE_SPACING_COMMON, BASE_TABLE);
    /* 36.5 mm: New shifters and nine over eight gearing, 2nd-gear blog, 2017 */
    assert_number(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_STACK_MM, 36.5, 0, BASE_TABLE);
}

static void test_a_shifter_for_other_speeds_tells_nothing(void **state) {
    (void)state;
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 8, 11, 32);
    give_word(made_in(&bike, TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_PULL, TRADE_PULL_DEEP_8_9);
    complete();
    assert_word(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_SPACING, TRADE_SPACING_COMMON, BASE_ASSUMED);
}

/* A click for each sprocket, the chain of as many speeds, a derailleur of the lever's group: what stands together works
 * together (common practice). What somebody has counted or measured goes before. */
static void test_lever_derailleur_and_chain_go_with_the_sprockets(void **state) {
    (void)state;
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 9, 11, 34);
    made_in(&bike, TRADE_SLOT_RIGHT_SHIFTER);
    complete();
    assert_number(in(TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_POSITIONS, 9, 0, BASE_ASSUMED);
    assert_word(in(TRADE_SLOT_CHAIN), TRADE_CHAIN_FAMILY, TRADE_CHAIN_FAMILY_NINE, BASE_ASSUMED);
    assert_open(in(TRADE_SLOT_REAR_DERAILLEUR), TRADE_REAR_DERAILLEUR_PULLS);
    give_word(in(TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_PULL, TRADE_PULL_R17_9);
    complete();
    const struct trade_value *pulls = trade_get(in(TRADE_SLOT_REAR_DERAILLEUR), TRADE_REAR_DERAILLEUR_PULLS);
    assert_int_equal(pulls->known, BASE_ASSUMED);
    assert_true(pulls->words >> TRADE_PULL_R17_9 & 1);
    assert_true(pulls->words >> TRADE_PULL_R17_8 & 1); /* the family of 1.7 serves 7 to 9 speeds */
    assert_false(pulls->words >> TRADE_PULL_R12_10 & 1);
}

static void test_what_was_counted_goes_before_the_sprockets(void **state) {
    (void)state;
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 9, 11, 34);
    give(made_in(&bike, TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_POSITIONS, 10);
    give(made_in(&bike, TRADE_SLOT_CHAIN), TRADE_CHAIN_WIDTH_MM, 5.9); /* 10-speed: a retailer's width table, 2024 */
    complete();
    assert_number(in(TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_POSITIONS, 10, 0, BASE_MEASURED);
    assert_word(in(TRADE_SLOT_CHAIN), TRADE_CHAIN_FAMILY, TRADE_CHAIN_FAMILY_TEN, BASE_TABLE);
}

static void test_a_lever_without_clicks_has_no_positions(void **state) {
    (void)state;
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 7, 13, 28);
    give_word(made_in(&bike, TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_ACTUATION, TRADE_ACTUATION_FRICTION);
    complete();
    assert_open(in(TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_POSITIONS);
}

/* Wide and narrow teeth would not let the chain go (common practice); a ring alone may have any. */
static void test_rings_that_are_shifted_between_are_not_wide_and_narrow(void **state) {
    (void)state;
    made_in(&bike, TRADE_SLOT_INNER_RING);
    complete();
    assert_open(in(TRADE_SLOT_INNER_RING), TRADE_RING_PROFILE);
    made_in(&bike, TRADE_SLOT_OUTER_RING);
    complete();
    assert_word(in(TRADE_SLOT_OUTER_RING), TRADE_RING_PROFILE, TRADE_PROFILE_RAMPED, BASE_ASSUMED);
    assert_word(in(TRADE_SLOT_INNER_RING), TRADE_RING_PROFILE, TRADE_PROFILE_PLAIN, BASE_ASSUMED);
}

/* Chains for nine speeds and more are 2.18 mm wide inside, for eight 2.38 mm (Bicycle drive chain standard dimensions,
 * BikeGremlin, web article). */
static void test_a_ring_carries_chains_as_wide_inside_as_its_own(void **state) {
    (void)state;
    give_sprockets(made_in(&bike, TRADE_SLOT_CASSETTE), 9, 11, 34);
    made_in(&bike, TRADE_SLOT_OUTER_RING);
    complete();
    const struct trade_value *chains = trade_get(in(TRADE_SLOT_OUTER_RING), TRADE_RING_CHAINS);
    assert_int_equal(chains->known, BASE_ASSUMED);
    assert_true(chains->words >> TRADE_CHAIN_FAMILY_NINE & 1);
    assert_true(chains->words >> TRADE_CHAIN_FAMILY_TWELVE & 1);
    assert_false(chains->words >> TRADE_CHAIN_FAMILY_UP_TO_8 & 1);
    assert_false(chains->words >> TRADE_CHAIN_FAMILY_TWELVE_WIDE_INNER & 1);
}

static void test_rings_prove_their_places(void **state) {
    (void)state;
    uint64_t outer = 1u << TRADE_PLACE_OUTER, middle = 1u << TRADE_PLACE_MIDDLE, inner = 1u << TRADE_PLACE_INNER;
    made_in(&bike, TRADE_SLOT_OUTER_RING);
    made_in(&bike, TRADE_SLOT_INNER_RING);
    complete();
    const struct trade_value *places = trade_get(in(TRADE_SLOT_CRANK), TRADE_CRANK_PLACES);
    assert_int_equal(places->known, BASE_ASSUMED); /* a middle one may have been taken off */
    assert_true(places->words == (outer | inner));
    trade_set(in(TRADE_SLOT_CRANK), TRADE_CRANK_PLACES, trade_open());
    made_in(&bike, TRADE_SLOT_MIDDLE_RING);
    complete();
    assert_int_equal(places->known, BASE_TABLE);
    assert_true(places->words == (outer | middle | inner));
}

static void test_rings_and_crank_are_bolted_on_each_other(void **state) {
    (void)state;
    struct trade_part *crank = made_in(&bike, TRADE_SLOT_CRANK);
    made_in(&bike, TRADE_SLOT_MIDDLE_RING);
    give_word(crank, TRADE_CRANK_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_104);
    give_word(made_in(&bike, TRADE_SLOT_INNER_RING), TRADE_RING_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_64);
    complete();
    assert_word(in(TRADE_SLOT_MIDDLE_RING), TRADE_RING_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_104, BASE_TABLE);
    assert_word(crank, TRADE_CRANK_INNER_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_64, BASE_TABLE);
    assert_word(crank, TRADE_CRANK_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_104, BASE_MEASURED);
}

static struct trade_part *crank_of_two(double line_mm, double spacing_mm) {
    struct trade_part *crank = made_in(&bike, TRADE_SLOT_CRANK);
    made_in(&bike, TRADE_SLOT_OUTER_RING);
    made_in(&bike, TRADE_SLOT_INNER_RING);
    give_words(crank, TRADE_CRANK_PLACES, 1u << TRADE_PLACE_OUTER | 1u << TRADE_PLACE_INNER);
    give_word(crank, TRADE_CRANK_MOUNT, TRADE_RING_MOUNT_FIVE_ARM_110);
    give(crank, TRADE_CRANK_LINE_MM, line_mm);
    give(crank, TRADE_CRANK_SPACING_MM, spacing_mm);
    return crank;
}

/* A measured plane goes before the nominal chain line, and the next place is one spacing from it. */
static void test_a_measured_ring_wins_over_the_nominal_line(void **state) {
    (void)state;
    struct trade_part *crank = crank_of_two(43.5, 5);
    give(in(TRADE_SLOT_OUTER_RING), TRADE_RING_PLANE_MM, 47.2);
    complete();
    assert_number(crank, TRADE_CRANK_OUTER_PLANE_MM, 47.2, 1e-9, BASE_MEASURED);
    assert_number(crank, TRADE_CRANK_INNER_PLANE_MM, 42.2, 1e-9, BASE_TABLE);
    assert_number(in(TRADE_SLOT_OUTER_RING), TRADE_RING_OFFSET_MM, 0, 0, BASE_MEASURED); /* it defines the place */
}

static void test_a_plane_given_for_the_crank_is_not_touched(void **state) {
    (void)state;
    struct trade_part *crank = crank_of_two(43.5, 5);
    give(crank, TRADE_CRANK_OUTER_PLANE_MM, 46.4);
    give(in(TRADE_SLOT_OUTER_RING), TRADE_RING_PLANE_MM, 47.2);
    complete();
    assert_number(crank, TRADE_CRANK_OUTER_PLANE_MM, 46.4, 0, BASE_MEASURED);
}

/* Teeth lie inboard of the mounting face by the offset: a ring at 52 with 3 mm sits on a place at 55. At 148 mm a
 * three-bolt ring usually has 3 mm: assignment from memory. */
static void test_a_place_is_read_at_the_teeth_of_its_ring(void **state) {
    (void)state;
    struct trade_part *ring = made_in(&bike, TRADE_SLOT_OUTER_RING);
    give_word(ring, TRADE_RING_MOUNT, TRADE_RING_MOUNT_DIRECT_3_BOLT);
    give(ring, TRADE_RING_OFFSET_MM, 3);
    give(ring, TRADE_RING_PLANE_MM, 52);
    complete();
    assert_number(in(TRADE_SLOT_CRANK), TRADE_CRANK_OUTER_PLANE_MM, 52, 1e-9, BASE_MEASURED);
}

static void test_the_usual_offset_of_a_direct_mount_is_assumed(void **state) {
    (void)state;
    struct trade_part *ring = made_in(&bike, TRADE_SLOT_OUTER_RING);
    give(&bike.frame, TRADE_FRAME_HUB_WIDTH_MM, 148);
    give_word(ring, TRADE_RING_MOUNT, TRADE_RING_MOUNT_DIRECT_3_BOLT);
    give(ring, TRADE_RING_PLANE_MM, 52);
    complete();
    assert_number(ring, TRADE_RING_OFFSET_MM, 3, 0, BASE_ASSUMED);
    assert_number(in(TRADE_SLOT_CRANK), TRADE_CRANK_OUTER_PLANE_MM, 52, 1e-9, BASE_MEASURED);
}

static void test_an_unknown_offset_stays_open(void **state) {
    (void)state;
    struct trade_part *ring = made_in(&bike, TRADE_SLOT_OUTER_RING);
    give_word(ring, TRADE_RING_MOUNT, TRADE_RING_MOUNT_DIRECT_LOCKRING);
    give(ring, TRADE_RING_PLANE_MM, 52);
    complete();
    assert_open(ring, TRADE_RING_OFFSET_MM);
    assert_number(in(TRADE_SLOT_CRANK), TRADE_CRANK_OUTER_PLANE_MM, 52, 0, BASE_MEASURED);
}

static void give_spindles(struct trade_part *crank, double stated_mm, double there_mm) {
    struct trade_part *bracket = made_in(&bike, TRADE_SLOT_BOTTOM_BRACKET);
    give_word(crank, TRADE_CRANK_SPINDLE, TRADE_SPINDLE_SQUARE_JIS);
    give(crank, TRADE_CRANK_SPINDLE_MM, stated_mm);
    if (there_mm > 0) {
        give(bracket, TRADE_BOTTOM_BRACKET_SPINDLE_MM, there_mm);
    }
}

/* A spindle 4.5 mm longer than the crank's maker states moves the ring by half of it, 2.25 mm; an overhang and a plate
 * under the flange by all of theirs (common practice). 43.5 + 2.25 + 0.5 + 2.5 = 48.75 between the rings. */
static void test_the_nominal_line_moves_with_the_spindle(void **state) {
    (void)state;
    struct trade_part *crank = crank_of_two(43.5, 5);
    give_spindles(crank, 113, 117.5);
    give(in(TRADE_SLOT_BOTTOM_BRACKET), TRADE_BOTTOM_BRACKET_RIGHT_OVERHANG_MM, 0.5);
    give(made_in(&bike, TRADE_SLOT_FRONT_DERAILLEUR), TRADE_FRONT_DERAILLEUR_BRACKET_MM, 2.5);
    complete();
    assert_number(crank, TRADE_CRANK_OUTER_PLANE_MM, 51.25, 1e-9, BASE_TABLE);
    assert_number(crank, TRADE_CRANK_INNER_PLANE_MM, 46.25, 1e-9, BASE_TABLE);
}

static void test_without_the_spindle_the_nominal_line_is_assumed(void **state) {
    (void)state;
    struct trade_part *crank = crank_of_two(43.5, 5);
    give_spindles(crank, 113, 0);
    complete();
    assert_number(crank, TRADE_CRANK_OUTER_PLANE_MM, 46, 1e-9, BASE_ASSUMED);
}

static void test_without_the_kind_of_spindle_the_nominal_line_is_assumed(void **state) {
    (void)state;
    struct trade_part *crank = crank_of_two(43.5, 5);
    complete();
    assert_number(crank, TRADE_CRANK_OUTER_PLANE_MM, 46, 1e-9, BASE_ASSUMED);
}

/* A hollow spindle is the crank's own: only spacers move it. */
static void test_spacers_move_a_crank_with_its_own_spindle(void **state) {
    (void)state;
    struct trade_part *crank = crank_of_two(48.8, 6);
    give_word(crank, TRADE_CRANK_SPINDLE, TRADE_SPINDLE_HOLLOW_24);
    give(made_in(&bike, TRADE_SLOT_CUP_SPACERS), TRADE_SPACER_THICKNESS_MM, 1);
    complete();
    assert_number(crank, TRADE_CRANK_OUTER_PLANE_MM, 52.8, 1e-9, BASE_TABLE);
}

static void test_crank_and_bracket_share_a_spindle_but_never_a_square_one(void **state) {
    (void)state;
    give_word(made_in(&bike, TRADE_SLOT_CRANK), TRADE_CRANK_SPINDLE, TRADE_SPINDLE_HOLLOW_24);
    complete();
    assert_word(in(TRADE_SLOT_BOTTOM_BRACKET), TRADE_BOTTOM_BRACKET_SPINDLE, TRADE_SPINDLE_HOLLOW_24, BASE_TABLE);
    trade_set(in(TRADE_SLOT_BOTTOM_BRACKET), TRADE_BOTTOM_BRACKET_SPINDLE, trade_open());
    static const enum trade_spindle square[] = {TRADE_SPINDLE_SQUARE_JIS, TRADE_SPINDLE_SQUARE_ISO};
    for (size_t i = 0; i < 2; i++) {
        give_word(in(TRADE_SLOT_CRANK), TRADE_CRANK_SPINDLE, square[i]);
        complete();
        assert_open(in(TRADE_SLOT_BOTTOM_BRACKET), TRADE_BOTTOM_BRACKET_SPINDLE);
    }
}

static void test_the_bracket_tells_the_crank_and_the_shell(void **state) {
    (void)state;
    struct trade_part *bracket = made_in(&bike, TRADE_SLOT_BOTTOM_BRACKET);
    give_word(bracket, TRADE_BOTTOM_BRACKET_SPINDLE, TRADE_SPINDLE_SPLINED_10);
    give_word(bracket, TRADE_BOTTOM_BRACKET_SHELL, TRADE_SHELL_ITALIAN);
    complete();
    assert_word(in(TRADE_SLOT_CRANK), TRADE_CRANK_SPINDLE, TRADE_SPINDLE_SPLINED_10, BASE_TABLE);
    assert_word(&bike.frame, TRADE_FRAME_SHELL, TRADE_SHELL_ITALIAN, BASE_TABLE);
    assert_number(&bike.frame, TRADE_FRAME_SHELL_WIDTH_MM, 70, 0, BASE_TABLE); /* threading chart, BikeRaceInfo */
}

static void test_a_built_in_shifter_is_carried_by_its_lever(void **state) {
    (void)state;
    give_word(made_in(&bike, TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_SEAT, TRADE_SEAT_IN_LEVER);
    made_in(&bike, TRADE_SLOT_LEFT_SHIFTER);
    give_word(made_in(&bike, TRADE_SLOT_LEFT_BRAKE_LEVER), TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_YES);
    complete();
    assert_word(in(TRADE_SLOT_RIGHT_BRAKE_LEVER), TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_YES, BASE_TABLE);
    assert_word(in(TRADE_SLOT_LEFT_SHIFTER), TRADE_SHIFTER_SEAT, TRADE_SEAT_IN_LEVER, BASE_TABLE);
}

static void test_a_clamped_shifter_is_not_carried(void **state) {
    (void)state;
    give_word(made_in(&bike, TRADE_SLOT_RIGHT_SHIFTER), TRADE_SHIFTER_SEAT, TRADE_SEAT_OWN_CLAMP);
    complete();
    assert_word(in(TRADE_SLOT_RIGHT_BRAKE_LEVER), TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_NO, BASE_TABLE);
    assert_open(in(TRADE_SLOT_LEFT_BRAKE_LEVER), TRADE_BRAKE_LEVER_CARRIES_SHIFTER);
}

/* What the rest hangs on is never made up: the family of a derailleur, the material of a frame, how far rings are apart. */
static void test_a_bike_that_nobody_measured_stays_open(void **state) {
    (void)state;
    complete();
    assert_open(&bike.frame, TRADE_FRAME_HUB_WIDTH_MM);
    assert_open(&bike.frame, TRADE_FRAME_MATERIAL);
    assert_open(&bike.frame, TRADE_FRAME_BRAKE);
    assert_open(&bike.wheel, TRADE_WHEEL_ROLLING_MM);
    assert_open(in(TRADE_SLOT_REAR_DERAILLEUR), TRADE_REAR_DERAILLEUR_PULLS);
    assert_open(in(TRADE_SLOT_CRANK), TRADE_CRANK_PLACES);
    assert_open(in(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_STACK_MM);
    assert_word(in(TRADE_SLOT_CHAIN), TRADE_CHAIN_CONDITION, TRADE_CONDITION_NOT_LOOKED_AT, BASE_ASSUMED);
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        assert_int_equal(bike.fitted[slot].state, TRADE_NOT_LOOKED_AT);
        if (!trade_bike_has(&bike, slot)) { /* an empty slot is filled with nothing */
            const struct trade_part *part = &bike.fitted[slot].part;
            for (size_t i = 0; i < trade_kind_rows[part->kind].n; i++) {
                assert_open(part, (enum trade_property)(trade_kind_rows[part->kind].first + i));
            }
        }
    }
}

static void test_completing_twice_changes_nothing(void **state) {
    (void)state;
    struct trade_part *crank = crank_of_two(43.5, 5);
    give_spindles(crank, 113, 117.5);
    give_eleven_on(35);
    give(&bike.frame, TRADE_FRAME_HUB_WIDTH_MM, 142);
    give_name(&bike.wheel, TRADE_WHEEL_TYRE, "40-622");
    complete();
    size_t bytes = 0;
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        bytes += trade_kind_rows[trade_slot_rows[slot].kind].n * sizeof(struct trade_value);
    }
    unsigned char *once = base_arena_alloc(&made, bytes, 1);
    assert_non_null(once);
    for (int round = 0; round < 2; round++) {
        size_t at = 0;
        for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
            size_t n = trade_kind_rows[trade_slot_rows[slot].kind].n * sizeof(struct trade_value);
            if (round == 0) {
                memcpy(once + at, bike.fitted[slot].part.values, n);
            } else {
                assert_memory_equal(once + at, bike.fitted[slot].part.values, n);
            }
            at += n;
        }
        complete();
    }
}

int main(void) {
#define TEST(NAME) cmocka_unit_test_setup_teardown(NAME, new_bike, old_bike)
    const struct CMUnitTest tests[] = {
        TEST(test_a_slot_says_side_and_place),
        TEST(test_the_wheel_is_as_wide_as_the_frame_it_stands_in),
        TEST(test_the_axle_in_hand_goes_before_the_usual_one),
        TEST(test_a_freewheel_sits_on_a_threaded_hub_without_a_body),
        TEST(test_a_threaded_hub_tells_the_freewheel),
        TEST(test_body_and_cassette_tell_each_others_splines),
        TEST(test_a_cassette_tells_the_body_that_nobody_has_seen),
        TEST(test_two_kinds_that_fit_tell_nothing),
        TEST(test_a_short_body_carries_the_narrow_eleven),
        TEST(test_a_long_body_may_carry_either_eleven),
        TEST(test_with_nothing_behind_it_the_cassette_fills_the_body),
        TEST(test_a_seven_speed_cassette_is_not_as_long_as_its_body),
        TEST(test_a_shifter_tells_the_spacing_of_as_many_sprockets),
        TEST(test_a_shifter_for_other_speeds_tells_nothing),
        TEST(test_lever_derailleur_and_chain_go_with_the_sprockets),
        TEST(test_what_was_counted_goes_before_the_sprockets),
        TEST(test_a_lever_without_clicks_has_no_positions),
        TEST(test_rings_that_are_shifted_between_are_not_wide_and_narrow),
        TEST(test_a_ring_carries_chains_as_wide_inside_as_its_own),
        TEST(test_rings_prove_their_places),
        TEST(test_rings_and_crank_are_bolted_on_each_other),
        TEST(test_a_measured_ring_wins_over_the_nominal_line),
        TEST(test_a_plane_given_for_the_crank_is_not_touched),
        TEST(test_a_place_is_read_at_the_teeth_of_its_ring),
        TEST(test_the_usual_offset_of_a_direct_mount_is_assumed),
        TEST(test_an_unknown_offset_stays_open),
        TEST(test_the_nominal_line_moves_with_the_spindle),
        TEST(test_without_the_spindle_the_nominal_line_is_assumed),
        TEST(test_without_the_kind_of_spindle_the_nominal_line_is_assumed),
        TEST(test_spacers_move_a_crank_with_its_own_spindle),
        TEST(test_crank_and_bracket_share_a_spindle_but_never_a_square_one),
        TEST(test_the_bracket_tells_the_crank_and_the_shell),
        TEST(test_a_built_in_shifter_is_carried_by_its_lever),
        TEST(test_a_clamped_shifter_is_not_carried),
        TEST(test_a_bike_that_nobody_measured_stays_open),
        TEST(test_completing_twice_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
