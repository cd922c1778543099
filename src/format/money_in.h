/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Amounts of money as they stand in files: decimal numbers of a currency, point as separator, read exactly.
 */
#ifndef FORMAT_MONEY_IN_H
#define FORMAT_MONEY_IN_H

#include "format/item.h"
#include "trade/shop.h"

/* An amount of at least 0 in the shop's currency, as minor units without tax: where the shop's prices hold tax it is
 * taken out, amount * 100 / (100 + tax), rounded half away from zero. False with a fault told. */
bool format_read_amount(int64_t *out, const struct format_place *place, const struct format_item *item,
                        const struct trade_shop *shop) BASE_CHECKED;

#endif
