/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a slot of a build may hold, as ranks: 0 keep, 1 none, 2 + index of the kind's parts in the catalogue. The order of
 * the ranks is the order of ties.
 */
#ifndef PLAN_CHOICE_H
#define PLAN_CHOICE_H

#include "plan/plan.h"

/* One more than the highest rank of a slot. */
uint32_t plan_ranks(const struct plan *plan, enum trade_slot slot);
/* What a rank stands for; the part is the bike's or the catalogue's. */
struct fit_choice plan_choice(const struct plan *plan, enum trade_slot slot, uint32_t rank);
/* Does the slot take the part, by its kind, side and place? */
bool plan_takes(enum trade_slot slot, const struct trade_part *part);
/* May the slot hold it: by the wish, the part's condition, the side or place, and what its sheet says? */
bool plan_may(const struct plan *plan, enum trade_slot slot, uint32_t rank);

#endif
