/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Putting together what goes on alike, whatever comes.
 */
#ifndef PLAN_UNIFY_H
#define PLAN_UNIFY_H

#include "plan/message.h"

#define PLAN_DEAD PLAN_NO_ID           /* seen so that whatever comes is forbidden */
#define PLAN_UNASKED (PLAN_NO_ID - 1u) /* not worked out, since no pair needs it */

/* Of n numbers of what a consumer has seen, each is replaced by the first that goes on alike whatever the slots outside hold, or
 * by PLAN_DEAD; those from PLAN_UNASKED on stay. Numbers are left as they are where it takes more answers than it can spare
 * of `states`: what is put together is never wrong, only larger when left. */
void plan_unify(struct plan_searching *s, struct base_arena *scratch, unsigned consumer, uint32_t outside,
                uint32_t *numbers, size_t n, size_t states);

#endif
