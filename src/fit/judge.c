/* SPDX-License-Identifier: Apache-2.0 */
/*
 * One rule over all cases, and all rules over one build.
 */
#include "fit/judge.h"

#include <string.h>

uint32_t fit_rule_slots(const struct fit_rule *rule) {
    uint32_t slots = 0;
    for (unsigned i = 0; i < rule->n_reads; i++) {
        unsigned subject = rule->reads[i].subject;
        if (subject < TRADE_SLOTS) {
            slots |= 1u << subject;
        }
        if (subject >= FIT_MEASURE) {
            for (size_t t = 0; t < fit_measures[subject - FIT_MEASURE].n_terms; t++) {
                slots |= 1u << fit_measures[subject - FIT_MEASURE].terms[t].slot;
            }
        }
    }
    return slots;
}

static void ask_for(struct fit_answer *out, const struct fit_rule *rule, const struct trade_bike *bike, unsigned read) {
    struct fit_read asked = rule->reads[read];
    if (asked.subject >= FIT_MEASURE) {
        asked = fit_measure_asks((enum fit_measure_id)(asked.subject - FIT_MEASURE), bike);
    }
    out->asks_now = asked.subject >= FIT_NOW;
    out->ask_subject = (uint8_t)(out->asks_now ? asked.subject - FIT_NOW : asked.subject);
    out->ask_property = asked.property;
}

/* False when the rule does not apply, since a slot is empty. Sets hangs when a value that it needs is open. */
static bool applies(struct fit_answer *out, const struct fit_rule *rule, const struct fit_inputs *in,
                    const struct trade_bike *bike) {
    for (unsigned i = 0; i < rule->n_reads; i++) {
        const struct trade_value *value = in->v.at[i];
        unsigned flags = rule->reads[i].flags;
        if (!value) {
            if (!(flags & FIT_EMPTY_OK)) {
                return false;
            }
            continue;
        }
        if (trade_is_open(value) && in->dim[i] < 0 && !(flags & FIT_OPTIONAL) && !out->hangs) {
            out->hangs = true;
            ask_for(out, rule, bike, i);
        }
        if (!trade_is_open(value) || !(flags & FIT_OPTIONAL)) {
            out->known = base_weakest(out->known, value->known);
        }
    }
    return true;
}

/* --- combinations of candidates ------------------------------------------------------------------------------------ */

/* The candidate that a dimension has in one combination. */
static unsigned candidate_in(const struct fit_varied *varied, const struct fit_cases *cases, unsigned combination,
                             unsigned dim) {
    for (unsigned d = 0; d < varied->n_dims; d++) {
        unsigned n = cases->dims[varied->dims[d]].n;
        if (varied->dims[d] == dim) {
            return combination % n;
        }
        combination /= n;
    }
    return 0;
}

/* The combination that a joint case has. */
static unsigned combination_of(const struct fit_varied *varied, const struct fit_cases *cases, uint32_t joint) {
    unsigned combination = 0, scale = 1;
    for (unsigned d = 0; d < varied->n_dims; d++) {
        const struct fit_dim *dim = &cases->dims[varied->dims[d]];
        combination += scale * fit_candidate(dim, joint);
        scale *= dim->n;
    }
    return combination;
}

static bool holds(const uint64_t *bits, unsigned i) { return bits[i / 64] >> (i % 64) & 1; }
static void put(uint64_t *bits, unsigned i) { bits[i / 64] |= UINT64_C(1) << (i % 64); }

uint32_t fit_varied_dims(const struct fit_rule *rule, const struct fit_inputs *in) {
    uint32_t dims = 0;
    for (unsigned i = 0; i < rule->n_reads; i++) {
        dims |= in->dim[i] >= 0 && in->v.at[i] ? 1u << in->dim[i] : 0;
    }
    return dims;
}

void fit_vary(struct fit_varied *out, uint32_t dims, const struct fit_cases *cases) {
    memset(out, 0, sizeof *out);
    out->n = 1;
    for (unsigned d = 0; d < cases->n_dims; d++) {
        if ((dims >> d & 1) && out->n * cases->dims[d].n <= FIT_COMBINATIONS_MAX) {
            out->dims[out->n_dims++] = (uint8_t)d;
            out->n *= cases->dims[d].n;
        }
    }
    for (uint32_t joint = 0; joint < cases->n; joint++) {
        if (holds(cases->possible.bits, joint)) {
            put(out->occurs, combination_of(out, cases, joint));
        }
    }
}

void fit_cases_without(struct fit_case_set *out, const struct fit_varied *varied, const uint64_t *clash,
                       const struct fit_cases *cases) {
    *out = cases->possible;
    for (uint32_t joint = 0; joint < cases->n; joint++) {
        if (holds(clash, combination_of(varied, cases, joint))) {
            out->bits[joint / 64] &= ~(UINT64_C(1) << (joint % 64));
        }
    }
}

/* --- overruling ---------------------------------------------------------------------------------------------------- */

/* The slots that a rule looks at in each of the places for which it is registered. */
static uint32_t slots_of_every_place(const char *id) {
    uint32_t slots = UINT32_MAX;
    for (size_t r = 0; r < fit_rules_n; r++) {
        slots &= strcmp(fit_rules[r]->id, id) == 0 ? fit_rule_slots(fit_rules[r]) : UINT32_MAX;
    }
    return slots;
}

/* The slots that must keep what the bike has for an entry to overrule a rule; 0 when it does not speak of it. Named slots
 * that only some of the rule's places have tell which of them are meant. */
static uint32_t holding_slots(const struct trade_overruled *o, const struct fit_rule *rule) {
    uint32_t slots = fit_rule_slots(rule);
    if (rule->safety || strcmp(o->rule, rule->id) != 0) {
        return 0;
    }
    if (o->slots == 0) {
        return slots;
    }
    uint32_t places = o->slots & ~slots_of_every_place(rule->id);
    return places != 0 && !(places & slots) ? 0 : o->slots & slots;
}

uint32_t fit_overruled_slots(const struct trade_bike *bike, const struct fit_rule *rule) {
    uint32_t slots = 0;
    for (size_t i = 0; i < bike->n_overruled; i++) {
        slots |= holding_slots(&bike->overruled[i], rule);
    }
    return slots;
}

static const struct trade_overruled *overruled_by(const struct trade_bike *bike, const struct fit_rule *rule,
                                                  uint32_t changed) {
    for (size_t i = 0; i < bike->n_overruled; i++) {
        uint32_t slots = holding_slots(&bike->overruled[i], rule);
        if (slots != 0 && !(slots & changed)) {
            return &bike->overruled[i];
        }
    }
    return NULL;
}

/* A clash that a mechanic overrules stays told, holds in every case, and counts as a drawback. */
static void overrule(struct fit_answer *out, const struct fit_rule *rule, const struct trade_bike *bike,
                     uint32_t changed) {
    out->overruled = overruled_by(bike, rule, changed);
    if (out->overruled) {
        out->worst.kind = FIT_DRAWBACK;
        out->drawbacks |= (uint16_t)(1u << out->worst.reason);
    }
}

/* --- one rule ------------------------------------------------------------------------------------------------------ */

static struct fit_verdict judge_one(const struct fit_rule *rule, const struct fit_inputs *in,
                                    const struct fit_varied *varied, const struct fit_cases *cases,
                                    unsigned combination) {
    struct fit_values v = in->v;
    for (unsigned i = 0; i < rule->n_reads; i++) {
        if (in->dim[i] >= 0 && v.at[i]) {
            unsigned dim = (unsigned)in->dim[i];
            v.at[i] = &cases->dims[dim].at[candidate_in(varied, cases, combination, dim)];
        }
    }
    return rule->judge(&v);
}

/* Adds what the rule says of one combination. */
static void take_verdict(struct fit_answer *out, const struct fit_rule *rule, const struct trade_bike *bike,
                         const struct fit_verdict *verdict, unsigned combination) {
    out->n++;
    if (verdict->kind == FIT_CLASH) {
        put(out->clash, combination);
        out->n_clash++;
    }
    if (verdict->kind == FIT_DRAWBACK) {
        put(out->drawback, combination);
        out->n_drawback++;
        out->drawbacks |= (uint16_t)(1u << verdict->reason);
    }
    if (verdict->kind == FIT_ASK && !out->hangs) {
        out->hangs = true;
        ask_for(out, rule, bike, verdict->ask);
    }
    if (verdict->kind > out->worst.kind) {
        out->worst = *verdict;
    }
}

void fit_answer_inputs(struct fit_answer *out, const struct fit_rule *rule, const struct fit_inputs *in,
                       const struct fit_varied *varied, const struct trade_bike *bike, const struct fit_cases *cases) {
    memset(out, 0, sizeof *out);
    out->worst = fit_silent();
    if (!applies(out, rule, in, bike)) {
        return;
    }
    if (out->hangs) {
        out->worst.kind = FIT_ASK;
        out->worst.reason = UINT8_MAX;
        return;
    }
    for (unsigned c = 0; c < varied->n; c++) {
        if (holds(varied->occurs, c)) {
            struct fit_verdict verdict =
                varied->n_dims > 0 ? judge_one(rule, in, varied, cases, c) : rule->judge(&in->v);
            take_verdict(out, rule, bike, &verdict, c);
        }
    }
    if (out->n_clash > 0) {
        overrule(out, rule, bike, in->changed);
    }
}

/* doubtful: a drawback that only some of the cases have is an answer that waits for a measurement. */
static void judge_combinations(struct fit_finding *out, const struct fit_rule *rule, const struct fit_inputs *in,
                               const struct trade_bike *bike, const struct fit_cases *cases, bool doubtful) {
    struct fit_varied varied;
    struct fit_answer answer;
    fit_vary(&varied, fit_varied_dims(rule, in), cases);
    fit_answer_inputs(&answer, rule, in, &varied, bike, cases);
    *out = (struct fit_finding){.rule = rule,
                                .verdict = answer.worst,
                                .cases = fit_all_cases(cases),
                                .drawbacks = answer.drawbacks,
                                .hangs = answer.hangs,
                                .ask_subject = answer.ask_subject,
                                .ask_property = answer.ask_property,
                                .asks_now = answer.asks_now,
                                .known = answer.known,
                                .overruled = answer.overruled};
    if (answer.n_clash > 0 && !answer.overruled) {
        fit_cases_without(&out->cases, &varied, answer.clash, cases);
        out->conditional = !fit_no_case(&out->cases);
    } else if (answer.n_clash == 0 && doubtful && answer.n_drawback > 0 && answer.n_drawback < answer.n &&
               !answer.hangs) {
        fit_cases_without(&out->cases, &varied, answer.drawback, cases);
        out->conditional = true;
    }
}

/* What must be measured for a conditional answer. */
static void ask_for_deciding(struct fit_finding *out, const struct fit_cases *cases) {
    uint32_t deciding = out->conditional && !out->hangs ? fit_deciding(cases, &out->cases) : 0;
    if (deciding != 0) {
        const struct fit_dim *dim = &cases->dims[__builtin_ctz(deciding)];
        out->ask_subject = dim->subject;
        out->ask_property = dim->property;
    }
}

void fit_judge_rule(struct fit_finding *out, const struct fit_rule *rule, const struct trade_bike *bike,
                    const struct fit_build *build, const struct fit_cases *cases, bool as_it_stands) {
    struct trade_value scratch[FIT_READS_MAX];
    struct fit_inputs in;
    memset(out, 0, sizeof *out);
    out->rule = rule;
    out->verdict = fit_silent();
    out->cases = fit_all_cases(cases);
    in.changed = fit_changed(build, bike);
    if (!as_it_stands && !rule->as_it_stands && (fit_rule_slots(rule) & in.changed) == 0) {
        return;
    }
    for (unsigned i = 0; i < rule->n_reads; i++) {
        const struct fit_read *read = &rule->reads[i];
        unsigned subject = read->subject;
        in.v.at[i] = fit_read_value(&scratch[i], read, bike, build);
        in.dim[i] = -1;
        if (subject < TRADE_SLOTS ? build->at[subject].kind == FIT_KEEP : subject < FIT_MEASURE) {
            in.dim[i] = (int8_t)fit_dim_of(cases, subject >= FIT_NOW ? subject - FIT_NOW : subject, read->property);
        }
    }
    judge_combinations(out, rule, &in, bike, cases, as_it_stands);
    ask_for_deciding(out, cases);
}

void fit_judge_build(struct fit_finding *out, size_t *n_out, const struct trade_bike *bike,
                     const struct fit_build *build, const struct fit_cases *cases, bool as_it_stands) {
    size_t n = 0;
    for (size_t r = 0; r < fit_rules_n; r++) {
        fit_judge_rule(&out[n], fit_rules[r], bike, build, cases, as_it_stands);
        n += out[n].verdict.kind != FIT_SILENT;
    }
    *n_out = n;
}
