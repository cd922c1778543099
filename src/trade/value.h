/* SPDX-License-Identifier: Apache-2.0 */
/*
 * One value of one property, with how it is known.
 *
 * Which member of the union holds follows from the property's type in the vocabulary (trade_property_rows). An open
 * value has none: known is BASE_OPEN and the union is zero, which means nothing. Open is not zero.
 */
#ifndef TRADE_VALUE_H
#define TRADE_VALUE_H

#include "base/known.h"
#include "base/status.h"
#include "trade/tables.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* A list of tooth counts (or other small counts) in rising order. */
struct trade_counts {
    size_t n;
    int16_t at[];
};

struct trade_value {
    union {
        double number;                     /* TRADE_NUMBER in the property's unit; TRADE_COUNT as a whole number */
        uint32_t word;                     /* TRADE_WORD: index in the property's domain */
        uint64_t words;                    /* TRADE_WORDS: bit set of indexes */
        const struct trade_counts *counts; /* TRADE_COUNTS: owned by the arena that the part was read into */
        const char *name; /* TRADE_NAME, TRADE_TYRE: zero-terminated; equal names have equal pointers */
    };
    enum base_known known;
};

static inline bool trade_is_open(const struct trade_value *v) { return v->known == BASE_OPEN; }

/* Values of one kind each: nobody knows it; a number in the unit of its property; an index in the domain of its property. */
struct trade_value trade_open(void);
struct trade_value trade_number(double number, enum base_known known);
struct trade_value trade_word(uint32_t word, enum base_known known);

/* True when both are known and say the same (how they are known is not compared). type: of the property. */
bool trade_same(const struct trade_value *a, const struct trade_value *b, enum trade_type type);

#endif
