/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The ids of a catalogue that is being read, each with the place where it stands first.
 */
#ifndef FORMAT_SEEN_H
#define FORMAT_SEEN_H

#include "format/catalogue_in.h"

struct format_seen {
    const char *id; /* NULL: a free place in the table */
    const char *file;
    uint32_t line;
    uint32_t hash; /* of the id, so that different ids are seldom compared */
};

/* Notes an id (owned by the catalogue) with its place. *first: where it stood before, else NULL. False when memory is
 * spent. */
bool format_seen_add(struct format_catalogue *builder, const char *id, const char *file, uint32_t line,
                     const struct format_seen **first) BASE_CHECKED;

#endif
