/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A rider's own file: one JSON object of what else stands under `rider` in a bike's file, described in full by
 * docs/schema/rider.schema.json. The keys format and label may stand beside it.
 */
#ifndef FORMAT_RIDER_IN_H
#define FORMAT_RIDER_IN_H

#include "base/fault.h"
#include "trade/bike.h"
#include "trade/names.h"

/* Reads a rider into a bike, in place of the one that its file told of; what nobody said gets the vocabulary's defaults.
 * bytes are borrowed for the call only; file is how the user named it; names must outlive the bike. The bike is untouched
 * unless BASE_OK. BASE_BAD_INPUT: faults has at least one more; BASE_NO_MEMORY. Call trade_bike_complete_rider after. */
enum base_status format_rider_read(struct trade_bike *bike, struct base_slice bytes, const char *file,
                                   struct trade_names *names, struct base_faults *faults) BASE_CHECKED;

#endif
