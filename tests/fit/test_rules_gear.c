/* SPDX-License-Identifier: Apache-2.0 */
/* What one ring or several ask of the derailleurs, the left shifter and a guide. */
#include "fit/probe.h"
#include "fit/rules.h"
#include "support/near.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define OUTER TRADE_SLOT_OUTER_RING
#define MIDDLE TRADE_SLOT_MIDDLE_RING
#define INNER TRADE_SLOT_INNER_RING
#define CASSETTE TRADE_SLOT_CASSETTE
#define DERAILLEUR TRADE_SLOT_REAR_DERAILLEUR
#define FRONT TRADE_SLOT_FRONT_DERAILLEUR
#define SHIFTER TRADE_SLOT_LEFT_SHIFTER
#define GUIDE TRADE_SLOT_CHAIN_GUIDE
#define BIT(WORD) (UINT64_C(1) << (WORD))

/* Teeth of outer, middle and inner ring; 0 is none. */
static void rings(struct probe *p, int outer, int middle, int inner) {
    const int teeth[] = {outer, middle, inner};
    for (unsigned i = 0; i < 3; i++) {
        if (teeth[i] == 0) {
            probe_empty(p, OUTER + i);
        } else {
            probe_number(p, OUTER + i, TRADE_RING_TEETH, teeth[i]);
        }
    }
}

static struct probe cage(int outer, int middle, int inner, int smallest, int largest, int capacity) {
    struct probe p;
    probe_init(&p, &fit_capacity);
    rings(&p, outer, middle, inner);
    probe_number(&p, CASSETTE, FIT_SMALLEST, smallest);
    probe_number(&p, CASSETTE, FIT_LARGEST, largest);
    probe_number(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH, capacity);
    return p;
}

/* Published sums: 53/39 with 12-23 is 25 (chain-wrap note on a retailer's page), with 12-25 is 27 (Rear derailleur
 * capacity, a shop's blog, 2012); 44/32/24 with 12-34 is 42 (jitetan.com bicycle glossary); 44/32/22 with 11-32 is 43
 * (MTB-News forum thread). One ring: the sprockets alone (De Fietssite). */
static void capacity_sums(void **state) {
    (void)state;
    static const struct {
        int outer, middle, inner, smallest, largest, sum;
    } printed[] = {{53, 0, 39, 12, 23, 25},  {53, 0, 39, 12, 25, 27}, {44, 32, 24, 12, 34, 42},
                   {44, 32, 22, 11, 32, 43}, {32, 0, 0, 11, 51, 40},  {0, 34, 0, 11, 42, 31}};
    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        struct probe p = cage(printed[i].outer, printed[i].middle, printed[i].inner, printed[i].smallest,
                              printed[i].largest, printed[i].sum);
        struct fit_verdict v = probe_expect(&p, FIT_FITS, "capacity.fits");
        assert_near(v.facts[0].number, printed[i].sum, 0);
        probe_number(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH, printed[i].sum - 1);
        probe_expect(&p, FIT_DRAWBACK, "capacity.slack");
        probe_number(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH, printed[i].sum - 3);
        probe_expect(&p, FIT_DRAWBACK, "capacity.slack");
        probe_number(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH, printed[i].sum - 4);
        v = probe_expect(&p, FIT_CLASH, "capacity.over");
        assert_near(v.facts[1].number, printed[i].sum - 4, 0);
        probe_sweep(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH, 15, 50, 1, false);
    }
}

/* 44/32/22 with 11-32 asks 43; a cage of 41 lacks 2, and a sprocket two teeth larger than the smallest takes these up: on
 * the 22 ring the chain is slack under 13 T. From the definition of capacity. */
static void slack_gears(void **state) {
    (void)state;
    struct probe p = cage(44, 32, 22, 11, 32, 41);
    struct fit_verdict v = probe_expect(&p, FIT_DRAWBACK, "capacity.slack");
    assert_near(v.facts[2].number, 22, 0);
    assert_near(v.facts[3].number, 13, 0);
    probe_number(&p, CASSETTE, FIT_SMALLEST, 13);
    probe_expect(&p, FIT_FITS, "capacity.fits");
}

static void one_way_capacity(void **state) {
    (void)state;
    struct probe p = cage(44, 0, 28, 11, 36, 41);
    probe_sweep(&p, CASSETTE, FIT_LARGEST, 25, 50, 1, true);
    probe_number(&p, CASSETTE, FIT_LARGEST, 36);
    probe_sweep(&p, CASSETTE, FIT_SMALLEST, 9, 16, 1, false);
    probe_number(&p, CASSETTE, FIT_SMALLEST, 11);
    probe_sweep(&p, OUTER, TRADE_RING_TEETH, 30, 54, 1, true);
    probe_number(&p, OUTER, TRADE_RING_TEETH, 44);
    probe_sweep(&p, INNER, TRADE_RING_TEETH, 22, 42, 1, false);
}

/* Front differences of about 14 for doubles and 22 for triples are what derailleurs are rated for (De Fietssite); over by
 * two is lived with, common practice. */
static void rated_step(void **state) {
    (void)state;
    struct probe p = cage(50, 0, 36, 11, 28, 50);
    probe_number(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_FRONT_STEP_TEETH, 14);
    probe_expect(&p, FIT_FITS, "capacity.fits");
    probe_number(&p, INNER, TRADE_RING_TEETH, 34);
    struct fit_verdict v = probe_expect(&p, FIT_DRAWBACK, "capacity.wide");
    assert_near(v.facts[0].number, 16, 0);
    assert_near(v.facts[1].number, 14, 0);
    probe_number(&p, INNER, TRADE_RING_TEETH, 33);
    probe_expect(&p, FIT_CLASH, "capacity.too-wide");
    probe_sweep(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_FRONT_STEP_TEETH, 8, 22, 1, false);
    probe_number(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_FRONT_STEP_TEETH, 15); /* wide by two ... */
    probe_number(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH, 20);   /* ... and no cage: the worse is told */
    probe_expect(&p, FIT_CLASH, "capacity.over");
    probe_number(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH, 33); /* both over by two: the slack is told */
    probe_expect(&p, FIT_DRAWBACK, "capacity.slack");
    rings(&p, 0, 0, 0);
    probe_expect(&p, FIT_SILENT, "");
}

/* A one-ring derailleur has no slant for a second ring. Common practice. */
static void single_cage(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_single_cage);
    probe_word(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_SINGLE_ONLY, TRADE_YES_NO_YES);
    probe_expect(&p, FIT_CLASH, "single-cage.several");
    probe_empty(&p, MIDDLE);
    probe_expect(&p, FIT_CLASH, "single-cage.several");
    probe_empty(&p, INNER);
    probe_expect(&p, FIT_FITS, "single-cage.fits");
    probe_empty(&p, OUTER);
    probe_expect(&p, FIT_SILENT, "");
    probe_number(&p, INNER, FIT_PRESENT, 1);
    probe_number(&p, OUTER, FIT_PRESENT, 1);
    probe_word(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_SINGLE_ONLY, TRADE_YES_NO_NO);
    probe_expect(&p, FIT_SILENT, "");
    probe_open(&p, DERAILLEUR, TRADE_REAR_DERAILLEUR_SINGLE_ONLY);
    probe_expect(&p, FIT_SILENT, "");
}

static struct probe front(int outer, int middle, int inner) {
    struct probe p;
    probe_init(&p, &fit_front_shifting);
    rings(&p, outer, middle, inner);
    probe_word(&p, SHIFTER, TRADE_SHIFTER_SEAT, TRADE_SEAT_OWN_CLAMP);
    return p;
}

/* With one ring both come off, but for a shifter that is one piece with its brake lever. Common practice. */
static void one_ring(void **state) {
    (void)state;
    struct probe p = front(0, 34, 0);
    probe_expect(&p, FIT_CLASH, "front-shifting.nothing-to-shift");
    probe_empty(&p, FRONT);
    probe_expect(&p, FIT_CLASH, "front-shifting.shifter-left");
    probe_word(&p, SHIFTER, TRADE_SHIFTER_SEAT, TRADE_SEAT_IN_LEVER);
    probe_expect(&p, FIT_FITS, "front-shifting.idle");
    probe_open(&p, SHIFTER, TRADE_SHIFTER_SEAT);
    probe_expect(&p, FIT_CLASH, "front-shifting.shifter-left");
    probe_empty(&p, SHIFTER);
    probe_expect(&p, FIT_FITS, "front-shifting.nothing-left");
}

static void several_rings(void **state) {
    (void)state;
    struct probe p = front(46, 0, 30);
    probe_number(&p, FRONT, TRADE_FRONT_DERAILLEUR_STEP_TEETH, 16);
    probe_expect(&p, FIT_FITS, "front-shifting.shifts");
    probe_open(&p, FRONT, TRADE_FRONT_DERAILLEUR_STEP_TEETH);
    probe_expect(&p, FIT_FITS, "front-shifting.shifts");
    probe_number(&p, FRONT, TRADE_FRONT_DERAILLEUR_STEP_TEETH, 14);
    struct fit_verdict v = probe_expect(&p, FIT_DRAWBACK, "front-shifting.wide");
    assert_near(v.facts[0].number, 16, 0);
    probe_number(&p, FRONT, TRADE_FRONT_DERAILLEUR_STEP_TEETH, 13);
    probe_expect(&p, FIT_CLASH, "front-shifting.too-wide");
    probe_sweep(&p, FRONT, TRADE_FRONT_DERAILLEUR_STEP_TEETH, 8, 22, 1, false);
    probe_empty(&p, SHIFTER); /* what is missing is another rule's */
    probe_expect(&p, FIT_SILENT, "");
    rings(&p, 0, 0, 0);
    probe_expect(&p, FIT_SILENT, "");
}

/* Two rings want a front derailleur and a left shifter. Common practice. */
static void what_shifts_them(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_front_parts);
    probe_empty(&p, MIDDLE);
    probe_expect(&p, FIT_FITS, "front-parts.there");
    probe_empty(&p, SHIFTER);
    probe_expect(&p, FIT_CLASH, "front-parts.no-shifter");
    probe_empty(&p, FRONT);
    probe_expect(&p, FIT_CLASH, "front-parts.no-derailleur");
    probe_empty(&p, INNER);
    probe_expect(&p, FIT_SILENT, "");
}

/* Wide and narrow teeth hold the chain on a single ring; a front derailleur does not get it off them. Common practice. */
static void teeth_that_hold(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_rings_shift);
    probe_empty(&p, MIDDLE);
    probe_word(&p, OUTER, TRADE_RING_PROFILE, TRADE_PROFILE_RAMPED);
    probe_word(&p, INNER, TRADE_RING_PROFILE, TRADE_PROFILE_PLAIN);
    probe_expect(&p, FIT_FITS, "rings-shift.shift");
    probe_open(&p, INNER, TRADE_RING_PROFILE);
    probe_expect(&p, FIT_FITS, "rings-shift.shift");
    probe_word(&p, OUTER, TRADE_RING_PROFILE, TRADE_PROFILE_WIDE_NARROW);
    probe_expect(&p, FIT_CLASH, "rings-shift.hold-new");
    probe_stays(&p, OUTER);
    probe_expect(&p, FIT_DRAWBACK, "rings-shift.hold-old");
    probe_empty(&p, INNER);
    probe_expect(&p, FIT_SILENT, "");
}

/* The total difference of a triple is what counts: 44/32/22 spans 22. */
static void triple_span(void **state) {
    (void)state;
    struct probe p = front(44, 32, 22);
    probe_number(&p, FRONT, TRADE_FRONT_DERAILLEUR_STEP_TEETH, 22);
    probe_expect(&p, FIT_FITS, "front-shifting.shifts");
    probe_number(&p, FRONT, TRADE_FRONT_DERAILLEUR_STEP_TEETH, 19);
    probe_expect(&p, FIT_CLASH, "front-shifting.too-wide");
}

static void idle_lever(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_left_idle);
    probe_empty(&p, MIDDLE);
    probe_empty(&p, INNER);
    for (unsigned seat = 0; seat < TRADE_SEAT_COUNT; seat++) {
        probe_word(&p, SHIFTER, TRADE_SHIFTER_SEAT, seat);
        bool built_in = seat == TRADE_SEAT_IN_LEVER;
        probe_expect(&p, built_in ? FIT_DRAWBACK : FIT_SILENT, built_in ? "left-idle.idle" : "");
    }
    probe_open(&p, SHIFTER, TRADE_SHIFTER_SEAT);
    probe_expect(&p, FIT_SILENT, "");
    probe_word(&p, SHIFTER, TRADE_SHIFTER_SEAT, TRADE_SEAT_IN_LEVER);
    probe_number(&p, INNER, FIT_PRESENT, 1);
    probe_expect(&p, FIT_SILENT, "");
}

/* By mount: the mark of a band, a tab, threaded holes, a plate's gap. Common practice. */
static void left_behind(void **state) {
    (void)state;
    static const struct {
        unsigned mount;
        const char *reason;
    } rows[] = {
        {TRADE_FRONT_MOUNT_BAND_28_6, "front-left-behind.band"},
        {TRADE_FRONT_MOUNT_BAND_31_8, "front-left-behind.band"},
        {TRADE_FRONT_MOUNT_BAND_34_9, "front-left-behind.band"},
        {TRADE_FRONT_MOUNT_BRAZED_TAB, "front-left-behind.tab"},
        {TRADE_FRONT_MOUNT_DIRECT_LOW, "front-left-behind.holes"},
        {TRADE_FRONT_MOUNT_DIRECT_HIGH, "front-left-behind.holes"},
        {TRADE_FRONT_MOUNT_CUP_BRACKET, "front-left-behind.plate"},
    };
    assert_int_equal(sizeof rows / sizeof rows[0], TRADE_FRONT_MOUNT_COUNT);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct probe p;
        probe_init(&p, &fit_front_left_behind);
        probe_empty(&p, FRONT);
        probe_expect(&p, FIT_FITS, "front-left-behind.unread");
        probe_word(&p, FIT_NOW + FRONT, TRADE_FRONT_DERAILLEUR_MOUNT, rows[i].mount);
        probe_expect(&p, FIT_FITS, rows[i].reason);
        probe_number(&p, FRONT, FIT_PRESENT, 1);
        probe_expect(&p, FIT_SILENT, "");
        probe_empty(&p, FRONT);
        probe_empty(&p, FIT_NOW + FRONT);
        probe_expect(&p, FIT_SILENT, "");
    }
}

static struct probe guide(int outer, int inner) {
    struct probe p;
    probe_init(&p, &fit_chain_guide);
    rings(&p, outer, 0, inner);
    probe_word(&p, GUIDE, TRADE_CHAIN_GUIDE_MOUNT, TRADE_GUIDE_MOUNT_THREE_HOLE);
    probe_number(&p, GUIDE, TRADE_CHAIN_GUIDE_LEAST_TEETH, 28);
    probe_number(&p, GUIDE, TRADE_CHAIN_GUIDE_MOST_TEETH, 38);
    probe_word(&p, GUIDE, TRADE_CHAIN_GUIDE_SINGLE_ONLY, TRADE_YES_NO_YES);
    probe_words(&p, FIT_FRAME, TRADE_FRAME_GUIDE_MOUNTS,
                BIT(TRADE_GUIDE_MOUNT_THREE_HOLE) | BIT(TRADE_GUIDE_MOUNT_BAND));
    return p;
}

/* The frame has its mount, two patterns of tabs told apart; the rings are within its sheet's range; most are for one ring.
 * Common practice. */
static void guides(void **state) {
    (void)state;
    struct probe p = guide(28, 0);
    probe_expect(&p, FIT_FITS, "chain-guide.fits");
    probe_number(&p, OUTER, TRADE_RING_TEETH, 38);
    probe_expect(&p, FIT_FITS, "chain-guide.fits");
    probe_number(&p, OUTER, TRADE_RING_TEETH, 39);
    probe_expect(&p, FIT_CLASH, "chain-guide.large");
    probe_number(&p, OUTER, TRADE_RING_TEETH, 27);
    probe_expect(&p, FIT_CLASH, "chain-guide.small");
    probe_sweep(&p, GUIDE, TRADE_CHAIN_GUIDE_LEAST_TEETH, 20, 34, 1, true);
    p = guide(36, 0);
    probe_sweep(&p, GUIDE, TRADE_CHAIN_GUIDE_MOST_TEETH, 30, 44, 1, false);
    p = guide(36, 0);
    probe_word(&p, GUIDE, TRADE_CHAIN_GUIDE_MOUNT, TRADE_GUIDE_MOUNT_THREE_HOLE_OLD);
    probe_expect(&p, FIT_CLASH, "chain-guide.no-mount");
    p = guide(36, 28);
    probe_expect(&p, FIT_CLASH, "chain-guide.one-ring");
    probe_word(&p, GUIDE, TRADE_CHAIN_GUIDE_SINGLE_ONLY, TRADE_YES_NO_NO);
    probe_expect(&p, FIT_FITS, "chain-guide.fits");
    probe_number(&p, INNER, TRADE_RING_TEETH, 26); /* every ring has to run in it */
    probe_expect(&p, FIT_CLASH, "chain-guide.small");
    rings(&p, 0, 0, 0);
    probe_expect(&p, FIT_SILENT, "");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(capacity_sums),   cmocka_unit_test(slack_gears), cmocka_unit_test(one_way_capacity),
        cmocka_unit_test(rated_step),      cmocka_unit_test(single_cage), cmocka_unit_test(one_ring),
        cmocka_unit_test(several_rings),   cmocka_unit_test(triple_span), cmocka_unit_test(idle_lever),
        cmocka_unit_test(left_behind),     cmocka_unit_test(guides),      cmocka_unit_test(what_shifts_them),
        cmocka_unit_test(teeth_that_hold),
    };
    return cmocka_run_group_tests_name("rules of rings, derailleurs and guide", tests, NULL, NULL);
}
