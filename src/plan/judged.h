/* SPDX-License-Identifier: Apache-2.0 */
/*
 * One consumer at a join: what it has seen on either side are few numbers, and a table over pairs of them says what it answers
 * (it is whole then) or what it has seen of both (it is open still).
 */
#ifndef PLAN_JUDGED_H
#define PLAN_JUDGED_H

#include "plan/unify.h"

/* One side as one consumer sees it. */
struct plan_view {
    struct plan_glimpses seen; /* distinct numbers */
    uint32_t *of;              /* of each state: which of them */
    uint32_t *class; /* of each of them: those of one class are answered alike with everything on the other side */
    uint32_t n_classes;
};

struct plan_judged {
    struct plan_consumer *consumer;
    unsigned index;
    bool whole;   /* it sees all of its slots here and is answered */
    bool at_once; /* open, and its table was filled before the pairs */
    struct plan_view side[2];
    uint32_t
        *result;   /* of class a * classes of b + class b: the outcome; or what is seen then, PLAN_DEAD, PLAN_UNASKED */
    uint32_t no;   /* the result that forbids a pair: PLAN_OUTCOME_NO or PLAN_DEAD */
    double allows; /* share of the table that is allowed, as far as it is known before the pairs */
};

static inline uint32_t plan_result(const struct plan_judged *j, uint32_t a, uint32_t b) {
    return j->result[(size_t)a * j->side[1].n_classes + b];
}

/* Fills j, whose consumer, index and whole are set, from the two messages that are joined. An open one's table is filled at once
 * where it is small, so that what can't go on is known before the pairs are made. In scratch. */
void plan_judge_at_join(struct plan_searching *s, struct base_arena *scratch, struct plan_judged *j,
                        const struct plan_message *a, const struct plan_message *b);
/* Does a whole one say more than yes or no? */
bool plan_judged_tells(const struct plan_judged *j);
/* Works out what an open one sees of one pair of numbers. */
void plan_judged_see(struct plan_searching *s, const struct plan_judged *j, uint32_t a, uint32_t b);
/* Puts together what an open one sees where it goes on alike. */
void plan_judged_unify(struct plan_searching *s, struct base_arena *scratch, const struct plan_judged *j,
                       const struct plan_message *a, const struct plan_message *b);

#endif
