/* SPDX-License-Identifier: Apache-2.0 */
/*
 * One rule over all cases, and all rules over one build.
 */
#include "fit/judge.h"

#include <string.h>

#define COMBINATIONS_MAX 512 /* of the candidates of the dimensions that one rule reads: three of eight */

/* The dimensions that one call varies, and where each read gets its value from. */
struct varied {
    uint8_t dims[FIT_DIMS_MAX];
    unsigned n_dims;
    unsigned n; /* combinations */
};

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

static void ask_for(struct fit_finding *out, const struct fit_rule *rule, const struct trade_bike *bike,
                    unsigned read) {
    struct fit_read asked = rule->reads[read];
    if (asked.subject >= FIT_MEASURE) {
        asked = fit_measure_asks((enum fit_measure_id)(asked.subject - FIT_MEASURE), bike);
    }
    out->asks_now = asked.subject >= FIT_NOW;
    out->ask_subject = (uint8_t)(out->asks_now ? asked.subject - FIT_NOW : asked.subject);
    out->ask_property = asked.property;
}

/* False when the rule does not apply, since a slot is empty. Sets hangs when a value that it needs is open. */
static bool applies(struct fit_finding *out, const struct fit_rule *rule, const struct fit_inputs *in,
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

static struct varied varied_of(const struct fit_rule *rule, const struct fit_inputs *in,
                               const struct fit_cases *cases) {
    struct varied out = {.n = 1};
    for (unsigned i = 0; i < rule->n_reads; i++) {
        if (in->dim[i] < 0 || !in->v.at[i]) {
            continue;
        }
        bool seen = false;
        for (unsigned d = 0; d < out.n_dims; d++) {
            seen = seen || out.dims[d] == in->dim[i];
        }
        if (!seen && out.n * cases->dims[in->dim[i]].n <= COMBINATIONS_MAX) {
            out.dims[out.n_dims++] = (uint8_t)in->dim[i];
            out.n *= cases->dims[in->dim[i]].n;
        }
    }
    return out;
}

/* The candidate that a dimension has in one combination. */
static unsigned candidate_in(const struct varied *varied, const struct fit_cases *cases, unsigned combination,
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

static struct fit_verdict judge_one(const struct fit_rule *rule, const struct fit_inputs *in,
                                    const struct varied *varied, const struct fit_cases *cases, unsigned combination) {
    struct fit_values v = in->v;
    for (unsigned i = 0; i < rule->n_reads; i++) {
        if (in->dim[i] >= 0 && v.at[i]) {
            unsigned dim = (unsigned)in->dim[i];
            v.at[i] = &cases->dims[dim].at[candidate_in(varied, cases, combination, dim)];
        }
    }
    return rule->judge(&v);
}

/* The combination that a joint case has. */
static unsigned combination_of(const struct varied *varied, const struct fit_cases *cases, uint32_t joint) {
    unsigned combination = 0, scale = 1;
    for (unsigned d = 0; d < varied->n_dims; d++) {
        const struct fit_dim *dim = &cases->dims[varied->dims[d]];
        combination += scale * fit_candidate(dim, joint);
        scale *= dim->n;
    }
    return combination;
}

static bool holds(const struct fit_case_set *set, uint32_t joint) { return set->bits[joint / 64] >> (joint % 64) & 1; }

/* Which combinations occur in a possible case. */
static void find_occurring(bool *occurs, const struct varied *varied, const struct fit_cases *cases) {
    memset(occurs, 0, varied->n * sizeof *occurs);
    occurs[0] = varied->n_dims == 0;
    if (occurs[0]) {
        return;
    }
    for (uint32_t joint = 0; joint < cases->n; joint++) {
        if (holds(&cases->possible, joint)) {
            occurs[combination_of(varied, cases, joint)] = true;
        }
    }
}

/* The possible joint cases whose combination does not clash. */
static void spread(struct fit_case_set *out, const struct varied *varied, const bool *clash,
                   const struct fit_cases *cases) {
    *out = cases->possible;
    for (uint32_t joint = 0; joint < cases->n; joint++) {
        if (clash[combination_of(varied, cases, joint)]) {
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
static void overrule(struct fit_finding *out, const struct trade_bike *bike, const struct fit_cases *cases,
                     uint32_t changed) {
    out->overruled = overruled_by(bike, out->rule, changed);
    if (!out->overruled) {
        return;
    }
    out->cases = fit_all_cases(cases);
    out->conditional = false;
    out->verdict.kind = FIT_DRAWBACK;
    out->drawbacks |= (uint16_t)(1u << out->verdict.reason);
}

/* --- one rule ------------------------------------------------------------------------------------------------------ */

/* doubtful: a drawback that only some of the cases have is an answer that waits for a measurement. */
static void judge_combinations(struct fit_finding *out, const struct fit_rule *rule, const struct fit_inputs *in,
                               const struct trade_bike *bike, const struct fit_cases *cases, bool doubtful) {
    bool clash[COMBINATIONS_MAX] = {false}, drawback[COMBINATIONS_MAX] = {false}, occurs[COMBINATIONS_MAX];
    unsigned n_clash = 0, n_drawback = 0, n = 0;
    memset(out, 0, sizeof *out);
    out->rule = rule;
    out->verdict = fit_silent();
    out->cases = fit_all_cases(cases);
    if (!applies(out, rule, in, bike)) {
        return;
    }
    if (out->hangs) {
        out->verdict.kind = FIT_ASK;
        out->verdict.reason = UINT8_MAX;
        return;
    }
    struct varied varied = varied_of(rule, in, cases);
    find_occurring(occurs, &varied, cases);
    for (unsigned c = 0; c < varied.n; c++) {
        if (!occurs[c]) {
            continue;
        }
        struct fit_verdict verdict = judge_one(rule, in, &varied, cases, c);
        clash[c] = verdict.kind == FIT_CLASH;
        drawback[c] = verdict.kind == FIT_DRAWBACK;
        n_clash += clash[c];
        n_drawback += drawback[c];
        n++;
        if (verdict.kind == FIT_DRAWBACK) {
            out->drawbacks |= (uint16_t)(1u << verdict.reason);
        }
        if (verdict.kind == FIT_ASK && !out->hangs) {
            out->hangs = true;
            ask_for(out, rule, bike, verdict.ask);
        }
        if (verdict.kind > out->verdict.kind) {
            out->verdict = verdict;
        }
    }
    if (n_clash > 0) {
        spread(&out->cases, &varied, clash, cases);
        out->conditional = !fit_no_case(&out->cases);
        overrule(out, bike, cases, in->changed);
    } else if (doubtful && n_drawback > 0 && n_drawback < n && !out->hangs) {
        spread(&out->cases, &varied, drawback, cases);
        out->conditional = true;
    }
}

void fit_judge_inputs(struct fit_finding *out, const struct fit_rule *rule, const struct fit_inputs *in,
                      const struct trade_bike *bike, const struct fit_cases *cases) {
    judge_combinations(out, rule, in, bike, cases, false);
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
