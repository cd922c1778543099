/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Plans of the same bike under other wishes, or asked for more than the wish says: what plan.c, relief.c, conflict.c and
 * why_not.c share.
 */
#ifndef PLAN_RELIEF_H
#define PLAN_RELIEF_H

#include "plan/plan.h"

/* A plan of the same question under another wish; (*out)->beyond can be filled before it is worked out. What follows from bike
 * and catalogue alone it has from plan, which must outlive it. *out is the caller's: plan_free. BASE_NO_MEMORY. */
enum base_status plan_begin_again(struct plan **out, const struct plan *plan,
                                  const struct trade_wish *wish) BASE_CHECKED;

/* A way of the other plan becomes one of this: its drawbacks and hangs are numbered as here, where those that are new are
 * added. */
void plan_adopt(struct plan *plan, const struct plan *other, struct plan_way *way);

/* Searches under plan->wish and fills plan->ways. Any number of rings is one search for each number: what has one ring and
 * what has three share no state, so that one search for all would only be larger. Where mass is compared and may be open, the
 * ways in which it is are a search of their own: whatever two part lists weigh, with an open slot they weigh alike, so that
 * the heavier could not be dropped before that is settled. */
enum base_status plan_work_out(struct plan *plan) BASE_CHECKED;

#endif
