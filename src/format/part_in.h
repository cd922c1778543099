/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The properties of a part, read as the vocabulary wants them. One reader serves bikes (JSON) and catalogues (CSV).
 *
 * JSON: a bare value is measured; {"value": ..., "known": "measured", "table" or "assumed"} says otherwise; null, or no
 * key, is open. CSV: a cell is measured (printed on the part), an empty cell is open; lists have blanks between.
 */
#ifndef FORMAT_PART_IN_H
#define FORMAT_PART_IN_H

#include "format/item.h"
#include "format/reader.h"
#include "trade/part.h"

#define FORMAT_NAME_CHARS 120 /* of a name, at most */
#define FORMAT_COUNTS_MAX 32  /* numbers in a list of counts, at most */

/* One value of a property; an empty item is open. False with a fault told, or no_memory set in the reader. */
bool format_read_value(struct trade_value *out, struct format_reader *reader, const struct format_place *place,
                       const struct format_item *item, enum trade_property property) BASE_CHECKED;

/* All properties of an object into part, which was initialised with its kind. Keys among the n known ones are left to
 * the caller; any other is a fault. */
void format_read_part(struct trade_part *part, struct format_reader *reader, const struct format_path *path,
                      json_t *object, const char *const *known, size_t n);

/* Tells that this name is no property of the kind (and none of the n others that may stand here): with the nearest
 * one, or the kind that has it. */
void format_fault_property(const struct format_place *place, struct base_slice name, enum trade_kind kind,
                           const char *const *known, size_t n);

#endif
