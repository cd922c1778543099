/* SPDX-License-Identifier: Apache-2.0 */
/* What is done at the bench. Which work a change brings is common practice of the trade, told beside each case. */
#include "work/operations.h"

#include "plan/labour.h"
#include "work/made_jobs.h"

#include <stdlib.h>

static struct job *job;
static struct work_list list;

static int setup(void **state) {
    made_setup(state);
    job = calloc(1, sizeof *job);
    if (!job || trade_bike_init(&job->bike) != BASE_OK) {
        return -1;
    }
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        bool ring_or_thin = trade_slot_rows[s].absent == TRADE_ABSENT_EMPTY;
        job->bike.fitted[s].state = ring_or_thin ? TRADE_EMPTY : TRADE_THERE;
        job->parts[s] = made_part(trade_slot_rows[s].kind);
        job->parts[s].id = "new";
    }
    job->bike.fitted[TRADE_SLOT_OUTER_RING].state = TRADE_THERE;
    fit_build_now(&job->build, &job->bike);
    return 0;
}

static int teardown(void **state) {
    trade_bike_clear(&job->bike);
    free(job);
    return made_clear(state);
}

static struct trade_part *old(enum trade_slot slot) { return &job->bike.fitted[slot].part; }
static void goes_in(enum trade_slot slot) { job->build.at[slot] = (struct fit_choice){FIT_NEW, &job->parts[slot]}; }

static bool in_list(enum trade_bench operation) {
    for (size_t i = 0; i < list.n; i++) {
        if (list.at[i] == operation) {
            return true;
        }
    }
    return false;
}

static bool done(enum trade_bench operation) {
    work_operations(&list, &job->bike, &job->build);
    return in_list(operation);
}

static bool found(enum trade_bench operation) {
    work_found(&list, &job->bike, &job->build);
    return in_list(operation);
}

static void where_nothing_changes_nothing_is_done(void **state) {
    (void)state;
    work_operations(&list, &job->bike, &job->build);
    assert_int_equal(list.n, 0);
    work_found(&list, &job->bike, &job->build);
    assert_int_equal(list.n, 0);
    assert_int_equal(work_charged(&job->bike, &job->build), 0);
}

/* Four ways of holding the arms: each comes off and ends in its own way. */
static void a_crank_is_taken_off_and_tightened_as_it_is_held(void **state) {
    (void)state;
    static const struct {
        unsigned hold;
        enum trade_bench off, on;
    } ways[] = {
        {TRADE_CRANK_HOLD_TAPER_BOLT, TRADE_BENCH_RIGHT_ARM_OFF_SQUARE, TRADE_BENCH_RIGHT_ARM_ON_SQUARE},
        {TRADE_CRANK_HOLD_PINCH_BOLTS, TRADE_BENCH_LEFT_ARM_OFF_PINCH, TRADE_BENCH_PINCH_BOLTS_TIGHT},
        {TRADE_CRANK_HOLD_AXIAL_BOLT, TRADE_BENCH_ARM_OFF_AXIAL, TRADE_BENCH_LEFT_ARM_ON_AXIAL},
        {TRADE_CRANK_HOLD_COLLAR, TRADE_BENCH_COLLAR_BACKED_OFF, TRADE_BENCH_COLLAR_SET},
    };
    goes_in(TRADE_SLOT_CRANK);
    for (size_t was = 0; was < 4; was++) {
        for (size_t is = 0; is < 4; is++) {
            give_word(old(TRADE_SLOT_CRANK), TRADE_CRANK_HOLD, ways[was].hold);
            give_word(&job->parts[TRADE_SLOT_CRANK], TRADE_CRANK_HOLD, ways[is].hold);
            for (size_t i = 0; i < 4; i++) {
                bool by_its_bolt =
                    ways[i].off == TRADE_BENCH_ARM_OFF_AXIAL && ways[was].off == TRADE_BENCH_COLLAR_BACKED_OFF;
                assert_int_equal(done(ways[i].off), i == was || by_its_bolt); /* a collar is backed off before */
                assert_int_equal(done(ways[i].on), i == is);
            }
            assert_false(done(TRADE_BENCH_CRANK_OFF_UNREAD));
        }
    }
    trade_set(old(TRADE_SLOT_CRANK), TRADE_CRANK_HOLD, trade_open());
    assert_true(done(TRADE_BENCH_CRANK_OFF_UNREAD));
}

/* For a ring the left arm of a square taper stays where it is; for a bracket it comes off too. */
static void the_left_arm_stays_for_a_ring(void **state) {
    (void)state;
    give_word(old(TRADE_SLOT_CRANK), TRADE_CRANK_HOLD, TRADE_CRANK_HOLD_TAPER_BOLT);
    goes_in(TRADE_SLOT_OUTER_RING);
    assert_true(done(TRADE_BENCH_RIGHT_ARM_OFF_SQUARE));
    assert_false(done(TRADE_BENCH_LEFT_ARM_OFF_SQUARE));
    assert_false(done(TRADE_BENCH_LEFT_PEDAL_OFF));
    goes_in(TRADE_SLOT_BOTTOM_BRACKET);
    assert_true(done(TRADE_BENCH_LEFT_ARM_OFF_SQUARE));
    assert_false(done(TRADE_BENCH_LEFT_PEDAL_OFF));
    goes_in(TRADE_SLOT_CRANK);
    assert_true(done(TRADE_BENCH_LEFT_PEDAL_OFF));
}

/* Rings that leave with their crank are left on it; one that moves to another crank is unbolted. */
static void rings_that_go_with_their_crank_are_left_on_it(void **state) {
    (void)state;
    goes_in(TRADE_SLOT_CRANK);
    goes_in(TRADE_SLOT_OUTER_RING);
    assert_false(done(TRADE_BENCH_RINGS_OFF_ARMS));
    assert_true(done(TRADE_BENCH_RINGS_ON_ARMS));
    job->build.at[TRADE_SLOT_OUTER_RING] = (struct fit_choice){FIT_KEEP, old(TRADE_SLOT_OUTER_RING)};
    assert_true(done(TRADE_BENCH_RINGS_OFF_ARMS));
}

/* Sprockets and rotor that go with their wheel are left on it; those that stay move to the other wheel. */
static void what_goes_with_its_wheel_is_left_on_it(void **state) {
    (void)state;
    job->bike.fitted[TRADE_SLOT_REAR_ROTOR].state = TRADE_THERE;
    fit_build_now(&job->build, &job->bike);
    goes_in(TRADE_SLOT_REAR_WHEEL);
    goes_in(TRADE_SLOT_CASSETTE);
    goes_in(TRADE_SLOT_REAR_ROTOR);
    assert_false(done(TRADE_BENCH_CASSETTE_OFF));
    assert_true(done(TRADE_BENCH_CASSETTE_ON));
    assert_false(done(TRADE_BENCH_ROTOR_OFF_BOLTS));
    assert_true(done(TRADE_BENCH_ROTOR_ON_BOLTS));
    job->build.at[TRADE_SLOT_CASSETTE] = (struct fit_choice){FIT_KEEP, old(TRADE_SLOT_CASSETTE)};
    job->build.at[TRADE_SLOT_REAR_ROTOR] = (struct fit_choice){FIT_KEEP, old(TRADE_SLOT_REAR_ROTOR)};
    assert_true(done(TRADE_BENCH_CASSETTE_OFF));
    assert_true(done(TRADE_BENCH_ROTOR_OFF_BOLTS));
}

/* A lever on a hose touches the brake's fluid: it is closed off and bled. On a cable it is not. */
static void a_lever_on_a_hose_is_bled(void **state) {
    (void)state;
    goes_in(TRADE_SLOT_LEFT_BRAKE_LEVER);
    give_word(old(TRADE_SLOT_LEFT_BRAKE_LEVER), TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_MINERAL);
    give_word(&job->parts[TRADE_SLOT_LEFT_BRAKE_LEVER], TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_MINERAL);
    assert_true(done(TRADE_BENCH_LEFT_HOSE_OFF));
    assert_true(done(TRADE_BENCH_LEFT_BRAKE_BLED));
    assert_false(done(TRADE_BENCH_LEFT_BRAKE_CABLE_ON));
    assert_false(done(TRADE_BENCH_RIGHT_BRAKE_BLED));
    give_word(&job->parts[TRADE_SLOT_LEFT_BRAKE_LEVER], TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_LONG);
    assert_false(done(TRADE_BENCH_LEFT_BRAKE_BLED));
    assert_true(done(TRADE_BENCH_LEFT_BRAKE_CABLE_ON));
    assert_true(done(TRADE_BENCH_BOTH_BRAKES_TRIED));
}

/* A derailleur that stays is unbolted for an extender, and its cable with it. */
static void an_extender_unbolts_the_derailleur(void **state) {
    (void)state;
    goes_in(TRADE_SLOT_HANGER_EXTENDER);
    assert_true(done(TRADE_BENCH_REAR_CABLE_LOOSENED));
    assert_true(done(TRADE_BENCH_REAR_DERAILLEUR_OFF));
    assert_true(done(TRADE_BENCH_EXTENDER_ON));
    assert_true(done(TRADE_BENCH_REAR_DERAILLEUR_ON));
    assert_true(done(TRADE_BENCH_CABLE_CLAMPED));
    assert_false(done(TRADE_BENCH_REAR_CABLE_IN));
}

/* An unread shell: first its hand is found. */
static void an_unread_shell_is_read_before_its_cups_turn(void **state) {
    (void)state;
    goes_in(TRADE_SLOT_BOTTOM_BRACKET);
    assert_true(done(TRADE_BENCH_HAND_FOUND));
    give_word(&job->bike.frame, TRADE_FRAME_SHELL, TRADE_SHELL_ENGLISH);
    assert_false(done(TRADE_BENCH_HAND_FOUND));
}

/* What is found on strip-down is of this bike: no seized freewheel on a cassette's hub. */
static void what_may_be_found_is_of_this_bike(void **state) {
    (void)state;
    goes_in(TRADE_SLOT_CASSETTE);
    give_word(old(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_SPLINE, TRADE_SPLINE_NINE_KEY);
    assert_true(found(TRADE_BENCH_SPROCKETS_BITTEN_IN));
    assert_false(found(TRADE_BENCH_FREEWHEEL_STUCK));
    assert_false(found(TRADE_BENCH_CUP_STUCK));
    give_word(old(TRADE_SLOT_CASSETTE), TRADE_CASSETTE_SPLINE, TRADE_SPLINE_THREADED);
    assert_true(found(TRADE_BENCH_FREEWHEEL_STUCK));
    assert_false(done(TRADE_BENCH_FREEWHEEL_STUCK));
}

/* What is charged is what the plan adds up, by the shop's own minutes; the range goes with them. */
static void minutes_are_the_shop_s(void **state) {
    (void)state;
    struct trade_shop shop;
    trade_shop_init(&shop);
    goes_in(TRADE_SLOT_CASSETTE);
    work_operations(&list, &job->bike, &job->build);
    uint32_t charged = work_charged(&job->bike, &job->build);
    struct work_minutes usual = work_minutes_of(&list, charged, &shop);
    double sum = 0;
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        bool called = (plan_build_operations(&job->bike, &job->build) >> o & 1) != 0;
        sum += called ? trade_operation_rows[o].minutes : 0;
        shop.minutes[o] *= 2;
    }
    struct work_minutes twice = work_minutes_of(&list, charged, &shop);
    assert_near(usual.charged, sum, 1e-9);
    assert_near(twice.charged, 2 * usual.charged, 1e-9);
    assert_true(usual.low < usual.charged && usual.charged < usual.high);
    assert_true(twice.low > usual.low && twice.high > usual.high);
}

/* --- jobs at random ------------------------------------------------------------------------------------------------- */

/* What the program turns down, and what no bike has, is not asked here. */
static void make_sensible(struct job *j) {
    struct trade_part *crank = &j->parts[TRADE_SLOT_CRANK], *was = &j->bike.fitted[TRADE_SLOT_CRANK].part;
    give_word(&j->bike.frame, TRADE_FRAME_SHELL,
              trade_get_word(&j->bike.frame, TRADE_FRAME_SHELL) % 2 == 0 ? TRADE_SHELL_ENGLISH : TRADE_SHELL_PRESS_41);
    for (int i = 0; i < 2; i++) {
        struct trade_part *part = i == 0 ? crank : was;
        if (trade_get_word(part, TRADE_CRANK_MOUNT) == TRADE_RING_MOUNT_RIVETED) {
            give_word(part, TRADE_CRANK_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_104);
        }
    }
    give_word(&j->bike.fitted[TRADE_SLOT_RIGHT_SHIFTER].part, TRADE_SHIFTER_ACTUATION, TRADE_ACTUATION_INDEXED);
    give_word(&j->parts[TRADE_SLOT_RIGHT_SHIFTER], TRADE_SHIFTER_ACTUATION, TRADE_ACTUATION_INDEXED);
    give_word(&j->bike.fitted[TRADE_SLOT_LEFT_SHIFTER].part, TRADE_SHIFTER_SEAT, TRADE_SEAT_TWIST);
    give_word(&j->parts[TRADE_SLOT_LEFT_SHIFTER], TRADE_SHIFTER_SEAT, TRADE_SEAT_OWN_CLAMP);
    give_word(&j->bike.fitted[TRADE_SLOT_RIGHT_SHIFTER].part, TRADE_SHIFTER_SEAT, TRADE_SEAT_DOWN_TUBE);
    give_word(&j->parts[TRADE_SLOT_RIGHT_SHIFTER], TRADE_SHIFTER_SEAT, TRADE_SEAT_BAR_END);
    struct trade_part *front = &j->bike.fitted[TRADE_SLOT_FRONT_DERAILLEUR].part;
    trade_set(front, TRADE_FRONT_DERAILLEUR_MOUNT, trade_open());
}

static bool any(const char *const names[6]) {
    for (size_t i = 0; i < list.n; i++) {
        for (size_t k = 0; k < 6 && names[k]; k++) {
            if (strncmp(trade_bench_rows[list.at[i]].name, names[k], strlen(names[k])) == 0) {
                return true;
            }
        }
    }
    return false;
}

/* Which operations take the part off and put it on, by how their names begin: said here once more, by hand. */
static const struct {
    const char *off[6], *on[6];
} works[TRADE_SLOTS] = {
    [TRADE_SLOT_CRANK] = {{"right_arm_off", "crank_off"}, {"right_arm_on", "crank_on"}},
    [TRADE_SLOT_OUTER_RING] = {{"rings_off", "right_arm_off", "crank_off"}, {"rings_on"}},
    [TRADE_SLOT_MIDDLE_RING] = {{"rings_off", "right_arm_off", "crank_off"}, {"rings_on"}},
    [TRADE_SLOT_INNER_RING] = {{"rings_off", "right_arm_off", "crank_off"}, {"rings_on"}},
    [TRADE_SLOT_BOTTOM_BRACKET] = {{"drive_cup_out", "bracket_pressed_out"},
                                   {"drive_cup_in", "cartridge_in", "bracket_pressed_in"}},
    [TRADE_SLOT_CHAIN] = {{"chain_off"}, {"chain_joined"}},
    [TRADE_SLOT_CASSETTE] = {{"cassette_off", "freewheel_off", "wheel_out"}, {"cassette_on", "freewheel_on"}},
    [TRADE_SLOT_CASSETTE_SPACER] = {{"cassette_spacer_off", "wheel_out"}, {"cassette_spacer_on"}},
    [TRADE_SLOT_FREEHUB_BODY] = {{"body_off", "wheel_out"}, {"body_on"}},
    [TRADE_SLOT_REAR_WHEEL] = {{"wheel_out"}, {"wheel_in"}},
    [TRADE_SLOT_REAR_ROTOR] = {{"rotor_off", "wheel_out"}, {"rotor_on"}},
    [TRADE_SLOT_HANGER] = {{"hanger_off", "claw_off"}, {"hanger_on", "claw_on"}},
    [TRADE_SLOT_HANGER_EXTENDER] = {{"extender_off"}, {"extender_on"}},
    [TRADE_SLOT_REAR_DERAILLEUR] = {{"rear_derailleur_off"}, {"rear_derailleur_on"}},
    [TRADE_SLOT_FRONT_DERAILLEUR] = {{"front_derailleur_off"}, {"front_derailleur_on"}},
    [TRADE_SLOT_RIGHT_SHIFTER] = {{"right_boss_off"}, {"right_bar_end_on"}},
    [TRADE_SLOT_LEFT_SHIFTER] = {{"left_twist_off"}, {"left_shifter_on"}},
    [TRADE_SLOT_RIGHT_BRAKE_LEVER] = {{"right_lever_off"}, {"right_lever_on"}},
    [TRADE_SLOT_LEFT_BRAKE_LEVER] = {{"left_lever_off"}, {"left_lever_on"}},
    [TRADE_SLOT_CHAIN_GUIDE] = {{"guide_off"}, {"guide_on"}},
    [TRADE_SLOT_CABLES] = {{"rear_cable_off"}, {"rear_cable_in"}},
};

static bool goes(const struct job *j, unsigned slot) {
    return trade_bike_has(&j->bike, (enum trade_slot)slot) && j->build.at[slot].kind != FIT_KEEP;
}
static bool changes(const struct job *j, unsigned slot) { return goes(j, slot) || j->build.at[slot].kind == FIT_NEW; }

static void assert_nothing_is_missing(const struct job *j) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (works[s].off[0] && goes(j, s) && !any(works[s].off)) {
            fail_msg("%s comes off, and nothing takes it off", trade_slot_rows[s].name);
        }
        if (works[s].on[0] && j->build.at[s].kind == FIT_NEW && !any(works[s].on)) {
            fail_msg("%s is new, and nothing puts it on", trade_slot_rows[s].name);
        }
    }
}

/* A part that stays is taken off only where the way to another leads past it. */
static void assert_nothing_is_idle(const struct job *j) {
    static const struct {
        const char *off[6];
        enum trade_slot slot, for_slots[10];
        size_t n;
    } access[] = {
        {{"right_arm_off", "crank_off"},
         TRADE_SLOT_CRANK,
         {TRADE_SLOT_BOTTOM_BRACKET, TRADE_SLOT_CUP_SPACERS, TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING,
          TRADE_SLOT_INNER_RING},
         5},
        {{"drive_cup_out", "bracket_pressed_out"}, TRADE_SLOT_BOTTOM_BRACKET, {TRADE_SLOT_CUP_SPACERS}, 1},
        {{"cassette_off", "freewheel_off"},
         TRADE_SLOT_CASSETTE,
         {TRADE_SLOT_CASSETTE_SPACER, TRADE_SLOT_FREEHUB_BODY, TRADE_SLOT_REAR_WHEEL},
         3},
        {{"rotor_off"}, TRADE_SLOT_REAR_ROTOR, {TRADE_SLOT_REAR_WHEEL}, 1},
        {{"rear_derailleur_off"}, TRADE_SLOT_REAR_DERAILLEUR, {TRADE_SLOT_HANGER, TRADE_SLOT_HANGER_EXTENDER}, 2},
        {{"wheel_out"},
         TRADE_SLOT_REAR_WHEEL,
         {TRADE_SLOT_CASSETTE, TRADE_SLOT_CASSETTE_SPACER, TRADE_SLOT_FREEHUB_BODY, TRADE_SLOT_REAR_ROTOR,
          TRADE_SLOT_HANGER, TRADE_SLOT_HANGER_EXTENDER},
         6},
        {{"chain_off"},
         TRADE_SLOT_CHAIN,
         {TRADE_SLOT_CASSETTE, TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING, TRADE_SLOT_CRANK,
          TRADE_SLOT_REAR_DERAILLEUR},
         6},
        {{"hanger_off", "claw_off"}, TRADE_SLOT_HANGER, {0}, 0},
        {{"extender_off"}, TRADE_SLOT_HANGER_EXTENDER, {0}, 0},
        {{"body_off"}, TRADE_SLOT_FREEHUB_BODY, {0}, 0},
        {{"front_derailleur_off"}, TRADE_SLOT_FRONT_DERAILLEUR, {0}, 0},
        {{"left_lever_off"}, TRADE_SLOT_LEFT_BRAKE_LEVER, {0}, 0},
        {{"right_lever_off"}, TRADE_SLOT_RIGHT_BRAKE_LEVER, {0}, 0},
        {{"left_twist_off"}, TRADE_SLOT_LEFT_SHIFTER, {0}, 0},
        {{"right_boss_off"}, TRADE_SLOT_RIGHT_SHIFTER, {0}, 0},
        {{"guide_off"}, TRADE_SLOT_CHAIN_GUIDE, {0}, 0},
        {{"left_pedal_off", "right_pedal_off"}, TRADE_SLOT_CRANK, {0}, 0},
    };
    for (size_t i = 0; i < sizeof access / sizeof access[0]; i++) {
        bool called = changes(j, access[i].slot);
        for (size_t k = 0; k < access[i].n; k++) {
            called = called || changes(j, access[i].for_slots[k]);
        }
        if (!called && any(access[i].off)) {
            fail_msg("%s stays, and %s takes it off for nothing", trade_slot_rows[access[i].slot].name,
                     access[i].off[0]);
        }
    }
}

/* Each comes back on: what is taken off and stays is put on again. */
static void assert_what_stays_is_put_back(const struct job *j) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        bool shared = s == TRADE_SLOT_CASSETTE_SPACER || s == TRADE_SLOT_OUTER_RING || s == TRADE_SLOT_MIDDLE_RING ||
                      s == TRADE_SLOT_INNER_RING || s == TRADE_SLOT_RIGHT_SHIFTER || s == TRADE_SLOT_FREEHUB_BODY;
        const char *const first[6] = {works[s].off[0]};
        if (works[s].off[0] && !shared && trade_bike_has(&j->bike, (enum trade_slot)s) &&
            j->build.at[s].kind == FIT_KEEP && s != TRADE_SLOT_CABLES && any(first) && !any(works[s].on)) {
            fail_msg("%s stays, was taken off and is not put on", trade_slot_rows[s].name);
        }
    }
}

static void random_jobs_miss_nothing_and_do_nothing_idle(void **state) {
    (void)state;
    struct random_source random = {20260};
    for (int i = 0; i < 300; i++) {
        struct job *j = calloc(1, sizeof *j);
        assert_non_null(j);
        make_job(j, &random, random_int(&random, 2, 60));
        make_sensible(j);
        work_operations(&list, &j->bike, &j->build);
        assert_nothing_is_missing(j);
        assert_nothing_is_idle(j);
        assert_what_stays_is_put_back(j);
        uint32_t charged = work_charged(&j->bike, &j->build);
        for (size_t k = 0; k < list.n; k++) {
            assert_true(work_payer(list.at[k], charged) < TRADE_OPERATIONS);
        }
        trade_bike_clear(&j->bike);
        free(j);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(where_nothing_changes_nothing_is_done, setup, teardown),
        cmocka_unit_test_setup_teardown(a_crank_is_taken_off_and_tightened_as_it_is_held, setup, teardown),
        cmocka_unit_test_setup_teardown(the_left_arm_stays_for_a_ring, setup, teardown),
        cmocka_unit_test_setup_teardown(rings_that_go_with_their_crank_are_left_on_it, setup, teardown),
        cmocka_unit_test_setup_teardown(what_goes_with_its_wheel_is_left_on_it, setup, teardown),
        cmocka_unit_test_setup_teardown(a_lever_on_a_hose_is_bled, setup, teardown),
        cmocka_unit_test_setup_teardown(an_extender_unbolts_the_derailleur, setup, teardown),
        cmocka_unit_test_setup_teardown(an_unread_shell_is_read_before_its_cups_turn, setup, teardown),
        cmocka_unit_test_setup_teardown(what_may_be_found_is_of_this_bike, setup, teardown),
        cmocka_unit_test_setup_teardown(minutes_are_the_shop_s, setup, teardown),
        cmocka_unit_test_setup_teardown(random_jobs_miss_nothing_and_do_nothing_idle, made_setup, made_clear),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
