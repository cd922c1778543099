/* SPDX-License-Identifier: Apache-2.0 */
/*
 * JSON text to a tree, strictly: UTF-8, no name twice in an object, no number beyond a double, no comments, nothing
 * behind the document. A fault of the text itself has a line and a column; faults of meaning have a path (place.h).
 */
#ifndef FORMAT_JSON_H
#define FORMAT_JSON_H

#include "format/place.h"

#include <jansson.h>

#define FORMAT_JSON_MIB 16   /* of a file, at most */
#define FORMAT_JSON_DEPTH 32 /* objects and arrays within each other, at most */

/* An object, owned by the caller (json_decref). BASE_BAD_INPUT with a fault told; BASE_NO_MEMORY. */
enum base_status format_json_read(json_t **out, struct base_slice bytes,
                                  const struct format_source *source) BASE_CHECKED;

/* A fault for each key of object that is not among the n known ones. what: 'a key of a wish', say. */
void format_json_check_keys(const json_t *object, const struct format_source *source, const struct format_path *path,
                            const char *const *known, size_t n, const char *what);

#endif
