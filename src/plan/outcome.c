/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a consumer answers: a rule over all cases, or a cell of the result.
 */
#include "plan/model.h"

#include "plan/line.h"
#include "plan/values.h"

#include <string.h>

/* The value that a rule gets from an entry; NULL when the slot is empty. */
static const struct trade_value *entry_value(struct trade_value *scratch, const struct plan_variable *v,
                                             const struct plan_entry *entry) {
    if (v->sum) {
        struct fit_sum sum = plan_sum_of(entry);
        sum = fit_sum_close(sum);
        *scratch = sum.known == BASE_OPEN ? trade_open() : trade_number(sum.mm, BASE_MEASURED);
        return scratch;
    }
    if (entry->empty) {
        return NULL;
    }
    *scratch = trade_open();
    if (!entry->open) {
        memcpy(scratch, &entry->bits, sizeof entry->bits);
        scratch->known = BASE_MEASURED;
    }
    return scratch;
}

static uint64_t drawback_bits(struct plan *plan, const struct fit_rule *rule, uint16_t drawbacks) {
    uint64_t bits = 0;
    for (unsigned reason = 0; reason < FIT_REASONS_MAX && drawbacks >> reason; reason++) {
        if (!(drawbacks >> reason & 1)) {
            continue;
        }
        const char *code = rule->reasons[reason];
        size_t at = 0;
        while (at < plan->n_drawbacks && strcmp(plan->drawbacks[at], code) != 0) {
            at++;
        }
        if (at == plan->n_drawbacks && at < PLAN_DRAWBACKS_MAX) {
            plan->drawbacks[plan->n_drawbacks++] = code;
        }
        bits |= UINT64_C(1) << (at < PLAN_DRAWBACKS_MAX ? at : PLAN_DRAWBACKS_MAX - 1);
    }
    return bits;
}

static uint64_t hang_bit(struct plan *plan, const struct fit_answer *answer) {
    size_t at = 0;
    while (at < plan->n_hangs &&
           (plan->hangs[at].subject != answer->ask_subject || plan->hangs[at].property != answer->ask_property)) {
        at++;
    }
    if (at == plan->n_hangs && at < PLAN_HANGS_MAX) {
        plan->hangs[plan->n_hangs++] = (struct plan_hang){answer->ask_subject, answer->ask_property};
    }
    return UINT64_C(1) << (at < PLAN_HANGS_MAX ? at : PLAN_HANGS_MAX - 1);
}

/* The whole number in an entry; 0 when the slot is empty or the value open. */
static int count_in(const struct plan_entry *entry) {
    double number;
    memcpy(&number, &entry->bits, sizeof number);
    return entry->empty || entry->open ? 0 : (int)number;
}

/* Does the answer hang on a property of a part that is not in hand? */
static bool asks_of_new(const struct plan_model *model, const struct plan_consumer *c, const struct plan_entry *values,
                        const struct fit_answer *answer) {
    for (unsigned i = 0; i < c->n_variables && !answer->asks_now; i++) {
        const struct plan_variable *v = &model->variables[c->variables[i]];
        if (!v->sum && v->subject == answer->ask_subject && v->property == FIT_FITTED) {
            return !values[i].empty && count_in(&values[i]) == 0;
        }
    }
    return false;
}

/* The slots that decide whether an overruling holds and that do not keep what the bike has. */
static uint32_t changed_slots(const struct plan_model *model, const struct plan_consumer *c,
                              const struct plan_entry *values) {
    uint32_t changed = 0;
    for (unsigned i = 0; i < c->n_variables && c->overruled; i++) {
        const struct plan_variable *v = &model->variables[c->variables[i]];
        if (v->sum || v->property != FIT_FITTED || !(c->overruled >> v->subject & 1)) {
            continue;
        }
        const struct plan_entry *entry = &values[i];
        bool had = trade_bike_has(model->plan->question.bike, (enum trade_slot)v->subject);
        bool same = entry->empty ? !had : count_in(entry) == 1;
        changed |= same ? 0 : 1u << v->subject;
    }
    return changed;
}

/* The number of the set of cases in which it does not clash. */
static uint32_t cases_of(struct plan_model *model, uint32_t dims, const struct fit_varied *varied,
                         const struct fit_answer *answer) {
    struct plan_clash clash = {.dims = dims};
    struct fit_case_set set;
    bool is_new;
    memcpy(clash.combinations, answer->clash, sizeof clash.combinations);
    uint32_t at = plan_intern_id(&model->clashes, &clash, &is_new);
    if (at == PLAN_NO_ID || !is_new) {
        model->failed = model->failed || at == PLAN_NO_ID;
        return model->failed ? 0 : model->cases_of_clash[at];
    }
    uint32_t *cases =
        base_arena_grow(model->arena, model->cases_of_clash, at, &model->clash_room, (size_t)at + 1, sizeof *cases);
    model->failed = !cases;
    if (model->failed) {
        return 0;
    }
    model->cases_of_clash = cases;
    fit_cases_without(&set, varied, answer->clash, &model->plan->cases);
    cases[at] = plan_intern_id(&model->cases, &set, NULL);
    model->failed = cases[at] == PLAN_NO_ID;
    return cases[at];
}

/* What varies with a set of dimensions; NULL and model->failed without memory. */
static const struct fit_varied *varied_of(struct plan_model *model, uint32_t dims) {
    bool is_new;
    if (dims == 0) {
        return &model->varies_not;
    }
    uint32_t at = plan_intern_id(&model->dims, &dims, &is_new);
    struct fit_varied *varied = at == PLAN_NO_ID ? NULL
                                                 : base_arena_grow(model->arena, model->varied, at, &model->varied_room,
                                                                   (size_t)at + 1, sizeof *varied);
    if (!varied) {
        model->failed = true;
        return NULL;
    }
    model->varied = varied;
    if (is_new) {
        fit_vary(&varied[at], dims, &model->plan->cases);
    }
    return &varied[at];
}

static void judge_rule(struct plan_outcome *out, struct plan_model *model, const struct plan_consumer *c,
                       const struct plan_entry *values) {
    struct trade_value scratch[FIT_READS_MAX];
    struct fit_inputs in;
    struct fit_answer answer;
    for (unsigned i = 0; i < c->rule->n_reads; i++) {
        in.v.at[i] = c->fixed[i];
        in.dim[i] = c->dim[i];
        if (c->source[i] >= 0) {
            const struct plan_entry *entry = &values[c->source[i]];
            in.v.at[i] = entry_value(&scratch[i], &model->variables[c->variables[c->source[i]]], entry);
            in.dim[i] = entry->dim;
        }
    }
    in.changed = changed_slots(model, c, values);
    uint32_t dims = fit_varied_dims(c->rule, &in);
    const struct fit_varied *varied = varied_of(model, dims);
    if (!varied) {
        return;
    }
    fit_answer_inputs(&answer, c->rule, &in, varied, model->plan->question.bike, &model->plan->cases);
    bool clashes = answer.n_clash > 0 && !answer.overruled;
    if ((clashes && answer.n_clash == answer.n) || (answer.hangs && asks_of_new(model, c, values, &answer))) {
        return;
    }
    out->allowed = 1;
    out->cases = clashes ? cases_of(model, dims, varied, &answer) : 0;
    out->drawbacks = drawback_bits(model->plan, c->rule, answer.drawbacks);
    out->hangs = answer.hangs ? hang_bit(model->plan, &answer) : 0;
}

static void judge_rings(struct plan_outcome *out, const struct plan_model *model, const struct plan_entry *values) {
    unsigned rings = 0;
    for (unsigned i = 0; i < 3; i++) {
        double present;
        memcpy(&present, &values[i].bits, sizeof present);
        rings += present != 0;
    }
    out->allowed = model->plan->wish.rings == 0 ? rings > 0 : rings == model->plan->wish.rings;
}

static void judge_gears(struct plan_outcome *out, const struct plan_model *model, const struct plan_entry *values) {
    int least = 0, most = 0;
    for (unsigned i = 0; i < 3; i++) {
        int teeth = count_in(&values[i]);
        least = teeth > 0 && (least == 0 || teeth < least) ? teeth : least;
        most = teeth > most ? teeth : most;
    }
    int smallest = count_in(&values[3]), largest = count_in(&values[4]);
    if (least == 0 || smallest == 0) {
        return;
    }
    int32_t lowest = plan_development(least, largest, model->plan->question.bike);
    int32_t highest = plan_development(most, smallest, model->plan->question.bike);
    out->allowed = lowest <= model->lowest_most && highest >= model->highest_least;
    if (out->allowed && (model->plan->wish.objectives >> TRADE_LOWEST & 1)) {
        out->lowest = lowest;
    }
    if (out->allowed && (model->plan->wish.objectives >> TRADE_HIGHEST & 1)) {
        out->counted = highest < model->cap ? highest : model->cap;
    }
}

static void judge_road(struct plan_outcome *out, const struct plan_model *model, const struct plan_entry *values) {
    const struct plan_question *question = &model->plan->question;
    const int rings[3] = {count_in(&values[0]), count_in(&values[1]), count_in(&values[2])};
    uint64_t sprockets = values[3].empty || values[3].open ? 0 : values[3].bits;
    struct plan_score score = plan_score_of(question->speeds, rings, sprockets, question->bike);
    out->allowed = 1;
    out->in_band = model->plan->wish.objectives >> TRADE_IN_BAND & 1 ? score.in_band : 0;
    out->walked_m = model->plan->wish.objectives >> TRADE_WALKED & 1 ? score.walked_m : 0;
}

static void judge_line(struct plan_outcome *out, const struct plan_model *model, const struct plan_consumer *c,
                       const struct plan_entry *values) {
    struct plan_line line;
    for (unsigned i = 0; i < 3; i++) {
        double present;
        memcpy(&present, &values[2 * i + 1].bits, sizeof present);
        line.present[i] = present != 0;
        line.ring[i] = (struct fit_sum){.known = BASE_OPEN};
        if (line.present[i]) {
            line.ring[i] = fit_sum_close(plan_sum_of(&values[2 * i]));
        }
    }
    line.rear = (struct fit_sum){.known = BASE_OPEN};
    if (c->n_variables > 6) {
        line.rear = fit_sum_close(plan_sum_of(&values[6]));
    }
    plan_line_close(&line, model->plan->question.bike);
    out->allowed = 1;
    out->line = line.error_steps < 0 ? INT16_MAX : line.error_steps;
}

uint32_t plan_judge(struct plan_model *model, const struct plan_consumer *consumer, const struct plan_entry *values,
                    bool changed) {
    struct plan_outcome outcome;
    memset(&outcome, 0, sizeof outcome);
    if (consumer->any && !changed) {
        return PLAN_OUTCOME_PLAIN;
    }
    switch (consumer->kind) {
    case PLAN_RULE:
        judge_rule(&outcome, model, consumer, values);
        break;
    case PLAN_RINGS:
        judge_rings(&outcome, model, values);
        break;
    case PLAN_GEARS:
        judge_gears(&outcome, model, values);
        break;
    case PLAN_ROAD:
        judge_road(&outcome, model, values);
        break;
    case PLAN_LINE:
        judge_line(&outcome, model, consumer, values);
        break;
    }
    uint32_t id = plan_intern_id(&model->outcomes, &outcome, NULL);
    model->failed = model->failed || id == PLAN_NO_ID;
    return id;
}
