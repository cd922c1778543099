/* SPDX-License-Identifier: Apache-2.0 */
/*
 * One consumer at a join: what it makes of each pair of what it has seen on either side, and which of these go the same way
 * whatever comes.
 */
#ifndef PLAN_UNIFY_H
#define PLAN_UNIFY_H

#include "plan/message.h"

#define PLAN_DEAD PLAN_NO_ID /* seen so that whatever comes is forbidden */

/* One side as one consumer sees it. */
struct plan_view {
    struct plan_glimpses seen; /* distinct numbers */
    uint32_t *of;              /* of each state: which of them */
    uint32_t *class; /* of each of them: those of one class go the same way with everything on the other side */
    uint32_t n_classes;
};

struct plan_judged {
    struct plan_consumer *consumer;
    unsigned index;
    bool whole; /* it sees all of its slots here and is answered */
    struct plan_view side[2];
    uint32_t *result; /* of class a * classes of b + class b: the outcome, or what is seen then, or PLAN_DEAD */
};

/* Fills j, whose consumer, index and whole are set, from the two messages that are joined. In scratch. */
void plan_judge_pair(struct plan_searching *s, struct base_arena *scratch, struct plan_judged *j,
                     const struct plan_message *a, const struct plan_message *b);

#endif
