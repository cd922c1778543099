/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The front by brute force: every build there is, judged rule by rule, valued by code of its own, and what no other beats
 * kept, by the definition at the top of plan.h. Nothing of src/plan is called but for types.
 */
#ifndef PLAN_BRUTE_H
#define PLAN_BRUTE_H

#include "plan/plan.h"

#define BRUTE_CODES_MAX 512 /* reasons of all rules together */
#define BRUTE_HANGS_MAX 16

/* Sets of reasons, by their place in the registry. */
struct brute_codes {
    uint64_t bits[BRUTE_CODES_MAX / 64];
};

struct brute_way {
    uint32_t rank[TRADE_SLOTS]; /* of the first in slot order: 0 keep, 1 none, 2 + index of the kind's parts */
    struct plan_values values;
    struct fit_case_set cases;
    struct brute_codes drawbacks;
    uint32_t hangs[BRUTE_HANGS_MAX]; /* subject << 16 | property, rising */
    size_t n_hangs;
    uint64_t lists; /* part lists with this result */
};

struct brute {
    struct brute_way *ways; /* what nothing beats; in the order of rank */
    size_t n_ways;
    double tried;  /* builds */
    double fitted; /* of them without a clash, and with the rings and gears that are wished */
};

/* What is asked beyond the wish. All zero: nothing. */
struct brute_beyond {
    bool (*may)(const void *of, enum trade_slot slot, uint32_t rank); /* may the slot hold it? NULL: any */
    const void *of;                                                   /* handed through to may */
    uint32_t may_stay;                                                /* slots whose part may stay, worn or not */
    bool (*waived)(const void *of, const char *rule);                 /* does the rule not count? NULL: none */
};

/* The front under the wish and beyond it. As brute_front. */
void brute_front_beyond(struct brute *out, const struct plan_question *question, const struct brute_beyond *beyond);

/* Fails the test without memory. objectives and bounds are those of the wish as the question has it, the default wish filled
 * in. */
void brute_front(struct brute *out, const struct plan_question *question);
void brute_clear(struct brute *brute);

/* What one build is worth, and whether it is one: false when a rule forbids it or it misses the wish (the budget too).
 * rank: as above. */
bool brute_build(struct brute_way *out, const struct plan_question *question, const struct fit_cases *cases,
                 const uint32_t rank[TRADE_SLOTS]);

/* Under these objectives: is a at least as good as b in all that is compared; does it beat b? */
bool brute_as_good(const struct brute_way *a, const struct brute_way *b, uint32_t objectives);
bool brute_beats(const struct brute_way *a, const struct brute_way *b, uint32_t objectives);

/* A way of a plan in these words. */
void brute_of_plan(struct brute_way *out, const struct plan *plan, const struct plan_way *way);
/* The first thing in which two ways differ, in words; NULL when they are the same in all. */
const char *brute_difference(const struct brute_way *a, const struct brute_way *b);

/* The place of a reason's code in the registry; the first where several rules share it. */
unsigned brute_code(const char *code);

/* Fails the test, saying where, unless the plan and the front by brute force are the same: values, cases, drawbacks, what it
 * hangs on, parts, equals. False instead of failing when quiet. */
bool brute_agrees(const struct brute *brute, const struct plan *plan, bool quiet);

#endif
