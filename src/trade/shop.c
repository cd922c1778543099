/* SPDX-License-Identifier: Apache-2.0 */
#include "trade/shop.h"

#include "base/number.h"

#include <stdlib.h>
#include <string.h>

int trade_currency_digits(const char *code) {
    for (size_t i = 0; i < trade_currencies_n; i++) {
        if (strcmp(code, trade_currencies[i].code) == 0) {
            return trade_currencies[i].digits;
        }
    }
    return -1;
}

int64_t trade_currency_cash(const char *code) {
    for (size_t i = 0; i < trade_currencies_n; i++) {
        if (strcmp(code, trade_currencies[i].code) == 0 && trade_currencies[i].cash > 0) {
            return trade_currencies[i].cash;
        }
    }
    return 1;
}

int64_t trade_without_tax(const struct trade_shop *shop, int64_t listed_minor, int32_t tax_thousandths) {
    return shop->prices_include_tax ? base_scale(listed_minor, 100000, 100000 + tax_thousandths) : listed_minor;
}

void trade_shop_init(struct trade_shop *out) {
    *out = (struct trade_shop){.currency = "EUR",
                               .currency_digits = 2,
                               .rate_minor = 6000,
                               .listed_rate_minor = 6000,
                               .valid_days = -1,
                               .call_first_minor = -1,
                               .cash_minor = 1};
    for (size_t i = 0; i < TRADE_OPERATIONS; i++) {
        out->minutes[i] = trade_operation_rows[i].minutes;
    }
    trade_shop_settle(out);
}

void trade_shop_any_currency(struct trade_shop *shop) {
    shop->currency[0] = '\0';
    shop->currency_digits = 4;
}

void trade_shop_settle(struct trade_shop *shop) {
    /* In thousandths of a minute, so that the product with the rate is exact and rounded once. */
    for (size_t i = 0; i < TRADE_OPERATIONS; i++) {
        int64_t thousandths = base_round(shop->minutes[i] * 1000);
        shop->labour_minor[i] = base_scale(shop->rate_minor, thousandths, 60 * 1000);
        shop->listed_labour_minor[i] = base_scale(shop->listed_rate_minor, thousandths, 60 * 1000);
    }
}

void trade_catalogue_init(struct trade_catalogue *out) {
    *out = (struct trade_catalogue){.revision = ""};
    base_arena_init(&out->arena, 0);
}

void trade_catalogue_clear(struct trade_catalogue *catalogue) {
    base_arena_clear(&catalogue->arena);
    trade_catalogue_init(catalogue);
}

static int compare_id(const void *id, const void *part) { return strcmp(id, ((const struct trade_part *)part)->id); }

const struct trade_part *trade_catalogue_find(const struct trade_catalogue *catalogue, const char *id) {
    for (size_t kind = 0; kind < TRADE_KINDS; kind++) {
        const struct trade_part *found = NULL;
        if (catalogue->n[kind] > 0) {
            found = bsearch(id, catalogue->parts[kind], catalogue->n[kind], sizeof *found, compare_id);
        }
        if (found) {
            return found;
        }
    }
    return NULL;
}
