/* SPDX-License-Identifier: Apache-2.0 */
#include "base/decimal.h"

#include "base/natural.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* What is still to be written is rest / whole, in units of the next digit's place. Half the way to the neighbouring
 * doubles is above / whole and below / whole: digits that stay within it read back as the same double. */
struct writer {
    struct base_natural rest, whole, above, below;
    bool even; /* the significand is even, so that a number just half-way is read as this double */
    int point;
};

/* value = significand * 2^exponent, its margins as half units of the last place. value > 0. */
static void writer_set(struct writer *w, double value) {
    int exponent;
    uint64_t significand = (uint64_t)ldexp(frexp(value, &exponent), 53);
    exponent -= 53;
    while (exponent < -1074) {
        significand >>= 1;
        exponent++;
    }
    /* The double below a power of two is only half as far away, except at the bottom of the range. */
    bool near_below = significand == UINT64_C(1) << 52 && exponent > -1074;
    unsigned finer = near_below ? 2 : 1;

    base_natural_set(&w->rest, significand);
    base_natural_set(&w->whole, 1);
    base_natural_set(&w->above, near_below ? 2 : 1);
    base_natural_set(&w->below, 1);
    base_natural_shift(&w->rest, finer);
    base_natural_shift(&w->whole, finer);
    if (exponent >= 0) {
        base_natural_shift(&w->rest, (unsigned)exponent);
        base_natural_shift(&w->above, (unsigned)exponent);
        base_natural_shift(&w->below, (unsigned)exponent);
    } else {
        base_natural_shift(&w->whole, (unsigned)-exponent);
    }
    w->even = significand % 2 == 0;
}

static void scale_ten(struct writer *w, unsigned power) {
    base_natural_scale_ten(&w->rest, power);
    base_natural_scale_ten(&w->above, power);
    base_natural_scale_ten(&w->below, power);
}

/* Whether rest + above reaches (or passes) the whole. */
static bool reaches_whole(const struct writer *w) {
    struct base_natural sum = w->rest;
    base_natural_add(&sum, &w->above);
    int order = base_natural_compare(&sum, &w->whole);
    return w->even ? order >= 0 : order > 0;
}

/* Finds the power of ten: afterwards ten times (rest + above) / whole is at least 1, and (rest + above) / whole at most.
 * log10 may be off by its last digits, so it is asked for slightly too little and the step above put right. */
static void writer_scale(struct writer *w, double value) {
    w->point = (int)ceil(log10(value) - 1e-10);
    if (w->point >= 0) {
        base_natural_scale_ten(&w->whole, (unsigned)w->point);
    } else {
        scale_ten(w, (unsigned)-w->point);
    }
    if (reaches_whole(w)) {
        w->point++;
        base_natural_scale_ten(&w->whole, 1);
    }
}

static int next_digit(struct writer *w) {
    scale_ten(w, 1);
    int digit = 0;
    while (base_natural_compare(&w->rest, &w->whole) >= 0) {
        base_natural_subtract(&w->rest, &w->whole);
        digit++;
    }
    return digit;
}

/* Below 0, 0 or above 0 as the rest is less than, just, or more than half of the whole. */
static int compare_half(const struct writer *w) {
    struct base_natural twice = w->rest;
    base_natural_shift(&twice, 1);
    return base_natural_compare(&twice, &w->whole);
}

static void push_digit(struct base_decimal *d, int digit) {
    assert(d->n < BASE_DECIMAL_DIGITS && digit >= 0 && digit <= 9);
    d->digit[d->n++] = (char)('0' + digit);
}

static void drop_zeros(struct base_decimal *d) {
    while (d->n > 0 && d->digit[d->n - 1] == '0') {
        d->n--;
    }
    if (d->n == 0) {
        *d = (struct base_decimal){0};
    }
}

/* Adds one in the last place. */
static void round_up(struct base_decimal *d) {
    while (d->n > 0 && d->digit[d->n - 1] == '9') {
        d->n--;
    }
    if (d->n > 0) {
        d->digit[d->n - 1]++;
    } else {
        d->digit[d->n++] = '1';
        d->point++;
    }
}

void base_decimal_shortest(struct base_decimal *out, double value) {
    *out = (struct base_decimal){0};
    if (value == 0) {
        return;
    }
    struct writer w;
    writer_set(&w, fabs(value));
    writer_scale(&w, fabs(value));
    out->negative = value < 0;
    out->point = w.point;
    for (;;) {
        int digit = next_digit(&w);
        int order = base_natural_compare(&w.rest, &w.below);
        bool down = w.even ? order <= 0 : order < 0; /* to stop here reads back as value */
        bool up = reaches_whole(&w);                 /* so does the next digit up */
        if (!down && !up) {
            push_digit(out, digit);
            continue;
        }
        int half = compare_half(&w);
        bool higher = up && (!down || half > 0 || (half == 0 && digit % 2 == 1));
        push_digit(out, digit + higher);
        return;
    }
}

void base_decimal_rounded(struct base_decimal *out, double value, int digits) {
    assert(digits >= 1 && digits <= BASE_DECIMAL_DIGITS);
    *out = (struct base_decimal){0};
    if (value == 0) {
        return;
    }
    struct writer w;
    writer_set(&w, fabs(value));
    base_natural_set(&w.above, 0);
    w.even = true;
    writer_scale(&w, fabs(value));
    out->negative = value < 0;
    out->point = w.point;
    for (int i = 0; i < digits; i++) {
        push_digit(out, next_digit(&w));
    }
    if (compare_half(&w) >= 0) {
        round_up(out);
    }
    drop_zeros(out);
}

void base_decimal_cut(struct base_decimal *d, int keep) {
    if (keep >= d->n) {
        return;
    }
    bool up = keep >= 0 && d->digit[keep] >= '5';
    d->n = keep > 0 ? keep : 0;
    if (up) {
        round_up(d);
    }
    drop_zeros(d);
}
