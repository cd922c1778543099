/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The record of a job: what was agreed, done, measured, swapped, found and signed, entry by entry.
 *
 * Entries are only ever added; each has a number, from 1 on, and says what happened and never what is. What stands now
 * follows from all of them: the last way agreed, the last part put into a slot, and what of the work is done. When a part is
 * swapped, what was fitted, set up and checked for its slot is to be done again; what was taken off stays off, and all
 * else stays done.
 */
#ifndef WORK_RECORD_H
#define WORK_RECORD_H

#include "base/text.h"
#include "plan/labour.h"

enum work_entry_kind {
    WORK_AGREED = 0, /* name: letter of the way, or "keep" */
    WORK_DONE, /* name: operation of data/bench_operations.csv; value: minutes, NAN where nobody looked at the clock */
    WORK_MEASURED, /* name: check, torque, or length of the frame; value, low, high: in its unit, NAN: no limit */
    WORK_SWAPPED,  /* name: slot; text: part, "keep" or "none" */
    WORK_FAULT,    /* text: what was found */
    WORK_MINUTES,  /* value: minutes that the job took */
    WORK_SIGNED,   /* text: who signs */
    WORK_ENTRY_KINDS
};

/* The words that the kinds have in files, in their order. */
extern const char *const work_entry_words[WORK_ENTRY_KINDS];

struct work_entry {
    enum work_entry_kind kind;
    const char *at;     /* 2026-05-01T09:30; as are all texts, borrowed */
    const char *by;     /* NULL: not said */
    const char *name;   /* as said above; NULL where the kind has none */
    const char *text;   /* likewise */
    const char *reason; /* NULL: none given */
    double value, low, high;
};

/* Is a measured value outside its limits? */
bool work_out_of_limit(const struct work_entry *entry);

/* The way that was agreed last; NULL when none was. */
const char *work_agreed(const struct work_entry *entries, size_t n);

/* The entry, from 0, by which an operation is done and still holds; n when it is to be done. */
size_t work_done(const struct work_entry *entries, size_t n, enum trade_bench operation, const struct trade_bike *bike);

/* The operation of this name; -1: there is none. */
int work_find_bench(struct base_slice name);

/* The last entry of this kind; n when there is none. */
size_t work_last(const struct work_entry *entries, size_t n, enum work_entry_kind kind);

#endif
