/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Why not this part, or this pair of parts: does any way hold it, what beats such a way, what stops it, and the nearest part
 * that would do.
 */
#ifndef PLAN_WHY_NOT_H
#define PLAN_WHY_NOT_H

#include "plan/conflict.h"

#define PLAN_ASKED_PARTS 2

struct plan_why_not {
    const struct trade_part *part[PLAN_ASKED_PARTS]; /* of the catalogue */
    enum trade_slot slot[PLAN_ASKED_PARTS];          /* where each was tried */
    size_t n;
    const struct trade_left_out
        *left_out; /* a part whose sheet lacks what a rule needs: nothing below is told; or NULL */

    bool fits;                        /* some way holds it */
    struct plan_way way;              /* fits: one that nothing beats, else the cheapest */
    const struct plan_way *beaten_by; /* fits: a way of the plan that beats it, or NULL; a pick if one does */

    struct plan_conflict conflict; /* fits not: what stands against it */

    const struct trade_part *nearest; /* fits not: the part most like the first that some way holds; NULL: none */
    struct plan_way nearest_way;      /* the cheapest with it */
    bool complete;                    /* false: memory ended it, and what is not told may be there */
};

/* Asks it of a plan that was worked out; n parts of its catalogue, 1 or 2, of different slots. A part that has several
 * places on the bike is tried in each; the first place in which a way holds it counts, else the first. Drawbacks and hangs
 * of the ways are numbered as in plan, which takes on those that it has not met. BASE_NO_MEMORY, BASE_BAD_INPUT when no slot
 * takes a part, or two parts want the same one. */
enum base_status plan_why_not(struct plan_why_not *out, struct plan *plan, const struct trade_part *const *parts,
                              size_t n) BASE_CHECKED;

/* What clashes on the bike as it stands with the parts in their places, of the rules that look at these places; how many.
 * None when they fit or are left out. Room for PLAN_RULES_MAX. */
size_t plan_swapped_clashes(struct fit_finding *out, const struct plan_why_not *why, const struct plan *plan);

#endif
