/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A join: the message of two sets of slots from the messages of both.
 *
 * States of a side that every consumer sees or answers alike are put together; a pair of states is then a few looks into the
 * tables of the consumers (judged.h).
 */
#ifndef PLAN_JOIN_H
#define PLAN_JOIN_H

#include "plan/judged.h"

/* What a join works with; freed when it is done. */
struct plan_join {
    struct base_arena *scratch; /* freed when the join is done */
    struct plan_judged judged[PLAN_CONSUMERS_MAX];
    unsigned n_judged;
    uint8_t forbids[PLAN_CONSUMERS_MAX]; /* which forbid pairs, known before these are made; what forbids most first */
    uint8_t tells[PLAN_CONSUMERS_MAX];   /* which are whole and say more than yes or no */
    uint8_t open[PLAN_CONSUMERS_MAX];
    unsigned n_forbids, n_tells, n_open;
    int gears;                   /* which gives the gears, at the root; else -1 */
    uint32_t pay;                /* operations that are complete here */
    struct plan_message side[2]; /* states put together: the class for each judged consumer, then what was gathered */
};

/* Joins a and b into *out, and frees them. s->empty when one of them has no state. */
void plan_join_messages(struct plan_searching *s, struct plan_message *out, struct plan_message *a,
                        struct plan_message *b);

#endif
