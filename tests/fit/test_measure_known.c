/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How well a sum over slots is known. A plane that was measured on the bike is as good as the reading, whatever else is only
 * assumed or open, as long as nothing between the reading and the plane is changed (common practice: a rule laid on the
 * ring does not ask how long the spindle is).
 */
#include "fit/judge.h"
#include "trade/vocabulary.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

struct given {
    struct trade_bike bike;
    struct fit_build build;
    struct trade_part part; /* a new one */
};

static void set(struct trade_bike *bike, enum trade_slot slot, enum trade_property property, double number,
                enum base_known known) {
    bike->fitted[slot].state = TRADE_THERE;
    trade_set(&bike->fitted[slot].part, property, trade_number(number, known));
}

/* The outer ring at 50 mm, in place of a square-taper crank on a bracket whose overhang is only assumed. */
static void init(struct given *g) {
    struct trade_bike *bike = &g->bike;
    assert_int_equal(trade_bike_init(bike), BASE_OK);
    set(bike, TRADE_SLOT_CRANK, TRADE_CRANK_OUTER_PLANE_MM, 50, BASE_MEASURED);
    trade_set(&bike->fitted[TRADE_SLOT_CRANK].part, TRADE_CRANK_SPINDLE,
              trade_word(TRADE_SPINDLE_SQUARE_JIS, BASE_MEASURED));
    set(bike, TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE_MM, 113, BASE_MEASURED);
    set(bike, TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_RIGHT_OVERHANG_MM, 0, BASE_ASSUMED);
    trade_set(&bike->fitted[TRADE_SLOT_BOTTOM_BRACKET].part, TRADE_BOTTOM_BRACKET_SPINDLE,
              trade_word(TRADE_SPINDLE_SQUARE_JIS, BASE_MEASURED));
    set(bike, TRADE_SLOT_OUTER_RING, TRADE_RING_OFFSET_MM, 0, BASE_ASSUMED);
    trade_set(&bike->frame, TRADE_FRAME_HUB_WIDTH_MM, trade_number(135, BASE_MEASURED));
    trade_set(&bike->frame, TRADE_FRAME_RECESS_MM, trade_number(0, BASE_MEASURED));
    trade_set(&bike->frame, TRADE_FRAME_GAP_MM, trade_number(4, BASE_MEASURED));
    trade_set(&bike->frame, TRADE_FRAME_REAR_OFFSET_MM, trade_number(0, BASE_MEASURED));
    bike->fitted[TRADE_SLOT_REAR_WHEEL].state = TRADE_THERE;
    set(bike, TRADE_SLOT_CASSETTE, TRADE_CASSETTE_STACK_MM, 36, BASE_MEASURED);
    trade_set(&bike->fitted[TRADE_SLOT_CASSETTE].part, TRADE_CASSETTE_SPROCKET_MM, trade_number(1.8, BASE_MEASURED));
    trade_set(&bike->fitted[TRADE_SLOT_CASSETTE].part, TRADE_CASSETTE_OVERHANG_MM, trade_number(0, BASE_ASSUMED));
    fit_build_now(&g->build, bike);
}

static void is(const struct given *g, enum fit_measure_id id, enum base_known known) {
    assert_int_equal(fit_measure_sum(id, &g->bike, &g->build).known, known);
}

static void renew(struct given *g, enum trade_slot slot, const struct trade_part *like) {
    size_t n = trade_kind_rows[like->kind].n;
    assert_int_equal(trade_part_init(&g->part, &g->bike.arena, like->kind), BASE_OK);
    memcpy(g->part.values, like->values, n * sizeof *like->values);
    g->build.at[slot] = (struct fit_choice){.kind = FIT_NEW, .part = &g->part};
}

static void a_plane_as_it_was_read(void **state) {
    (void)state;
    struct given g;
    init(&g);
    is(&g, FIT_OUTER_PLANE, BASE_MEASURED);
    trade_set(&g.bike.fitted[TRADE_SLOT_BOTTOM_BRACKET].part, TRADE_BOTTOM_BRACKET_SPINDLE_MM, trade_open());
    is(&g, FIT_OUTER_PLANE, BASE_MEASURED); /* its length is in the reading, whatever it is */
    trade_bike_clear(&g.bike);
}

/* The plane is read at the teeth: an offset of the ring that is there is in the reading, once. A flat ring in its stead has its
 * teeth further out by it. */
static void an_offset_counts_once(void **state) {
    (void)state;
    struct given g;
    init(&g);
    trade_set(&g.bike.fitted[TRADE_SLOT_OUTER_RING].part, TRADE_RING_OFFSET_MM, trade_number(3, BASE_MEASURED));
    assert_true(fabs(fit_measure_sum(FIT_OUTER_PLANE, &g.bike, &g.build).mm - 50) < 1e-9);
    is(&g, FIT_OUTER_PLANE, BASE_MEASURED);
    renew(&g, TRADE_SLOT_OUTER_RING, &g.bike.fitted[TRADE_SLOT_OUTER_RING].part);
    trade_set(&g.part, TRADE_RING_OFFSET_MM, trade_number(0, BASE_MEASURED));
    assert_true(fabs(fit_measure_sum(FIT_OUTER_PLANE, &g.bike, &g.build).mm - 53) < 1e-9);
    trade_set(&g.bike.fitted[TRADE_SLOT_OUTER_RING].part, TRADE_RING_OFFSET_MM, trade_open());
    is(&g, FIT_OUTER_PLANE, BASE_OPEN);
    fit_build_now(&g.build, &g.bike);
    is(&g, FIT_OUTER_PLANE, BASE_MEASURED);
    trade_bike_clear(&g.bike);
}

/* So are washers under the ring bolts; they push the outer ring outboard and the inner one inboard (common practice), and one
 * that comes off or is another moves both back. */
static void washers_count_once(void **state) {
    (void)state;
    struct given g;
    init(&g);
    set(&g.bike, TRADE_SLOT_CRANK, TRADE_CRANK_INNER_PLANE_MM, 42, BASE_MEASURED);
    set(&g.bike, TRADE_SLOT_INNER_RING, TRADE_RING_OFFSET_MM, 0, BASE_MEASURED);
    set(&g.bike, TRADE_SLOT_RING_WASHERS, TRADE_SPACER_THICKNESS_MM, 1.5, BASE_MEASURED);
    fit_build_now(&g.build, &g.bike);
    assert_true(fabs(fit_measure_sum(FIT_OUTER_PLANE, &g.bike, &g.build).mm - 50) < 1e-9);
    assert_true(fabs(fit_measure_sum(FIT_INNER_PLANE, &g.bike, &g.build).mm - 42) < 1e-9);
    g.build.at[TRADE_SLOT_RING_WASHERS] = (struct fit_choice){.kind = FIT_NONE};
    assert_true(fabs(fit_measure_sum(FIT_OUTER_PLANE, &g.bike, &g.build).mm - 48.5) < 1e-9);
    assert_true(fabs(fit_measure_sum(FIT_INNER_PLANE, &g.bike, &g.build).mm - 43.5) < 1e-9);
    renew(&g, TRADE_SLOT_RING_WASHERS, &g.bike.fitted[TRADE_SLOT_RING_WASHERS].part);
    trade_set(&g.part, TRADE_SPACER_THICKNESS_MM, trade_number(2.5, BASE_MEASURED));
    assert_true(fabs(fit_measure_sum(FIT_OUTER_PLANE, &g.bike, &g.build).mm - 51) < 1e-9);
    assert_true(fabs(fit_measure_sum(FIT_INNER_PLANE, &g.bike, &g.build).mm - 41) < 1e-9);
    trade_bike_clear(&g.bike);
}

static void a_new_bracket_or_ring_weakens_it(void **state) {
    (void)state;
    static const enum trade_slot slots[] = {TRADE_SLOT_BOTTOM_BRACKET, TRADE_SLOT_OUTER_RING};
    for (unsigned i = 0; i < 2; i++) {
        struct given g;
        init(&g);
        renew(&g, slots[i], &g.bike.fitted[slots[i]].part); /* its like: assumed, too, but of another piece */
        is(&g, FIT_OUTER_PLANE, BASE_ASSUMED);
        trade_bike_clear(&g.bike);
    }
}

static void a_new_bracket_on_a_spindle_that_nobody_read(void **state) {
    (void)state;
    struct given g;
    init(&g);
    renew(&g, TRADE_SLOT_BOTTOM_BRACKET, &g.bike.fitted[TRADE_SLOT_BOTTOM_BRACKET].part);
    trade_set(&g.bike.fitted[TRADE_SLOT_BOTTOM_BRACKET].part, TRADE_BOTTOM_BRACKET_SPINDLE_MM, trade_open());
    is(&g, FIT_OUTER_PLANE, BASE_OPEN);
    trade_bike_clear(&g.bike);
}

/* Spacers that stay are in the reading; those that come off or go on are not. */
static void spacers_of_unknown_thickness(void **state) {
    (void)state;
    static const struct {
        enum trade_slot slot;
        enum fit_measure_id id;
    } spacers[] = {{TRADE_SLOT_CUP_SPACERS, FIT_OUTER_PLANE},
                   {TRADE_SLOT_RING_WASHERS, FIT_OUTER_PLANE},
                   {TRADE_SLOT_CASSETTE_SPACER, FIT_REAR_OUTER}};
    for (unsigned i = 0; i < 3; i++) {
        struct given g;
        init(&g);
        g.bike.fitted[spacers[i].slot].state = TRADE_THERE;
        fit_build_now(&g.build, &g.bike);
        is(&g, spacers[i].id, BASE_MEASURED);
        g.build.at[spacers[i].slot] = (struct fit_choice){.kind = FIT_NONE};
        is(&g, spacers[i].id, BASE_OPEN);
        trade_bike_clear(&g.bike);
    }
}

/* Two unknown lengths do not make up for each other. */
static void a_spacer_and_an_overhang(void **state) {
    (void)state;
    struct given g;
    init(&g);
    g.bike.fitted[TRADE_SLOT_CASSETTE_SPACER].state = TRADE_THERE;
    trade_set(&g.bike.fitted[TRADE_SLOT_CASSETTE].part, TRADE_CASSETTE_OVERHANG_MM, trade_open());
    fit_build_now(&g.build, &g.bike);
    is(&g, FIT_REAR_OUTER, BASE_MEASURED);
    renew(&g, TRADE_SLOT_CASSETTE, &g.bike.fitted[TRADE_SLOT_CASSETTE].part);
    trade_set(&g.part, TRADE_CASSETTE_OVERHANG_MM, trade_number(0, BASE_MEASURED));
    g.build.at[TRADE_SLOT_CASSETTE_SPACER] = (struct fit_choice){.kind = FIT_NONE};
    is(&g, FIT_REAR_OUTER, BASE_OPEN);
    trade_bike_clear(&g.bike);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plane_as_it_was_read),
        cmocka_unit_test(an_offset_counts_once),
        cmocka_unit_test(washers_count_once),
        cmocka_unit_test(a_new_bracket_or_ring_weakens_it),
        cmocka_unit_test(a_new_bracket_on_a_spindle_that_nobody_read),
        cmocka_unit_test(spacers_of_unknown_thickness),
        cmocka_unit_test(a_spacer_and_an_overhang),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
