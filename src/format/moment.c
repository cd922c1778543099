/* SPDX-License-Identifier: Apache-2.0 */
#include "format/moment.h"

#include "base/date.h"

#include <stdint.h>

#define DAY_S 86400

static double take_fraction(struct base_slice *text) {
    double value = 0.0, unit = 0.1;
    if (!base_take_char(text, '.')) {
        return 0.0;
    }
    int digit;
    while (base_take_digits(&digit, text, 1, 0, 9)) {
        value += digit * unit;
        unit /= 10.0;
    }
    return value;
}

/* Seconds that the place is ahead of UTC. */
static bool take_zone(int *ahead_s, struct base_slice *text) {
    int sign, hours, minutes;
    *ahead_s = 0;
    if (text->n == 0 || base_take_char(text, 'Z')) {
        return true;
    }
    sign = base_take_char(text, '+') ? 1 : base_take_char(text, '-') ? -1 : 0;
    if (sign == 0 || !base_take_digits(&hours, text, 2, 0, 14) || !base_take_char(text, ':') ||
        !base_take_digits(&minutes, text, 2, 0, 59)) {
        return false;
    }
    *ahead_s = sign * (hours * 3600 + minutes * 60);
    return true;
}

bool format_moment_read(double *out, struct base_slice text) {
    int32_t days;
    int hour, minute, second, ahead_s;
    if (!base_date_take(&days, &text) || !base_take_char(&text, 'T') || !base_take_digits(&hour, &text, 2, 0, 23) ||
        !base_take_char(&text, ':') || !base_take_digits(&minute, &text, 2, 0, 59) || !base_take_char(&text, ':') ||
        !base_take_digits(&second, &text, 2, 0, 60)) {
        return false;
    }
    double fraction = take_fraction(&text);
    if (!take_zone(&ahead_s, &text) || text.n > 0) {
        return false;
    }
    *out = (double)((int64_t)days * DAY_S + hour * 3600 + minute * 60 + second - ahead_s) + fraction;
    return true;
}
