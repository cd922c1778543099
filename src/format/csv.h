/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Reading and writing CSV (RFC 4180), strictly, with the line and column of every field.
 *
 * UTF-8, with or without a byte-order mark; lines end with LF or CR LF; a field that holds a comma, a quote or a line
 * end stands in quotes, a quote within it is doubled. Empty lines are passed over. Each record must have as many fields
 * as the first. A faulty record is told and passed over, so that all faults of a file come in one go.
 */
#ifndef FORMAT_CSV_H
#define FORMAT_CSV_H

#include "format/place.h"

#define FORMAT_CSV_MIB 256              /* of a file, at most */
#define FORMAT_CSV_RECORD (1024 * 1024) /* bytes of a record, at most */
#define FORMAT_CSV_FIELDS 256           /* of a record, at most */

struct format_csv_field {
    struct base_slice text; /* without its quotes; good until the next record is read */
    const char *at;         /* where it begins in the file, its quote included */
    const char *line_at;    /* where that line begins */
    uint32_t line;          /* from 1 */
};

struct format_csv {
    struct format_source source;
    const char *at, *end; /* what is left of the file; borrowed */
    const char *line_at;
    uint32_t line;
    struct format_csv_field fields[FORMAT_CSV_FIELDS];
    size_t n;        /* fields of the record in hand */
    size_t columns;  /* fields of the first record; 0 before it */
    char *undoubled; /* owned: the fields of this record that hold quotes; NULL until one does */
    size_t undoubled_n;
    bool no_memory;
};

/* Takes a file in memory; bytes and source are borrowed until format_csv_clear. wanted: what should stand in an empty
 * file. BASE_BAD_INPUT with a fault told: nothing to clear then. */
enum base_status format_csv_init(struct format_csv *out, struct base_slice bytes, const struct format_source *source,
                                 const char *wanted) BASE_CHECKED;
void format_csv_clear(struct format_csv *csv);

/* Reads the next good record into fields and n; faulty ones before it are told. BASE_NO at the end of the file;
 * BASE_NO_MEMORY. */
enum base_status format_csv_next(struct format_csv *csv) BASE_CHECKED;

/* The field's column: characters from 1. */
uint32_t format_csv_column(const struct format_csv_field *field);

/* Writes one field, in quotes when it needs them. The commas and line ends are the caller's. */
void format_csv_put(struct base_buffer *out, struct base_slice text);

#endif
