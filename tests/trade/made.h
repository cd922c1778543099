/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Parts and bikes for tests: what is set is measured. Each made thing is freed by made_clear.
 */
#ifndef TRADE_MADE_H
#define TRADE_MADE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "support/near.h"
#include "trade/bike.h"

#include <string.h>

/* One arena for what a test makes; empty between tests. */
static struct base_arena made;

static inline int made_setup(void **state) {
    (void)state;
    base_arena_init(&made, 0);
    return 0;
}

static inline int made_clear(void **state) {
    (void)state;
    base_arena_clear(&made);
    return 0;
}

static inline struct trade_part made_part(enum trade_kind kind) {
    struct trade_part part;
    assert_int_equal(trade_part_init(&part, &made, kind), BASE_OK);
    return part;
}

/* An empty bike, and for each slot a part of its kind with the id "new". */
static inline int made_bike_and_parts(struct trade_bike *bike, struct trade_part parts[TRADE_SLOTS]) {
    base_arena_init(&made, 0);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        parts[s] = made_part(trade_slot_rows[s].kind);
        parts[s].id = "new";
    }
    return trade_bike_init(bike) == BASE_OK ? 0 : -1;
}

static inline void give(struct trade_part *part, enum trade_property property, double number) {
    trade_set(part, property, trade_number(number, BASE_MEASURED));
}

static inline void give_word(struct trade_part *part, enum trade_property property, unsigned word) {
    trade_set(part, property, trade_word(word, BASE_MEASURED));
}

/* words: a bit for each. */
static inline void give_words(struct trade_part *part, enum trade_property property, uint64_t words) {
    trade_set(part, property, (struct trade_value){.words = words, .known = BASE_MEASURED});
}

static inline void give_name(struct trade_part *part, enum trade_property property, const char *name) {
    trade_set(part, property, (struct trade_value){.name = name, .known = BASE_MEASURED});
}

/* n sprockets from smallest to largest; those between are evenly spread, they decide nothing here. */
static inline void give_sprockets(struct trade_part *cassette, int n, int smallest, int largest) {
    struct trade_counts *counts = base_arena_alloc(&made, 1, sizeof *counts + (size_t)n * sizeof counts->at[0]);
    assert_non_null(counts);
    counts->n = (size_t)n;
    for (int i = 0; i < n; i++) {
        counts->at[i] = (int16_t)(n == 1 ? smallest : smallest + i * (largest - smallest) / (n - 1));
    }
    trade_set(cassette, TRADE_CASSETTE_SPROCKETS, (struct trade_value){.counts = counts, .known = BASE_MEASURED});
}

/* The number, within half of its last printed digit here, and how it is known. */
static inline void assert_number(const struct trade_part *part, enum trade_property property, double expected,
                                 double tolerance, enum base_known known) {
    const struct trade_value *v = trade_get(part, property);
    if (trade_is_open(v)) {
        fail_msg("%s is open", trade_property_rows[property].name);
    }
    assert_near(v->number, expected, tolerance);
    assert_int_equal(v->known, known);
}

static inline void assert_word(const struct trade_part *part, enum trade_property property, unsigned expected,
                               enum base_known known) {
    const struct trade_value *v = trade_get(part, property);
    if (trade_is_open(v)) {
        fail_msg("%s is open", trade_property_rows[property].name);
    }
    assert_int_equal(v->word, expected);
    assert_int_equal(v->known, known);
}

static inline void assert_open(const struct trade_part *part, enum trade_property property) {
    if (!trade_is_open(trade_get(part, property))) {
        fail_msg("%s is not open", trade_property_rows[property].name);
    }
}

/* A bike in whose slot stands a part with all values open. */
static inline struct trade_part *made_in(struct trade_bike *bike, enum trade_slot slot) {
    bike->fitted[slot].state = TRADE_THERE;
    return &bike->fitted[slot].part;
}

#endif
