/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A wish file: one JSON object, described in full by docs/schema/wish.schema.json.
 */
#ifndef FORMAT_WISH_IN_H
#define FORMAT_WISH_IN_H

#include "base/fault.h"
#include "trade/wish.h"

/* Reads a wish; what it leaves out is as trade_wish_init has it, and an empty object counts as none given. out is
 * untouched unless BASE_OK. BASE_BAD_INPUT: faults has at least one more; BASE_NO_MEMORY. */
enum base_status format_wish_read(struct trade_wish *out, struct base_slice bytes, const char *file,
                                  struct base_faults *faults) BASE_CHECKED;

#endif
