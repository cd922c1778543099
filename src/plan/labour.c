/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/labour.h"

#include "base/number.h"

static bool has_it(const struct trade_bike *bike, const struct trade_operation_row *row) {
    if (row->had < 0 || !trade_bike_has(bike, (enum trade_slot)row->had)) {
        return false;
    }
    const struct trade_part *part = &bike->fitted[row->had].part;
    return row->had_property < 0 || trade_get_word(part, (enum trade_property)row->had_property) == row->had_word;
}

/* Slots that call for an operation whenever they change on this bike. */
static uint32_t slots_changed(const struct trade_bike *bike, const struct trade_operation_row *row) {
    return row->slots | (has_it(bike, row) ? row->had_slots : 0);
}

uint32_t plan_slots_calling(const struct trade_bike *bike, enum trade_operation operation) {
    const struct trade_operation_row *row = &trade_operation_rows[operation];
    return slots_changed(bike, row) | row->new_slots;
}

uint32_t plan_slot_operations(const struct trade_bike *bike, enum trade_slot slot, const struct fit_choice *choice) {
    uint32_t operations = 0;
    if (choice->kind == (trade_bike_has(bike, slot) ? FIT_KEEP : FIT_NONE)) {
        return 0;
    }
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        const struct trade_operation_row *row = &trade_operation_rows[o];
        uint32_t slots = slots_changed(bike, row) | (choice->kind == FIT_NEW ? row->new_slots : 0);
        operations |= (slots >> slot & 1) << o;
    }
    return operations;
}

uint32_t plan_build_operations(const struct trade_bike *bike, const struct fit_build *build) {
    uint32_t operations = 0;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        operations |= plan_slot_operations(bike, (enum trade_slot)s, &build->at[s]);
    }
    return operations;
}

int32_t plan_operation_tenths(const struct trade_shop *shop, enum trade_operation operation) {
    return (int32_t)base_round(shop->minutes[operation] * 10);
}
