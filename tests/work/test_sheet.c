/* SPDX-License-Identifier: Apache-2.0 */
/* The bench sheet as data: what is read against which limits, what is still to be read before which step, and what spoils the
 * job when it is missed. */
#include "work/red.h"

#include "support/failing.h"
#include "support/reference.h"
#include "work/made_jobs.h"

#include <math.h>
#include <stdlib.h>

static struct job *job;
static struct fit_cases *cases;
static struct trade_shop shop;
static struct work_question question;
static struct work_sheet sheet;

static int setup(void **state) {
    made_setup(state);
    job = calloc(1, sizeof *job);
    cases = calloc(1, sizeof *cases);
    if (!job || !cases || trade_bike_init(&job->bike) != BASE_OK) {
        return -1;
    }
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        bool thin = trade_slot_rows[s].absent == TRADE_ABSENT_EMPTY;
        job->bike.fitted[s].state = thin ? TRADE_EMPTY : TRADE_THERE;
        job->parts[s] = made_part(trade_slot_rows[s].kind);
        job->parts[s].id = "new";
    }
    trade_shop_init(&shop);
    fit_cases_of(cases, &job->bike);
    fit_build_now(&job->build, &job->bike);
    question = (struct work_question){
        .bike = &job->bike, .build = &job->build, .shop = &shop, .cases = cases, .links_known = BASE_MEASURED};
    return 0;
}

static int teardown(void **state) {
    trade_bike_clear(&job->bike);
    free(job);
    free(cases);
    return made_clear(state);
}

static void goes_in(enum trade_slot slot) { job->build.at[slot] = (struct fit_choice){FIT_NEW, &job->parts[slot]}; }

static struct work_reading check_of(enum trade_check check) {
    struct work_reading reading;
    assert_true(work_check_of(&reading, check, &question));
    return reading;
}

/* --- limits --------------------------------------------------------------------------------------------------------- */

static void a_gap_that_is_published_is_within_its_limits(void **state) {
    (void)state;
    struct reference *r = reference_open("b_gap");
    goes_in(TRADE_SLOT_CASSETTE);
    while (reference_next(r)) {
        give_sprockets(&job->parts[TRADE_SLOT_CASSETTE], reference_count(r, "sprockets"), 11,
                       reference_count(r, "largest_teeth"));
        struct work_reading reading = check_of(TRADE_CHECK_B_GAP);
        double gap_mm = reference_number(r, "gap_mm");
        reference_claim(r,
                        work_in_limits(&reading, gap_mm) && !work_in_limits(&reading, gap_mm / 3) &&
                            !work_in_limits(&reading, 3 * gap_mm),
                        "is within the limits, a third and three times of it are not");
    }
    reference_close(r, 8);
}

/* About 4 mm at the rim to 10 sprockets, about 2 from 11 on (common practice); not known how many: the narrow one. */
static void more_sprockets_want_a_straighter_hanger(void **state) {
    (void)state;
    goes_in(TRADE_SLOT_CASSETTE);
    assert_near(check_of(TRADE_CHECK_HANGER).high, 2, 1e-9);
    give_sprockets(&job->parts[TRADE_SLOT_CASSETTE], 10, 11, 36);
    assert_near(check_of(TRADE_CHECK_HANGER).high, 4, 1e-9);
    give_sprockets(&job->parts[TRADE_SLOT_CASSETTE], 11, 11, 36);
    assert_near(check_of(TRADE_CHECK_HANGER).high, 2, 1e-9);
}

/* (Chain width - sprocket) / 2 and half a millimetre: 8-speed, 7.1 mm wide on 1.8 mm, 3.15 mm (worked by hand). */
static void the_chain_passes_the_dropout(void **state) {
    (void)state;
    struct work_reading reading;
    assert_false(work_check_of(&reading, TRADE_CHECK_GAP, &question));
    give(&job->bike.fitted[TRADE_SLOT_CHAIN].part, TRADE_CHAIN_WIDTH_MM, 7.1);
    give(&job->bike.fitted[TRADE_SLOT_CASSETTE].part, TRADE_CASSETTE_SPROCKET_MM, 1.8);
    assert_near(check_of(TRADE_CHECK_GAP).low, 3.15, 1e-9);
}

static void a_limit_is_within_itself_and_nothing_holds_back_what_has_none(void **state) {
    (void)state;
    const struct work_reading between = {.low = 12, .high = 14}, open = {.low = (double)NAN, .high = (double)NAN};
    assert_true(work_in_limits(&between, 12) && work_in_limits(&between, 14));
    assert_false(work_in_limits(&between, 11.9) || work_in_limits(&between, 14.1));
    assert_true(work_in_limits(&open, 1000));
}

static void the_chain_is_cut_to_its_number(void **state) {
    (void)state;
    struct work_reading reading;
    assert_false(work_check_of(&reading, TRADE_CHECK_CHAIN_LINKS, &question));
    question.links = 114;
    reading = check_of(TRADE_CHECK_CHAIN_LINKS);
    assert_true(work_in_limits(&reading, 114));
    assert_false(work_in_limits(&reading, 112) || work_in_limits(&reading, 116));
}

/* --- readings and asks ---------------------------------------------------------------------------------------------- */

static void make_sheet(void) { assert_int_equal(work_sheet_of(&sheet, &question), BASE_OK); }

static size_t step_of(enum trade_bench operation) {
    size_t step = 0;
    while (step < sheet.steps.n && sheet.steps.at[step] != operation) {
        step++;
    }
    assert_true(step < sheet.steps.n);
    return step;
}

/* Every torque of the sheet is read, with its step. */
static void each_torque_is_written_down(void **state) {
    (void)state;
    give_word(&job->parts[TRADE_SLOT_CRANK], TRADE_CRANK_HOLD, TRADE_CRANK_HOLD_PINCH_BOLTS);
    goes_in(TRADE_SLOT_CRANK);
    make_sheet();
    size_t torques = 0, pinch = 0;
    for (size_t i = 0; i < sheet.n_readings; i++) {
        torques += sheet.readings[i].torque >= 0;
        if (sheet.readings[i].torque == TRADE_TORQUE_PINCH_BOLTS) {
            pinch++;
            assert_int_equal(sheet.readings[i].step, step_of(TRADE_BENCH_PINCH_BOLTS_TIGHT));
            assert_near(sheet.readings[i].low, 12, 1e-9);
            assert_near(sheet.readings[i].high, 14, 1e-9);
        }
        assert_true(i == 0 || sheet.readings[i].step >= sheet.readings[i - 1].step);
    }
    size_t wanted = 0;
    for (size_t i = 0; i < sheet.steps.n; i++) {
        const struct trade_bench_row *row = &trade_bench_rows[sheet.steps.at[i]];
        wanted += row->torques[1] >= 0 ? 2 : row->torques[0] >= 0 ? 1 : 0;
    }
    assert_int_equal(pinch, 1);
    assert_int_equal(torques, wanted);
}

static bool asks_for(unsigned subject, unsigned property, size_t *before) {
    for (size_t i = 0; i < sheet.n_asks; i++) {
        if (sheet.asks[i].subject == subject && sheet.asks[i].property == property) {
            *before = sheet.asks[i].before;
            return true;
        }
    }
    return false;
}

/* What lies behind the crank is read when the crank is off; what lies open, before anything comes off; what this job does
 * not open is not asked for. */
static void a_value_is_read_as_soon_as_it_can_be(void **state) {
    (void)state;
    struct trade_part *bracket = &job->bike.fitted[TRADE_SLOT_BOTTOM_BRACKET].part;
    size_t before = 0;
    trade_set(bracket, TRADE_BOTTOM_BRACKET_RIGHT_OVERHANG_MM, trade_number(0, BASE_ASSUMED));
    trade_set(&job->bike.frame, TRADE_FRAME_GAP_MM, trade_number(3, BASE_ASSUMED));
    goes_in(TRADE_SLOT_CASSETTE);
    make_sheet();
    assert_true(asks_for(FIT_FRAME, TRADE_FRAME_GAP_MM, &before));
    assert_int_equal(trade_bench_rows[sheet.steps.at[before]].phase, TRADE_BENCH_PHASE_STRIP);
    assert_int_equal(trade_bench_rows[sheet.steps.at[before - 1]].phase, TRADE_BENCH_PHASE_PREPARE);
    assert_false(asks_for(TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_RIGHT_OVERHANG_MM, &before));
    give_word(&job->bike.fitted[TRADE_SLOT_CRANK].part, TRADE_CRANK_HOLD, TRADE_CRANK_HOLD_TAPER_BOLT);
    goes_in(TRADE_SLOT_CRANK);
    make_sheet();
    assert_true(asks_for(TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_RIGHT_OVERHANG_MM, &before));
    assert_int_equal(before, step_of(TRADE_BENCH_RIGHT_ARM_OFF_SQUARE) + 1);
    trade_set(&job->bike.frame, TRADE_FRAME_GAP_MM, trade_number(3, BASE_MEASURED));
    make_sheet();
    assert_false(asks_for(FIT_FRAME, TRADE_FRAME_GAP_MM, &before));
}

/* Where there is too much to try, the order is still allowed, and the sheet says that it was not proved. */
static void a_sheet_without_a_proved_order_is_in_an_allowed_one(void **state) {
    (void)state;
    goes_in(TRADE_SLOT_CRANK);
    goes_in(TRADE_SLOT_CASSETTE);
    goes_in(TRADE_SLOT_REAR_DERAILLEUR);
    make_sheet();
    assert_true(sheet.least);
    struct work_sheet best = sheet;
    question.limit_sets = 1;
    make_sheet();
    assert_false(sheet.least);
    assert_int_equal(sheet.steps.n, best.steps.n);
    for (size_t i = 0; i < sheet.steps.n; i++) {
        for (size_t j = i + 1; j < sheet.steps.n; j++) {
            assert_false(work_before(sheet.steps.at[j], sheet.steps.at[i]));
        }
    }
    assert_true(sheet.cost.turns >= best.cost.turns);
}

static void memory_may_run_out(void **state) {
    (void)state;
    goes_in(TRADE_SLOT_CASSETTE);
    for (long n = 0;; n++) {
        support_fail_after(n);
        enum base_status status = work_sheet_of(&sheet, &question);
        bool failed = support_failed();
        support_fail_after(-1);
        assert_int_equal(status, failed ? BASE_NO_MEMORY : BASE_OK);
        if (!failed) {
            break;
        }
    }
}

/* --- what spoils the job -------------------------------------------------------------------------------------------- */

static struct work_red red_of_sheet(void) {
    make_sheet();
    return work_red_of(&sheet, &question);
}

static void what_is_not_touched_is_not_told(void **state) {
    (void)state;
    goes_in(TRADE_SLOT_REAR_DERAILLEUR);
    struct work_red red = red_of_sheet();
    assert_false(red.cups);
    assert_int_equal(red.n_left, 0);
    assert_null(red.spacers);
    assert_true(isnan(red.offset_mm) && isnan(red.behind_mm));
    assert_int_equal(red.links, 0);
    assert_true(red.fluid[0] < 0 && red.fluid[1] < 0);
}

static void cups_turn_by_the_shell(void **state) {
    (void)state;
    goes_in(TRADE_SLOT_BOTTOM_BRACKET);
    struct work_red red = red_of_sheet();
    assert_true(red.cups && red.drive_hand < 0 && red.other_hand < 0);
    give_word(&job->bike.frame, TRADE_FRAME_SHELL, TRADE_SHELL_ENGLISH);
    red = red_of_sheet();
    assert_true(red.drive_hand == TRADE_HAND_LEFT && red.other_hand == TRADE_HAND_RIGHT);
    give_word(&job->bike.frame, TRADE_FRAME_SHELL, TRADE_SHELL_ITALIAN);
    red = red_of_sheet();
    assert_true(red.drive_hand == TRADE_HAND_RIGHT && red.other_hand == TRADE_HAND_RIGHT);
    give_word(&job->bike.frame, TRADE_FRAME_SHELL, TRADE_SHELL_PRESS_41);
    assert_false(red_of_sheet().cups);
}

static void each_left_hand_thread_is_told_once(void **state) {
    (void)state;
    goes_in(TRADE_SLOT_CRANK);
    struct work_red red = red_of_sheet();
    assert_int_equal(red.n_left, 1);
    assert_int_equal(red.left[0], TRADE_TORQUE_PEDAL_LEFT);
    give_word(&job->parts[TRADE_SLOT_HANGER], TRADE_HANGER_KIND, TRADE_HANGER_KIND_UNIVERSAL);
    goes_in(TRADE_SLOT_HANGER);
    red = red_of_sheet();
    assert_int_equal(red.n_left, 2);
}

/* 68 mm shell, off road, 24 mm spindle: three spacers of 2.5 mm, two of them on the drive side (from memory). */
static void outboard_cups_lie_on_the_spacers_of_their_shell(void **state) {
    (void)state;
    give(&job->bike.frame, TRADE_FRAME_SHELL_WIDTH_MM, 68);
    give_word(&job->bike.self, TRADE_BIKE_USE, TRADE_USE_OFF_ROAD);
    give_word(&job->parts[TRADE_SLOT_BOTTOM_BRACKET], TRADE_BOTTOM_BRACKET_SPINDLE, TRADE_SPINDLE_HOLLOW_24);
    goes_in(TRADE_SLOT_BOTTOM_BRACKET);
    struct work_red red = red_of_sheet();
    assert_non_null(red.spacers);
    assert_near(red.spacers->drive_mm, 5, 1e-9);
    assert_near(red.spacers->other_mm, 2.5, 1e-9);
    give(&job->bike.frame, TRADE_FRAME_SHELL_WIDTH_MM, 73);
    assert_near(red_of_sheet().spacers->drive_mm, 2.5, 1e-9);
    trade_set(&job->bike.frame, TRADE_FRAME_SHELL_WIDTH_MM, trade_open());
    assert_null(red_of_sheet().spacers);
}

static void spacers_behind_the_sprockets_add_up(void **state) {
    (void)state;
    give(&job->parts[TRADE_SLOT_CASSETTE], TRADE_CASSETTE_SPACER_MM, 1);
    goes_in(TRADE_SLOT_CASSETTE);
    assert_near(red_of_sheet().behind_mm, 1, 1e-9);
    give(&job->parts[TRADE_SLOT_CASSETTE_SPACER], TRADE_SPACER_THICKNESS_MM, 1.85);
    goes_in(TRADE_SLOT_CASSETTE_SPACER);
    assert_near(red_of_sheet().behind_mm, 2.85, 1e-9);
    give_word(&job->parts[TRADE_SLOT_CASSETTE], TRADE_CASSETTE_SPLINE, TRADE_SPLINE_THREADED);
    assert_true(isnan(red_of_sheet().behind_mm));
}

static void the_fluid_of_a_new_lever_is_told(void **state) {
    (void)state;
    give_word(&job->parts[TRADE_SLOT_LEFT_BRAKE_LEVER], TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_DOT);
    goes_in(TRADE_SLOT_LEFT_BRAKE_LEVER);
    struct work_red red = red_of_sheet();
    assert_int_equal(red.fluid[0], -1);
    assert_int_equal(red.fluid[1], TRADE_LEVER_PULL_DOT);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_gap_that_is_published_is_within_its_limits, setup, teardown),
        cmocka_unit_test_setup_teardown(more_sprockets_want_a_straighter_hanger, setup, teardown),
        cmocka_unit_test_setup_teardown(the_chain_passes_the_dropout, setup, teardown),
        cmocka_unit_test_setup_teardown(a_limit_is_within_itself_and_nothing_holds_back_what_has_none, setup, teardown),
        cmocka_unit_test_setup_teardown(the_chain_is_cut_to_its_number, setup, teardown),
        cmocka_unit_test_setup_teardown(each_torque_is_written_down, setup, teardown),
        cmocka_unit_test_setup_teardown(a_value_is_read_as_soon_as_it_can_be, setup, teardown),
        cmocka_unit_test_setup_teardown(a_sheet_without_a_proved_order_is_in_an_allowed_one, setup, teardown),
        cmocka_unit_test_setup_teardown(memory_may_run_out, setup, teardown),
        cmocka_unit_test_setup_teardown(what_is_not_touched_is_not_told, setup, teardown),
        cmocka_unit_test_setup_teardown(cups_turn_by_the_shell, setup, teardown),
        cmocka_unit_test_setup_teardown(each_left_hand_thread_is_told_once, setup, teardown),
        cmocka_unit_test_setup_teardown(outboard_cups_lie_on_the_spacers_of_their_shell, setup, teardown),
        cmocka_unit_test_setup_teardown(spacers_behind_the_sprockets_add_up, setup, teardown),
        cmocka_unit_test_setup_teardown(the_fluid_of_a_new_lever_is_told, setup, teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
