/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/finding.h"

#include "explain/message.h"
#include "explain/path.h"
#include "explain/value.h"

#include <string.h>

static struct explain_arg arg_of(const struct fit_fact *fact) {
    if (fact->type == FIT_FACT_WORD) {
        return explain_words(trade_domain_rows[fact->domain].words[fact->word].label);
    }
    return explain_number(fact->number, fact->decimals, explain_unit_of(fact->unit ? fact->unit : ""));
}

/* The first fact of a rule is what it computed; the limits behind it stand in tables. */
static void mark_assumed(struct explain_arg *args, size_t n, enum base_known known) {
    if (n > 0 && known == BASE_ASSUMED && args[0].type == EXPLAIN_NUMBER && strcmp(args[0].text, "mm") == 0) {
        args[0].known = BASE_ASSUMED;
    }
}

static void put_to_measure(struct base_buffer *out, const struct fit_finding *finding) {
    struct base_buffer name;
    base_buffer_init(&name, 0);
    explain_name(&name, finding->ask_subject, finding->ask_property);
    explain_tell(out, "finding.to-measure", explain_buffered(&name));
    base_buffer_clear(&name);
}

void explain_reason(struct base_buffer *out, const struct fit_finding *finding) {
    struct explain_arg args[FIT_FACTS_MAX];
    const struct fit_verdict *verdict = &finding->verdict;
    if (verdict->kind == FIT_SILENT || verdict->reason >= FIT_REASONS_MAX || !finding->rule->reasons[verdict->reason]) {
        put_to_measure(out, finding);
        return;
    }
    for (size_t i = 0; i < verdict->n_facts; i++) {
        args[i] = arg_of(&verdict->facts[i]);
    }
    mark_assumed(args, verdict->n_facts, finding->known);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, finding->rule->reasons[verdict->reason], args, verdict->n_facts);
    explain_put_capital(out, explain_held(out, &text));
    base_buffer_text(out, ".");
    base_buffer_clear(&text);
}

const char *explain_rule_name(const struct fit_rule *rule) {
    const char *const words[] = {rule->id, ".name"};
    const char *name = explain_message_of(words, 2);
    return name ? name : rule->id;
}

uint32_t explain_candidates(const struct fit_cases *cases, size_t d, const struct fit_case_set *set) {
    uint32_t mask = 0;
    for (uint32_t joint = 0; joint < cases->n; joint++) {
        if (set->bits[joint / 64] >> (joint % 64) & 1) {
            mask |= 1u << fit_candidate(&cases->dims[d], joint);
        }
    }
    return mask;
}

void explain_readings(struct base_buffer *out, const struct fit_dim *dim, uint32_t mask) {
    struct base_buffer each[FIT_CANDIDATES_MAX];
    const char *words[FIT_CANDIDATES_MAX] = {NULL};
    size_t n = 0;
    for (unsigned c = 0; c < dim->n; c++) {
        if (mask >> c & 1) {
            base_buffer_init(&each[n], 0);
            explain_reading(&each[n], dim->property, &dim->at[c]);
            words[n] = explain_held(out, &each[n]);
            n++;
        }
    }
    explain_put_list(out, words, n, "list.or");
    while (n > 0) {
        base_buffer_clear(&each[--n]);
    }
}

void explain_finding(struct base_buffer *out, const struct fit_finding *finding) {
    explain_reason(out, finding);
    if (finding->overruled) {
        base_buffer_text(out, " ");
        explain_tell(out, "finding.overruled", explain_words(finding->overruled->by),
                     explain_words(finding->overruled->reason));
    }
}

void explain_condition(struct base_buffer *out, const struct fit_finding *finding, const struct fit_cases *cases) {
    uint32_t deciding = finding->conditional ? fit_deciding(cases, &finding->cases) : 0;
    for (size_t d = 0; d < cases->n_dims; d++) {
        if (!(deciding >> d & 1)) {
            continue;
        }
        struct base_buffer name, readings;
        base_buffer_init(&name, 0);
        base_buffer_init(&readings, 0);
        explain_name(&name, cases->dims[d].subject, cases->dims[d].property);
        explain_readings(&readings, &cases->dims[d], explain_candidates(cases, d, &finding->cases));
        explain_tell(out, "finding.fits-if", explain_buffered(&name), explain_buffered(&readings));
        base_buffer_text(out, " ");
        base_buffer_clear(&name);
        base_buffer_clear(&readings);
    }
    if (finding->conditional) {
        explain_say(out, "finding.else");
        base_buffer_text(out, " ");
    }
}
