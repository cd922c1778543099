/* SPDX-License-Identifier: Apache-2.0 */
/*
 * One value of the vocabulary as a person reads it, with how it is known: '440 mm', '135 mm*', '~3.0 mm', '[   mm]'.
 */
#ifndef EXPLAIN_VALUE_H
#define EXPLAIN_VALUE_H

#include "base/text.h"
#include "trade/part.h"

/* Appends the value of a property. Numbers with unit and decimals; words by their label; an open one as an empty box. */
void explain_value(struct base_buffer *out, enum trade_property property, const struct trade_value *value);

/* The same of a part's own property. */
void explain_value_of(struct base_buffer *out, const struct trade_part *part, enum trade_property property);

/* A value that a reading may give, as it stands behind 'it reads': without a mark; a word of some domains by what the
 * caliper shows ('less than 12.7 mm'). */
void explain_reading(struct base_buffer *out, enum trade_property property, const struct trade_value *value);

/* Decimals of a value that is good for tenths at most: none where it is whole, else 1. */
int explain_tenths_of(double value);

/* A range with its unit, in whole units or tenths: '35–45 N·m*', '~3–4 mm', '40 N·m'. What is assumed is marked in front, what is
 * from a table behind. */
void explain_range(struct base_buffer *out, double low, double high, const char *unit, enum base_known known);

/* The unit as people write it: mm, T, %, links; "" when there is none. */
const char *explain_unit(enum trade_property property);
/* The same of a unit as the vocabulary and the rules have it: teeth, percent, pitches ... */
const char *explain_unit_of(const char *unit);

/* Decimals that a number of this property is told with, 0..2: lengths up to 100 mm in tenths, larger ones in whole units,
 * and as many more as the number itself has. */
int explain_decimals(enum trade_property property, double number);

#endif
