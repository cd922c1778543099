/* SPDX-License-Identifier: Apache-2.0 */
#include "trade/part.h"

#include "trade/vocabulary.h"

#include <assert.h>
#include <math.h>

enum base_status trade_part_init(struct trade_part *out, struct base_arena *arena, enum trade_kind kind) {
    size_t n = trade_kind_rows[kind].n;
    struct trade_value *values = base_arena_alloc(arena, n, sizeof *values);
    if (!values) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < n; i++) {
        values[i] = trade_open();
    }
    *out = (struct trade_part){.kind = kind, .stock = -1, .days = -1, .values = values};
    return BASE_OK;
}

static struct trade_value *value_of(const struct trade_part *part, enum trade_property property) {
    const struct trade_kind_row *kind = &trade_kind_rows[part->kind];
    assert(property >= kind->first && (size_t)(property - kind->first) < kind->n);
    return &part->values[property - kind->first];
}

const struct trade_value *trade_get(const struct trade_part *part, enum trade_property property) {
    return value_of(part, property);
}

void trade_set(struct trade_part *part, enum trade_property property, struct trade_value value) {
    *value_of(part, property) = value;
}

double trade_get_number(const struct trade_part *part, enum trade_property property) {
    const struct trade_value *v = value_of(part, property);
    return trade_is_open(v) ? NAN : v->number;
}

int trade_get_word(const struct trade_part *part, enum trade_property property) {
    const struct trade_value *v = value_of(part, property);
    return trade_is_open(v) ? -1 : (int)v->word;
}

bool trade_may_stay(const struct trade_part *part) {
    /* Frame, wheel, bike and rider have no condition: they stay. */
    int property = trade_find_property(part->kind, base_slice_of("condition"));
    if (property < 0) {
        return true;
    }
    switch (trade_get_word(part, (enum trade_property)property)) {
    case TRADE_CONDITION_WORN:
    case TRADE_CONDITION_SEIZED:
    case TRADE_CONDITION_DAMAGED:
        return false;
    default:
        return true;
    }
}
