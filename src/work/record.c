/* SPDX-License-Identifier: Apache-2.0 */
#include "work/record.h"

#include "trade/vocabulary.h"

#include <string.h>

const char *const work_entry_words[WORK_ENTRY_KINDS] = {
    [WORK_AGREED] = "agreed", [WORK_DONE] = "done",       [WORK_MEASURED] = "measured", [WORK_SWAPPED] = "swapped",
    [WORK_FAULT] = "fault",   [WORK_MINUTES] = "minutes", [WORK_SIGNED] = "signed",
};

bool work_out_of_limit(const struct work_entry *entry) {
    return entry->kind == WORK_MEASURED && (entry->value < entry->low || entry->value > entry->high);
}

size_t work_last(const struct work_entry *entries, size_t n, enum work_entry_kind kind) {
    for (size_t i = n; i > 0; i--) {
        if (entries[i - 1].kind == kind) {
            return i - 1;
        }
    }
    return n;
}

const char *work_agreed(const struct work_entry *entries, size_t n) {
    size_t last = work_last(entries, n, WORK_AGREED);
    return last < n ? entries[last].name : NULL;
}

/* Does the entry put another part into a slot that calls for the operation? */
static bool undoes(const struct work_entry *entry, enum trade_operation operation, const struct trade_bike *bike) {
    int slot = entry->kind == WORK_SWAPPED ? trade_find_slot(base_slice_of(entry->name)) : -1;
    return slot >= 0 && (plan_slots_calling(bike, operation) >> slot & 1);
}

size_t work_done(const struct work_entry *entries, size_t n, enum trade_operation operation,
                 const struct trade_bike *bike) {
    for (size_t i = n; i > 0; i--) {
        const struct work_entry *entry = &entries[i - 1];
        if (undoes(entry, operation, bike)) {
            return n;
        }
        if (entry->kind == WORK_DONE && strcmp(entry->name, trade_operation_rows[operation].name) == 0) {
            return i - 1;
        }
    }
    return n;
}
