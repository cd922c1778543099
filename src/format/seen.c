/* SPDX-License-Identifier: Apache-2.0 */
#include "format/seen.h"

#include <stdlib.h>
#include <string.h>

/* 64-bit FNV-1a (Fowler, Noll, Vo). It spreads the last byte badly over the low bits, which the table takes, so the
 * high half of a product with 2^64 / golden ratio (Knuth, The Art of Computer Programming, volume 3, 6.4) is used. */
static uint32_t hash(const char *id) {
    uint64_t h = UINT64_C(14695981039346656037);
    for (; *id; id++) {
        h = (h ^ (unsigned char)*id) * UINT64_C(1099511628211);
    }
    return (uint32_t)((h ^ h >> 32) * UINT64_C(11400714819323198485) >> 32);
}

/* Where the id stands, or the free place where it belongs. room is a power of two with free places left. */
static struct format_seen *find(struct format_seen *seen, size_t room, const char *id, uint32_t h) {
    size_t i = h & (room - 1);
    while (seen[i].id && (seen[i].hash != h || strcmp(seen[i].id, id) != 0)) {
        i = (i + 1) & (room - 1);
    }
    return &seen[i];
}

/* Keeps at least half of the places free. */
static bool make_room(struct format_catalogue *builder) {
    if (builder->n_seen * 2 < builder->room_seen) {
        return true;
    }
    size_t room = builder->room_seen > 0 ? builder->room_seen * 2 : 1024;
    struct format_seen *seen = calloc(room, sizeof *seen);
    if (!seen) {
        return false;
    }
    for (size_t i = 0; i < builder->room_seen; i++) {
        if (builder->seen[i].id) {
            *find(seen, room, builder->seen[i].id, builder->seen[i].hash) = builder->seen[i];
        }
    }
    free(builder->seen);
    builder->seen = seen;
    builder->room_seen = room;
    return true;
}

bool format_seen_add(struct format_catalogue *builder, const char *id, const char *file, uint32_t line,
                     const struct format_seen **first) {
    if (!make_room(builder)) {
        return false;
    }
    uint32_t h = hash(id);
    struct format_seen *place = find(builder->seen, builder->room_seen, id, h);
    *first = place->id ? place : NULL;
    if (!place->id) {
        *place = (struct format_seen){.id = id, .file = file, .line = line, .hash = h};
        builder->n_seen++;
    }
    return true;
}
