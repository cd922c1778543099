/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/model.h"

#include "plan/line.h"
#include "plan/values.h"
#include "trade/vocabulary.h"

#include "base/number.h"

#include <math.h>
#include <string.h>

static const enum trade_slot ring_slots[3] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};

/* --- what a slot may hold ------------------------------------------------------------------------------------------ */

uint32_t plan_ranks(const struct plan *plan, enum trade_slot slot) {
    return 2 + (uint32_t)plan->question.catalogue->n[trade_slot_rows[slot].kind];
}

struct fit_choice plan_choice(const struct plan *plan, enum trade_slot slot, uint32_t rank) {
    if (rank == 0) {
        return (struct fit_choice){.kind = FIT_KEEP, .part = &plan->question.bike->fitted[slot].part};
    }
    if (rank == 1) {
        return (struct fit_choice){.kind = FIT_NONE};
    }
    enum trade_kind kind = trade_slot_rows[slot].kind;
    return (struct fit_choice){.kind = FIT_NEW, .part = &plan->question.catalogue->parts[kind][rank - 2]};
}

/* Is this the side or the place that the slot takes? */
static bool slot_takes(enum trade_slot slot, const struct trade_part *part) {
    enum trade_property property;
    unsigned word;
    if (!trade_slot_wants(slot, &property, &word)) {
        return true;
    }
    int has = trade_get_word(part, property);
    bool sided = property != TRADE_SPACER_PLACE;
    return has == (int)word || (sided && has == TRADE_SIDE_EITHER);
}

static bool count_allowed(const struct plan *plan, enum trade_slot slot, const struct trade_part *part) {
    struct trade_value scratch;
    if (slot != TRADE_SLOT_CASSETTE || plan->wish.sprockets == 0) {
        return true;
    }
    const struct trade_value *speeds = fit_part_value(&scratch, part, false, FIT_SPEEDS);
    return !trade_is_open(speeds) && (plan->wish.sprockets >> (unsigned)speeds->number & 1) != 0;
}

bool plan_may(const struct plan *plan, enum trade_slot slot, uint32_t rank) {
    const struct trade_bike *bike = plan->question.bike;
    bool has = trade_bike_has(bike, slot);
    bool stay = (plan->wish.keep >> slot & 1) != 0;
    if (rank == 1) {
        return !has || (trade_slot_rows[slot].may_be_none && !stay);
    }
    struct fit_choice choice = plan_choice(plan, slot, rank);
    if (rank == 0) {
        return has && trade_may_stay(choice.part) && count_allowed(plan, slot, choice.part);
    }
    return !stay && !plan->lacks[trade_slot_rows[slot].kind][rank - 2] && slot_takes(slot, choice.part) &&
           count_allowed(plan, slot, choice.part);
}

/* The first property that this part lacks although a rule needs it of one of the part's slots; -1 when none. */
static int lacking(const struct trade_part *part) {
    struct trade_value scratch;
    for (size_t r = 0; r < fit_rules_n; r++) {
        for (unsigned i = 0; i < fit_rules[r]->n_reads; i++) {
            const struct fit_read *read = &fit_rules[r]->reads[i];
            if (read->subject >= TRADE_SLOTS || trade_slot_rows[read->subject].kind != part->kind ||
                (read->flags & (FIT_OPTIONAL | FIT_OF_NEW)) == FIT_OPTIONAL) {
                continue;
            }
            if (trade_is_open(fit_part_value(&scratch, part, false, read->property))) {
                return read->property < TRADE_PROPERTIES ? (int)read->property : (int)TRADE_CASSETTE_SPROCKETS;
            }
        }
    }
    return -1;
}

/* A new crank's rings lie where its maker says; a part that is not in hand can't be measured. */
static int crank_lacks(const struct trade_part *part) {
    static const enum trade_property planes[3] = {TRADE_CRANK_OUTER_PLANE_MM, TRADE_CRANK_MIDDLE_PLANE_MM,
                                                  TRADE_CRANK_INNER_PLANE_MM};
    const struct trade_value *has = trade_get(part, TRADE_CRANK_PLACES);
    if (trade_is_open(has)) {
        return TRADE_CRANK_PLACES;
    }
    for (unsigned i = 0; i < 3; i++) {
        if ((has->words >> i & 1) && isnan(trade_get_number(part, planes[i]))) {
            return TRADE_CRANK_LINE_MM;
        }
    }
    return -1;
}

enum base_status plan_find_left_out(struct plan *plan) {
    const struct trade_catalogue *catalogue = plan->question.catalogue;
    plan->left_out = base_arena_alloc(&plan->arena, catalogue->n_all, sizeof *plan->left_out);
    if (!plan->left_out) {
        return BASE_NO_MEMORY;
    }
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        plan->lacks[kind] = base_arena_alloc(&plan->arena, catalogue->n[kind], sizeof *plan->lacks[kind]);
        if (!plan->lacks[kind]) {
            return BASE_NO_MEMORY;
        }
        for (size_t i = 0; i < catalogue->n[kind]; i++) {
            const struct trade_part *part = &catalogue->parts[kind][i];
            int property = lacking(part);
            if (property < 0 && kind == TRADE_KIND_CRANK) {
                property = crank_lacks(part);
            }
            plan->lacks[kind][i] = property >= 0;
            if (property >= 0) {
                plan->left_out[plan->n_left_out++] =
                    (struct trade_left_out){.id = part->id, .property = (enum trade_property)property};
            }
        }
    }
    return BASE_OK;
}

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

static void add_rule(struct plan_model *model, const struct fit_rule *rule) {
    struct plan_consumer *c = new_consumer(model, PLAN_RULE);
    if (!c) {
        return;
    }
    c->rule = rule;
    c->any = !rule->as_it_stands;
    for (unsigned i = 0; i < rule->n_reads; i++) {
        const struct fit_read *read = &rule->reads[i];
        c->source[i] = -1;
        c->dim[i] = -1;
        if (read->subject < TRADE_SLOTS || read->subject >= FIT_MEASURE) {
            c->source[i] = reads_variable(model, c, read->subject, read->property);
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
    plan_intern_init(&out->cases, arena, sizeof(struct fit_case_set));
    plan_intern_init(&out->meets, arena, 2 * sizeof(uint32_t));
    plan_intern_init(&out->outcomes, arena, sizeof(struct plan_outcome));
    struct fit_case_set all = fit_all_cases(&plan->cases);
    if (plan_intern_id(&out->cases, &all, NULL) != 0 || plan_intern_id(&out->outcomes, &no, NULL) != PLAN_OUTCOME_NO ||
        plan_intern_id(&out->outcomes, &plain, NULL) != PLAN_OUTCOME_PLAIN) {
        return BASE_NO_MEMORY;
    }
    plan_usual_masses(out->usual_mass_g, plan->question.catalogue, arena);
    out->cap = plan_cap(&plan->wish, plan->question.bike);
    out->lowest_most = bound(plan->wish.lowest_m_max, INT32_MAX);
    out->highest_least = bound(plan->wish.highest_m_min, 0);
    for (size_t r = 0; r < fit_rules_n; r++) {
        add_rule(out, fit_rules[r]);
    }
    add_cells(out);
    for (unsigned c = 0; c < out->n_consumers && !out->failed; c++) {
        start_seeing(out, &out->consumers[c]);
    }
    return out->failed ? BASE_NO_MEMORY : BASE_OK;
}

/* --- entries ------------------------------------------------------------------------------------------------------- */

static uint32_t intern_entry(struct plan_model *model, unsigned variable, const struct plan_entry *entry) {
    uint32_t id = plan_intern_id(&model->variables[variable].entries, entry, NULL);
    model->failed = model->failed || id == PLAN_NO_ID;
    return id;
}

static struct plan_entry sum_entry(const struct fit_sum *sum) {
    struct plan_entry entry = {.dim = -1, .open = sum->known == BASE_OPEN, .unknown = sum->unknown};
    int64_t micrometres = entry.open ? 0 : base_round(sum->mm * 1000);
    memcpy(&entry.bits, &micrometres, sizeof entry.bits);
    return entry;
}

static struct plan_entry value_entry(const struct trade_value *value, int dim) {
    struct plan_entry entry = {.dim = (int8_t)dim};
    if (!value) {
        entry.empty = 1;
        entry.dim = -1;
    } else if (trade_is_open(value)) {
        entry.open = 1;
    } else {
        memcpy(&entry.bits, value, sizeof entry.bits);
    }
    return entry;
}

static uint32_t entry_of(struct plan_model *model, unsigned variable, enum trade_slot slot,
                         const struct fit_choice *choice) {
    const struct plan_variable *v = &model->variables[variable];
    struct fit_build build = model->plan->now;
    struct plan_entry entry;
    build.at[slot] = *choice;
    if (v->sum) {
        struct fit_sum sum = {.known = BASE_MEASURED};
        const struct fit_measure *measure = &fit_measures[v->subject];
        for (size_t i = 0; i < measure->n_terms; i++) {
            if (measure->terms[i].slot == slot) {
                sum = fit_term_value(&measure->terms[i], model->plan->question.bike, &build);
            }
        }
        entry = sum_entry(&sum);
    } else {
        struct trade_value scratch;
        const struct fit_read read = {.subject = (uint8_t)slot, .property = v->property};
        const struct trade_value *value = fit_read_value(&scratch, &read, model->plan->question.bike, &build);
        int dim = choice->kind == FIT_KEEP ? fit_dim_of(&model->plan->cases, slot, v->property) : -1;
        entry = value_entry(value, dim);
    }
    return intern_entry(model, variable, &entry);
}

static struct fit_sum sum_of_entry(const struct plan_entry *entry) {
    int64_t micrometres;
    memcpy(&micrometres, &entry->bits, sizeof micrometres);
    return (struct fit_sum){
        .mm = (double)micrometres / 1000, .unknown = entry->unknown, .known = entry->open ? BASE_OPEN : BASE_MEASURED};
}

static uint32_t entry_add(struct plan_model *model, unsigned variable, uint32_t a, uint32_t b) {
    const struct plan_intern *entries = &model->variables[variable].entries;
    struct plan_entry x = *(const struct plan_entry *)plan_intern_at(entries, a);
    const struct plan_entry *y = plan_intern_at(entries, b);
    if (x.open || y->open) {
        x = (struct plan_entry){.dim = -1, .open = 1};
    } else {
        x.bits += y->bits; /* two's complement: the same as adding the signed values */
        x.unknown += y->unknown;
    }
    return intern_entry(model, variable, &x);
}

/* The value that a rule gets from an entry; NULL when the slot is empty. */
static const struct trade_value *entry_value(struct trade_value *scratch, const struct plan_variable *v,
                                             const struct plan_entry *entry) {
    if (v->sum) {
        struct fit_sum sum = sum_of_entry(entry);
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

/* --- outcomes ------------------------------------------------------------------------------------------------------ */

static const struct plan_entry *entry_at(const struct plan_model *model, const struct plan_consumer *c,
                                         const uint32_t *values, unsigned i) {
    return plan_intern_at(&model->variables[c->variables[i]].entries, values[i]);
}

static uint64_t drawback_bits(struct plan *plan, const struct fit_finding *finding) {
    uint64_t bits = 0;
    for (unsigned reason = 0; reason < FIT_REASONS_MAX; reason++) {
        if (!(finding->drawbacks >> reason & 1)) {
            continue;
        }
        const char *code = finding->rule->reasons[reason];
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

static uint64_t hang_bit(struct plan *plan, const struct fit_finding *finding) {
    size_t at = 0;
    while (at < plan->n_hangs &&
           (plan->hangs[at].subject != finding->ask_subject || plan->hangs[at].property != finding->ask_property)) {
        at++;
    }
    if (at == plan->n_hangs && at < PLAN_HANGS_MAX) {
        plan->hangs[plan->n_hangs++] = (struct plan_hang){finding->ask_subject, finding->ask_property};
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
static bool asks_of_new(const struct plan_model *model, const struct plan_consumer *c, const uint32_t *values,
                        const struct fit_finding *finding) {
    for (unsigned i = 0; i < c->n_variables; i++) {
        const struct plan_variable *v = &model->variables[c->variables[i]];
        if (!v->sum && v->subject == finding->ask_subject && v->property == FIT_FITTED) {
            const struct plan_entry *entry = entry_at(model, c, values, i);
            return !entry->empty && count_in(entry) == 0;
        }
    }
    return false;
}

static void judge_rule(struct plan_outcome *out, struct plan_model *model, const struct plan_consumer *c,
                       const uint32_t *values) {
    struct trade_value scratch[FIT_READS_MAX];
    struct fit_inputs in;
    struct fit_finding finding;
    for (unsigned i = 0; i < c->rule->n_reads; i++) {
        in.v.at[i] = c->fixed[i];
        in.dim[i] = c->dim[i];
        if (c->source[i] >= 0) {
            const struct plan_entry *entry = entry_at(model, c, values, (unsigned)c->source[i]);
            in.v.at[i] = entry_value(&scratch[i], &model->variables[c->variables[c->source[i]]], entry);
            in.dim[i] = entry->dim;
        }
    }
    fit_judge_inputs(&finding, c->rule, &in, model->plan->question.bike, &model->plan->cases);
    if (fit_no_case(&finding.cases) || (finding.hangs && asks_of_new(model, c, values, &finding))) {
        return;
    }
    out->allowed = 1;
    out->cases = plan_intern_id(&model->cases, &finding.cases, NULL);
    out->drawbacks = drawback_bits(model->plan, &finding);
    out->hangs = finding.hangs ? hang_bit(model->plan, &finding) : 0;
    model->failed = model->failed || out->cases == PLAN_NO_ID;
}

static void judge_rings(struct plan_outcome *out, const struct plan_model *model, const struct plan_consumer *c,
                        const uint32_t *values) {
    unsigned rings = 0;
    for (unsigned i = 0; i < 3; i++) {
        double present;
        memcpy(&present, &entry_at(model, c, values, i)->bits, sizeof present);
        rings += present != 0;
    }
    out->allowed = model->plan->wish.rings == 0 ? rings > 0 : rings == model->plan->wish.rings;
}

static void judge_gears(struct plan_outcome *out, const struct plan_model *model, const struct plan_consumer *c,
                        const uint32_t *values) {
    int least = 0, most = 0;
    for (unsigned i = 0; i < 3; i++) {
        int teeth = count_in(entry_at(model, c, values, i));
        least = teeth > 0 && (least == 0 || teeth < least) ? teeth : least;
        most = teeth > most ? teeth : most;
    }
    int smallest = count_in(entry_at(model, c, values, 3)), largest = count_in(entry_at(model, c, values, 4));
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

static void judge_line(struct plan_outcome *out, const struct plan_model *model, const struct plan_consumer *c,
                       const uint32_t *values) {
    struct plan_line line;
    for (unsigned i = 0; i < 3; i++) {
        double present;
        memcpy(&present, &entry_at(model, c, values, 2 * i + 1)->bits, sizeof present);
        line.present[i] = present != 0;
        line.ring[i] = (struct fit_sum){.known = BASE_OPEN};
        if (line.present[i]) {
            line.ring[i] = fit_sum_close(sum_of_entry(entry_at(model, c, values, 2 * i)));
        }
    }
    line.rear = (struct fit_sum){.known = BASE_OPEN};
    if (c->n_variables > 6) {
        line.rear = fit_sum_close(sum_of_entry(entry_at(model, c, values, 6)));
    }
    plan_line_close(&line, model->plan->question.bike);
    out->allowed = 1;
    out->line = line.error_steps < 0 ? INT16_MAX : line.error_steps;
}

static uint32_t judge(struct plan_model *model, const struct plan_consumer *consumer, const uint32_t *values,
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
        judge_rings(&outcome, model, consumer, values);
        break;
    case PLAN_GEARS:
        judge_gears(&outcome, model, consumer, values);
        break;
    case PLAN_LINE:
        judge_line(&outcome, model, consumer, values);
        break;
    }
    uint32_t id = plan_intern_id(&model->outcomes, &outcome, NULL);
    model->failed = model->failed || id == PLAN_NO_ID;
    return id;
}

/* --- what is seen -------------------------------------------------------------------------------------------------- */

/* Does the rule need a value of a slot that is seen empty? */
static bool falls_silent(const struct plan_model *model, const struct plan_consumer *c, const uint32_t *record) {
    for (unsigned i = 0; c->kind == PLAN_RULE && i < c->rule->n_reads; i++) {
        if (c->source[i] < 0 || (c->rule->reads[i].flags & FIT_EMPTY_OK) || record[c->source[i]] == PLAN_NO_ID) {
            continue;
        }
        if (entry_at(model, c, record, (unsigned)c->source[i])->empty) {
            return true;
        }
    }
    return false;
}

static uint32_t intern_seen(struct plan_model *model, struct plan_consumer *consumer, const uint32_t *record) {
    if (falls_silent(model, consumer, record)) {
        return PLAN_SEEN_SILENT;
    }
    uint32_t id = plan_intern_id(&consumer->seen, record, NULL);
    model->failed = model->failed || id == PLAN_NO_ID;
    return id;
}

uint32_t plan_see(struct plan_model *model, struct plan_consumer *consumer, enum trade_slot slot,
                  const struct fit_choice *choice, bool changed) {
    uint32_t record[PLAN_CONSUMER_VARIABLES_MAX + 1];
    for (unsigned i = 0; i < consumer->n_variables; i++) {
        bool here = (model->variables[consumer->variables[i]].slots >> slot & 1) != 0;
        record[i] = here ? entry_of(model, consumer->variables[i], slot, choice) : PLAN_NO_ID;
    }
    record[consumer->n_variables] = changed && consumer->any;
    return intern_seen(model, consumer, record);
}

uint32_t plan_see_both(struct plan_model *model, struct plan_consumer *consumer, uint32_t a, uint32_t b) {
    uint32_t record[PLAN_CONSUMER_VARIABLES_MAX + 1];
    if (a == PLAN_SEEN_NOTHING || b == PLAN_SEEN_NOTHING) {
        return a == PLAN_SEEN_NOTHING ? b : a;
    }
    if (a == PLAN_SEEN_SILENT || b == PLAN_SEEN_SILENT) {
        return PLAN_SEEN_SILENT;
    }
    memcpy(record, plan_intern_at(&consumer->seen, a), consumer->seen.size);
    const uint32_t *other = plan_intern_at(&consumer->seen, b);
    for (unsigned i = 0; i < consumer->n_variables; i++) {
        if (record[i] == PLAN_NO_ID) {
            record[i] = other[i];
        } else if (other[i] != PLAN_NO_ID) {
            record[i] = entry_add(model, consumer->variables[i], record[i], other[i]);
        }
    }
    record[consumer->n_variables] |= other[consumer->n_variables];
    return intern_seen(model, consumer, record);
}

uint32_t plan_answer(struct plan_model *model, struct plan_consumer *consumer, uint32_t seen) {
    size_t had = consumer->answers_room;
    if (seen == PLAN_SEEN_SILENT) {
        return PLAN_OUTCOME_PLAIN;
    }
    if (seen >= had) {
        uint32_t *grown = base_arena_grow(model->arena, consumer->answers, had, &consumer->answers_room,
                                          (size_t)seen + 1, sizeof *grown);
        if (!grown) {
            model->failed = true;
            return PLAN_OUTCOME_NO;
        }
        memset(grown + had, 0xFF, (consumer->answers_room - had) * sizeof *grown);
        consumer->answers = grown;
    }
    if (consumer->answers[seen] == PLAN_NO_ID) {
        uint32_t record[PLAN_CONSUMER_VARIABLES_MAX + 1];
        memcpy(record, plan_intern_at(&consumer->seen, seen), consumer->seen.size);
        consumer->answers[seen] = judge(model, consumer, record, record[consumer->n_variables] != 0);
    }
    return consumer->answers[seen];
}

/* --- cases --------------------------------------------------------------------------------------------------------- */

uint32_t plan_meet(struct plan_model *model, uint32_t a, uint32_t b) {
    struct fit_case_set both;
    bool is_new;
    if (a == b || b == 0) {
        return a;
    }
    if (a == 0) {
        return b;
    }
    const uint32_t pair[2] = {a < b ? a : b, a < b ? b : a};
    uint32_t at = plan_intern_id(&model->meets, pair, &is_new);
    if (at == PLAN_NO_ID || !is_new) {
        return at == PLAN_NO_ID ? at : model->meet_of[at];
    }
    const struct fit_case_set *x = plan_intern_at(&model->cases, a), *y = plan_intern_at(&model->cases, b);
    for (size_t i = 0; i < FIT_CASE_WORDS; i++) {
        both.bits[i] = x->bits[i] & y->bits[i];
    }
    uint32_t *homes =
        base_arena_grow(model->arena, model->meet_of, at, &model->meet_room, (size_t)at + 1, sizeof *homes);
    if (!homes) {
        return PLAN_NO_ID;
    }
    model->meet_of = homes;
    return homes[at] = plan_intern_id(&model->cases, &both, NULL);
}
