/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The shortcut at the root: pairs that are beaten need not be made.
 */
#ifndef PLAN_LEAST_H
#define PLAN_LEAST_H

#include "plan/join.h"

/* At the root, the least cost of a result without drawback that fits in every case, at each gearing and line error or
 * better ones. A dearer pair is beaten, whatever else it is, and need not be made. */
struct plan_least {
    bool on;        /* at the root, when gears and line are all that is compared beside cost */
    unsigned gears; /* which judged consumer gives the gears */
    bool by_cost; /* no state of the second side has a line error: of those that give the same gears with a state of the
                       first, all that cost more than one that is rejected are rejected */
    int64_t *cost; /* of outcome * PLAN_LEAST_LINES + line error in steps, at most PLAN_LEAST_LINES - 1 */
    uint32_t n;    /* outcomes that there is room for */
    const struct plan_model *model;
};

/* For a join whose result is `root`; off unless that is the root of the tree and only cost, gears and line are compared. */
void plan_least_init(struct plan_searching *s, struct plan_least *out, const struct plan_join *join,
                     const struct plan_message *root);
/* Is the pair of these two states forbidden, or beaten at this cost? */
bool plan_least_rejects(const struct plan_least *least, const struct plan_join *join, const uint32_t *a,
                        const uint32_t *b, int64_t cost);
/* A result was found: what is no better and dearer need not be looked at any more. */
void plan_least_learns(const struct plan_least *least, const uint32_t *gathered, int64_t cost);

#endif
