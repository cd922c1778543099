/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Making verdicts.
 */
#include "fit/fit.h"

#include <assert.h>
#include <string.h>

struct fit_verdict fit_silent(void) {
    return (struct fit_verdict){.kind = FIT_SILENT};
}

struct fit_verdict fit_say(enum fit_kind kind, unsigned reason) {
    assert(kind != FIT_SILENT && kind != FIT_ASK && reason < FIT_REASONS_MAX);
    return (struct fit_verdict){.kind = (uint8_t)kind, .reason = (uint8_t)reason};
}

struct fit_verdict fit_ask(unsigned read, unsigned reason) {
    assert(read < FIT_READS_MAX && reason < FIT_REASONS_MAX);
    return (struct fit_verdict){.kind = FIT_ASK, .reason = (uint8_t)reason, .ask = (uint8_t)read};
}

static void add(struct fit_verdict *v, struct fit_fact fact) {
    assert(v->n_facts < FIT_FACTS_MAX);
    v->facts[v->n_facts++] = fact;
}

void fit_add_number(struct fit_verdict *v, double number, int decimals, const char *unit) {
    assert(decimals >= 0 && decimals <= 9);
    add(v, (struct fit_fact){.type = FIT_FACT_NUMBER, .number = number, .decimals = (uint8_t)decimals, .unit = unit});
}

void fit_add_word(struct fit_verdict *v, enum trade_domain domain, unsigned word) {
    assert(word < trade_domain_rows[domain].n);
    add(v, (struct fit_fact){.type = FIT_FACT_WORD, .domain = (uint16_t)domain, .word = (uint16_t)word, .unit = ""});
}

const struct fit_rule *fit_find_rule(const char *id) {
    for (size_t i = 0; i < fit_rules_n; i++) {
        if (strcmp(fit_rules[i]->id, id) == 0) {
            return fit_rules[i];
        }
    }
    return NULL;
}

static bool reads(const struct fit_read *read, unsigned n, unsigned subject, unsigned property) {
    for (unsigned i = 0; i < n; i++) {
        bool of = read[i].subject == subject || read[i].subject == FIT_NOW + subject;
        if (of && read[i].property == property) {
            return true;
        }
    }
    return false;
}

bool fit_is_read(unsigned subject, unsigned property) {
    for (size_t r = 0; r < fit_rules_n; r++) {
        if (reads(fit_rules[r]->reads, fit_rules[r]->n_reads, subject, property)) {
            return true;
        }
    }
    for (size_t m = 0; m < FIT_MEASURES; m++) {
        for (size_t t = 0; t < fit_measures[m].n_terms; t++) {
            const struct fit_term *term = &fit_measures[m].terms[t];
            if (reads(term->reads, term->n_reads, subject, property)) {
                return true;
            }
        }
    }
    return false;
}
