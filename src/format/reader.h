/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a reader carries along: the file, where faults go, who owns what is read, and how it ends.
 *
 * Reading goes on after a fault, so that all of them are told. What was read is good only if format_reader_end says so.
 */
#ifndef FORMAT_READER_H
#define FORMAT_READER_H

#include "format/place.h"
#include "trade/names.h"

struct format_reader {
    struct format_source source;
    struct base_arena *arena;  /* owns what is read; NULL where nothing is kept */
    struct trade_names *names; /* owns names; NULL where none are read */
    size_t before;             /* faults that were in the list when the reader began */
    bool no_memory;            /* an allocation failed */
};

/* A reader of this file; all four are borrowed. Never fails. */
struct format_reader format_reader_of(const char *file, struct base_faults *faults, struct base_arena *arena,
                                      struct trade_names *names);

/* BASE_OK when nothing was wrong; BASE_BAD_INPUT when a fault was told since the reader began; BASE_NO_MEMORY. */
enum base_status format_reader_end(const struct format_reader *reader) BASE_CHECKED;

#endif
