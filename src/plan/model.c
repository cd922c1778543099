/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/model.h"

#include "plan/line.h"
#include "plan/values.h"
#include "trade/vocabulary.h"

#include "base/number.h"

#include <math.h>
#include <string.h>

static const enum trade_slot ring_slots[3] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};

/* --- variables and consumers --------------------------------------------------------------------------------------- */

static uint32_t measure_slots(unsigned measure) {
    uint32_t slots = 0;
    for (size_t i = 0; i < fit_measures[measure].n_terms; i++) {
        slots |= 1u << fit_measures[measure].terms[i].slot;
    }
    return slots;
}

/* The variable of a read, made when it is not there yet. */
static unsigned variable_of(struct plan_model *model, unsigned subject, unsigned property) {
    bool sum = subject >= FIT_MEASURE;
    uint8_t about = (uint8_t)(sum ? subject - FIT_MEASURE : subject);
    for (unsigned i = 0; i < model->n_variables; i++) {
        const struct plan_variable *v = &model->variables[i];
        if (v->sum == sum && v->subject == about && v->property == property) {
            return i;
        }
    }
    if (model->n_variables == PLAN_VARIABLES_MAX) {
        model->failed = true;
        return 0;
    }
    struct plan_variable *v = &model->variables[model->n_variables];
    v->sum = sum;
    v->subject = about;
    v->property = (uint16_t)property;
    v->slots = sum ? measure_slots(about) : 1u << subject;
    plan_intern_init(&v->entries, model->arena, sizeof(struct plan_entry));
    return model->n_variables++;
}

static int8_t reads_variable(struct plan_model *model, struct plan_consumer *c, unsigned subject, unsigned property) {
    unsigned variable = variable_of(model, subject, property);
    for (unsigned i = 0; i < c->n_variables; i++) {
        if (c->variables[i] == variable) {
            return (int8_t)i;
        }
    }
    if (c->n_variables == PLAN_CONSUMER_VARIABLES_MAX) {
        model->failed = true;
        return 0;
    }
    c->slots |= model->variables[variable].slots;
    c->variables[c->n_variables] = (uint16_t)variable;
    return (int8_t)c->n_variables++;
}

static struct plan_consumer *new_consumer(struct plan_model *model, enum plan_consumer_kind kind) {
    if (model->n_consumers == PLAN_CONSUMERS_MAX) {
        model->failed = true;
        return NULL;
    }
    struct plan_consumer *c = &model->consumers[model->n_consumers++];
    c->kind = kind;
    return c;
}

/* Where the bike overrules the rule, it must be seen which of the parts stay. */
static void read_overruled(struct plan_model *model, struct plan_consumer *c) {
    c->overruled = fit_overruled_slots(model->plan->question.bike, c->rule);
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        if (c->overruled >> slot & 1) {
            reads_variable(model, c, slot, FIT_FITTED);
        }
    }
}

static void add_rule(struct plan_model *model, const struct fit_rule *rule) {
    struct plan_consumer *c = new_consumer(model, PLAN_RULE);
    if (!c) {
        return;
    }
    c->rule = rule;
    read_overruled(model, c);
    c->any = !rule->as_it_stands;
    for (unsigned i = 0; i < rule->n_reads; i++) {
        const struct fit_read *read = &rule->reads[i];
        c->source[i] = -1;
        c->dim[i] = -1;
        if (read->subject < TRADE_SLOTS || read->subject >= FIT_MEASURE) {
            c->source[i] = reads_variable(model, c, read->subject, read->property);
            c->rising |= read->flags & FIT_RISING ? 1u << c->source[i] : 0;
            if (read->subject < TRADE_SLOTS && read->property < TRADE_PROPERTIES) {
                reads_variable(model, c, read->subject, FIT_FITTED); /* what is not in hand can't be measured */
            }
            continue;
        }
        unsigned subject = read->subject >= FIT_NOW ? read->subject - FIT_NOW : read->subject;
        c->fixed[i] = fit_read_value(&c->scratch[i], read, model->plan->question.bike, &model->plan->now);
        c->dim[i] = (int8_t)fit_dim_of(&model->plan->cases, subject, read->property);
    }
}

/* Of all the cells this one alone sees each sprocket. */
static void add_road(struct plan_model *model) {
    struct plan_consumer *road = new_consumer(model, PLAN_ROAD);
    for (unsigned i = 0; i < 3 && road; i++) {
        reads_variable(model, road, ring_slots[i], TRADE_RING_TEETH);
    }
    if (road) {
        reads_variable(model, road, TRADE_SLOT_CASSETTE, FIT_TEETH);
    }
}

static void add_cells(struct plan_model *model) {
    struct plan_consumer *rings = new_consumer(model, PLAN_RINGS);
    struct plan_consumer *gears = new_consumer(model, PLAN_GEARS);
    for (unsigned i = 0; i < 3 && rings && gears; i++) {
        reads_variable(model, rings, ring_slots[i], FIT_PRESENT);
        reads_variable(model, gears, ring_slots[i], TRADE_RING_TEETH);
    }
    if (gears) {
        reads_variable(model, gears, TRADE_SLOT_CASSETTE, FIT_SMALLEST);
        reads_variable(model, gears, TRADE_SLOT_CASSETTE, FIT_LARGEST);
    }
    if (model->plan->wish.objectives & TRADE_OF_ROAD) {
        add_road(model);
    }
    if (!(model->plan->wish.objectives >> TRADE_LINE_ERROR & 1)) {
        return;
    }
    struct plan_consumer *line = new_consumer(model, PLAN_LINE);
    for (unsigned i = 0; i < 3 && line; i++) {
        reads_variable(model, line, FIT_MEASURE + FIT_OUTER_PLANE + i, FIT_VALUE);
        reads_variable(model, line, ring_slots[i], FIT_PRESENT);
    }
    if (line && !plan_line_has_window(model->plan->question.bike)) {
        reads_variable(model, line, FIT_MEASURE + FIT_REAR_MIDDLE, FIT_VALUE);
    }
}

/* The table of what is seen, with nothing seen and silence as its first records. */
static void start_seeing(struct plan_model *model, struct plan_consumer *c) {
    uint32_t record[PLAN_CONSUMER_VARIABLES_MAX + 1];
    plan_intern_init(&c->seen, model->arena, (c->n_variables + 1) * sizeof *record);
    memset(record, 0xFF, sizeof record); /* PLAN_NO_ID */
    record[c->n_variables] = 0;
    model->failed = model->failed || plan_intern_id(&c->seen, record, NULL) != PLAN_SEEN_NOTHING;
    record[c->n_variables] = PLAN_NO_ID;
    model->failed = model->failed || plan_intern_id(&c->seen, record, NULL) != PLAN_SEEN_SILENT;
}

static int32_t bound(double metres, int32_t none) { return isnan(metres) ? none : (int32_t)base_round(metres * 10000); }

enum base_status plan_model_init(struct plan_model *out, struct plan *plan, struct base_arena *arena) {
    static const struct plan_outcome no, plain = {.allowed = 1};
    memset(out, 0, sizeof *out);
    out->plan = plan;
    out->arena = arena;
    plan_intern_init_told(&out->cases, arena, sizeof(struct fit_case_set),
                          (plan->cases.n + 63) / 64 * sizeof(uint64_t));
    plan_intern_init(&out->meets, arena, 2 * sizeof(uint32_t));
    plan_intern_init(&out->dims, arena, sizeof(uint32_t));
    plan_intern_init(&out->clashes, arena, sizeof(struct plan_clash));
    plan_intern_init(&out->outcomes, arena, sizeof(struct plan_outcome));
    struct fit_case_set all = fit_all_cases(&plan->cases);
    if (plan_intern_id(&out->cases, &all, NULL) != 0 || plan_intern_id(&out->outcomes, &no, NULL) != PLAN_OUTCOME_NO ||
        plan_intern_id(&out->outcomes, &plain, NULL) != PLAN_OUTCOME_PLAIN) {
        return BASE_NO_MEMORY;
    }
    fit_vary(&out->varies_not, 0, &plan->cases);
    out->cap = plan_cap(&plan->wish, plan->question.bike);
    out->lowest_most = bound(plan->wish.lowest_m_max, INT32_MAX);
    out->highest_least = bound(plan->wish.highest_m_min, 0);
    for (size_t r = 0; r < fit_rules_n; r++) {
        if (!plan->beyond.waived[r]) {
            add_rule(out, fit_rules[r]);
        }
    }
    add_cells(out);
    for (unsigned c = 0; c < out->n_consumers && !out->failed; c++) {
        start_seeing(out, &out->consumers[c]);
    }
    return out->failed ? BASE_NO_MEMORY : BASE_OK;
}

/* --- cases --------------------------------------------------------------------------------------------------------- */

uint32_t plan_meet(struct plan_model *model, uint32_t a, uint32_t b) {
    struct fit_case_set both;
    bool is_new;
    if (model->failed) {
        return PLAN_NO_ID;
    }
    if (a == b || b == 0) {
        return a;
    }
    if (a == 0) {
        return b;
    }
    const uint32_t pair[2] = {a < b ? a : b, a < b ? b : a};
    uint32_t at = plan_intern_id(&model->meets, pair, &is_new);
    if (at != PLAN_NO_ID && !is_new) {
        return model->meet_of[at];
    }
    uint32_t *homes = at == PLAN_NO_ID ? NULL
                                       : base_arena_grow(model->arena, model->meet_of, at, &model->meet_room,
                                                         (size_t)at + 1, sizeof *homes);
    if (!homes) {
        model->failed = true;
        return PLAN_NO_ID;
    }
    model->meet_of = homes;
    const struct fit_case_set *x = plan_intern_at(&model->cases, a), *y = plan_intern_at(&model->cases, b);
    for (size_t i = 0; i < FIT_CASE_WORDS; i++) {
        both.bits[i] = x->bits[i] & y->bits[i];
    }
    homes[at] = plan_intern_id(&model->cases, &both, NULL);
    model->failed = homes[at] == PLAN_NO_ID;
    return homes[at];
}
