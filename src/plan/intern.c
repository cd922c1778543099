/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/intern.h"

#include <string.h>

void plan_intern_init(struct plan_intern *out, struct base_arena *arena, size_t size) {
    plan_intern_init_told(out, arena, size, size);
}

void plan_intern_init_told(struct plan_intern *out, struct base_arena *arena, size_t size, size_t told) {
    *out = (struct plan_intern){.arena = arena, .size = size, .told = told};
}

/* Eight bytes at a time: exclusive or, multiplied by an odd number, the upper half folded into the lower. The order of numbers
 * does not depend on it. */
static uint64_t hash_of(const unsigned char *bytes, size_t size) {
    const uint64_t odd = UINT64_C(0x9E3779B97F4A7C15);
    uint64_t h = size;
    size_t i = 0;
    for (; i + 8 <= size; i += 8) {
        uint64_t word;
        memcpy(&word, bytes + i, 8);
        h = (h ^ word) * odd;
        h ^= h >> 32;
    }
    for (; i + 4 <= size; i += 4) {
        uint32_t word;
        memcpy(&word, bytes + i, 4);
        h = (h ^ word) * odd;
    }
    for (; i < size; i++) {
        h = (h ^ bytes[i]) * odd;
    }
    h ^= h >> 29;
    h *= UINT64_C(0xBF58476D1CE4E5B9);
    return h ^ (h >> 32);
}

const void *plan_intern_at(const struct plan_intern *table, uint32_t id) {
    return table->records + (size_t)id * table->size;
}

#define UPPER UINT64_C(0xFFFFFFFF00000000)

/* A table at most half full, all numbers placed again. */
static bool grow_slots(struct plan_intern *table) {
    size_t n_slots = table->n_slots ? table->n_slots * 2 : 64;
    uint64_t *slots = base_arena_alloc(table->arena, n_slots, sizeof *slots);
    if (!slots) {
        return false;
    }
    for (uint32_t id = 0; id < table->n; id++) {
        uint64_t hash = hash_of(plan_intern_at(table, id), table->told);
        size_t at = (size_t)hash & (n_slots - 1);
        while (slots[at]) {
            at = (at + 1) & (n_slots - 1);
        }
        slots[at] = (hash & UPPER) | (id + 1);
    }
    base_arena_release(table->arena, table->slots);
    table->slots = slots;
    table->n_slots = n_slots;
    return true;
}

static uint32_t add(struct plan_intern *table, const void *record, uint64_t hash, size_t at) {
    unsigned char *records =
        base_arena_grow(table->arena, table->records, table->n, &table->room, (size_t)table->n + 1, table->size);
    if (!records || table->n == PLAN_NO_ID - 1) {
        return PLAN_NO_ID;
    }
    table->records = records;
    memcpy(records + (size_t)table->n * table->size, record, table->size);
    table->slots[at] = (hash & UPPER) | (table->n + 1);
    return table->n++;
}

uint32_t plan_intern_id(struct plan_intern *table, const void *record, bool *is_new) {
    if ((size_t)table->n * 2 >= table->n_slots && !grow_slots(table)) {
        return PLAN_NO_ID;
    }
    uint64_t hash = hash_of(record, table->told);
    size_t at = (size_t)hash & (table->n_slots - 1);
    for (; table->slots[at]; at = (at + 1) & (table->n_slots - 1)) {
        uint32_t id = (uint32_t)table->slots[at] - 1;
        if ((table->slots[at] & UPPER) == (hash & UPPER) &&
            memcmp(plan_intern_at(table, id), record, table->told) == 0) {
            if (is_new) {
                *is_new = false;
            }
            return id;
        }
    }
    if (is_new) {
        *is_new = true;
    }
    return add(table, record, hash, at);
}
