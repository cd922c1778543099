/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A bike's parts stand together, so that they fit: each tells of its neighbours. What follows from a neighbour is known
 * from a table at best.
 */
#include "trade/complete.h"
#include "trade/vocabulary.h"

struct trade_part *trade_part_in(struct trade_bike *bike, enum trade_slot slot) {
    return trade_bike_has(bike, slot) ? &bike->fitted[slot].part : NULL;
}

void trade_share(struct trade_part *a, enum trade_property of_a, struct trade_part *b, enum trade_property of_b) {
    if (a && b) {
        struct trade_value from_b = trade_follows(trade_get(b, of_b));
        trade_fill(b, of_b, trade_follows(trade_get(a, of_a)));
        trade_fill(a, of_a, from_b);
    }
}

bool trade_has_word(const struct trade_part *part, enum trade_property property, unsigned word) {
    return part && trade_get_word(part, property) == (int)word;
}

/* A part that stands in a slot is one for that side or place. */
static void say_slots(struct trade_bike *bike) {
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        enum trade_property property;
        unsigned word;
        struct trade_part *part = trade_part_in(bike, slot);
        if (part && trade_slot_wants(slot, &property, &word)) {
            trade_fill(part, property, trade_word(word, BASE_TABLE));
        }
    }
}

/* A shifter that is built into the lever is carried by it, any other is not; and the other way round. */
static void fit_lever(struct trade_bike *bike, enum trade_slot shifter_slot, enum trade_slot lever_slot) {
    struct trade_part *shifter = trade_part_in(bike, shifter_slot);
    struct trade_part *lever = trade_part_in(bike, lever_slot);
    if (!shifter || !lever) {
        return;
    }
    const struct trade_value *seat = trade_get(shifter, TRADE_SHIFTER_SEAT);
    const struct trade_value *carries = trade_get(lever, TRADE_BRAKE_LEVER_CARRIES_SHIFTER);
    if (!trade_is_open(seat)) {
        bool built_in = seat->word == TRADE_SEAT_IN_LEVER;
        trade_fill(lever, TRADE_BRAKE_LEVER_CARRIES_SHIFTER,
                   trade_word(built_in ? TRADE_YES_NO_YES : TRADE_YES_NO_NO, trade_follows(seat).known));
    } else if (trade_has_word(lever, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_YES)) {
        trade_fill(shifter, TRADE_SHIFTER_SEAT, trade_word(TRADE_SEAT_IN_LEVER, trade_follows(carries).known));
    }
}

static void fit_levers(struct trade_bike *bike) {
    fit_lever(bike, TRADE_SLOT_RIGHT_SHIFTER, TRADE_SLOT_RIGHT_BRAKE_LEVER);
    fit_lever(bike, TRADE_SLOT_LEFT_SHIFTER, TRADE_SLOT_LEFT_BRAKE_LEVER);
}

/* A shifter on the down tube sits on a boss. */
static void fit_bosses(struct trade_bike *bike) {
    static const enum trade_slot slots[] = {TRADE_SLOT_RIGHT_SHIFTER, TRADE_SLOT_LEFT_SHIFTER};
    for (size_t i = 0; i < sizeof slots / sizeof slots[0]; i++) {
        struct trade_part *shifter = trade_part_in(bike, slots[i]);
        if (trade_has_word(shifter, TRADE_SHIFTER_SEAT, TRADE_SEAT_DOWN_TUBE)) {
            enum base_known known = trade_follows(trade_get(shifter, TRADE_SHIFTER_SEAT)).known;
            trade_fill(&bike->frame, TRADE_FRAME_DOWN_TUBE_BOSSES, trade_word(TRADE_YES_NO_YES, known));
        }
    }
}

enum base_status trade_bike_complete(struct trade_bike *bike) {
    trade_complete_wheel(&bike->wheel); /* the rim's bead seat is the tyre's */
    say_slots(bike);
    trade_complete_rear(bike);
    trade_complete_front(bike);
    fit_levers(bike);
    fit_bosses(bike);
    trade_part_complete(&bike->self);
    trade_part_complete(&bike->frame);
    trade_part_complete(&bike->wheel);
    trade_rider_complete(&bike->rider, bike);
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        struct trade_part *part = trade_part_in(bike, slot);
        if (part) {
            trade_part_complete(part);
        }
    }
    return BASE_OK;
}
