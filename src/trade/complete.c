/* SPDX-License-Identifier: Apache-2.0 */
#include "trade/complete.h"

#include "trade/vocabulary.h"

#include <math.h>

/* Figures of a table are equal or they are not. */
static bool equal(double a, double b) { return a >= b && a <= b; }

void trade_hear(struct trade_said *said, double value, enum trade_mark mark) {
    if (isnan(value) || mark == TRADE_MARK_MEM_LOW || (said->any && !equal(said->value, value))) {
        said->unclear = true;
        return;
    }
    said->known = said->any ? base_weakest(said->known, trade_known_of(mark)) : trade_known_of(mark);
    said->value = value;
    said->any = true;
}

static bool can_tell(const struct trade_said *said) { return said->any && !said->unclear; }

struct trade_value trade_said_number(const struct trade_said *said, enum base_known keys) {
    return can_tell(said) ? trade_number(said->value, base_weakest(said->known, keys)) : trade_open();
}

struct trade_value trade_said_word(const struct trade_said *said, enum base_known keys) {
    return can_tell(said) ? trade_word((uint32_t)said->value, base_weakest(said->known, keys)) : trade_open();
}

bool trade_near(double a, double b) { return fabs(a - b) < 0.05; }

void trade_fill(struct trade_part *part, enum trade_property property, struct trade_value value) {
    if (trade_is_open(trade_get(part, property))) {
        trade_set(part, property, value);
    }
}

void trade_fill_default(struct trade_part *part, enum trade_property property) {
    const struct trade_property_row *row = &trade_property_rows[property];
    if (isnan(row->fallback)) {
        return;
    }
    if (row->type == TRADE_WORD) {
        trade_fill(part, property, trade_word((uint32_t)row->fallback, BASE_ASSUMED));
    } else if (row->type == TRADE_NUMBER || row->type == TRADE_COUNT) {
        trade_fill(part, property, trade_number(row->fallback, BASE_ASSUMED));
    }
}

struct trade_value trade_follows(const struct trade_value *value) {
    struct trade_value v = *value;
    v.known = base_weakest(v.known, BASE_TABLE);
    return v;
}

static const struct {
    enum trade_kind kind;
    void (*complete)(struct trade_part *part);
} completions[] = {
    {TRADE_KIND_FRAME, trade_complete_frame},           {TRADE_KIND_WHEEL, trade_complete_wheel},
    {TRADE_KIND_CRANK, trade_complete_crank},           {TRADE_KIND_CHAIN, trade_complete_chain},
    {TRADE_KIND_CASSETTE, trade_complete_cassette},     {TRADE_KIND_FREEHUB_BODY, trade_complete_freehub_body},
    {TRADE_KIND_REAR_WHEEL, trade_complete_rear_wheel}, {TRADE_KIND_REAR_DERAILLEUR, trade_complete_rear_derailleur},
    {TRADE_KIND_SHIFTER, trade_complete_shifter},
};

/* A direct-mount ring has an offset of its own, which nobody may take to be 0. */
static bool default_holds(const struct trade_part *part, enum trade_property property) {
    return property != TRADE_RING_OFFSET_MM || !trade_direct_mount(trade_get_word(part, TRADE_RING_MOUNT));
}

void trade_part_complete(struct trade_part *part) {
    for (size_t i = 0; i < sizeof completions / sizeof completions[0]; i++) {
        if (completions[i].kind == part->kind) {
            completions[i].complete(part);
        }
    }
    const struct trade_kind_row *kind = &trade_kind_rows[part->kind];
    for (size_t i = 0; i < kind->n; i++) {
        enum trade_property property = (enum trade_property)(kind->first + i);
        if (default_holds(part, property)) {
            trade_fill_default(part, property);
        }
    }
}
