/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What is asked for when a sum over slots is open: a length of the bike that nobody knows, never one that was read. Which
 * lengths make up a sum: src/fit/measure.c; a new crank sits on the spindle that stays, half its length out.
 */
#include "fit/judge.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static struct trade_bike bike_with_parts(void) {
    struct trade_bike bike;
    assert_int_equal(trade_bike_init(&bike), BASE_OK);
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        bike.fitted[slot].state = TRADE_THERE;
    }
    return bike;
}

static void asks(const struct trade_bike *bike, enum fit_measure_id id, unsigned subject,
                 enum trade_property property) {
    struct fit_read read = fit_measure_asks(id, bike);
    assert_int_equal(read.subject, subject);
    assert_int_equal(read.property, property);
}

static void know(struct trade_part *part, enum trade_property property) {
    trade_set(part, property, trade_number(50, BASE_MEASURED));
}

static void planes(void **state) {
    (void)state;
    struct trade_bike bike = bike_with_parts();
    struct trade_part *crank = &bike.fitted[TRADE_SLOT_CRANK].part;
    struct trade_part *bracket = &bike.fitted[TRADE_SLOT_BOTTOM_BRACKET].part;
    asks(&bike, FIT_OUTER_PLANE, FIT_NOW + TRADE_SLOT_CRANK, TRADE_CRANK_OUTER_PLANE_MM);
    know(crank, TRADE_CRANK_OUTER_PLANE_MM);
    asks(&bike, FIT_OUTER_PLANE, FIT_NOW + TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE_MM);
    asks(&bike, FIT_INNER_PLANE, FIT_NOW + TRADE_SLOT_CRANK, TRADE_CRANK_INNER_PLANE_MM);
    know(bracket, TRADE_BOTTOM_BRACKET_SPINDLE_MM);
    asks(&bike, FIT_OUTER_PLANE, FIT_NOW + TRADE_SLOT_RING_WASHERS, TRADE_SPACER_THICKNESS_MM);
    know(&bike.fitted[TRADE_SLOT_RING_WASHERS].part, TRADE_SPACER_THICKNESS_MM);
    asks(&bike, FIT_OUTER_PLANE, FIT_NOW + TRADE_SLOT_CUP_SPACERS, TRADE_SPACER_THICKNESS_MM);
    know(&bike.fitted[TRADE_SLOT_CUP_SPACERS].part, TRADE_SPACER_THICKNESS_MM);
    asks(&bike, FIT_OUTER_PLANE, FIT_NOW + TRADE_SLOT_OUTER_RING, TRADE_RING_OFFSET_MM);
    know(&bike.fitted[TRADE_SLOT_OUTER_RING].part, TRADE_RING_OFFSET_MM);
    asks(&bike, FIT_OUTER_PLANE, FIT_NOW + TRADE_SLOT_CRANK, TRADE_CRANK_OUTER_PLANE_MM); /* nothing else is left */
    trade_bike_clear(&bike);
}

static void empty_slot(void **state) {
    (void)state;
    struct trade_bike bike = bike_with_parts();
    bike.fitted[TRADE_SLOT_BOTTOM_BRACKET].state = TRADE_EMPTY;
    bike.fitted[TRADE_SLOT_RING_WASHERS].state = TRADE_EMPTY;
    bike.fitted[TRADE_SLOT_CUP_SPACERS].state = TRADE_EMPTY;
    know(&bike.fitted[TRADE_SLOT_CRANK].part, TRADE_CRANK_MIDDLE_PLANE_MM);
    asks(&bike, FIT_MIDDLE_PLANE, FIT_NOW + TRADE_SLOT_MIDDLE_RING, TRADE_RING_OFFSET_MM);
    trade_bike_clear(&bike);
}

static void rear(void **state) {
    (void)state;
    static const enum fit_measure_id ids[] = {FIT_REAR_MIDDLE, FIT_REAR_OUTER, FIT_REAR_LARGEST};
    static const enum trade_property of_frame[] = {TRADE_FRAME_GAP_MM, TRADE_FRAME_HUB_WIDTH_MM, TRADE_FRAME_RECESS_MM};
    for (unsigned i = 0; i < 3; i++) {
        struct trade_bike bike = bike_with_parts();
        for (unsigned f = 0; f < 3; f++) {
            asks(&bike, ids[i], FIT_FRAME, of_frame[f]);
            know(&bike.frame, of_frame[f]);
        }
        asks(&bike, ids[i], FIT_NOW + TRADE_SLOT_CASSETTE, TRADE_CASSETTE_STACK_MM);
        know(&bike.fitted[TRADE_SLOT_CASSETTE].part, TRADE_CASSETTE_STACK_MM);
        asks(&bike, ids[i], FIT_NOW + TRADE_SLOT_CASSETTE_SPACER, TRADE_SPACER_THICKNESS_MM);
        know(&bike.fitted[TRADE_SLOT_CASSETTE_SPACER].part, TRADE_SPACER_THICKNESS_MM);
        asks(&bike, ids[i], FIT_NOW + TRADE_SLOT_CASSETTE, TRADE_CASSETTE_OVERHANG_MM);
        trade_bike_clear(&bike);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(planes), cmocka_unit_test(empty_slot), cmocka_unit_test(rear)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
