/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The catalogue: one CSV for each kind, named <kind>.csv, columns in any order: id and price, and optional stock, days
 * and any properties of that kind.
 *
 * A builder takes the files one by one and gives the catalogue at the end, or nothing when any of them had a fault.
 */
#ifndef FORMAT_CATALOGUE_IN_H
#define FORMAT_CATALOGUE_IN_H

#include "base/fault.h"
#include "trade/names.h"
#include "trade/shop.h"

struct format_seen; /* an id and where it stands */

struct format_catalogue {
    struct trade_catalogue catalogue; /* what is read so far */
    size_t room[TRADE_KINDS];
    uint64_t digest[TRADE_KINDS];  /* of each file's bytes; 0 without a file */
    const struct trade_shop *shop; /* borrowed, as are the next two */
    struct trade_names *names;
    struct base_faults *faults;
    size_t before;            /* faults that were in the list at the beginning */
    struct base_arena arena;  /* owns the names of files */
    struct format_seen *seen; /* open-addressed table of all ids; owned */
    size_t n_seen, room_seen;
    bool no_memory;
};

/* shop: settled, for its currency and tax. All three must outlive the builder, names also the catalogue. */
void format_catalogue_init(struct format_catalogue *out, const struct trade_shop *shop, struct trade_names *names,
                           struct base_faults *faults);
void format_catalogue_clear(struct format_catalogue *builder);

/* The kind that a file of this name holds: of its last part, without .csv. BASE_BAD_INPUT with a fault told when a shop
 * sells no such kind. */
enum base_status format_catalogue_kind(enum trade_kind *out, const char *file, struct base_faults *faults) BASE_CHECKED;

/* Reads one file; bytes are borrowed for the call only. A kind may come once. BASE_BAD_INPUT with faults told, the
 * builder goes on; BASE_NO_MEMORY. */
enum base_status format_catalogue_add(struct format_catalogue *builder, enum trade_kind kind, struct base_slice bytes,
                                      const char *file) BASE_CHECKED;

/* Sorts, completes each part from the tables, names the revision, and clears the builder whatever the result. out is
 * untouched unless BASE_OK; clear it with trade_catalogue_clear. BASE_BAD_INPUT when any file had a fault;
 * BASE_NO_MEMORY. */
enum base_status format_catalogue_finish(struct trade_catalogue *out, struct format_catalogue *builder) BASE_CHECKED;

#endif
