/* SPDX-License-Identifier: Apache-2.0 */
#include "trade/value.h"

#include <string.h>

struct trade_value trade_open(void) {
    struct trade_value v = {.known = BASE_OPEN};
    return v;
}

struct trade_value trade_number(double number, enum base_known known) {
    struct trade_value v = {.number = number, .known = known};
    return v;
}

struct trade_value trade_word(uint32_t word, enum base_known known) {
    /* The widest member is cleared first, so that equal words are equal in all bytes of the union. */
    struct trade_value v = {.words = 0, .known = known};
    v.word = word;
    return v;
}

static bool same_counts(const struct trade_counts *a, const struct trade_counts *b) {
    return a->n == b->n && memcmp(a->at, b->at, a->n * sizeof a->at[0]) == 0;
}

bool trade_same(const struct trade_value *a, const struct trade_value *b, enum trade_type type) {
    if (trade_is_open(a) || trade_is_open(b)) {
        return false;
    }
    switch (type) {
    case TRADE_NUMBER:
    case TRADE_COUNT:
        return a->number >= b->number && a->number <= b->number;
    case TRADE_WORD:
        return a->word == b->word;
    case TRADE_WORDS:
        return a->words == b->words;
    case TRADE_COUNTS:
        return same_counts(a->counts, b->counts);
    case TRADE_TYRE:
    case TRADE_NAME:
        return strcmp(a->name, b->name) == 0;
    }
    return false;
}
