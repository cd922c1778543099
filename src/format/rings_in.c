/* SPDX-License-Identifier: Apache-2.0 */
#include "format/rings_in.h"

#include "format/part_in.h"

enum { RINGS_MAX = 3 };

/* From outside to inside. */
static const struct {
    enum trade_slot slot;
    enum trade_place place;
} places[RINGS_MAX] = {
    {TRADE_SLOT_OUTER_RING, TRADE_PLACE_OUTER},
    {TRADE_SLOT_MIDDLE_RING, TRADE_PLACE_MIDDLE},
    {TRADE_SLOT_INNER_RING, TRADE_PLACE_INNER},
};

bool format_ring_place(enum trade_slot slot, unsigned *word) {
    for (size_t i = 0; i < RINGS_MAX; i++) {
        if (places[i].slot == slot) {
            *word = places[i].place;
            return true;
        }
    }
    return false;
}

struct rings {
    struct trade_part part[RINGS_MAX];
    size_t n;
    size_t placed; /* how many say their place */
};

static void fault_ring(struct format_reader *reader, const struct format_path *path, size_t i, const char *key,
                       const char *found, const char *allowed) {
    struct format_path ring = {.up = path, .index = i}, step = {.up = &ring, .key = key};
    struct format_place place = format_at(&reader->source, &step);
    format_fault(&place, found, allowed, NULL);
}

/* False with a fault told, or no memory. */
static bool read_ring(struct rings *rings, struct format_reader *reader, const struct format_place *place,
                      const struct format_item *item) {
    if (item->type != FORMAT_OBJECT) {
        format_fault_item(place, item, "an object of a ring's properties", NULL);
        return false;
    }
    struct trade_part *part = &rings->part[rings->n];
    if (trade_part_init(part, reader->arena, TRADE_KIND_RING) != BASE_OK) {
        reader->no_memory = true;
        return false;
    }
    size_t before = reader->source.faults->total;
    format_read_part(part, reader, place->path, item->json, NULL, 0);
    rings->placed += trade_get_word(part, TRADE_RING_PLACE) >= 0;
    rings->n++;
    return reader->source.faults->total == before;
}

/* Each ring by its own place, no two in one. */
static void place_as_told(struct trade_fitted fitted[TRADE_SLOTS], struct format_reader *reader,
                          const struct format_path *path, const struct rings *rings) {
    for (size_t i = 0; i < rings->n; i++) {
        for (size_t k = 0; k < RINGS_MAX; k++) {
            struct trade_fitted *slot = &fitted[places[k].slot];
            if (trade_get_word(&rings->part[i], TRADE_RING_PLACE) != (int)places[k].place) {
                continue;
            }
            if (slot->state == TRADE_THERE) {
                fault_ring(reader, path, i, "place", "the place of another ring", "a place for each ring");
            }
            *slot = (struct trade_fitted){.state = TRADE_THERE, .part = rings->part[i]};
        }
    }
}

/* How many of the rings have more teeth; RINGS_MAX when that can't be told. */
static size_t larger_than(const struct rings *rings, size_t i) {
    double teeth = trade_get_number(&rings->part[i], TRADE_RING_TEETH);
    size_t larger = 0;
    for (size_t k = 0; k < rings->n; k++) {
        double other = trade_get_number(&rings->part[k], TRADE_RING_TEETH);
        if (k != i && !(other < teeth) && !(other > teeth)) { /* equal, or open */
            return RINGS_MAX;
        }
        larger += other > teeth;
    }
    return larger;
}

/* The largest outside; of two the other is the inner one. */
static void place_by_teeth(struct trade_fitted fitted[TRADE_SLOTS], struct format_reader *reader,
                           const struct format_path *path, struct rings *rings) {
    for (size_t i = 0; i < rings->n; i++) {
        size_t rank = larger_than(rings, i);
        if (rank == RINGS_MAX) {
            fault_ring(reader, path, i, "place", "nothing",
                       "outer, middle or inner, since teeth do not tell these rings apart");
            continue;
        }
        size_t k = rank == 1 && rings->n == 2 ? 2 : rank;
        trade_set(&rings->part[i], TRADE_RING_PLACE, trade_word(places[k].place, BASE_MEASURED));
        fitted[places[k].slot] = (struct trade_fitted){.state = TRADE_THERE, .part = rings->part[i]};
    }
}

static void place_rings(struct trade_fitted fitted[TRADE_SLOTS], struct format_reader *reader,
                        const struct format_path *path, struct rings *rings) {
    if (rings->placed == rings->n) {
        place_as_told(fitted, reader, path, rings);
    } else if (rings->placed == 0) {
        place_by_teeth(fitted, reader, path, rings);
    } else {
        for (size_t i = 0; i < rings->n; i++) {
            if (trade_get_word(&rings->part[i], TRADE_RING_PLACE) < 0) {
                fault_ring(reader, path, i, "place", "nothing", "a place, as the other rings have");
            }
        }
    }
}

void format_read_rings(struct trade_fitted fitted[TRADE_SLOTS], struct format_reader *reader,
                       const struct format_path *path, json_t *json) {
    struct format_place place = format_at(&reader->source, path), at;
    struct format_item item = format_item_json(json), one;
    struct format_list list;
    struct rings rings = {.n = 0};
    for (size_t i = 0; i < RINGS_MAX; i++) {
        fitted[places[i].slot].state = TRADE_EMPTY;
    }
    if (item.type == FORMAT_NOTHING || !format_list_init(&list, &place, &item, "a list of rings")) {
        return;
    }
    if (json_array_size(json) > RINGS_MAX) {
        format_fault(&place, "more rings", "at most three", NULL);
        return;
    }
    bool good = true;
    while (format_list_next(&list, &one, &at)) {
        good = read_ring(&rings, reader, &at, &one) && good;
    }
    if (good) {
        place_rings(fitted, reader, path, &rings);
    }
}
