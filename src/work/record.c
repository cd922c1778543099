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

int work_find_bench(struct base_slice name) {
    for (int i = 0; i < TRADE_BENCHES; i++) {
        if (base_slice_is(name, trade_bench_rows[i].name)) {
            return i;
        }
    }
    return -1;
}

/* Does the entry put another part into a slot for which the operation fits, sets up or checks? */
static bool undoes(const struct work_entry *entry, enum trade_bench operation, const struct trade_bike *bike) {
    const struct trade_bench_row *row = &trade_bench_rows[operation];
    int slot = entry->kind == WORK_SWAPPED ? trade_find_slot(base_slice_of(entry->name)) : -1;
    uint32_t slots = 0;
    for (size_t i = 0; i < sizeof row->pays / sizeof row->pays[0] && row->pays[i] >= 0; i++) {
        slots |= plan_slots_calling(bike, (enum trade_operation)row->pays[i]);
    }
    return slot >= 0 && row->phase >= TRADE_BENCH_PHASE_FIT && (slots >> slot & 1);
}

size_t work_done(const struct work_entry *entries, size_t n, enum trade_bench operation,
                 const struct trade_bike *bike) {
    for (size_t i = n; i > 0; i--) {
        const struct work_entry *entry = &entries[i - 1];
        if (undoes(entry, operation, bike)) {
            return n;
        }
        if (entry->kind == WORK_DONE && strcmp(entry->name, trade_bench_rows[operation].name) == 0) {
            return i - 1;
        }
    }
    return n;
}
