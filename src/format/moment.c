/* SPDX-License-Identifier: Apache-2.0 */
#include "format/moment.h"

#include "base/date.h"

#include <stdint.h>

#define DAY_S 86400

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

static bool take_char(struct base_slice *text, char c) {
    if (text->n == 0 || text->at[0] != c) {
        return false;
    }
    text->at++;
    text->n--;
    return true;
}

static double take_fraction(struct base_slice *text) {
    double value = 0.0, unit = 0.1;
    if (!take_char(text, '.')) {
        return 0.0;
    }
    int digit;
    while (take(&digit, text, 1, 0, 9)) {
        value += digit * unit;
        unit /= 10.0;
    }
    return value;
}

/* Seconds that the place is ahead of UTC. */
static bool take_zone(int *ahead_s, struct base_slice *text) {
    int sign, hours, minutes;
    *ahead_s = 0;
    if (text->n == 0 || take_char(text, 'Z')) {
        return true;
    }
    sign = take_char(text, '+') ? 1 : take_char(text, '-') ? -1 : 0;
    if (sign == 0 || !take(&hours, text, 2, 0, 14) || !take_char(text, ':') || !take(&minutes, text, 2, 0, 59)) {
        return false;
    }
    *ahead_s = sign * (hours * 3600 + minutes * 60);
    return true;
}

bool format_moment_read(double *out, struct base_slice text) {
    int32_t days;
    int hour, minute, second, ahead_s;
    if (!base_date_take(&days, &text) || !take_char(&text, 'T') || !take(&hour, &text, 2, 0, 23) ||
        !take_char(&text, ':') || !take(&minute, &text, 2, 0, 59) || !take_char(&text, ':') ||
        !take(&second, &text, 2, 0, 60)) {
        return false;
    }
    double fraction = take_fraction(&text);
    if (!take_zone(&ahead_s, &text) || text.n > 0) {
        return false;
    }
    *out = (double)((int64_t)days * DAY_S + hour * 3600 + minute * 60 + second - ahead_s) + fraction;
    return true;
}
