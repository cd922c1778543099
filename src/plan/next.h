/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What to measure next: of all that is open, the value whose reading decides most about the picks for its effort.
 *
 * In each joint case some of the picks stand and some fall. A reading is worth what it tells of that, in bits (C. E.
 * Shannon, A Mathematical Theory of Communication, 1948, section 6), every possible case being as likely as any other; it costs the
 * minutes of the reading and of what comes off for it. A value without usual readings (a hang) tells one bit: the picks
 * that hang on it stand or fall.
 */
#ifndef PLAN_NEXT_H
#define PLAN_NEXT_H

#include "plan/plan.h"

struct plan_next {
    bool any;          /* false: no reading can change which picks stand; the rest is undefined */
    uint8_t subject;   /* as in fit_read */
    uint16_t property; /* enum trade_property, or FIT_VALUE of a measure */
    int dim;           /* in plan->cases.dims; -1 for a value without usual readings */
    uint8_t n;         /* readings; 0 without usual ones */
    uint32_t occurs;   /* bit set of the readings that can occur on this bike */
    /* Of each reading: bit i is set when pick i stands in some case with it. */
    uint32_t stand[FIT_CANDIDATES_MAX];
    uint32_t waiting; /* picks whose standing depends on this value */
};

/* dim -1 and any false when every pick is certain, or there is none. */
void plan_next(struct plan_next *out, const struct plan *plan);

/* What the picks wait for: the values that decide whether one of them stands, those with usual readings first. Without a
 * pick: every value with usual readings that a rule wants. At most max; returns how many. */
size_t plan_asked(struct plan_hang *out, size_t max, const struct plan *plan);

#endif
