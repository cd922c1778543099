/* SPDX-License-Identifier: Apache-2.0 */
#include "format/money_in.h"

#include "base/number.h"

#include <math.h>
#include <string.h>

static const int64_t most_minor = INT64_C(100000000000); /* of one price: a thousand million of most currencies */

/* A double is the nearest one to the decimal number if that number, divided out, gives it again: the whole number and
 * the power of ten are exact, so that the division rounds once, as reading the text did. */
static bool minor_of_double(int64_t *out, double number, int digits) {
    static const double ten[] = {1, 10, 100, 1000, 10000};
    double shifted = number * ten[digits];
    if (!(fabs(shifted) <= 9e14)) {
        return false;
    }
    int64_t minor = base_round(shifted);
    double again = (double)minor / ten[digits];
    *out = minor;
    return again >= number && again <= number;
}

bool format_minor(int64_t *out, const struct format_item *item, int digits) {
    if (item->type == FORMAT_NUMBER) {
        return minor_of_double(out, item->number, digits);
    }
    return (item->type == FORMAT_TEXT || item->type == FORMAT_CELL) &&
           base_minor_read(out, item->text, digits) == BASE_OK;
}

static bool is_amount(int64_t *out, const struct format_item *item, int digits) {
    return format_minor(out, item, digits) && *out >= 0 && *out <= most_minor;
}

/* The same with a point for a comma, if that is an amount: '12,50' is told as 12.50. */
static bool with_point(struct base_buffer *out, struct base_slice text, int digits) {
    int64_t minor;
    for (size_t i = 0; i < text.n; i++) {
        base_buffer_char(out, text.at[i] == ',' ? '.' : text.at[i]);
    }
    struct format_item item = format_item_cell(base_slice_of(format_text(out)));
    return memchr(text.at, ',', text.n) && is_amount(&minor, &item, digits);
}

static void fault_amount(const struct format_place *place, const struct format_item *item, struct base_slice text,
                         const struct trade_shop *shop) {
    struct base_buffer allowed, nearest;
    base_buffer_init(&allowed, 0);
    base_buffer_init(&nearest, 0);
    bool known = shop->currency[0] != '\0';
    base_buffer_text(&allowed, "an amount");
    base_buffer_text(&allowed, known ? " in " : "");
    base_buffer_text(&allowed, shop->currency);
    base_buffer_text(&allowed, " such as ");
    base_buffer_fixed(&allowed, 12.5, known ? shop->currency_digits : 2);
    bool comma = text.n > 0 && with_point(&nearest, text, shop->currency_digits);
    format_fault_item(place, item, format_text(&allowed), comma ? format_text(&nearest) : NULL);
    base_buffer_clear(&allowed);
    base_buffer_clear(&nearest);
}

bool format_read_amount(int64_t *out, const struct format_place *place, const struct format_item *item,
                        const struct trade_shop *shop) {
    int64_t minor = 0;
    if (!is_amount(&minor, item, shop->currency_digits)) {
        fault_amount(place, item, item->text, shop);
        return false;
    }
    *out = minor;
    return true;
}
