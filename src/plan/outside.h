/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a consumer may still see: the ways in which the slots outside a message may go on.
 */
#ifndef PLAN_OUTSIDE_H
#define PLAN_OUTSIDE_H

#include "plan/message.h"

struct plan_ways {
    const struct plan_span *at; /* in the model's arena */
    uint32_t n;                 /* 0: more than was asked for, or s->failed */
};

/* What a consumer can see of slots together, at most `most`: of the messages that wait and of the leaves that are in none. What
 * was gathered once is found again when the next slot has been joined. between: one way for each kind (plan_order_of). */
struct plan_ways plan_ways_outside(struct plan_searching *s, unsigned consumer, uint32_t slots, bool between,
                                   size_t most);

#endif
