/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The order of the work: every operation after those that must come before it, with the least to-and-fro.
 *
 * Phases come one after the other: what is looked at first; everything that comes off; everything that goes on; set-up;
 * final checks. Nothing new goes on before everything that comes off is off, since what the strip-down finds can still
 * change the job.
 *
 * Of all orders that the table's `after` allows, the one that has, in this sequence,
 *   1. the fewest turns of the bike (from one position that is wanted to another),
 *   2. the fewest moves between its ends (from one place to another),
 *   3. the fewest tools taken up that were not in use for the operation before,
 *   4. the earliest operation of the table at the first place where two orders differ.
 * An operation that needs no position, or no tool, leaves what was there as it was. The search is exact: it tries every set of
 * operations that may be done first, and keeps for each what the rest costs at least. The same list gives the same order.
 */
#ifndef WORK_ORDER_H
#define WORK_ORDER_H

#include "base/arena.h"
#include "work/operations.h"

struct work_cost {
    unsigned turns, moves, tools;
};

/* Most operations of one phase. */
#define WORK_PHASE_MAX 64

/* Puts the list into order; its operations are distinct. cost: of that order. BASE_NO_MEMORY: the list is untouched.
 * BASE_NO: more than WORK_PHASE_MAX in a phase, or more sets than limit_sets (0: WORK_SETS_MAX) to try. */
#define WORK_SETS_MAX 2000000
enum base_status work_order(struct work_list *list, struct work_cost *cost, size_t limit_sets) BASE_CHECKED;

/* What an order costs, whether it is allowed or not. */
struct work_cost work_cost_of(const struct work_list *list);

/* Must a come before b wherever both are done? Its phase is earlier, or the table says so. */
bool work_before(enum trade_bench a, enum trade_bench b);

#endif
