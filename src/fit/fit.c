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
