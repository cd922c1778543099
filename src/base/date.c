/* SPDX-License-Identifier: Apache-2.0 */
#include "base/date.h"

#include <assert.h>

#define DAYS_TO_1970 719162 /* from 0001-01-01 */

static bool is_leap(int year) { return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0); }

/* From 0001-01-01 to the first of a month; month 13 is the next January. */
static int32_t days_before(int year, int month) {
    static const int before[] = {0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365};
    int past = year - 1;
    return past * 365 + past / 4 - past / 100 + past / 400 + before[month - 1] + (month > 2 && is_leap(year));
}

bool base_date_take(int32_t *days, struct base_slice *text) {
    int year, month, day;
    if (!base_take_digits(&year, text, 4, 1, 9999) || !base_take_char(text, '-') ||
        !base_take_digits(&month, text, 2, 1, 12) || !base_take_char(text, '-') ||
        !base_take_digits(&day, text, 2, 1, 31)) {
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
