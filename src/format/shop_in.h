/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The shop's file: one JSON object, described in full by docs/schema/shop.schema.json.
 */
#ifndef FORMAT_SHOP_IN_H
#define FORMAT_SHOP_IN_H

#include "base/fault.h"
#include "trade/shop.h"

/* Reads currency, rate, tax, what a quote goes by and the shop's own minutes, and settles the labour of each operation. currency and
 * rate_per_hour must be there, tax_percent too where prices include it.
 * BASE_BAD_INPUT: faults has at least one more, and out what could be read, enough to read a catalogue beside it for
 * its own faults: the currency, or any currency (trade_shop_any_currency). BASE_NO_MEMORY. */
enum base_status format_shop_read(struct trade_shop *out, struct base_slice bytes, const char *file,
                                  struct base_faults *faults) BASE_CHECKED;

#endif
