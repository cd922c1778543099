/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Amounts of money as they stand in files: decimal numbers of a currency, point as separator, read exactly.
 */
#ifndef FORMAT_MONEY_IN_H
#define FORMAT_MONEY_IN_H

#include "format/item.h"
#include "trade/shop.h"

/* A decimal number, JSON number or text, as a whole number of its last place: 12.5 with 2 digits is 1250. Exact: false,
 * and no fault told, when it has more decimals that are not zero, and for anything else. digits: 0 to 4. */
bool format_minor(int64_t *out, const struct format_item *item, int digits) BASE_CHECKED;

/* An amount of at least 0 in the shop's currency, as minor units and as it stands there: with tax where the shop's prices
 * hold it (trade_without_tax). False with a fault told. */
bool format_read_amount(int64_t *out, const struct format_place *place, const struct format_item *item,
                        const struct trade_shop *shop) BASE_CHECKED;

#endif
