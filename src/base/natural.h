/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Natural numbers of up to 4096 bits, by value: just enough to turn decimal digits into a double, and back, exactly.
 *
 * The largest that this needs is 10^1126 (3741 bits): 800 digits that lie 326 places behind the point.
 * A result that does not fit is a mistake of the caller and is asserted.
 */
#ifndef BASE_NATURAL_H
#define BASE_NATURAL_H

#include <stddef.h>
#include <stdint.h>

#define BASE_NATURAL_WORDS 128

struct base_natural {
    size_t n;                          /* words in use; the highest is not 0; 0 words are the number 0 */
    uint32_t word[BASE_NATURAL_WORDS]; /* lowest first; undefined from n on */
};

/* a = value */
void base_natural_set(struct base_natural *a, uint64_t value);
/* a = a * factor + term */
void base_natural_scale(struct base_natural *a, uint32_t factor, uint32_t term);
/* a = a * 10^power */
void base_natural_scale_ten(struct base_natural *a, unsigned power);
/* a = a * 2^bits */
void base_natural_shift(struct base_natural *a, unsigned bits);
/* a = a + b */
void base_natural_add(struct base_natural *a, const struct base_natural *b);
/* a = a - b; a >= b */
void base_natural_subtract(struct base_natural *a, const struct base_natural *b);
/* Below 0, 0 or above 0 as a is less than, equal to or greater than b. */
int base_natural_compare(const struct base_natural *a, const struct base_natural *b);
/* The place of the highest bit that is set, from 1; 0 for the number 0. */
int base_natural_bits(const struct base_natural *a);

#endif
