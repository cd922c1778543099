/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A bike as it stands, in words: what is known of it, what is open, what is wrong with it.
 */
#ifndef EXPLAIN_BIKE_H
#define EXPLAIN_BIKE_H

#include "base/text.h"
#include "plan/plan.h"

struct explain_counts {
    unsigned parts;  /* that somebody has looked at */
    unsigned faults; /* worn, seized, damaged or stuck */
    unsigned rings;
    size_t sprockets; /* 0 when open */
};
struct explain_counts explain_count_bike(const struct trade_bike *bike);

/* Appends the faults of what is in a slot, 'Fault: worn 0.9 %, replaced at 0.75 %*.', each with a blank before it unless
 * out is empty; returns how many. Rings that can't come off are a fault of the outer ring. */
unsigned explain_faults(struct base_buffer *out, const struct trade_bike *bike, enum trade_slot slot);

/* The rings together: '36 and 22 T, ...'; their faults stand behind. Nothing without a ring. */
void explain_rings(struct base_buffer *out, const struct trade_bike *bike);

/* Slots whose part nobody has looked at, or whose condition nobody knows: bit set. */
uint32_t explain_not_looked_at(const struct trade_bike *bike);

/* A slot as it stands before a part: 'rear derailleur', 'cable set'. */
const char *explain_slot(enum trade_slot slot);

/* Names of slots in a list; both brake levers are put together. */
void explain_slots(struct base_buffer *out, uint32_t slots);

#endif
