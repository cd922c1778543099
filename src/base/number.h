/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Numbers as text, without the locale, and comparisons that say what they mean.
 */
#ifndef BASE_NUMBER_H
#define BASE_NUMBER_H

#include "base/status.h"
#include "base/text.h"

#include <stdint.h>

/* Reads a whole slice as a decimal number: optional '-', digits, optional '.' and digits, optional exponent (e or E,
 * sign, digits). Correctly rounded, half-way cases to even; too small for a double gives 0. BASE_BAD_INPUT for anything
 * else (empty, "nan", "inf", "0x", "+1", ".5", "5.", a comma, blanks) and for a result that is not finite. */
enum base_status base_number_read(double *out, struct base_slice s) BASE_CHECKED;

/* Reads a whole slice as a decimal integer within [low, high]: optional '-', digits. BASE_BAD_INPUT for anything else,
 * and for what lies beyond +-INT64_MAX. */
enum base_status base_integer_read(int64_t *out, struct base_slice s, int64_t low, int64_t high) BASE_CHECKED;

/* Reads "12.34" as minor units with `digits` (0..4) decimals exactly: 1234. No rounding: more decimals that are not zero
 * are BASE_BAD_INPUT, as is an exponent and anything outside +-9e15 minor units. */
enum base_status base_minor_read(int64_t *out, struct base_slice s, int digits) BASE_CHECKED;

/* The same back as text: 1234 with 2 digits is "12.34", -5 is "-0.05". digits 0..4; minor above INT64_MIN. */
void base_minor_write(struct base_buffer *out, int64_t minor, int digits);

/* value * numerator / denominator, rounded half away from zero, exactly (128-bit inside). denominator > 0.
 * A result beyond int64_t stops at its end. */
int64_t base_scale(int64_t value, int64_t numerator, int64_t denominator);

/* Nearest integer, half away from zero. |value| < 9e15. */
int64_t base_round(double value);

#endif
