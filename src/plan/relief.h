/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Plans of the same bike under other wishes, or asked for more than the wish says: what plan.c, relief.c, conflict.c and
 * why_not.c share.
 */
#ifndef PLAN_RELIEF_H
#define PLAN_RELIEF_H

#include "plan/plan.h"

/* A plan of the same question, worked out under another wish and, where it is not NULL, what is asked beyond it (borrowed for
 * the call). What follows from bike and catalogue alone it has from plan, which must outlive it. *out is the caller's:
 * plan_free; untouched unless BASE_OK. BASE_NO_MEMORY. */
enum base_status plan_again(struct plan **out, const struct plan *plan, const struct trade_wish *wish,
                            const struct plan_beyond *beyond) BASE_CHECKED;

/* Which wishes there are, and a wish without some of them; bit sets of enum plan_wish_id. Of the number of rings it depends on
 * who asks what is wished instead: plan_give_up leaves it. */
uint32_t plan_wishes_given(const struct trade_wish *wish);
void plan_give_up(struct trade_wish *wish, uint32_t which);

/* A way of the other plan becomes one of this: its drawbacks and hangs are numbered as here, where those that are new are
 * added. */
void plan_adopt(struct plan *plan, const struct plan *other, struct plan_way *way);

/* Searches under plan->wish and fills plan->ways. Any number of rings is one search for each number: what has one ring and
 * what has three share no state, so that one search for all would only be larger. Where mass is compared and may be open, the
 * ways in which it is are a search of their own: whatever two part lists weigh, with an open slot they weigh alike, so that
 * the heavier could not be dropped before that is settled. */
enum base_status plan_work_out(struct plan *plan) BASE_CHECKED;

#endif
