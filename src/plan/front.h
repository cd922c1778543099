/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The front: what nothing beats, from what the searches found.
 */
#ifndef PLAN_FRONT_H
#define PLAN_FRONT_H

#include "plan/search.h"

/* Appends to plan->ways what nothing beats of one search's results and is within the budget. *room: of plan->ways.
 * BASE_NO_MEMORY. */
enum base_status plan_add_ways(struct plan *plan, size_t *room, const struct plan_model *model,
                               const struct plan_found *found, size_t n) BASE_CHECKED;

/* After the last search: where there were several, drops what another search's way beats; gives drawbacks and hangs a fixed
 * order, and sorts the ways as they are shown. */
void plan_settle_front(struct plan *plan, bool several);

#endif
