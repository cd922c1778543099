/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A part that is here instead of one that must be ordered. Of equal ways the plan shows the first by part number, whatever is
 * in stock; this says so where another would do.
 */
#ifndef PLAN_STAND_IN_H
#define PLAN_STAND_IN_H

#include "plan/plan.h"

/* A part of the shop that is in stock, for a slot of the way whose new part is not: with it the way has the same values in all
 * that the wish compares, and the same cases, drawbacks and open values. The first by part number; NULL when there is none,
 * or the part is here, or the list does not tell its stock. */
const struct trade_part *plan_stand_in(const struct plan *plan, const struct plan_way *way, enum trade_slot slot);

#endif
