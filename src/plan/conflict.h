/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Why there is no way: what stands against each other.
 *
 * A constraint is one wish, one slot that must keep its part, one part that may not stay since it is worn, seized or
 * damaged, or one rule. A conflict is a set of constraints that no build meets; a minimal one loses that when any one of
 * them is dropped.
 */
#ifndef PLAN_CONFLICT_H
#define PLAN_CONFLICT_H

#include "plan/plan.h"

enum plan_stop_kind {
    PLAN_STOP_WISH,      /* what: enum plan_wish_id, but for PLAN_WISH_KEEP */
    PLAN_STOP_KEEP,      /* what: a slot that the wish keeps */
    PLAN_STOP_CONDITION, /* what: a slot whose part may not stay */
    PLAN_STOP_RULE       /* what: index in fit_rules, of the first of its id */
};

/* One member of a conflict, and the cheapest way that opens when it alone is dropped. */
struct plan_stop {
    enum plan_stop_kind kind;
    unsigned what;
    struct plan_values values;
    struct fit_build build;
};

#define PLAN_STOPS_MAX 16

struct plan_conflict {
    struct plan_stop stops[PLAN_STOPS_MAX];
    size_t n;      /* 0: no build whatever is dropped: a slot has nothing to hold */
    bool complete; /* false: memory or PLAN_STOPS_MAX ended it; stops means nothing */
};

/* A minimal conflict of a question that has no way under plan->wish and beyond (NULL: nothing beyond). What can be given up
 * comes first: if that opens a way, the members are wishes, kept slots and conditions, and the rules hold as they do. Else
 * nothing that is given up helps, and the members are rules, under no wish at all. Among several conflicts the one whose last
 * member comes first in the order of the kinds. Costs about n log2(constraints) + n plans of least cost. BASE_NO_MEMORY. */
enum base_status plan_conflict(struct plan_conflict *out, const struct plan *plan,
                               const struct plan_beyond *beyond) BASE_CHECKED;

/* What the rule of a PLAN_STOP_RULE says of the build that opens without it: of the first of its places that clashes there,
 * or else hangs on something. False when none does, and for the other kinds. */
bool plan_stop_finding(struct fit_finding *out, const struct plan *plan, const struct plan_stop *stop);

#endif
