/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The decimal digits of a double, from its exact value. The text side of numbers (text.h) writes them.
 */
#ifndef BASE_DECIMAL_H
#define BASE_DECIMAL_H

#include <stdbool.h>

#define BASE_DECIMAL_DIGITS 17 /* always enough to tell a double from its neighbours */

/* +-0.d1 d2 ... dn * 10^point. No zero digit at either end; n is 0 for zero. */
struct base_decimal {
    bool negative; /* never for zero */
    int n;
    int point;
    char digit[BASE_DECIMAL_DIGITS]; /* '0'..'9', not zero-terminated */
};

/* The fewest digits that read back as value and, of these, those nearest to it (G. L. Steele, J. L. White, How to print
 * floating-point numbers accurately, PLDI 1990; the bounds count for an even significand). value is finite. */
void base_decimal_shortest(struct base_decimal *out, double value);

/* value to `digits` (1..17) significant digits, rounded half away from zero on its exact value. value is finite. */
void base_decimal_rounded(struct base_decimal *out, double value, int digits);

/* Cuts to the first `keep` digits, rounded half away from zero; below 0 gives zero. */
void base_decimal_cut(struct base_decimal *d, int keep);

#endif
