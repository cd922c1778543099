/* SPDX-License-Identifier: Apache-2.0 */
/* Arms, spindle, shell, and what lies between shell and cup. */
#include "fit/probe.h"
#include "fit/rules.h"
#include "support/near.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define CRANK TRADE_SLOT_CRANK
#define BRACKET TRADE_SLOT_BOTTOM_BRACKET
#define CUPS TRADE_SLOT_CUP_SPACERS
#define FRONT TRADE_SLOT_FRONT_DERAILLEUR

static struct probe arms(double new_mm, double now_mm) {
    struct probe p;
    probe_init(&p, &fit_arm_length);
    probe_number(&p, CRANK, TRADE_CRANK_ARM_MM, new_mm);
    probe_number(&p, FIT_NOW + CRANK, TRADE_CRANK_ARM_MM, now_mm);
    return p;
}

/* The length is kept; a 170 on a child's 152 fits every interface and is the wrong crank. Arms come in steps of 2.5 mm.
 * Common practice. */
static void arm_length(void **state) {
    (void)state;
    struct probe p = arms(170, 170);
    probe_expect(&p, FIT_FITS, "arm-length.same");
    p = arms(172.5, 170);
    probe_expect(&p, FIT_DRAWBACK, "arm-length.other");
    p = arms(172.5, 175);
    probe_expect(&p, FIT_DRAWBACK, "arm-length.other");
    p = arms(175, 170);
    probe_expect(&p, FIT_CLASH, "arm-length.far");
    p = arms(170, 152);
    struct fit_verdict v = probe_expect(&p, FIT_CLASH, "arm-length.far");
    assert_near(v.facts[0].number, 170, 0);
    assert_near(v.facts[1].number, 152, 0);
    assert_int_equal(v.facts[0].decimals, 0);
    p = arms(172.5, 175);
    assert_int_equal(probe_judge(&p).facts[0].decimals, 1);
    probe_sweep(&p, CRANK, TRADE_CRANK_ARM_MM, 175, 190, 0.5, true);
    probe_sweep(&p, CRANK, TRADE_CRANK_ARM_MM, 160, 175, 0.5, false);
    p = arms(170, 152);
    probe_stays(&p, CRANK);
    probe_expect(&p, FIT_SILENT, "");
    p = arms(170, 152);
    probe_open(&p, FIT_NOW + CRANK, TRADE_CRANK_ARM_MM);
    probe_expect(&p, FIT_FITS, "arm-length.unread");
    probe_open(&p, CRANK, TRADE_CRANK_ARM_MM);
    probe_expect_ask(&p, CRANK, TRADE_CRANK_ARM_MM);
}

static void arm_clearance(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_arm_clearance);
    probe_expect(&p, FIT_SILENT, "");
    probe_number(&p, CRANK, TRADE_CRANK_Q_MM, 168);
    probe_expect(&p, FIT_SILENT, "");
    probe_number(&p, FIT_NOW + CRANK, TRADE_CRANK_Q_MM, 168);
    probe_expect(&p, FIT_FITS, "arm-clearance.clears");
    probe_number(&p, FIT_NOW + CRANK, TRADE_CRANK_Q_MM, 170);
    probe_expect(&p, FIT_FITS, "arm-clearance.narrower");
    probe_number(&p, FIT_FRAME, TRADE_FRAME_LEAST_Q_MM, 168);
    probe_expect(&p, FIT_FITS, "arm-clearance.clears");
    probe_number(&p, CRANK, TRADE_CRANK_Q_MM, 167.5);
    probe_expect(&p, FIT_CLASH, "arm-clearance.close");
    probe_sweep(&p, CRANK, TRADE_CRANK_Q_MM, 150, 190, 1, false);
    probe_number(&p, CRANK, TRADE_CRANK_Q_MM, 150);
    probe_stays(&p, CRANK);
    probe_expect(&p, FIT_SILENT, "");
}

static struct probe spindles(unsigned crank, unsigned bracket) {
    struct probe p;
    probe_init(&p, &fit_spindle);
    probe_word(&p, CRANK, TRADE_CRANK_SPINDLE, crank);
    probe_word(&p, BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE, bracket);
    return p;
}

/* Every kind fits its own and, but for those named below, no other: three spline families that do not interchange, and
 * hollow spindles of 24, 28.99 and 30 mm (The complete guide to bottom bracket standards, BikeRadar, 2019). */
static void spindle_kinds(void **state) {
    (void)state;
    for (unsigned crank = 0; crank < TRADE_SPINDLE_COUNT; crank++) {
        for (unsigned bracket = 0; bracket < TRADE_SPINDLE_COUNT; bracket++) {
            struct probe p = spindles(crank, bracket);
            bool square = crank <= TRADE_SPINDLE_SQUARE_ISO && bracket <= TRADE_SPINDLE_SQUARE_ISO;
            bool sleeved = crank == TRADE_SPINDLE_HOLLOW_24 && bracket == TRADE_SPINDLE_HOLLOW_30;
            bool unsure = crank == TRADE_SPINDLE_STEPPED_24_22 && bracket == TRADE_SPINDLE_HOLLOW_24;
            if (crank == bracket) {
                probe_expect(&p, FIT_FITS, "spindle.fits");
            } else if (square) {
                probe_expect(&p, FIT_CLASH, "spindle.mixed");
            } else if (sleeved) {
                probe_expect(&p, FIT_DRAWBACK, "spindle.sleeves");
            } else if (unsure) {
                probe_expect(&p, FIT_DRAWBACK, "spindle.try");
            } else {
                probe_expect(&p, FIT_CLASH, "spindle.other");
            }
        }
    }
}

/* What the old crank turned on, a new one of its kind turns on, also on a mix of tapers. What stands there and does not
 * match is told, so that an open spindle end can be inferred from the crank. */
static void spindle_as_now(void **state) {
    (void)state;
    struct probe p = spindles(TRADE_SPINDLE_SQUARE_JIS, TRADE_SPINDLE_SQUARE_ISO);
    probe_word(&p, FIT_NOW + CRANK, TRADE_CRANK_SPINDLE, TRADE_SPINDLE_SQUARE_JIS);
    probe_expect(&p, FIT_CLASH, "spindle.mixed");
    probe_stays(&p, BRACKET);
    probe_expect(&p, FIT_FITS, "spindle.fits");
    probe_word(&p, FIT_NOW + CRANK, TRADE_CRANK_SPINDLE, TRADE_SPINDLE_SQUARE_ISO);
    probe_expect(&p, FIT_CLASH, "spindle.mixed");
    probe_word(&p, FIT_NOW + CRANK, TRADE_CRANK_SPINDLE, TRADE_SPINDLE_SQUARE_JIS);
    probe_stays(&p, CRANK);
    probe_expect(&p, FIT_CLASH, "spindle.mixed");
}

static struct probe in_shell(unsigned shell, double width_mm, unsigned bracket, double least_mm, double widest_mm) {
    struct probe p;
    probe_init(&p, &fit_shell);
    probe_word(&p, FIT_FRAME, TRADE_FRAME_SHELL, shell);
    probe_number(&p, FIT_FRAME, TRADE_FRAME_SHELL_WIDTH_MM, width_mm);
    probe_word(&p, BRACKET, TRADE_BOTTOM_BRACKET_SHELL, bracket);
    probe_number(&p, BRACKET, TRADE_BOTTOM_BRACKET_LEAST_SHELL_MM, least_mm);
    probe_number(&p, BRACKET, TRADE_BOTTOM_BRACKET_WIDEST_SHELL_MM, widest_mm);
    return p;
}

/* Hands of the drive-side cup. English, Italian, French: Bottom bracket threading chart, BikeRaceInfo; English also DIN ISO
 * 6696, scope. Swiss: mailing-list post, Classic Rendezvous, 2006. T47: from memory. */
static void hands(void **state) {
    (void)state;
    static const struct {
        unsigned shell, hand;
        double width_mm;
    } threads[] = {{TRADE_SHELL_ENGLISH, TRADE_HAND_LEFT, 68},
                   {TRADE_SHELL_ITALIAN, TRADE_HAND_RIGHT, 70},
                   {TRADE_SHELL_FRENCH, TRADE_HAND_RIGHT, 68},
                   {TRADE_SHELL_SWISS, TRADE_HAND_LEFT, 68},
                   {TRADE_SHELL_T47, TRADE_HAND_LEFT, 86.5}};
    for (size_t i = 0; i < sizeof threads / sizeof threads[0]; i++) {
        struct probe p = in_shell(threads[i].shell, threads[i].width_mm, threads[i].shell, 68, 92);
        struct fit_verdict v = probe_expect(&p, FIT_FITS, "shell.threaded");
        assert_int_equal(v.facts[1].domain, TRADE_DOMAIN_HAND);
        assert_int_equal(v.facts[1].word, threads[i].hand);
    }
    struct probe p = in_shell(TRADE_SHELL_PRESS_41, 92, TRADE_SHELL_PRESS_41, 86.5, 92);
    probe_expect(&p, FIT_FITS, "shell.pressed");
}

/* English, French and Swiss shells are 33.6 to 33.9 mm inside (the chart above), so that no bore tells them apart; an
 * Italian one has 34.6 to 34.9 and shows. */
static void other_thread(void **state) {
    (void)state;
    struct probe p = in_shell(TRADE_SHELL_FRENCH, 68, TRADE_SHELL_ENGLISH, 68, 73);
    probe_expect(&p, FIT_CLASH, "shell.alike");
    p = in_shell(TRADE_SHELL_ENGLISH, 68, TRADE_SHELL_FRENCH, 68, 68);
    probe_expect(&p, FIT_CLASH, "shell.alike");
    p = in_shell(TRADE_SHELL_SWISS, 68, TRADE_SHELL_FRENCH, 68, 68);
    probe_expect(&p, FIT_CLASH, "shell.alike");
    p = in_shell(TRADE_SHELL_ITALIAN, 70, TRADE_SHELL_ENGLISH, 68, 73);
    probe_expect(&p, FIT_CLASH, "shell.other");
    p = in_shell(TRADE_SHELL_PRESS_46, 86.5, TRADE_SHELL_PRESS_41, 86.5, 92);
    probe_expect(&p, FIT_CLASH, "shell.other");
}

/* Paint and facing are worth up to half a millimetre. Common practice. */
static void shell_width(void **state) {
    (void)state;
    struct probe p = in_shell(TRADE_SHELL_ENGLISH, 73, TRADE_SHELL_ENGLISH, 68, 68);
    struct fit_verdict v = probe_expect(&p, FIT_CLASH, "shell.width");
    assert_near(v.facts[0].number, 73, 0);
    p = in_shell(TRADE_SHELL_ENGLISH, 68.5, TRADE_SHELL_ENGLISH, 68, 68);
    probe_expect(&p, FIT_FITS, "shell.threaded");
    p = in_shell(TRADE_SHELL_ENGLISH, 68.6, TRADE_SHELL_ENGLISH, 68, 68);
    probe_expect(&p, FIT_CLASH, "shell.width");
    p = in_shell(TRADE_SHELL_ENGLISH, 67.5, TRADE_SHELL_ENGLISH, 68, 73);
    probe_expect(&p, FIT_FITS, "shell.threaded");
    p = in_shell(TRADE_SHELL_ENGLISH, 67.4, TRADE_SHELL_ENGLISH, 68, 73);
    probe_expect(&p, FIT_CLASH, "shell.width");
    probe_sweep(&p, FIT_FRAME, TRADE_FRAME_SHELL_WIDTH_MM, 66, 73, 0.1, false);
    probe_sweep(&p, FIT_FRAME, TRADE_FRAME_SHELL_WIDTH_MM, 70, 75, 0.1, true);
}

/* A new bracket that does not say what it is made for has to be asked; one that stays sits where it sits. */
static void open_bracket(void **state) {
    (void)state;
    static const unsigned properties[] = {TRADE_BOTTOM_BRACKET_SHELL, TRADE_BOTTOM_BRACKET_LEAST_SHELL_MM,
                                          TRADE_BOTTOM_BRACKET_WIDEST_SHELL_MM};
    for (size_t i = 0; i < 3; i++) {
        struct probe p = in_shell(TRADE_SHELL_ENGLISH, 68, TRADE_SHELL_ENGLISH, 68, 68);
        probe_open(&p, BRACKET, properties[i]);
        probe_expect_ask(&p, BRACKET, properties[i]);
        probe_stays(&p, BRACKET);
        probe_expect(&p, FIT_FITS, "shell.stays");
    }
    struct probe p = in_shell(TRADE_SHELL_ITALIAN, 70, TRADE_SHELL_ENGLISH, 68, 68);
    probe_open(&p, BRACKET, TRADE_BOTTOM_BRACKET_LEAST_SHELL_MM); /* no width can make up for the thread */
    probe_expect(&p, FIT_CLASH, "shell.other");
}

/* Off road on 24 mm spindles: 68 mm takes 5 and 2.5 mm, 73 mm takes 2.5 mm on the drive side; on the road 68 mm takes none
 * (all from memory; width over the cups 91.5 and 86.5, Making sense of bottom brackets part 2, Accidental Randonneur blog).
 * One workshop page says otherwise: that is told. */
static void outboard_spacers(void **state) {
    (void)state;
    static const struct {
        double shell_mm;
        unsigned use;
        double drive_mm, other_mm;
    } rows[] = {{68, TRADE_USE_OFF_ROAD, 5, 2.5},
                {68.5, TRADE_USE_OFF_ROAD, 5, 2.5},
                {73, TRADE_USE_OFF_ROAD, 2.5, 0},
                {68, TRADE_USE_ROAD, 0, 0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct probe p = in_shell(TRADE_SHELL_ENGLISH, rows[i].shell_mm, TRADE_SHELL_ENGLISH, 68, 73);
        probe_word(&p, BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE, TRADE_SPINDLE_HOLLOW_24);
        probe_word(&p, FIT_BIKE, TRADE_BIKE_USE, rows[i].use);
        struct fit_verdict v = probe_expect(&p, FIT_FITS, "shell.spacers");
        assert_near(v.facts[2].number, rows[i].drive_mm, 0);
        assert_near(v.facts[3].number, rows[i].other_mm, 0);
    }
    struct probe p = in_shell(TRADE_SHELL_ENGLISH, 73, TRADE_SHELL_ENGLISH, 68, 73);
    probe_word(&p, BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE, TRADE_SPINDLE_HOLLOW_24);
    probe_word(&p, FIT_BIKE, TRADE_BIKE_USE, TRADE_USE_ROAD); /* no source tells */
    probe_expect(&p, FIT_FITS, "shell.threaded");
}

/* A front derailleur on a plate of 2.5 mm comes off; the bracket stays. No spacers before or after. */
static struct probe plate_off(const struct fit_rule *rule) {
    struct probe p;
    probe_init(&p, rule);
    probe_empty(&p, CUPS);
    probe_empty(&p, FIT_NOW + CUPS);
    probe_empty(&p, FRONT);
    probe_number(&p, FIT_NOW + FRONT, TRADE_FRONT_DERAILLEUR_BRACKET_MM, 2.5);
    probe_word(&p, FIT_NOW + FRONT, TRADE_FRONT_DERAILLEUR_MOUNT, TRADE_FRONT_MOUNT_CUP_BRACKET);
    probe_stays(&p, BRACKET);
    return p;
}

/* Its thickness has to be put back on the drive side, else the chain line lies as much further in; with a cartridge by a
 * plain ring spacer. Common practice. */
static void plate_leaves_gap(void **state) {
    (void)state;
    struct probe p = plate_off(&fit_bracket_spacer);
    struct fit_verdict v = probe_expect(&p, FIT_CLASH, "bracket-spacer.missing");
    assert_near(v.facts[0].number, 2.5, 0);
    probe_word(&p, BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE, TRADE_SPINDLE_HOLLOW_24);
    probe_expect(&p, FIT_CLASH, "bracket-spacer.missing");
    probe_word(&p, BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE, TRADE_SPINDLE_SQUARE_JIS);
    probe_expect(&p, FIT_CLASH, "bracket-spacer.missing-ring");
    probe_number(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 2.5);
    v = probe_expect(&p, FIT_ADAPTER, "bracket-spacer.filled");
    assert_near(v.facts[0].number, 2.5, 0);
    probe_number(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 1.5);
    v = probe_expect(&p, FIT_CLASH, "bracket-spacer.missing-ring");
    assert_near(v.facts[0].number, 1.0, 1e-12);
    probe_sweep(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 0.5, 5, 0.1, false);
    probe_number(&p, BRACKET, FIT_FITTED, 0);
    probe_expect(&p, FIT_FITS, "bracket-spacer.brings-its-own");
}

/* A spacer that lies there already does not fill the gap of the plate as well. */
static void spacers_add_up(void **state) {
    (void)state;
    struct probe p = plate_off(&fit_bracket_spacer);
    probe_number(&p, FIT_NOW + CUPS, TRADE_SPACER_THICKNESS_MM, 1);
    probe_number(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 2.5);
    struct fit_verdict v = probe_expect(&p, FIT_CLASH, "bracket-spacer.missing");
    assert_near(v.facts[0].number, 1.0, 1e-12);
    probe_number(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 3.5);
    probe_expect(&p, FIT_ADAPTER, "bracket-spacer.filled");
}

/* No plate: a band or a tab has none, whatever a default says of its thickness; a plate's mount with a default of 0 has
 * the usual 2.5 mm (from memory). A plate that comes takes a spacer's place. */
static void plate_by_mount(void **state) {
    (void)state;
    struct probe p = plate_off(&fit_bracket_spacer);
    probe_word(&p, FIT_NOW + FRONT, TRADE_FRONT_DERAILLEUR_MOUNT, TRADE_FRONT_MOUNT_BAND_31_8);
    probe_expect(&p, FIT_SILENT, "");
    probe_word(&p, FIT_NOW + FRONT, TRADE_FRONT_DERAILLEUR_MOUNT, TRADE_FRONT_MOUNT_CUP_BRACKET);
    probe_number(&p, FIT_NOW + FRONT, TRADE_FRONT_DERAILLEUR_BRACKET_MM, 0);
    struct fit_verdict v = probe_expect(&p, FIT_CLASH, "bracket-spacer.missing");
    assert_near(v.facts[0].number, 2.5, 0);
    probe_open(&p, FIT_NOW + FRONT, TRADE_FRONT_DERAILLEUR_MOUNT);
    probe_expect(&p, FIT_SILENT, "");
    probe_empty(&p, FIT_NOW + FRONT);
    probe_expect(&p, FIT_SILENT, "");
    probe_number(&p, FRONT, TRADE_FRONT_DERAILLEUR_BRACKET_MM, 2.5);
    probe_word(&p, FRONT, TRADE_FRONT_DERAILLEUR_MOUNT, TRADE_FRONT_MOUNT_CUP_BRACKET);
    v = probe_expect(&p, FIT_FITS, "bracket-spacer.makes-room");
    assert_near(v.facts[0].number, 2.5, 0);
    probe_number(&p, FIT_NOW + FRONT, TRADE_FRONT_DERAILLEUR_BRACKET_MM, 2.5);
    probe_word(&p, FIT_NOW + FRONT, TRADE_FRONT_DERAILLEUR_MOUNT, TRADE_FRONT_MOUNT_CUP_BRACKET);
    probe_expect(&p, FIT_SILENT, ""); /* one plate for another */
}

/* Spacers beyond what belongs there move both arms off centre: a drawback, never the first choice. Common practice. */
static void off_centre(void **state) {
    (void)state;
    struct probe p = plate_off(&fit_cup_spacers);
    probe_number(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 2.5);
    probe_expect(&p, FIT_FITS, "cup-spacers.fits"); /* in the plate's place */
    probe_sweep(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 0.5, 6, 0.1, true);
    probe_number(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 3.5);
    struct fit_verdict v = probe_expect(&p, FIT_DRAWBACK, "cup-spacers.off-centre");
    assert_near(v.facts[0].number, 1.0, 1e-12);
    probe_number(&p, FIT_NOW + CUPS, TRADE_SPACER_THICKNESS_MM, 1); /* that one lay there before */
    probe_expect(&p, FIT_FITS, "cup-spacers.fits");
    probe_number(&p, BRACKET, FIT_FITTED, 0); /* a new bracket brings its own */
    v = probe_expect(&p, FIT_DRAWBACK, "cup-spacers.off-centre");
    assert_near(v.facts[0].number, 3.5, 1e-12);
}

/* Thicknesses nearer than a quarter of a millimetre are one size (common practice); 0.25 and its halves are exact. */
static void one_size(void **state) {
    (void)state;
    struct probe p = plate_off(&fit_bracket_spacer);
    probe_number(&p, FRONT, TRADE_FRONT_DERAILLEUR_BRACKET_MM, 2.25);
    probe_open(&p, FRONT, TRADE_FRONT_DERAILLEUR_MOUNT);
    probe_expect(&p, FIT_SILENT, "");
    probe_number(&p, FRONT, TRADE_FRONT_DERAILLEUR_BRACKET_MM, 2.75);
    probe_expect(&p, FIT_SILENT, "");
    probe_number(&p, FRONT, TRADE_FRONT_DERAILLEUR_BRACKET_MM, 3);
    probe_expect(&p, FIT_FITS, "bracket-spacer.makes-room");
    p = plate_off(&fit_bracket_spacer);
    probe_number(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 2.25);
    probe_expect(&p, FIT_ADAPTER, "bracket-spacer.filled");
    probe_number(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 2.125);
    probe_expect(&p, FIT_CLASH, "bracket-spacer.missing");
    p = plate_off(&fit_cup_spacers);
    probe_number(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 2.75);
    probe_expect(&p, FIT_FITS, "cup-spacers.fits");
    probe_number(&p, CUPS, TRADE_SPACER_THICKNESS_MM, 2.875);
    probe_expect(&p, FIT_DRAWBACK, "cup-spacers.off-centre");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(arm_length),       cmocka_unit_test(arm_clearance),  cmocka_unit_test(spindle_kinds),
        cmocka_unit_test(spindle_as_now),   cmocka_unit_test(hands),          cmocka_unit_test(other_thread),
        cmocka_unit_test(shell_width),      cmocka_unit_test(open_bracket),   cmocka_unit_test(outboard_spacers),
        cmocka_unit_test(plate_leaves_gap), cmocka_unit_test(spacers_add_up), cmocka_unit_test(plate_by_mount),
        cmocka_unit_test(off_centre),       cmocka_unit_test(one_size),
    };
    return cmocka_run_group_tests_name("rules of crank and bottom bracket", tests, NULL, NULL);
}
