/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What jobs need from the shelf and from the suppliers: the same part of several jobs stands once.
 */
#ifndef WORK_BUY_H
#define WORK_BUY_H

#include "base/arena.h"
#include "trade/shop.h"

#define WORK_JOBS_MAX 64

struct work_buy {
    const struct trade_part *part; /* of the list of today; borrowed */
    int32_t pieces;                /* that all jobs need */
    int32_t from_shelf;            /* of these are here */
    uint64_t jobs;                 /* that need it; bit set */
};

struct work_buys {
    struct work_buy *at; /* in the arena */
    size_t n, room;
    struct base_arena *arena;
};

/* One piece more for a job, 0 to WORK_JOBS_MAX - 1. BASE_NO_MEMORY. */
enum base_status work_buy_add(struct work_buys *buys, const struct trade_part *part, unsigned job) BASE_CHECKED;

/* Takes from the shelf what is there, and sorts: by supplier, compared as bytes, those without one last; then by kind and
 * id. Where the list does not say how many are here, all are to be ordered. */
void work_buy_settle(struct work_buys *buys);

/* Pieces that must be ordered. */
int32_t work_to_order(const struct work_buy *buy);

#endif
