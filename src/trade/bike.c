/* SPDX-License-Identifier: Apache-2.0 */
#include "trade/bike.h"

static enum base_status init_parts(struct trade_bike *bike) {
    struct {
        struct trade_part *part;
        enum trade_kind kind;
    } fixed[] = {
        {&bike->self, TRADE_KIND_BIKE},
        {&bike->frame, TRADE_KIND_FRAME},
        {&bike->wheel, TRADE_KIND_WHEEL},
        {&bike->rider, TRADE_KIND_RIDER},
    };
    enum base_status status = BASE_OK;
    for (size_t i = 0; i < sizeof fixed / sizeof fixed[0] && status == BASE_OK; i++) {
        status = trade_part_init(fixed[i].part, &bike->arena, fixed[i].kind);
    }
    for (size_t slot = 0; slot < TRADE_SLOTS && status == BASE_OK; slot++) {
        status = trade_part_init(&bike->fitted[slot].part, &bike->arena, trade_slot_rows[slot].kind);
    }
    return status;
}

enum base_status trade_bike_init(struct trade_bike *out) {
    struct trade_bike bike = {.label = ""}; /* every slot: not looked at */
    base_arena_init(&bike.arena, 0);
    enum base_status status = init_parts(&bike);
    if (status != BASE_OK) {
        base_arena_clear(&bike.arena);
        return status;
    }
    *out = bike; /* blocks of an arena never move, so that the parts' pointers stay good */
    return BASE_OK;
}

void trade_bike_clear(struct trade_bike *bike) {
    base_arena_clear(&bike->arena);
    *bike = (struct trade_bike){.label = ""};
    base_arena_init(&bike->arena, 0);
}

unsigned trade_bike_rings(const struct trade_bike *bike) {
    static const enum trade_slot places[] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};
    unsigned n = 0;
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        n += bike->fitted[places[i]].state == TRADE_THERE;
    }
    return n;
}

static bool taken_to_be_there(const struct trade_bike *bike, enum trade_absent absent) {
    return absent == TRADE_ABSENT_THERE || (absent == TRADE_ABSENT_SEVERAL_RINGS && trade_bike_rings(bike) > 1);
}

bool trade_bike_has(const struct trade_bike *bike, enum trade_slot slot) {
    switch (bike->fitted[slot].state) {
    case TRADE_THERE:
        return true;
    case TRADE_EMPTY:
        return false;
    case TRADE_NOT_LOOKED_AT:
        return taken_to_be_there(bike, trade_slot_rows[slot].absent);
    }
    return false;
}
