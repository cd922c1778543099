/* SPDX-License-Identifier: Apache-2.0 */
#include "trade/vocabulary.h"

#include <assert.h>
#include <string.h>

/* The tables have at most a few dozen rows and are searched while files are read, so plain search will do. */

int trade_find_kind(struct base_slice name) {
    for (int i = 0; i < TRADE_KINDS; i++) {
        if (base_slice_is(name, trade_kind_rows[i].name)) {
            return i;
        }
    }
    return -1;
}

int trade_find_slot(struct base_slice name) {
    for (int i = 0; i < TRADE_SLOTS; i++) {
        if (base_slice_is(name, trade_slot_rows[i].name)) {
            return i;
        }
    }
    return -1;
}

int trade_find_word(enum trade_domain domain, struct base_slice name) {
    const struct trade_domain_row *row = &trade_domain_rows[domain];
    for (size_t i = 0; i < row->n; i++) {
        if (base_slice_is(name, row->words[i].word)) {
            return (int)i;
        }
    }
    return -1;
}

int trade_find_property(enum trade_kind kind, struct base_slice name) {
    const struct trade_kind_row *row = &trade_kind_rows[kind];
    for (size_t i = 0; i < row->n; i++) {
        if (base_slice_is(name, trade_property_rows[row->first + i].name)) {
            return (int)(row->first + i);
        }
    }
    return -1;
}

int trade_find_operation(struct base_slice name) {
    for (int i = 0; i < TRADE_OPERATIONS; i++) {
        if (base_slice_is(name, trade_operation_rows[i].name)) {
            return i;
        }
    }
    return -1;
}

const char *trade_word_name(enum trade_domain domain, unsigned word) {
    assert(word < trade_domain_rows[domain].n);
    return trade_domain_rows[domain].words[word].word;
}

const char *trade_word_label(enum trade_domain domain, unsigned word) {
    assert(word < trade_domain_rows[domain].n);
    return trade_domain_rows[domain].words[word].label;
}

/* Which property tells apart the parts of one kind that go into different slots. */
static bool telling_property(enum trade_kind kind, enum trade_property *property) {
    switch (kind) {
    case TRADE_KIND_SPACER:
        *property = TRADE_SPACER_PLACE;
        return true;
    case TRADE_KIND_SHIFTER:
        *property = TRADE_SHIFTER_SIDE;
        return true;
    case TRADE_KIND_BRAKE_LEVER:
        *property = TRADE_BRAKE_LEVER_SIDE;
        return true;
    default:
        return false;
    }
}

bool trade_slot_wants(enum trade_slot slot, enum trade_property *property, unsigned *word) {
    const struct trade_slot_row *row = &trade_slot_rows[slot];
    enum trade_property telling;
    if (row->only[0] == '\0' || !telling_property(row->kind, &telling)) {
        return false;
    }
    int found = trade_find_word(trade_property_rows[telling].domain, base_slice_of(row->only));
    assert(found >= 0);
    *property = telling;
    *word = (unsigned)found;
    return true;
}

const struct trade_pulls_row *trade_pulls_of(unsigned pull) {
    for (size_t i = 0; i < trade_pulls_n; i++) {
        if (trade_pulls[i].pull == (int)pull) {
            return &trade_pulls[i];
        }
    }
    return NULL;
}

bool trade_share_derailleurs(unsigned pull, unsigned other) {
    const struct trade_pulls_row *a = trade_pulls_of(pull), *b = trade_pulls_of(other);
    return pull == other || (a && b && a->derailleurs[0] != '\0' && strcmp(a->derailleurs, b->derailleurs) == 0);
}

enum base_known trade_known_of(enum trade_mark mark) { return mark >= TRADE_MARK_MEM ? BASE_ASSUMED : BASE_TABLE; }
