/* SPDX-License-Identifier: Apache-2.0 */
#include "format/money_in.h"

#include "base/number.h"

#include <string.h>

static const int64_t most_minor = INT64_C(100000000000); /* of one price: a thousand million of most currencies */

/* A JSON number as the decimal text that it was, or one that reads back as the same: 60.55 is 60.55 again. */
static void put_decimal(struct base_buffer *b, const struct format_item *item) {
    if (item->type == FORMAT_NUMBER && json_is_integer(item->json)) {
        base_buffer_int(b, json_integer_value(item->json));
    } else if (item->type == FORMAT_NUMBER) {
        base_buffer_double(b, item->number);
    } else {
        base_buffer_slice(b, item->text);
    }
}

static bool read_minor(int64_t *out, struct base_slice text, int digits) {
    return base_minor_read(out, text, digits) == BASE_OK && *out >= 0 && *out <= most_minor;
}

/* The same with a point for a comma, if that is an amount: '12,50' is told as 12.50. */
static bool with_point(struct base_buffer *out, struct base_slice text, int digits) {
    int64_t minor;
    for (size_t i = 0; i < text.n; i++) {
        base_buffer_char(out, text.at[i] == ',' ? '.' : text.at[i]);
    }
    return memchr(text.at, ',', text.n) && out->status == BASE_OK && read_minor(&minor, base_slice_of(out->at), digits);
}

static void fault_amount(const struct format_place *place, const struct format_item *item, struct base_slice text,
                         const struct trade_shop *shop) {
    struct base_buffer allowed, nearest;
    base_buffer_init(&allowed, 0);
    base_buffer_init(&nearest, 0);
    base_buffer_text(&allowed, "an amount in ");
    base_buffer_text(&allowed, shop->currency);
    base_buffer_text(&allowed, " such as ");
    base_buffer_fixed(&allowed, 12.5, shop->currency_digits);
    bool comma = text.n > 0 && with_point(&nearest, text, shop->currency_digits);
    format_fault_item(place, item, format_text(&allowed), comma ? format_text(&nearest) : NULL);
    base_buffer_clear(&allowed);
    base_buffer_clear(&nearest);
}

bool format_read_amount(int64_t *out, const struct format_place *place, const struct format_item *item,
                        const struct trade_shop *shop) {
    int64_t minor = 0;
    bool good;
    if (item->type == FORMAT_CELL) { /* the usual case, without a copy: a catalogue has one in every line */
        good = read_minor(&minor, item->text, shop->currency_digits);
    } else {
        struct base_buffer decimal;
        base_buffer_init(&decimal, 0);
        put_decimal(&decimal, item);
        good = decimal.status == BASE_OK && read_minor(&minor, base_slice_of(decimal.at), shop->currency_digits);
        base_buffer_clear(&decimal);
    }
    if (!good) {
        fault_amount(place, item, item->text, shop);
        return false;
    }
    *out = shop->prices_include_tax ? base_scale(minor, 100000, 100000 + shop->tax_thousandths) : minor;
    return true;
}
