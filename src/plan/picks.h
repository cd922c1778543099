/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Picks: from all ways that nothing beats, the few that a person would want to compare, each named by its purpose.
 */
#ifndef PLAN_PICKS_H
#define PLAN_PICKS_H

#include "plan/plan.h"

#define PLAN_PICKS_MAX 5

/* Sets purposes of the ways, picks and n_picks. For each purpose, in the order of the enum, the way that serves it best;
 * one that already is a pick only gains the purpose. One that differs from a pick by less than the wish's least difference
 * in cost, lowest and highest gear alike is no pick of its own, and only when it is no more certain. */
void plan_name_picks(struct plan *plan);

/* The cheapest way that is cheaper than every pick and was passed over for its highest gear: where no highest gear was wished,
 * picks keep a share of the one of now (limit pick_highest_share), as far as any way does. n_ways when there is none. */
size_t plan_passed_over(const struct plan *plan);

#endif
