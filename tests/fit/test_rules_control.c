/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Controls: brake levers and their brakes, shifters and where they sit, on both sides of the bar.
 */
#include "fit/probe.h"
#include "fit/rules.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define BIT(X) (UINT64_C(1) << (X))

/* One side of the bar. */
struct side {
    const struct fit_rule *lever_brake, *lever_bar, *lever_shifter, *shifter_lever, *shifter_seat;
    unsigned lever, shifter, brake;
};
static const struct side sides[] = {
    {&fit_lever_brake_right, &fit_lever_bar_right, &fit_lever_shifter_right, &fit_shifter_lever_right,
     &fit_shifter_seat_right, TRADE_SLOT_RIGHT_BRAKE_LEVER, TRADE_SLOT_RIGHT_SHIFTER, TRADE_FRAME_RIGHT_LEVER_BRAKE},
    {&fit_lever_brake_left, &fit_lever_bar_left, &fit_lever_shifter_left, &fit_shifter_lever_left,
     &fit_shifter_seat_left, TRADE_SLOT_LEFT_BRAKE_LEVER, TRADE_SLOT_LEFT_SHIFTER, TRADE_FRAME_LEFT_LEVER_BRAKE},
};
#define EACH_SIDE(S) for (const struct side *S = sides; S < sides + 2; S++)

/* --- lever and brake -------------------------------------------------------------------------------------------- */

/* Long pull for linear-pull rim brakes and some disc calipers, short pull for caliper and cantilever rim brakes and road
 * discs, and each fluid for itself: common practice; mixing fluids destroys the seals. */
static void pulls(void **state) {
    (void)state;
    static const struct {
        unsigned brake, pull;
    } right[] = {
        {TRADE_BRAKE_RIM_CALIPER, TRADE_LEVER_PULL_SHORT},    {TRADE_BRAKE_RIM_CANTILEVER, TRADE_LEVER_PULL_SHORT},
        {TRADE_BRAKE_RIM_LINEAR_PULL, TRADE_LEVER_PULL_LONG}, {TRADE_BRAKE_DISC_CABLE_SHORT, TRADE_LEVER_PULL_SHORT},
        {TRADE_BRAKE_DISC_CABLE_LONG, TRADE_LEVER_PULL_LONG}, {TRADE_BRAKE_DISC_MINERAL, TRADE_LEVER_PULL_MINERAL},
        {TRADE_BRAKE_DISC_DOT, TRADE_LEVER_PULL_DOT},
    };
    EACH_SIDE(s) {
        assert_true(s->lever_brake->safety);
        for (size_t i = 0; i < sizeof right / sizeof right[0]; i++) {
            for (unsigned pull = 0; pull < TRADE_LEVER_PULL_COUNT; pull++) {
                struct probe p;
                probe_init(&p, s->lever_brake);
                probe_word(&p, FIT_FRAME, s->brake, right[i].brake);
                probe_word(&p, s->lever, TRADE_BRAKE_LEVER_PULL, pull);
                unsigned kind = probe_judge(&p).kind;
                assert_true(pull == right[i].pull ? kind == FIT_FITS || kind == FIT_DRAWBACK : kind == FIT_CLASH);
            }
        }
    }
}

static void fluids(void **state) {
    (void)state;
    EACH_SIDE(s) {
        struct probe p;
        probe_init(&p, s->lever_brake);
        probe_word(&p, FIT_FRAME, s->brake, TRADE_BRAKE_DISC_MINERAL);
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_DOT);
        probe_expect(&p, FIT_CLASH, "lever-brake.fluid");
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_LONG);
        probe_expect(&p, FIT_CLASH, "lever-brake.cable-or-fluid");
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_MINERAL);
        probe_expect(&p, FIT_DRAWBACK, "lever-brake.system"); /* the same fluid is not yet the same system */
        probe_stays(&p, s->lever);
        probe_expect(&p, FIT_FITS, "lever-brake.fits");
        probe_word(&p, FIT_FRAME, s->brake, TRADE_BRAKE_RIM_LINEAR_PULL);
        probe_expect(&p, FIT_CLASH, "lever-brake.cable-or-fluid");
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_SHORT);
        probe_expect(&p, FIT_CLASH, "lever-brake.cable");
    }
}

/* Brakes whose lever only their own sheet names, and those that no hand works. */
static void unlisted_brakes(void **state) {
    (void)state;
    EACH_SIDE(s) {
        struct probe p;
        probe_init(&p, s->lever_brake);
        probe_word(&p, FIT_FRAME, s->brake, TRADE_BRAKE_RIM_HYDRAULIC);
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_MINERAL);
        probe_expect(&p, FIT_CLASH, "lever-brake.sheet");
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_SHORT);
        probe_expect(&p, FIT_CLASH, "lever-brake.cable-or-fluid");
        probe_word(&p, FIT_FRAME, s->brake, TRADE_BRAKE_DRUM);
        probe_expect(&p, FIT_CLASH, "lever-brake.sheet");
        probe_stays(&p, s->lever);
        assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
        probe_empty(&p, s->lever);
        probe_expect(&p, FIT_CLASH, "lever-brake.missing");
        probe_word(&p, FIT_FRAME, s->brake, TRADE_BRAKE_COASTER);
        assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
        probe_word(&p, FIT_FRAME, s->brake, TRADE_BRAKE_NONE);
        assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
    }
}

static void open_levers(void **state) {
    (void)state;
    EACH_SIDE(s) {
        struct probe p;
        probe_init(&p, s->lever_brake);
        probe_word(&p, FIT_FRAME, s->brake, TRADE_BRAKE_DISC_DOT);
        probe_expect(&p, FIT_CLASH, "lever-brake.ask");
        probe_stays(&p, s->lever);
        assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
    }
}

/* A wrong lever that stays is a brake that fails, whatever else is changed; one on a brake that nobody has looked at is
 * nothing to hold a plan up, but a new lever waits for the brake to be read. */
static void levers_that_stay(void **state) {
    (void)state;
    EACH_SIDE(s) {
        struct probe p;
        assert_true(s->lever_brake->as_it_stands);
        probe_init(&p, s->lever_brake);
        probe_word(&p, FIT_FRAME, s->brake, TRADE_BRAKE_DISC_DOT);
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_PULL, TRADE_LEVER_PULL_MINERAL);
        probe_stays(&p, s->lever);
        probe_expect(&p, FIT_CLASH, "lever-brake.fluid");
        probe_open(&p, FIT_FRAME, s->brake);
        assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
        probe_number(&p, s->lever, FIT_FITTED, 0);
        probe_expect_ask(&p, FIT_FRAME, s->brake);
        probe_empty(&p, s->lever);
        probe_expect(&p, FIT_CLASH, "lever-brake.needed"); /* whatever it works, it may stop the bike */
        probe_empty(&p, FIT_NOW + s->lever);
        assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
    }
}

/* Flat bars are 22.2 mm at the controls and drop bars 23.8: Handlebar dimensions (Sheldon Brown table), Love City Cycles. */
static void bars(void **state) {
    (void)state;
    EACH_SIDE(s) {
        for (unsigned lever = 0; lever < TRADE_BAR_COUNT; lever++) {
            for (unsigned bar = 0; bar < TRADE_BAR_COUNT; bar++) {
                struct probe p;
                probe_init(&p, s->lever_bar);
                probe_word(&p, s->lever, TRADE_BRAKE_LEVER_BAR, lever);
                probe_word(&p, FIT_FRAME, TRADE_FRAME_BAR, bar);
                probe_open(&p, s->lever, TRADE_BRAKE_LEVER_BAR);
                probe_expect(&p, FIT_CLASH, "lever-bar.ask");
                probe_word(&p, s->lever, TRADE_BRAKE_LEVER_BAR, lever);
                probe_expect(&p, lever == bar ? FIT_FITS : FIT_CLASH,
                             lever == bar ? "lever-bar.fits" : "lever-bar.other");
            }
        }
    }
}

/* --- built into the lever --------------------------------------------------------------------------------------- */

/* A combined lever has no place beside it: a new shifter on its own clamp needs a lever without one, on either side. */
static void combined_lever(void **state) {
    (void)state;
    EACH_SIDE(s) {
        for (unsigned seat = 0; seat < TRADE_SEAT_COUNT; seat++) {
            struct probe p;
            probe_init(&p, s->lever_shifter);
            probe_word(&p, s->lever, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_NO);
            probe_word(&p, s->shifter, TRADE_SHIFTER_SEAT, seat);
            assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
            probe_word(&p, s->lever, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_YES);
            bool elsewhere = seat == TRADE_SEAT_BAR_END || seat == TRADE_SEAT_DOWN_TUBE;
            if (seat == TRADE_SEAT_IN_LEVER) {
                assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
            } else {
                probe_expect(&p, elsewhere ? FIT_DRAWBACK : FIT_CLASH,
                             elsewhere ? "lever-shifter.beside" : "lever-shifter.nowhere");
            }
        }
        struct probe p;
        probe_init(&p, s->lever_shifter);
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_YES);
        probe_empty(&p, s->shifter);
        probe_expect(&p, FIT_DRAWBACK, "lever-shifter.idle"); /* a new lever whose shifter is not wanted */
        probe_stays(&p, s->lever);
        probe_word(&p, FIT_NOW + s->shifter, TRADE_SHIFTER_SEAT, TRADE_SEAT_IN_LEVER);
        probe_expect(&p, FIT_CLASH, "lever-shifter.built-in"); /* the old one's can't be taken out */
        probe_word(&p, FIT_NOW + s->shifter, TRADE_SHIFTER_SEAT, TRADE_SEAT_BAR_END);
        probe_expect(&p, FIT_DRAWBACK, "lever-shifter.idle"); /* another one was taken off */
        probe_empty(&p, FIT_NOW + s->shifter);
        probe_expect(&p, FIT_DRAWBACK, "lever-shifter.idle");
    }
}

/* A shifter that comes off is looked at when it does: where it sits is not asked before, nor what its lever carries. */
static void unread_shifter(void **state) {
    (void)state;
    EACH_SIDE(s) {
        struct probe p;
        probe_init(&p, s->lever_shifter);
        probe_empty(&p, s->shifter);
        probe_stays(&p, s->lever);
        probe_expect(&p, FIT_FITS, "lever-shifter.unread");
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_YES);
        probe_expect(&p, FIT_FITS, "lever-shifter.unread");
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_NO);
        assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
    }
}

/* A new shifter is put beside a lever that stays, and nobody has looked whether the lever has one of its own. */
static void unread_lever(void **state) {
    (void)state;
    EACH_SIDE(s) {
        struct probe p;
        probe_init(&p, s->lever_shifter);
        probe_word(&p, s->shifter, TRADE_SHIFTER_SEAT, TRADE_SEAT_OWN_CLAMP);
        probe_stays(&p, s->lever);
        probe_expect_ask(&p, s->lever, TRADE_BRAKE_LEVER_CARRIES_SHIFTER);
        probe_number(&p, s->lever, FIT_FITTED, 0);
        probe_expect(&p, FIT_CLASH, "lever-shifter.ask");

        probe_init(&p, s->shifter_lever);
        probe_word(&p, s->shifter, TRADE_SHIFTER_SEAT, TRADE_SEAT_IN_LEVER);
        probe_stays(&p, s->lever);
        probe_expect(&p, FIT_CLASH, "shifter-lever.old-lever"); /* a unit's shifter is not sold alone */
        probe_stays(&p, s->shifter);
        probe_expect(&p, FIT_FITS, "shifter-lever.fits");
    }
}

/* Shifter and lever of one unit stay together or come together. */
static void one_unit(void **state) {
    (void)state;
    EACH_SIDE(s) {
        struct probe p;
        probe_init(&p, s->shifter_lever);
        probe_word(&p, s->shifter, TRADE_SHIFTER_SEAT, TRADE_SEAT_IN_LEVER);
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_YES);
        probe_expect(&p, FIT_CLASH, "shifter-lever.ask"); /* two new parts that don't say */
        probe_name(&p, s->shifter, TRADE_SHIFTER_UNIT, "Heron");
        probe_expect(&p, FIT_CLASH, "shifter-lever.ask");
        probe_name(&p, s->lever, TRADE_BRAKE_LEVER_UNIT, "Plover");
        probe_expect(&p, FIT_CLASH, "shifter-lever.other-unit");
        probe_name(&p, s->lever, TRADE_BRAKE_LEVER_UNIT, "Heron");
        probe_expect(&p, FIT_FITS, "shifter-lever.fits");
        probe_stays(&p, s->lever);
        probe_expect(&p, FIT_CLASH, "shifter-lever.old-lever");
        probe_stays(&p, s->shifter);
        probe_expect(&p, FIT_FITS, "shifter-lever.fits");
        probe_number(&p, s->lever, FIT_FITTED, 0);
        probe_expect(&p, FIT_CLASH, "shifter-lever.goes-too");
        probe_number(&p, s->shifter, FIT_FITTED, 0);
        probe_word(&p, s->lever, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_NO);
        probe_expect(&p, FIT_CLASH, "shifter-lever.no-lever");
        probe_empty(&p, s->lever);
        probe_expect(&p, FIT_CLASH, "shifter-lever.no-lever");
        probe_word(&p, s->shifter, TRADE_SHIFTER_SEAT, TRADE_SEAT_OWN_CLAMP);
        assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
    }
}

/* --- seats ------------------------------------------------------------------------------------------------------ */

static struct probe seat(const struct side *s, unsigned of_shifter, unsigned bar, uint64_t brackets) {
    struct probe p;
    probe_init(&p, s->shifter_seat);
    probe_word(&p, s->shifter, TRADE_SHIFTER_SEAT, of_shifter);
    probe_word(&p, FIT_FRAME, TRADE_FRAME_BAR, bar);
    probe_words(&p, s->lever, TRADE_BRAKE_LEVER_BRACKETS, brackets);
    return p;
}

/* Clamps and twist grips are for 22.2 mm, bar-end shifters for drop bars: Which grip fits?, a shop's page; down-tube bosses
 * are the frame's. */
static void seats_on_bars(void **state) {
    (void)state;
    EACH_SIDE(s) {
        struct probe p = seat(s, TRADE_SEAT_OWN_CLAMP, TRADE_BAR_FLAT, 0);
        probe_expect(&p, FIT_FITS, "shifter-seat.fits");
        p = seat(s, TRADE_SEAT_OWN_CLAMP, TRADE_BAR_DROP, 0);
        probe_expect(&p, FIT_CLASH, "shifter-seat.not-on-bar");
        p = seat(s, TRADE_SEAT_TWIST, TRADE_BAR_FLAT, 0);
        probe_expect(&p, FIT_DRAWBACK, "shifter-seat.short-grip");
        probe_stays(&p, s->shifter);
        probe_expect(&p, FIT_FITS, "shifter-seat.fits");
        p = seat(s, TRADE_SEAT_TWIST, TRADE_BAR_DROP, 0);
        probe_expect(&p, FIT_CLASH, "shifter-seat.not-on-bar");
        p = seat(s, TRADE_SEAT_BAR_END, TRADE_BAR_DROP, 0);
        probe_expect(&p, FIT_FITS, "shifter-seat.fits");
        p = seat(s, TRADE_SEAT_BAR_END, TRADE_BAR_FLAT, 0);
        probe_expect(&p, FIT_CLASH, "shifter-seat.not-on-bar");
        p = seat(s, TRADE_SEAT_DOWN_TUBE, TRADE_BAR_DROP, 0);
        probe_expect_ask(&p, FIT_FRAME, TRADE_FRAME_DOWN_TUBE_BOSSES); /* not every frame has them: common practice */
        probe_word(&p, FIT_FRAME, TRADE_FRAME_DOWN_TUBE_BOSSES, TRADE_YES_NO_NO);
        probe_expect(&p, FIT_CLASH, "shifter-seat.no-bosses");
        probe_word(&p, FIT_FRAME, TRADE_FRAME_DOWN_TUBE_BOSSES, TRADE_YES_NO_YES);
        probe_expect(&p, FIT_FITS, "shifter-seat.fits");
        p = seat(s, TRADE_SEAT_IN_LEVER, TRADE_BAR_DROP, 0);
        assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
        probe_word(&p, s->shifter, TRADE_SHIFTER_BAR, TRADE_BAR_FLAT);
        probe_expect(&p, FIT_CLASH, "shifter-seat.other-bar");
    }
}

/* Integrated clamp article, MBR magazine, 2018, and a shop's blog, 2014: the first lever takes both shifters, the second
 * only its own; the wrap-round bracket takes only its own. */
static void seats_on_brackets(void **state) {
    (void)state;
    EACH_SIDE(s) {
        struct probe p = seat(s, TRADE_SEAT_BRACKET_A, TRADE_BAR_FLAT, BIT(TRADE_SEAT_BRACKET_A));
        probe_expect(&p, FIT_FITS, "shifter-seat.fits");
        p = seat(s, TRADE_SEAT_BRACKET_B, TRADE_BAR_FLAT, BIT(TRADE_SEAT_BRACKET_A));
        probe_expect(&p, FIT_DRAWBACK, "shifter-seat.grip");
        p = seat(s, TRADE_SEAT_BRACKET_A, TRADE_BAR_FLAT, BIT(TRADE_SEAT_BRACKET_B));
        probe_expect(&p, FIT_CLASH, "shifter-seat.bracket");
        p = seat(s, TRADE_SEAT_BRACKET_WRAP, TRADE_BAR_FLAT, BIT(TRADE_SEAT_BRACKET_A) | BIT(TRADE_SEAT_BRACKET_B));
        probe_expect(&p, FIT_CLASH, "shifter-seat.bracket");
        p = seat(s, TRADE_SEAT_BRACKET_B, TRADE_BAR_FLAT, BIT(TRADE_SEAT_BRACKET_A) | BIT(TRADE_SEAT_BRACKET_B));
        probe_expect(&p, FIT_FITS, "shifter-seat.fits"); /* the best of its brackets */
        p = seat(s, TRADE_SEAT_MODULAR_1, TRADE_BAR_FLAT, BIT(TRADE_SEAT_MODULAR_2));
        probe_expect(&p, FIT_ADAPTER, "shifter-seat.clamp");
        p = seat(s, TRADE_SEAT_BRACKET_A, TRADE_BAR_FLAT, 0);
        probe_expect(&p, FIT_CLASH, "shifter-seat.bracket");
        probe_open(&p, s->lever, TRADE_BRAKE_LEVER_BRACKETS);
        probe_expect(&p, FIT_CLASH, "shifter-seat.ask");
        probe_stays(&p, s->lever);
        probe_expect_ask(&p, s->lever, TRADE_BRAKE_LEVER_BRACKETS);
        probe_stays(&p, s->shifter);
        probe_expect(&p, FIT_FITS, "shifter-seat.fits"); /* it sits there */
        probe_empty(&p, s->lever);
        probe_expect(&p, FIT_CLASH, "shifter-seat.no-lever");
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pulls),          cmocka_unit_test(fluids),           cmocka_unit_test(unlisted_brakes),
        cmocka_unit_test(open_levers),    cmocka_unit_test(levers_that_stay), cmocka_unit_test(bars),
        cmocka_unit_test(combined_lever), cmocka_unit_test(unread_shifter),   cmocka_unit_test(unread_lever),
        cmocka_unit_test(one_unit),       cmocka_unit_test(seats_on_bars),    cmocka_unit_test(seats_on_brackets),
    };
    return cmocka_run_group_tests_name("levers and shifters", tests, NULL, NULL);
}
