/* SPDX-License-Identifier: Apache-2.0 */
#include "trade/names.h"

#include <stdlib.h>
#include <string.h>

#define FIRST_ROOM 64 /* a power of two, as every later room is */

void trade_names_init(struct trade_names *out) {
    base_arena_init(&out->arena, 0);
    out->slots = NULL;
    out->n = out->room = 0;
}

void trade_names_clear(struct trade_names *names) {
    base_arena_clear(&names->arena);
    free(names->slots);
    names->slots = NULL;
    names->n = names->room = 0;
}

/* 64-bit FNV-1a (Fowler, Noll, Vo). Only where a name lies in the table hangs on it, never an answer. */
static uint64_t hash(struct base_slice s) {
    uint64_t h = UINT64_C(14695981039346656037);
    for (size_t i = 0; i < s.n; i++) {
        h = (h ^ (unsigned char)s.at[i]) * UINT64_C(1099511628211);
    }
    return h;
}

/* Where the name stands, or the free slot where it belongs. There is always a free slot. */
static const char **place_of(const char **slots, size_t room, struct base_slice name) {
    size_t i = (size_t)hash(name) & (room - 1);
    while (slots[i] && !base_slice_is(name, slots[i])) {
        i = (i + 1) & (room - 1);
    }
    return &slots[i];
}

/* Keeps at least a third of the slots free. */
static enum base_status make_room(struct trade_names *names) {
    if (names->room > 0 && (names->n + 1) * 3 <= names->room * 2) {
        return BASE_OK;
    }
    size_t room = names->room > 0 ? names->room * 2 : FIRST_ROOM;
    const char **slots = calloc(room, sizeof *slots);
    if (!slots) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < names->room; i++) {
        if (names->slots[i]) {
            *place_of(slots, room, base_slice_of(names->slots[i])) = names->slots[i];
        }
    }
    free(names->slots);
    names->slots = slots;
    names->room = room;
    return BASE_OK;
}

const char *trade_name(struct trade_names *names, struct base_slice text) {
    if (make_room(names) != BASE_OK) {
        return NULL;
    }
    const char **place = place_of(names->slots, names->room, text);
    if (!*place) {
        char *copy = base_arena_copy(&names->arena, text.at, text.n);
        if (!copy) {
            return NULL;
        }
        *place = copy;
        names->n++;
    }
    return *place;
}
