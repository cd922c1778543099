/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How much alike two parts of a kind are.
 */
#ifndef PLAN_NEARNESS_H
#define PLAN_NEARNESS_H

#include "plan/plan.h"

/* How far two parts of one kind are apart: the sum over the properties that either has and that rules read. Words and sets of
 * words differ by 1 or not at all; numbers by their difference over the larger, lists by their ends and lengths; what only
 * one of the two tells, by 1. Our own measure: it orders a list, and decides nothing. */
double plan_parts_apart(const struct trade_part *a, const struct trade_part *b);

/* The parts of the catalogue that the slot takes and whose sheets tell enough, but for the part itself: the most alike first;
 * ties by price, then id. In the arena. BASE_NO_MEMORY. */
enum base_status plan_nearest_parts(const struct trade_part ***out, size_t *n, struct base_arena *arena,
                                    const struct plan *plan, enum trade_slot slot,
                                    const struct trade_part *part) BASE_CHECKED;

#endif
