/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Everything that has a name here.
 */
#include "explain/words.h"

#include "explain/message.h"
#include "trade/vocabulary.h"

#include <string.h>

#define NAMES_MAX 2048

struct names {
    const char *at[NAMES_MAX];
    size_t n;
};

static void add(struct names *names, const char *name) {
    if (names->n < NAMES_MAX) {
        names->at[names->n++] = name;
    }
}

static void add_rules(struct names *names) {
    for (size_t r = 0; r < fit_rules_n; r++) {
        add(names, fit_rules[r]->id);
        for (size_t i = 0; i < FIT_REASONS_MAX && fit_rules[r]->reasons[i]; i++) {
            add(names, fit_rules[r]->reasons[i]);
        }
    }
}

static void add_vocabulary(struct names *names) {
    for (size_t s = 0; s < TRADE_SLOTS; s++) {
        add(names, trade_slot_rows[s].name);
    }
    for (size_t k = 0; k < TRADE_KINDS; k++) {
        add(names, trade_kind_rows[k].name);
    }
    for (size_t p = 0; p < TRADE_PROPERTIES; p++) {
        add(names, trade_property_rows[p].name);
    }
    for (size_t d = 0; d < TRADE_DOMAINS; d++) {
        for (size_t w = 0; w < trade_domain_rows[d].n; w++) {
            add(names, trade_domain_rows[d].words[w].word);
        }
    }
}

static void add_words(struct names *names) {
    for (size_t i = 0; i < EXPLAIN_MARKS; i++) {
        add(names, explain_marks[i].document);
        add(names, explain_message(explain_marks[i].code));
    }
    for (size_t i = 0; explain_words_of_documents[i].document; i++) {
        add(names, explain_words_of_documents[i].document);
        add(names, explain_message(explain_words_of_documents[i].code));
    }
    for (size_t i = 0; i < EXPLAIN_KNOWN; i++) {
        add(names, explain_known_words[i].document);
    }
}

const char *explain_nearest_name(struct base_slice wanted) {
    struct names names = {.n = 0};
    const char *point = wanted.n > 0 ? memchr(wanted.at, '.', wanted.n) : NULL;
    add_rules(&names);
    add_vocabulary(&names);
    add_words(&names);
    int nearest = base_text_nearest(wanted, names.at, names.n);
    if (nearest < 0 && point) { /* the property of a kind: 'frame.hub_widht_mm' */
        struct base_slice behind = {point + 1, wanted.n - (size_t)(point + 1 - wanted.at)};
        nearest = base_text_nearest(behind, names.at, names.n);
    }
    return nearest >= 0 ? names.at[nearest] : NULL;
}
