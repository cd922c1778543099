/* SPDX-License-Identifier: Apache-2.0 */
#include "format/slots_in.h"

void format_slot_names(const char *out[FORMAT_SLOT_NAMES]) {
    for (size_t i = 0; i < TRADE_SLOTS; i++) {
        out[i] = trade_slot_rows[i].name;
    }
    out[TRADE_SLOTS] = "rings";
}

bool format_read_slots(uint32_t *out, const struct format_place *place, const struct format_item *item) {
    const char *names[FORMAT_SLOT_NAMES];
    uint64_t set;
    format_slot_names(names);
    if (!format_read_words(&set, place, item, names, FORMAT_SLOT_NAMES)) {
        return false;
    }
    uint64_t rings = UINT64_C(1) << TRADE_SLOTS;
    *out = (uint32_t)(set & (rings - 1)) | (set & rings ? FORMAT_RING_SLOTS : 0);
    return true;
}
