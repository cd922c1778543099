/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The files of a job that the program wrote itself and reads again: the quote as it was given, and the entries of the record.
 * docs/schema/quote.schema.json and docs/schema/entry.schema.json describe them in full.
 */
#ifndef FORMAT_JOB_IN_H
#define FORMAT_JOB_IN_H

#include "base/arena.h"
#include "base/fault.h"
#include "trade/shop.h"
#include "work/record.h"

#define FORMAT_QUOTED_MAX 4

/* A way as it was quoted. */
struct format_quoted_way {
    const char *letter;           /* "keep" for keeping the rings */
    const char *ids[TRADE_SLOTS]; /* of a part, "keep" or "none" */
    int64_t total_minor;          /* that the customer pays */
};

struct format_quoted {
    struct format_quoted_way ways[FORMAT_QUOTED_MAX];
    size_t n;
    const char *day, *old_parts; /* old_parts NULL: nobody was asked */
    const char *climb;           /* the climbs on which the ways were compared, as --climb takes them; NULL: none */
    int64_t call_first_minor;    /* -1: not agreed */
};

/* What of a quote a job goes by; texts are owned by the arena. BASE_BAD_INPUT with faults told; BASE_NO_MEMORY. */
enum base_status format_quoted_read(struct format_quoted *out, struct base_arena *arena, struct base_slice bytes,
                                    const char *file, struct base_faults *faults) BASE_CHECKED;

/* One entry; the same otherwise. */
enum base_status format_entry_read(struct work_entry *out, struct base_arena *arena, struct base_slice bytes,
                                   const char *file, struct base_faults *faults) BASE_CHECKED;

/* Is it a time of day, such as 2026-05-01T09:30? */
bool format_is_time(struct base_slice text);

#endif
