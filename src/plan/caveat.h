/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Caveats: what is said against a part list, beside its sums. The cases in which it fits, its drawbacks, what it hangs on.
 * Each set of them that is met gets a number. At the root many results differ in nothing else.
 */
#ifndef PLAN_CAVEAT_H
#define PLAN_CAVEAT_H

#include "plan/message.h"

struct plan_caveat {
    uint64_t drawbacks, hangs;
    uint32_t cases; /* number in model->cases */
    uint32_t zero;  /* padding, always 0 */
};

/* Those that are met where the states of two sides are paired. */
struct plan_caveats {
    struct plan_intern all; /* of struct plan_caveat */
    uint32_t *of[2];        /* of each state of either side: the number of its own */
    uint32_t n_own;         /* the numbers of states are below it */
    uint32_t *both;         /* of one of the first side's and one of these together; PLAN_NO_ID: not worked out yet */
};

/* Of the states of two sides, whose words from `gathered` on are what was gathered. s->failed without memory. */
void plan_caveats_init(struct plan_searching *s, struct plan_caveats *out, struct base_arena *arena,
                       const struct plan_message side[2], unsigned gathered);

/* The number of what was gathered; PLAN_NO_ID and s->failed without memory. */
uint32_t plan_caveat_of(struct plan_searching *s, struct plan_caveats *caveats, const uint32_t *gathered);
/* Of a state of the first side and one of the second together. */
uint32_t plan_caveat_of_both(struct plan_searching *s, struct plan_caveats *caveats, uint32_t a, uint32_t b);
/* Is nothing said against the first that is not said against the second? */
bool plan_caveat_no_worse(struct plan_searching *s, const struct plan_caveats *caveats, uint32_t a, uint32_t b);

/* How much is said against it: by the number of drawbacks and of what it hangs on, then by the cases in which it does not
 * fit. */
uint32_t plan_caveat_weight(const struct plan_searching *s, const struct plan_caveats *caveats, uint32_t caveat);

#endif
