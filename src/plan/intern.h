/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Records of one size, each kept once and known by its number from then on. Numbers count up from 0 in the order of first
 * sight, so that they are the same in every run. Equal means equal bytes: clear padding before filling a record.
 */
#ifndef PLAN_INTERN_H
#define PLAN_INTERN_H

#include "base/arena.h"

#include <stdbool.h>
#include <stdint.h>

#define PLAN_NO_ID UINT32_MAX /* memory is spent */

struct plan_intern {
    struct base_arena *arena; /* owns the records */
    size_t size;              /* bytes of a record, above 0 */
    size_t told;              /* bytes in front that tell records apart; what is behind them is always the same */
    unsigned char *records;
    size_t room; /* records that there is room for */
    uint32_t n;
    uint64_t *slots; /* open-addressed table: upper half of the hash, number + 1; 0 is free */
    size_t n_slots;
};

/* An empty table of records of this size, above 0; arena owns what it grows to. Never fails. */
void plan_intern_init(struct plan_intern *out, struct base_arena *arena, size_t size);
/* Likewise, of records that are told apart by their first bytes. */
void plan_intern_init_told(struct plan_intern *out, struct base_arena *arena, size_t size, size_t told);

/* The number of this record, new or known; PLAN_NO_ID when memory is spent. *is_new may be NULL. */
uint32_t plan_intern_id(struct plan_intern *table, const void *record, bool *is_new);

/* The record of a number; good until the next new record. */
const void *plan_intern_at(const struct plan_intern *table, uint32_t id);

#endif
