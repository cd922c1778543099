/* SPDX-License-Identifier: Apache-2.0 */
#include "base/number.h"

#include "base/natural.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

/* A number taken apart; the digits themselves stay where they are. */
struct scan {
    bool negative, has_point, has_exponent;
    struct base_slice whole, fraction; /* digits only; whole has at least one, fraction too behind a point */
    int64_t exponent;                  /* as written; cut to +-EXPONENT_MAX */
};

/* Far beyond the exponent of any double and the length of any file, far within int64_t. */
static const int64_t EXPONENT_MAX = INT64_C(1000000000000000);

static bool is_digit(char c) { return c >= '0' && c <= '9'; }

/* Takes c off the front, if it stands there. */
static bool take_char(struct base_slice *s, char c) {
    if (s->n == 0 || s->at[0] != c) {
        return false;
    }
    s->at++;
    s->n--;
    return true;
}

/* Takes the digits off the front. */
static struct base_slice take_digits(struct base_slice *s) {
    struct base_slice digits = {.at = s->at};
    while (digits.n < s->n && is_digit(s->at[digits.n])) {
        digits.n++;
    }
    s->at += digits.n;
    s->n -= digits.n;
    return digits;
}

/* Takes the sign and digits behind the e of an exponent; false when there are no digits. */
static bool take_exponent(struct base_slice *s, int64_t *exponent) {
    bool negative = take_char(s, '-');
    if (!negative) {
        (void)take_char(s, '+');
    }
    struct base_slice digits = take_digits(s);
    int64_t value = 0;
    for (size_t i = 0; i < digits.n; i++) {
        value = value < EXPONENT_MAX ? value * 10 + (digits.at[i] - '0') : EXPONENT_MAX;
    }
    *exponent = negative ? -value : value;
    return digits.n > 0;
}

static bool scan_number(struct scan *out, struct base_slice s) {
    *out = (struct scan){0};
    if (s.n == 0) {
        return false;
    }
    out->negative = take_char(&s, '-');
    out->whole = take_digits(&s);
    out->has_point = take_char(&s, '.');
    if (out->has_point) {
        out->fraction = take_digits(&s);
    }
    if (out->whole.n == 0 || (out->has_point && out->fraction.n == 0)) {
        return false;
    }
    out->has_exponent = take_char(&s, 'e') || take_char(&s, 'E');
    if (out->has_exponent && !take_exponent(&s, &out->exponent)) {
        return false;
    }
    return s.n == 0;
}

/* The significant digits: digits * 10^exponent. */
struct decimal {
    struct base_natural digits;
    int kept; /* how many, leading zeros not counted; 0 is the number zero */
    int64_t exponent;
};

/* A number half-way between two doubles has at most 767 digits. Of more than this, only whether one is not zero counts. */
enum { DIGITS_KEPT = 800 };

static void gather_digits(struct decimal *d, const struct scan *scan) {
    base_natural_set(&d->digits, 0);
    d->kept = 0;
    d->exponent = scan->exponent - (int64_t)scan->fraction.n;
    bool more = false;
    size_t all = scan->whole.n + scan->fraction.n;
    for (size_t i = 0; i < all; i++) {
        char c = i < scan->whole.n ? scan->whole.at[i] : scan->fraction.at[i - scan->whole.n];
        if (d->kept < DIGITS_KEPT) {
            base_natural_scale(&d->digits, 10, (uint32_t)(c - '0'));
            d->kept += d->kept > 0 || c != '0';
        } else {
            d->exponent++;
            more = more || c != '0';
        }
    }
    if (more) {
        base_natural_scale(&d->digits, 10, 1);
        d->kept++;
        d->exponent--;
    }
}

/* The power of two that num / den reaches: 2^p <= num / den < 2^(p + 1). Scales one of them so that 1 <= num / den < 2. */
static int bring_between_one_and_two(struct base_natural *num, struct base_natural *den) {
    int power = base_natural_bits(num) - base_natural_bits(den);
    if (power >= 0) {
        base_natural_shift(den, (unsigned)power);
    } else {
        base_natural_shift(num, (unsigned)-power);
    }
    if (base_natural_compare(num, den) < 0) {
        base_natural_shift(num, 1);
        power--;
    }
    return power;
}

/* The double nearest to d, of two equally near the even one: a long division in base two, bit for bit. */
static double nearest_double(const struct decimal *d) {
    struct base_natural num = d->digits, den;
    base_natural_set(&den, 1);
    base_natural_scale_ten(d->exponent >= 0 ? &num : &den, (unsigned)llabs(d->exponent));
    int power = bring_between_one_and_two(&num, &den);
    int bits = power >= -1022 ? 53 : power + 1075; /* fewer below the normal range */
    if (bits < 0) {
        return 0; /* less than half of the smallest double */
    }
    uint64_t significand = 0;
    for (int i = 0; i < bits; i++) {
        bool one = base_natural_compare(&num, &den) >= 0;
        if (one) {
            base_natural_subtract(&num, &den);
        }
        base_natural_shift(&num, 1);
        significand = significand << 1 | one;
    }
    /* What is left, doubled, against the divisor: more or less than half of the last place. */
    int half = base_natural_compare(&num, &den);
    significand += half > 0 || (half == 0 && significand % 2 == 1);
    return ldexp((double)significand, power - bits + 1);
}

/* The powers of ten that a double holds exactly. */
static const double exact_ten[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                   1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

enum base_status base_number_read(double *out, struct base_slice s) {
    struct scan scan;
    if (!scan_number(&scan, s)) {
        return BASE_BAD_INPUT;
    }
    struct decimal d;
    gather_digits(&d, &scan);
    int64_t places = d.kept + d.exponent; /* the value lies below 10^places and reaches a tenth of it */
    double size;
    if (d.kept == 0 || places < -324) {
        size = 0;
    } else if (places > 309) {
        return BASE_BAD_INPUT;
    } else if (d.kept <= 15 && llabs(d.exponent) <= 22) {
        /* Both are exact, so that the one operation rounds correctly. */
        double digits = d.digits.n > 1 ? d.digits.word[0] + 0x1p32 * d.digits.word[1] : d.digits.word[0];
        size = d.exponent >= 0 ? digits * exact_ten[d.exponent] : digits / exact_ten[-d.exponent];
    } else {
        size = nearest_double(&d);
    }
    if (!isfinite(size)) {
        return BASE_BAD_INPUT;
    }
    *out = scan.negative ? -size : size;
    return BASE_OK;
}

/* value * 10 + digit; false when it passes limit. */
static bool append_digit(int64_t *value, char digit, int64_t limit) {
    int next = digit - '0';
    if (*value > (limit - next) / 10) {
        return false;
    }
    *value = *value * 10 + next;
    return true;
}

enum base_status base_integer_read(int64_t *out, struct base_slice s, int64_t low, int64_t high) {
    struct scan scan;
    if (!scan_number(&scan, s) || scan.has_point || scan.has_exponent) {
        return BASE_BAD_INPUT;
    }
    int64_t value = 0;
    for (size_t i = 0; i < scan.whole.n; i++) {
        if (!append_digit(&value, scan.whole.at[i], INT64_MAX)) {
            return BASE_BAD_INPUT;
        }
    }
    value = scan.negative ? -value : value;
    if (value < low || value > high) {
        return BASE_BAD_INPUT;
    }
    *out = value;
    return BASE_OK;
}

enum base_status base_minor_read(int64_t *out, struct base_slice s, int digits) {
    const int64_t limit = INT64_C(9000000000000000);
    assert(digits >= 0 && digits <= 4);
    struct scan scan;
    if (!scan_number(&scan, s) || scan.has_exponent) {
        return BASE_BAD_INPUT;
    }
    int64_t value = 0;
    for (size_t i = 0; i < scan.whole.n; i++) {
        if (!append_digit(&value, scan.whole.at[i], limit)) {
            return BASE_BAD_INPUT;
        }
    }
    for (size_t i = 0; i < (size_t)digits; i++) {
        if (!append_digit(&value, i < scan.fraction.n ? scan.fraction.at[i] : '0', limit)) {
            return BASE_BAD_INPUT;
        }
    }
    for (size_t i = (size_t)digits; i < scan.fraction.n; i++) {
        if (scan.fraction.at[i] != '0') {
            return BASE_BAD_INPUT;
        }
    }
    *out = scan.negative ? -value : value;
    return BASE_OK;
}

void base_minor_write(struct base_buffer *out, int64_t minor, int digits) {
    uint64_t rest = minor < 0 ? 0 - (uint64_t)minor : (uint64_t)minor;
    uint64_t unit = 1;
    assert(digits >= 0 && digits <= 4);
    for (int i = 0; i < digits; i++) {
        unit *= 10;
    }
    base_buffer_text(out, minor < 0 ? "-" : "");
    base_buffer_int(out, (int64_t)(rest / unit));
    base_buffer_text(out, digits > 0 ? "." : "");
    for (rest %= unit; unit > 1; rest %= unit) {
        unit /= 10;
        base_buffer_char(out, (char)('0' + (int)(rest / unit)));
    }
}

/* gcc and clang have it on every 64-bit machine; it is not ISO C. */
__extension__ typedef __int128 wide;

int64_t base_scale(int64_t value, int64_t numerator, int64_t denominator) {
    assert(denominator > 0);
    wide product = (wide)value * numerator;
    wide half = denominator / 2; /* of an odd denominator the lower half: no product lies between */
    wide result = (product >= 0 ? product + half : product - half) / denominator;
    return result > INT64_MAX ? INT64_MAX : result < INT64_MIN ? INT64_MIN : (int64_t)result;
}

int64_t base_round(double value) {
    assert(fabs(value) < 9e15);
    return (int64_t)round(value);
}
