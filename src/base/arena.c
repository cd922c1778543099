/* SPDX-License-Identifier: Apache-2.0 */
#include "base/arena.h"

#include <stdalign.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

struct base_arena_chunk {
    struct base_arena_chunk *next;
    size_t room, used; /* bytes */
    bool own;          /* of one block alone */
    alignas(max_align_t) unsigned char bytes[];
};

/* Small blocks share chunks, each twice as large as the one before, so that a small arena costs little to clear; a large block
 * gets a chunk of its own. */
enum { LEAST_CHUNK_BYTES = 1024, CHUNK_BYTES = 64 * 1024, LARGE_BYTES = CHUNK_BYTES / 4 };

#ifdef BASE_ARENA_SINGLE
static const bool single = true;
#else
static const bool single = false;
#endif

void base_arena_init(struct base_arena *arena, size_t limit_bytes) {
    *arena = (struct base_arena){.limit = limit_bytes, .fail_after = -1};
}

void base_arena_share(struct base_arena *arena, struct base_budget *budget) {
    *arena = (struct base_arena){.budget = budget, .fail_after = -1};
}

void base_arena_clear(struct base_arena *arena) {
    struct base_arena_chunk *chunk = arena->chunks;
    while (chunk) {
        struct base_arena_chunk *next = chunk->next;
        free(chunk);
        chunk = next;
    }
    if (arena->budget) {
        arena->budget->used -= arena->used;
    }
    arena->chunks = NULL;
    arena->used = 0;
}

/* calloc, so that a block needs no clearing: no byte of a chunk is ever handed out twice. */
static struct base_arena_chunk *chunk_new(size_t room) {
    if (room > SIZE_MAX - sizeof(struct base_arena_chunk)) {
        return NULL;
    }
    struct base_arena_chunk *chunk = calloc(1, sizeof *chunk + room);
    if (chunk) {
        chunk->room = room;
    }
    return chunk;
}

/* Room of the chunk that follows this one, for a block of so many bytes. */
static size_t next_room(const struct base_arena_chunk *newest, size_t bytes) {
    size_t room = newest && !newest->own ? 2 * newest->room : LEAST_CHUNK_BYTES;
    room = room < CHUNK_BYTES ? room : CHUNK_BYTES;
    return room < bytes ? bytes : room;
}

/* A chunk with bytes of room left. A chunk of its own goes behind the newest, whose room stays in use. */
static struct base_arena_chunk *chunk_with(struct base_arena *arena, size_t bytes) {
    struct base_arena_chunk *newest = arena->chunks;
    if (!single && newest && newest->room - newest->used >= bytes) {
        return newest;
    }
    bool own = single || bytes > LARGE_BYTES;
    struct base_arena_chunk *chunk = chunk_new(own ? bytes : next_room(newest, bytes));
    if (chunk) {
        struct base_arena_chunk **place = own && newest ? &newest->next : &arena->chunks;
        chunk->own = own;
        chunk->next = *place;
        *place = chunk;
    }
    return chunk;
}

/* Takes one block off the count of fail_after; true when this one is to fail. */
static bool must_fail(struct base_arena *arena) {
    if (arena->fail_after > 0) {
        arena->fail_after--;
        return false;
    }
    return arena->fail_after == 0;
}

/* Would it go over the arena's limit, or over what it shares with others? */
static bool over_limit(struct base_arena *arena, size_t bytes) {
    struct base_budget *budget = arena->budget;
    if (budget && (bytes > budget->limit || budget->used > budget->limit - bytes)) {
        budget->refused = true;
        return true;
    }
    return bytes > SIZE_MAX - arena->used || (arena->limit > 0 && arena->used + bytes > arena->limit);
}

static size_t rounded_of(size_t bytes) {
    const size_t unit = alignof(max_align_t);
    return bytes > 0 ? (bytes + unit - 1) / unit * unit : unit;
}

void *base_arena_alloc(struct base_arena *arena, size_t count, size_t size) {
    const size_t unit = alignof(max_align_t);
    if (must_fail(arena) || (size > 0 && count > (SIZE_MAX - unit) / size)) {
        return NULL;
    }
    size_t bytes = count * size;
    size_t rounded = rounded_of(bytes);
    if (over_limit(arena, rounded)) {
        return NULL;
    }
    /* Single blocks keep their exact size, so that a write one byte too far is seen. */
    size_t taken = single ? bytes : rounded;
    struct base_arena_chunk *chunk = chunk_with(arena, taken);
    if (!chunk) {
        return NULL;
    }
    void *block = chunk->bytes + chunk->used;
    chunk->used += taken;
    arena->used += rounded;
    if (arena->budget) {
        arena->budget->used += rounded;
    }
    return block;
}

char *base_arena_copy(struct base_arena *arena, const char *bytes, size_t n) {
    char *copy = n < SIZE_MAX ? base_arena_alloc(arena, n + 1, 1) : NULL;
    if (copy && n > 0) {
        memcpy(copy, bytes, n);
    }
    return copy;
}

/* Single small blocks are freed, too, so that whoever still looks there is seen; but they count as they would in a chunk. */
void base_arena_release(struct base_arena *arena, const void *block) {
    for (struct base_arena_chunk **place = &arena->chunks; block && *place; place = &(*place)->next) {
        struct base_arena_chunk *chunk = *place;
        if (chunk->own && chunk->bytes == block) {
            size_t given_back = chunk->used > LARGE_BYTES ? rounded_of(chunk->used) : 0;
            *place = chunk->next;
            arena->used -= given_back;
            if (arena->budget) {
                arena->budget->used -= given_back;
            }
            free(chunk);
            return;
        }
    }
}

void *base_arena_grow(struct base_arena *arena, void *items, size_t count, size_t *room, size_t need, size_t size) {
    if (items && need <= *room) {
        return items;
    }
    size_t larger = *room < 8 ? 8 : *room;
    while (larger < need && larger <= SIZE_MAX / 2) {
        larger *= 2;
    }
    if (larger < need) {
        return NULL;
    }
    void *home = base_arena_alloc(arena, larger, size);
    if (home) {
        if (count > 0) {
            memcpy(home, items, count * size);
        }
        if (single || *room * size > LARGE_BYTES) { /* else it has no chunk of its own */
            base_arena_release(arena, items);
        }
        *room = larger;
    }
    return home;
}
