/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What plan.c gives to the file that plans other wishes (relief.c).
 */
#ifndef PLAN_RELIEF_H
#define PLAN_RELIEF_H

#include "plan/plan.h"

/* A plan, zeroed before, up to the point where it can be searched; the default wish is filled in. BASE_NO_MEMORY. */
enum base_status plan_set_up(struct plan *plan, const struct plan_question *question) BASE_CHECKED;

/* Searches under plan->wish and fills plan->ways. Any number of rings is one search for each number: what has one ring and
 * what has three share no state, so that one search for all would only be larger. Where mass is compared and may be open, the
 * ways in which it is are a search of their own: whatever two part lists weigh, with an open slot they weigh alike, so that
 * the heavier could not be dropped before that is settled. */
enum base_status plan_work_out(struct plan *plan) BASE_CHECKED;

#endif
