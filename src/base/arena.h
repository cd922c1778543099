/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Memory that is freed all at once.
 *
 * An arena hands out zeroed, suitably aligned blocks and owns them; arena_clear frees every one. Blocks never move, but for base_arena_grow.
 * With BASE_ARENA_SINGLE defined each block is an allocation of its own, so that AddressSanitizer sees each edge.
 * Setting fail_after makes the n-th block fail, for tests that fail every allocation in turn.
 */
#ifndef BASE_ARENA_H
#define BASE_ARENA_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct base_arena_chunk;

/* What several arenas may hand out together. The caller's; must outlive them. */
struct base_budget {
    size_t limit; /* most bytes */
    size_t used;  /* bytes handed out by the arenas that share it and were not cleared */
    bool refused; /* a block was refused since it would have gone over the limit */
};

struct base_arena {
    struct base_budget *budget;      /* shared with other arenas; NULL for none */
    struct base_arena_chunk *chunks; /* newest first; NULL when empty */
    size_t used;                     /* bytes handed out, rounding included */
    size_t limit;                    /* most bytes that it may hand out; 0 is no limit */
    int64_t fail_after; /* blocks that are still handed out, then each fails; below 0 no block is made to fail */
};

/* An empty arena. limit_bytes: most bytes that it may ever hand out, 0 for no limit. Never fails. */
void base_arena_init(struct base_arena *arena, size_t limit_bytes);

/* An empty arena that shares a budget. Never fails. */
void base_arena_share(struct base_arena *arena, struct base_budget *budget);

/* Frees every block; the arena is empty and usable again, with the same limit, and its share of the budget is free again. */
void base_arena_clear(struct base_arena *arena);

/* count * size zeroed bytes, aligned for any type, owned by the arena. count * size may be 0 (gives a valid pointer).
 * NULL when the memory, or the arena's limit, is spent, or the product overflows. */
void *base_arena_alloc(struct base_arena *arena, size_t count, size_t size) BASE_CHECKED;

/* A block that is no longer needed: freed where it is large (it has a chunk of its own), else left in the arena. NULL is
 * none. */
void base_arena_release(struct base_arena *arena, const void *block);

/* A copy of n bytes with a zero after them, owned by the arena; NULL as above. */
char *base_arena_copy(struct base_arena *arena, const char *bytes, size_t n) BASE_CHECKED;

/* A larger home for an array of count items, room for at least need items, the first count copied; NULL as above.
 * *room is the capacity, in and out. Grows by doubling, so that n pushes cost O(n). The old block is released. */
void *base_arena_grow(struct base_arena *arena, void *items, size_t count, size_t *room, size_t need,
                      size_t size) BASE_CHECKED;

#endif
