/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A part: a thing of one kind with the properties that the vocabulary gives that kind.
 *
 * A frame, a wheel with its tyre, the bike itself and the rider are parts too, so that one reader, one set of messages
 * and one way of reading a property serve them all. values[i] belongs to property trade_kind_rows[kind].first + i.
 */
#ifndef TRADE_PART_H
#define TRADE_PART_H

#include "base/arena.h"
#include "trade/value.h"

struct trade_part {
    enum trade_kind kind;
    const char *id;       /* of a catalogue part, else NULL; owned by the arena it was read into */
    const char *supplier; /* of a catalogue part: from whom it is ordered; NULL: not said. Owned as the id */
    int64_t listed_minor; /* catalogue part: as the list has it, with tax where the shop's prices hold it; else 0 */
    int64_t price_minor;  /* the same without tax: what is compared */
    int32_t stock;        /* pieces here; -1 when the list does not say */
    int32_t days;         /* until it can be here; -1 when the list does not say */
    struct trade_value *values; /* trade_kind_rows[kind].n of them; owned by the same arena */
};

/* A part of this kind with every value open. BASE_NO_MEMORY. */
enum base_status trade_part_init(struct trade_part *out, struct base_arena *arena, enum trade_kind kind) BASE_CHECKED;

/* The value of one of the part's own properties; property must belong to part->kind. Never NULL. */
const struct trade_value *trade_get(const struct trade_part *part, enum trade_property property);
void trade_set(struct trade_part *part, enum trade_property property, struct trade_value value);

/* The number, or NAN when it is open. For TRADE_NUMBER and TRADE_COUNT. */
double trade_get_number(const struct trade_part *part, enum trade_property property);
/* The word's index, or -1 when it is open. For TRADE_WORD. */
int trade_get_word(const struct trade_part *part, enum trade_property property);

/* May this part of the bike stay? By its condition: worn, seized and damaged parts go (common practice). */
bool trade_may_stay(const struct trade_part *part);

#endif
