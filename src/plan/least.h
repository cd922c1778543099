/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The shortcut at the root: pairs that are beaten need not be made.
 *
 * Gearings are worked through with the lower lowest gear first. Of the results so far that have no drawback and fit in every
 * case a row is kept for each highest gear that occurs: the least cost of those that are at least as fast, by line error or by mass.
 * What costs more is beaten, whatever else it is: the row is at any time the cost of real builds.
 */
#ifndef PLAN_LEAST_H
#define PLAN_LEAST_H

#include "plan/join.h"

struct plan_least {
    bool on; /* at the root, when gears and line, or gears and mass, are all that is compared beside cost */
    bool by_mass;
    int32_t offset;   /* of a row's first entry: the least mass that occurs; 0 by line */
    int32_t lightest; /* least mass of the second side */
    uint32_t n;       /* entries of a row */
    int32_t *counted; /* the highest gears that occur, rising */
    uint32_t n_rows;
    int64_t *rows; /* of counted: row after row */
    uint32_t row;  /* of the gearing that is worked on */
    bool changed;  /* it, since that was begun */
};

/* For a join whose result is `root`; off unless that is the root of the tree and it can help. */
void plan_least_init(struct plan_searching *s, struct plan_least *out, const struct plan_join *join,
                     const struct plan_message *root);
/* A gearing with this highest gear is worked on from here. */
void plan_least_begin(struct plan_least *least, int32_t counted);
/* Are all results of this state of the first side with any of the second beaten that cost at least this? By the line of the
 * first alone, which no pair undercuts. */
bool plan_least_rejects(const struct plan_least *least, const struct plan_join *join, uint32_t a, int64_t cost);
/* Is this result of a pair that was not rejected? */
bool plan_least_beats(const struct plan_least *least, const struct plan_label *label);
/* A result was found: what is no better and dearer need not be looked at any more. */
void plan_least_learns(struct plan_least *least, const uint32_t *gathered, const struct plan_label *label);

#endif
