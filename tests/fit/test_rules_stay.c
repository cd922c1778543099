/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Ring and chain stay.
 *
 * Outside diameters from a table of p (0.6 + cot(180 deg / N)) at 12.7 mm (ASME B29.1): 27 T 116.275, 32 T 136.565,
 * 34 T 144.675, 36 T 152.782, 44 T 185.189, 48 T 201.385 mm. Least clearance 3 mm: How is chainline measured?, general
 * Q&A page. Tolerance of clearances: 0.001 mm, what these diameters are rounded to.
 */
#include "fit/probe.h"
#include "fit/rules.h"
#include "support/near.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define RING TRADE_SLOT_OUTER_RING
#define PLANE (FIT_MEASURE + FIT_OUTER_PLANE)

/* A new ring of 2 mm, nothing else read, and no ring on the bike. */
static struct probe ring(int teeth, double plane_mm) {
    struct probe p;
    probe_init(&p, &fit_stay_clearance_outer);
    probe_number(&p, RING, TRADE_RING_TEETH, teeth);
    probe_number(&p, RING, TRADE_RING_THICKNESS_MM, 2);
    probe_number(&p, PLANE, FIT_VALUE, plane_mm);
    for (unsigned slot = TRADE_SLOT_OUTER_RING; slot <= TRADE_SLOT_INNER_RING; slot++) {
        probe_empty(&p, FIT_NOW + slot);
    }
    return p;
}

static void stay(struct probe *p, double at_60, double at_70, double at_80) {
    probe_number(p, FIT_FRAME, TRADE_FRAME_STAY_60_MM, at_60);
    probe_number(p, FIT_FRAME, TRADE_FRAME_STAY_70_MM, at_70);
    probe_number(p, FIT_FRAME, TRADE_FRAME_STAY_80_MM, at_80);
}

/* 32 T reach 68.2825 mm back: between 35 at 60 and 38 at 70 the face is at 37.48475. The plane 41.48475 leaves just 3. */
static void just_clears(void **state) {
    (void)state;
    struct probe p = ring(32, 41.4858);
    stay(&p, 35, 38, 41);
    struct fit_verdict v = probe_expect(&p, FIT_FITS, "stay-clearance.clears");
    assert_near(v.facts[0].number, 3.001, 0.001);
    assert_near(v.facts[1].number, 3, 0);
    p = ring(32, 41.4838);
    stay(&p, 35, 38, 41);
    v = probe_expect(&p, FIT_CLASH, "stay-clearance.close");
    assert_near(v.facts[0].number, 2.999, 0.001);
}

/* Further out clears better, more teeth and a stay further out clear worse, and none of it turns round. */
static void one_way(void **state) {
    (void)state;
    struct probe p = ring(32, 42);
    stay(&p, 35, 38, 41);
    probe_sweep(&p, PLANE, FIT_VALUE, 36, 50, 0.1, false);
    probe_number(&p, PLANE, FIT_VALUE, 42);
    probe_sweep(&p, RING, TRADE_RING_TEETH, 22, 37, 1, true);
    probe_number(&p, RING, TRADE_RING_TEETH, 32);
    probe_sweep(&p, RING, TRADE_RING_THICKNESS_MM, 1, 5, 0.1, true);
    probe_number(&p, RING, TRADE_RING_THICKNESS_MM, 2);
    probe_sweep(&p, FIT_FRAME, TRADE_FRAME_STAY_70_MM, 30, 50, 0.1, true);
}

/* A stay that bends back in still stands beside the ring where it comes furthest out. */
static void bulging_stay(void **state) {
    (void)state;
    struct probe p = ring(32, 44);
    stay(&p, 41, 36, 36);
    struct fit_verdict v = probe_expect(&p, FIT_CLASH, "stay-clearance.close");
    assert_near(v.facts[0].number, 44 - 1 - 41, 1e-9);
}

/* In front of the first reading the face is no further out than there; behind the last nothing is known. */
static void beyond_readings(void **state) {
    (void)state;
    struct probe p = ring(32, 42);
    probe_number(&p, FIT_FRAME, TRADE_FRAME_STAY_70_MM, 38);
    struct fit_verdict v = probe_expect(&p, FIT_FITS, "stay-clearance.clears");
    assert_near(v.facts[0].number, 42 - 1 - 38, 1e-9);
    probe_number(&p, PLANE, FIT_VALUE, 41.9); /* too close for what is known at 70 */
    probe_expect(&p, FIT_CLASH, "stay-clearance.close");
    probe_number(&p, RING, TRADE_RING_TEETH, 27); /* 58.1 mm: a reading at 60 is nearer to its edge */
    probe_expect_ask(&p, FIT_FRAME, TRADE_FRAME_STAY_60_MM);
    probe_number(&p, FIT_FRAME, TRADE_FRAME_STAY_60_MM, 35);
    probe_expect(&p, FIT_FITS, "stay-clearance.clears");
    probe_number(&p, RING, TRADE_RING_TEETH, 34); /* 72.3 mm */
    probe_expect_ask(&p, FIT_FRAME, TRADE_FRAME_STAY_80_MM);
    probe_number(&p, RING, TRADE_RING_TEETH, 44); /* 92.6 mm */
    probe_expect_ask(&p, FIT_FRAME, TRADE_FRAME_STAY_100_MM);
    probe_number(&p, RING, TRADE_RING_TEETH, 48); /* 100.7 mm: no reading goes that far back */
    probe_expect_ask(&p, FIT_FRAME, TRADE_FRAME_LARGEST_RING_TEETH);
}

static void nothing_read(void **state) {
    (void)state;
    struct probe p = ring(32, 49);
    probe_expect_ask(&p, FIT_FRAME, TRADE_FRAME_STAY_70_MM);
    stay(&p, 35, 38, 41);
    probe_open(&p, PLANE, FIT_VALUE);
    probe_expect_ask(&p, PLANE, FIT_VALUE);
}

/* A ring of 36 T turns at 47 mm now: what is no larger and no further in clears as well. */
static void as_now(void **state) {
    (void)state;
    struct probe p = ring(36, 47);
    probe_number(&p, FIT_NOW + TRADE_SLOT_MIDDLE_RING, TRADE_RING_TEETH, 36);
    probe_number(&p, FIT_NOW + TRADE_SLOT_MIDDLE_RING, TRADE_RING_PLANE_MM, 47);
    probe_expect(&p, FIT_FITS, "stay-clearance.as-now");
    probe_sweep(&p, RING, TRADE_RING_TEETH, 30, 40, 1, true);
    probe_number(&p, RING, TRADE_RING_TEETH, 36);
    probe_sweep(&p, PLANE, FIT_VALUE, 44, 50, 0.5, false);
    probe_number(&p, PLANE, FIT_VALUE, 46.9);
    probe_expect_ask(&p, FIT_FRAME, TRADE_FRAME_STAY_80_MM);
    probe_number(&p, PLANE, FIT_VALUE, 47);
    probe_number(&p, RING, TRADE_RING_TEETH, 37);
    probe_expect_ask(&p, FIT_FRAME, TRADE_FRAME_STAY_80_MM);
}

/* A ring that stays on crank and bracket that stay turns where it turns, also where no plane and no stay was read, and
 * also where a reading says that it is close: it does turn. New washers are another matter. */
static void stays_in_place(void **state) {
    (void)state;
    struct probe p = ring(32, 40);
    stay(&p, 35, 38, 41);
    probe_stays(&p, RING);
    probe_stays(&p, TRADE_SLOT_CRANK);
    probe_stays(&p, TRADE_SLOT_BOTTOM_BRACKET);
    probe_empty(&p, TRADE_SLOT_RING_WASHERS);
    probe_expect(&p, FIT_FITS, "stay-clearance.as-now");
    probe_open(&p, PLANE, FIT_VALUE);
    probe_expect(&p, FIT_FITS, "stay-clearance.as-now");
    probe_number(&p, TRADE_SLOT_RING_WASHERS, FIT_FITTED, 0);
    probe_expect_ask(&p, PLANE, FIT_VALUE);
    probe_stays(&p, TRADE_SLOT_RING_WASHERS);
    probe_number(&p, TRADE_SLOT_BOTTOM_BRACKET, FIT_FITTED, 0);
    probe_expect_ask(&p, PLANE, FIT_VALUE);
}

/* A new ring in a place that stays where it is, on arms or with no more offset towards the frame: no larger than the old
 * one there, it clears where that cleared, and nobody needs to read a plane for it. */
static void same_place(void **state) {
    (void)state;
    struct probe p = ring(34, 47);
    probe_open(&p, PLANE, FIT_VALUE);
    probe_number(&p, RING, TRADE_RING_OFFSET_MM, 0);
    probe_number(&p, FIT_NOW + RING, TRADE_RING_TEETH, 36);
    probe_number(&p, FIT_NOW + RING, TRADE_RING_OFFSET_MM, 0);
    probe_open(&p, FIT_NOW + RING, TRADE_RING_PLANE_MM);
    probe_empty(&p, TRADE_SLOT_RING_WASHERS);
    probe_expect_ask(&p, FIT_FRAME, TRADE_FRAME_STAY_80_MM); /* on another crank it may lie anywhere */
    probe_stays(&p, TRADE_SLOT_CRANK);
    probe_stays(&p, TRADE_SLOT_BOTTOM_BRACKET);
    probe_expect(&p, FIT_FITS, "stay-clearance.as-now");
    probe_sweep(&p, RING, TRADE_RING_TEETH, 30, 42, 1, true);
    probe_number(&p, RING, TRADE_RING_TEETH, 34);
    probe_sweep(&p, RING, TRADE_RING_OFFSET_MM, -6, 6, 0.5, true);
    probe_open(&p, RING, TRADE_RING_OFFSET_MM);
    probe_expect_ask(&p, FIT_FRAME, TRADE_FRAME_STAY_80_MM);
}

/* The frame maker's largest ring decides where nobody read the stay; a reading goes before it. */
static void makers_largest(void **state) {
    (void)state;
    struct probe p = ring(34, 49);
    probe_number(&p, FIT_FRAME, TRADE_FRAME_LARGEST_RING_TEETH, 34);
    probe_expect(&p, FIT_FITS, "stay-clearance.frame-takes");
    probe_number(&p, RING, TRADE_RING_TEETH, 36);
    struct fit_verdict v = probe_expect(&p, FIT_CLASH, "stay-clearance.frame-refuses");
    assert_near(v.facts[0].number, 34, 0);
    probe_open(&p, PLANE, FIT_VALUE); /* it needs no plane */
    probe_expect(&p, FIT_CLASH, "stay-clearance.frame-refuses");
    probe_sweep(&p, FIT_FRAME, TRADE_FRAME_LARGEST_RING_TEETH, 30, 40, 1, false);
    probe_number(&p, FIT_FRAME, TRADE_FRAME_LARGEST_RING_TEETH, 34);
    probe_number(&p, PLANE, FIT_VALUE, 49);
    stay(&p, 35, 38, 41); /* 36 T reach 76.4 mm: the face is at 39.9 there, and leaves 8 mm */
    probe_expect(&p, FIT_FITS, "stay-clearance.clears");
}

/* The three places are one rule with three planes. */
static void each_place(void **state) {
    (void)state;
    static const struct {
        const struct fit_rule *rule;
        unsigned slot, measure;
    } of[] = {{&fit_stay_clearance_outer, TRADE_SLOT_OUTER_RING, FIT_OUTER_PLANE},
              {&fit_stay_clearance_middle, TRADE_SLOT_MIDDLE_RING, FIT_MIDDLE_PLANE},
              {&fit_stay_clearance_inner, TRADE_SLOT_INNER_RING, FIT_INNER_PLANE}};
    for (size_t i = 0; i < 3; i++) {
        struct probe p;
        probe_init(&p, of[i].rule);
        probe_number(&p, of[i].slot, TRADE_RING_TEETH, 32);
        probe_number(&p, of[i].slot, TRADE_RING_THICKNESS_MM, 2);
        stay(&p, 35, 38, 41);
        probe_number(&p, FIT_MEASURE + of[i].measure, FIT_VALUE, 44);
        probe_expect(&p, FIT_FITS, "stay-clearance.clears");
        probe_number(&p, FIT_MEASURE + of[i].measure, FIT_VALUE, 39);
        probe_expect(&p, FIT_CLASH, "stay-clearance.close");
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(just_clears),     cmocka_unit_test(one_way),      cmocka_unit_test(bulging_stay),
        cmocka_unit_test(beyond_readings), cmocka_unit_test(nothing_read), cmocka_unit_test(as_now),
        cmocka_unit_test(stays_in_place),  cmocka_unit_test(same_place),   cmocka_unit_test(makers_largest),
        cmocka_unit_test(each_place),
    };
    return cmocka_run_group_tests_name("ring and stay", tests, NULL, NULL);
}
