/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The search: exact, over a static join tree.
 *
 * A message of a node is a set of states of the node's slots: the values that consumers outside still read, and what has
 * been gathered so far (cases, drawbacks, what it hangs on, opened operations). Each state carries its least costly part
 * lists; where mass is an objective, the staircase of cost against mass. Two part lists of the same slots in one state
 * have the same completions, so the dearer one can be in no answer: what is kept is exact. A node joins the messages of
 * its two children: first the states of each side that answer alike to everything that is judged here are put together,
 * then the pairs are made.
 */
#ifndef PLAN_SEARCH_H
#define PLAN_SEARCH_H

#include "plan/model.h"

/* A part list: one slot's choice, or the part lists of two sets of slots together. Never changes once it is made, and
 * stands in model->arena, so that labels share what they have in common. */
struct plan_parts {
    const struct plan_parts *a, *b; /* NULL both: one slot's choice */
    uint32_t rank;
    uint8_t slot;
};

/* The rank of each slot; 0 where the part list does not reach. NULL is the empty part list. */
void plan_ranks_of(uint32_t rank[TRADE_SLOTS], const struct plan_parts *parts);

/* One part list with its sums; in a message, of the node's slots only. */
struct plan_label {
    int64_t cost;                   /* parts and the labour of the operations that are complete, minor units */
    uint64_t count;                 /* part lists with these sums and this state; saturates */
    const struct plan_parts *parts; /* the first of them in slot order */
    int32_t mass;                   /* g; 0 where mass is no objective, or open in all ways of the search */
};

/* A result: a state of the root with one of its labels. */
struct plan_found {
    struct plan_label label;
    uint32_t rank[TRADE_SLOTS]; /* of its parts */
    uint32_t cases;             /* number in model->cases */
    uint64_t drawbacks, hangs;
    int32_t lowest, counted, line; /* 0 where they are no objective */
    int32_t in_band, walked_m;     /* likewise */
    int32_t tenths, changed;       /* likewise */
};

/* All results in model->arena; dominated ones may still be among them. BASE_NO_MEMORY. */
enum base_status plan_search(struct plan_found **out, size_t *n, struct plan_model *model) BASE_CHECKED;

#endif
