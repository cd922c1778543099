/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What every file must be before it is read: not too large, not empty, text in UTF-8 without zero bytes.
 */
#ifndef FORMAT_TEXT_IN_H
#define FORMAT_TEXT_IN_H

#include "format/place.h"

/* Takes a byte-order mark off the front of *bytes and checks the rest. most: bytes allowed, in whole MiB. wanted: what
 * should stand in an empty file, for the fault. False when a fault was told. */
bool format_text_check(struct base_slice *bytes, const struct format_source *source, size_t most_mib,
                       const char *wanted) BASE_CHECKED;

/* Line and column, in characters from 1, of a byte of a text that passed the check. */
void format_text_position(uint32_t *line, uint32_t *column, struct base_slice text, size_t at);

#endif
