/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Where something stands in a file, and telling a fault about it.
 *
 * A place is a JSON path (a chain of steps on the reader's own stack) or a field of a CSV file. Lines and columns are
 * counted only when a fault is told. How a fault's texts are worded is said in README.md of this folder.
 */
#ifndef FORMAT_PLACE_H
#define FORMAT_PLACE_H

#include "base/fault.h"

/* The file that is read. */
struct format_source {
    const char *file;           /* as the user named it */
    struct base_faults *faults; /* the caller's */
};

/* One step of a JSON path; the chain ends at NULL, which is the whole document. */
struct format_path {
    const struct format_path *up;
    const char *key; /* NULL: a place in an array */
    size_t index;    /* from 0 */
};

struct format_csv_field;

struct format_place {
    const struct format_source *source;
    const struct format_path *path;       /* JSON */
    const struct format_csv_field *field; /* CSV, else NULL */
    const char *name;                     /* CSV: the column's name, or NULL */
};

/* A place in a JSON document. */
struct format_place format_at(const struct format_source *source, const struct format_path *path);

/* Tells a fault. found NULL: the name at the end of the path is unknown. nearest may be NULL. */
void format_fault(const struct format_place *place, const char *found, const char *allowed, const char *nearest);

/* Tells a fault at a line and column of the file, from 1; 0 for none. */
void format_fault_line(const struct format_source *source, uint32_t line, uint32_t column, const char *found,
                       const char *allowed);

/* The name at the end of the path is unknown: allowed says what it might have been, nearest comes from the n known. */
void format_fault_unknown(const struct format_place *place, struct base_slice name, const char *allowed,
                          const char *const *known, size_t n);

/* The texts of a buffer for a fault: never NULL, "?" when its memory was spent. */
const char *format_text(const struct base_buffer *b);

#endif
