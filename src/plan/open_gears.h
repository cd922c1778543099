/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a plan that was stopped leaves open.
 */
#ifndef PLAN_OPEN_GEARS_H
#define PLAN_OPEN_GEARS_H

#include "plan/plan.h"

/* Notes a gearing of which not all ways were looked at. False without memory. */
bool plan_leave_open(struct plan *plan, int32_t lowest, int32_t counted) BASE_CHECKED;

/* Drops the ways that one with a gearing that is open could beat; what is left is final. */
void plan_keep_final(struct plan *plan);

#endif
