/* SPDX-License-Identifier: Apache-2.0 */
/*
 * fitted.rings: one to three rings in a list, each with its place, or all without: then by falling teeth.
 */
#ifndef FORMAT_RINGS_IN_H
#define FORMAT_RINGS_IN_H

#include "format/reader.h"
#include "trade/bike.h"

#include <jansson.h>

/* The word of the place that a ring slot is; false when the slot takes no ring. */
bool format_ring_place(enum trade_slot slot, unsigned *word);

/* Fills the three ring slots of fitted from a list of rings; null and an empty list say that there is none. */
void format_read_rings(struct trade_fitted fitted[TRADE_SLOTS], struct format_reader *reader,
                       const struct format_path *path, json_t *json);

#endif
