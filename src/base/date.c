/* SPDX-License-Identifier: Apache-2.0 */
#include "base/date.h"

#include <assert.h>

#define DAYS_TO_1970 719162 /* from 0001-01-01 */

/* Takes a number of just so many digits off the front, within [low, high]. */
static bool take(int *out, struct base_slice *text, size_t digits, int low, int high) {
    int value = 0;
    if (text->n < digits) {
        return false;
    }
    for (size_t i = 0; i < digits; i++) {
        if (text->at[i] < '0' || text->at[i] > '9') {
            return false;
        }
        value = value * 10 + (text->at[i] - '0');
    }
    text->at += digits;
    text->n -= digits;
    *out = value;
    return value >= low && value <= high;
}

static bool take_dash(struct base_slice *text) {
    if (text->n == 0 || text->at[0] != '-') {
        return false;
    }
    text->at++;
    text->n--;
    return true;
}

static bool is_leap(int year) { return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0); }

/* From 0001-01-01 to the first of a month; month 13 is the next January. */
static int32_t days_before(int year, int month) {
    static const int before[] = {0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365};
    int past = year - 1;
    return past * 365 + past / 4 - past / 100 + past / 400 + before[month - 1] + (month > 2 && is_leap(year));
}

bool base_date_take(int32_t *days, struct base_slice *text) {
    int year, month, day;
    if (!take(&year, text, 4, 1, 9999) || !take_dash(text) || !take(&month, text, 2, 1, 12) || !take_dash(text) ||
        !take(&day, text, 2, 1, 31)) {
        return false;
    }
    int32_t first = days_before(year, month);
    if (day > days_before(year, month + 1) - first) {
        return false;
    }
    *days = first + day - 1 - DAYS_TO_1970;
    return true;
}

bool base_date_read(int32_t *days, struct base_slice text) {
    int32_t read;
    if (!base_date_take(&read, &text) || text.n > 0) {
        return false;
    }
    *days = read;
    return true;
}

static void put_digits(struct base_buffer *out, int value, int unit) {
    for (; unit > 0; unit /= 10) {
        base_buffer_char(out, (char)('0' + value / unit % 10));
    }
}

void base_date_write(struct base_buffer *out, int32_t days) {
    int32_t since = days + DAYS_TO_1970;
    assert(since >= 0 && days <= BASE_DATE_LAST);
    int year = since / 365 + 1, month = 12; /* not too early; at most two years too late */
    while (days_before(year, 1) > since) {
        year--;
    }
    while (days_before(year, month) > since) {
        month--;
    }
    put_digits(out, year, 1000);
    base_buffer_char(out, '-');
    put_digits(out, month, 10);
    base_buffer_char(out, '-');
    put_digits(out, since - days_before(year, month) + 1, 10);
}
