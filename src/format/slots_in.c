/* SPDX-License-Identifier: Apache-2.0 */
#include "format/slots_in.h"

void format_slot_names(const char *out[FORMAT_SLOT_NAMES]) {
    for (size_t i = 0; i < TRADE_SLOTS; i++) {
        out[i] = trade_slot_rows[i].name;
    }
    out[TRADE_SLOTS] = "rings";
}

bool format_read_slots(uint32_t *out, const struct format_place *place, const struct format_item *item,
                       uint32_t among) {
    const char *all[FORMAT_SLOT_NAMES], *names[FORMAT_SLOT_NAMES];
    uint32_t slots[FORMAT_SLOT_NAMES];
    uint64_t set;
    size_t n = 0;
    format_slot_names(all);
    for (size_t i = 0; i < FORMAT_SLOT_NAMES; i++) {
        uint32_t named = among & (i < TRADE_SLOTS ? 1u << i : FORMAT_RING_SLOTS);
        if (named != 0) {
            names[n] = all[i];
            slots[n++] = named;
        }
    }
    if (!format_read_words(&set, place, item, names, n)) {
        return false;
    }
    *out = 0;
    for (size_t i = 0; i < n; i++) {
        *out |= set >> i & 1 ? slots[i] : 0;
    }
    return true;
}
