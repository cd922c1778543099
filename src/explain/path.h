/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Where a value stands in a bike's document, and what a person calls it.
 *
 * subject and property are those of a read (fit/fit.h): a slot, FIT_BIKE, FIT_FRAME, FIT_WHEEL, FIT_NOW + slot, or a
 * measure; a property of the vocabulary or a derived one.
 */
#ifndef EXPLAIN_PATH_H
#define EXPLAIN_PATH_H

#include "base/text.h"
#include "fit/fit.h"

/* Appends the JSON pointer: /fitted/bottom_bracket/spindle, /frame/gap_mm, /use. A measure has no place of its own: that
 * of the value which it is measured as. */
void explain_path(struct base_buffer *out, unsigned subject, unsigned property);

/* Appends what a mechanic calls it: 'frame to smallest sprocket', 'spindle of the bottom bracket'. */
void explain_name(struct base_buffer *out, unsigned subject, unsigned property);

/* The property of the vocabulary that stands behind a derived one or a measure; *subject becomes its subject. */
enum trade_property explain_property_behind(unsigned *subject, unsigned property);

/* Appends how it is measured, in sentences: what comes off first, then how. Nothing where the vocabulary says nothing. */
void explain_how(struct base_buffer *out, unsigned subject, unsigned property);

/* The message that a property has for some purpose, <what>.<kind>.<property>; NULL where it has none. */
const char *explain_text_for(const char *what, enum trade_property property);

#endif
