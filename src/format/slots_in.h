/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Names of slots in JSON. The name 'rings' stands for the three ring slots together.
 */
#ifndef FORMAT_SLOTS_IN_H
#define FORMAT_SLOTS_IN_H

#include "format/item.h"
#include "trade/tables.h"

#define FORMAT_SLOT_NAMES (TRADE_SLOTS + 1) /* the slots in their order, then 'rings' */
#define FORMAT_RING_SLOTS (1u << TRADE_SLOT_OUTER_RING | 1u << TRADE_SLOT_MIDDLE_RING | 1u << TRADE_SLOT_INNER_RING)

/* The names that may stand in such a list; static. */
void format_slot_names(const char *out[FORMAT_SLOT_NAMES]);

#define FORMAT_EVERY_SLOT ((1u << TRADE_SLOTS) - 1)

/* A list of slot names as a bit set of slots, out of those in `among`; 'rings' are the rings among these. False with a fault
 * told. */
bool format_read_slots(uint32_t *out, const struct format_place *place, const struct format_item *item,
                       uint32_t among) BASE_CHECKED;

#endif
