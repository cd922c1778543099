/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a consumer has seen: values of variables as entries, records of them, and their order where an answer rises with a sum.
 */
#include "plan/model.h"

#include "base/number.h"

#include <string.h>

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
                         const struct fit_build *build) {
    const struct plan_variable *v = &model->variables[variable];
    struct plan_entry entry;
    if (v->sum) {
        struct fit_sum sum = {.known = BASE_MEASURED};
        const struct fit_measure *measure = &fit_measures[v->subject];
        for (size_t i = 0; i < measure->n_terms; i++) {
            if (measure->terms[i].slot == slot) {
                sum = fit_term_value(&measure->terms[i], model->plan->question.bike, build);
            }
        }
        entry = sum_entry(&sum);
    } else {
        struct trade_value scratch;
        const struct fit_read read = {.subject = (uint8_t)slot, .property = v->property};
        const struct trade_value *value = fit_read_value(&scratch, &read, model->plan->question.bike, build);
        bool stays = build->at[slot].kind == FIT_KEEP;
        entry = value_entry(value, stays ? fit_dim_of(&model->plan->cases, slot, v->property) : -1);
    }
    return intern_entry(model, variable, &entry);
}

void plan_entries_of(struct plan_model *model, uint32_t entries[PLAN_VARIABLES_MAX], enum trade_slot slot,
                     const struct fit_choice *choice) {
    struct fit_build build = model->plan->now;
    build.at[slot] = *choice;
    for (unsigned v = 0; v < model->n_variables; v++) {
        entries[v] = model->variables[v].slots >> slot & 1 ? entry_of(model, v, slot, &build) : PLAN_NO_ID;
    }
}

struct fit_sum plan_sum_of(const struct plan_entry *entry) {
    int64_t micrometres;
    memcpy(&micrometres, &entry->bits, sizeof micrometres);
    return (struct fit_sum){
        .mm = (double)micrometres / 1000, .unknown = entry->unknown, .known = entry->open ? BASE_OPEN : BASE_MEASURED};
}

/* Two partial sums together. */
static struct plan_entry sum_both(const struct plan_entry *a, const struct plan_entry *b) {
    if (a->open || b->open) {
        return (struct plan_entry){.dim = -1, .open = 1};
    }
    struct plan_entry sum = *a;
    sum.bits += b->bits; /* two's complement: the same as adding the signed values */
    sum.unknown += b->unknown;
    return sum;
}

static uint32_t entry_add(struct plan_model *model, unsigned variable, uint32_t a, uint32_t b) {
    const struct plan_intern *entries = &model->variables[variable].entries;
    const struct plan_entry sum = sum_both(plan_intern_at(entries, a), plan_intern_at(entries, b));
    return intern_entry(model, variable, &sum);
}

const struct plan_entry *plan_entry_at(const struct plan_model *model, const struct plan_consumer *c,
                                       const uint32_t *values, unsigned i) {
    return plan_intern_at(&model->variables[c->variables[i]].entries, values[i]);
}

/* --- what is seen -------------------------------------------------------------------------------------------------- */

/* Does the rule need a value of a slot that is seen empty? */
static bool falls_silent(const struct plan_model *model, const struct plan_consumer *c, const uint32_t *record) {
    for (unsigned i = 0; c->kind == PLAN_RULE && i < c->rule->n_reads; i++) {
        if (c->source[i] < 0 || (c->rule->reads[i].flags & FIT_EMPTY_OK) || record[c->source[i]] == PLAN_NO_ID) {
            continue;
        }
        if (plan_entry_at(model, c, record, (unsigned)c->source[i])->empty) {
            return true;
        }
    }
    return false;
}

/* After a failure the numbers in a record mean nothing: nobody reads them any more. */
static uint32_t intern_seen(struct plan_model *model, struct plan_consumer *consumer, const uint32_t *record) {
    if (model->failed) {
        return PLAN_NO_ID;
    }
    if (falls_silent(model, consumer, record)) {
        return PLAN_SEEN_SILENT;
    }
    uint32_t id = plan_intern_id(&consumer->seen, record, NULL);
    model->failed = model->failed || id == PLAN_NO_ID;
    return id;
}

uint32_t plan_see(struct plan_model *model, struct plan_consumer *consumer, const uint32_t entries[PLAN_VARIABLES_MAX],
                  bool changed) {
    uint32_t record[PLAN_CONSUMER_VARIABLES_MAX + 1];
    for (unsigned i = 0; i < consumer->n_variables; i++) {
        record[i] = entries[consumer->variables[i]];
    }
    record[consumer->n_variables] = changed && consumer->any;
    return intern_seen(model, consumer, record);
}

uint32_t plan_see_both(struct plan_model *model, struct plan_consumer *consumer, uint32_t a, uint32_t b) {
    uint32_t record[PLAN_CONSUMER_VARIABLES_MAX + 1];
    if (model->failed) {
        return PLAN_NO_ID;
    }
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
    if (model->failed) {
        return PLAN_OUTCOME_NO;
    }
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
        struct plan_entry values[PLAN_CONSUMER_VARIABLES_MAX];
        const uint32_t *record = plan_intern_at(&consumer->seen, seen);
        for (unsigned i = 0; i < consumer->n_variables; i++) {
            values[i] = *plan_entry_at(model, consumer, record, i);
        }
        consumer->answers[seen] = plan_judge(model, consumer, values, record[consumer->n_variables] != 0);
    }
    return consumer->answers[seen];
}

uint32_t plan_answer_both(struct plan_model *model, struct plan_consumer *consumer, uint32_t a, uint32_t b) {
    struct plan_entry values[PLAN_CONSUMER_VARIABLES_MAX];
    if (a <= PLAN_SEEN_SILENT || b <= PLAN_SEEN_SILENT || model->failed) {
        return plan_answer(model, consumer, plan_see_both(model, consumer, a, b));
    }
    const uint32_t *x = plan_intern_at(&consumer->seen, a), *y = plan_intern_at(&consumer->seen, b);
    for (unsigned i = 0; i < consumer->n_variables; i++) {
        values[i] = *plan_entry_at(model, consumer, x[i] == PLAN_NO_ID ? y : x, i);
        if (x[i] != PLAN_NO_ID && y[i] != PLAN_NO_ID) {
            values[i] = sum_both(&values[i], plan_entry_at(model, consumer, y, i));
        }
    }
    return plan_judge(model, consumer, values, (x[consumer->n_variables] | y[consumer->n_variables]) != 0);
}

/* --- in order ------------------------------------------------------------------------------------------------------ */

/* Is this a sum that the answer rises with? An open one is 0, and of another kind than a known one. */
static bool in_order(const struct plan_consumer *c, const uint32_t *record, unsigned i) {
    return (c->rising >> i & 1) && record[i] != PLAN_NO_ID;
}

static int64_t micrometres(const struct plan_model *model, const struct plan_consumer *c, const uint32_t *record,
                           unsigned i) {
    int64_t value;
    memcpy(&value, &plan_entry_at(model, c, record, i)->bits, sizeof value);
    return value;
}

static struct plan_order order_of(struct plan_model *model, struct plan_consumer *consumer, uint32_t seen) {
    struct plan_order out = {.kind = seen};
    uint32_t record[PLAN_CONSUMER_VARIABLES_MAX + 1];
    memcpy(record, plan_intern_at(&consumer->seen, seen), consumer->seen.size);
    for (unsigned i = 0; i < consumer->n_variables; i++) {
        if (in_order(consumer, record, i)) {
            struct plan_entry flat = *plan_entry_at(model, consumer, record, i);
            out.total += micrometres(model, consumer, record, i);
            flat.bits = 0;
            record[i] = intern_entry(model, consumer->variables[i], &flat);
        }
    }
    out.kind = intern_seen(model, consumer, record);
    return out;
}

struct plan_order plan_order_of(struct plan_model *model, struct plan_consumer *consumer, uint32_t seen) {
    size_t had = consumer->orders_room;
    if (model->failed || seen <= PLAN_SEEN_SILENT || consumer->rising == 0) {
        return (struct plan_order){.kind = seen};
    }
    if (seen >= had) {
        struct plan_order *grown = base_arena_grow(model->arena, consumer->orders, had, &consumer->orders_room,
                                                   (size_t)seen + 1, sizeof *grown);
        if (!grown) {
            model->failed = true;
            return (struct plan_order){.kind = seen};
        }
        consumer->orders = grown;
    }
    if (consumer->orders[seen].kind == 0) { /* 0 is nothing seen, which is no kind of anything else */
        consumer->orders[seen] = order_of(model, consumer, seen);
    }
    return consumer->orders[seen];
}

bool plan_no_higher(const struct plan_model *model, const struct plan_consumer *consumer, uint32_t a, uint32_t b) {
    const uint32_t *x = plan_intern_at(&consumer->seen, a), *y = plan_intern_at(&consumer->seen, b);
    for (unsigned i = 0; i < consumer->n_variables && a != b; i++) {
        if (in_order(consumer, x, i) && micrometres(model, consumer, x, i) > micrometres(model, consumer, y, i)) {
            return false;
        }
    }
    return true;
}

uint32_t plan_extreme(struct plan_model *model, struct plan_consumer *consumer, uint32_t a, uint32_t b, bool high) {
    uint32_t record[PLAN_CONSUMER_VARIABLES_MAX + 1];
    if (model->failed || a == b) {
        return a;
    }
    memcpy(record, plan_intern_at(&consumer->seen, a), consumer->seen.size);
    const uint32_t *other = plan_intern_at(&consumer->seen, b);
    for (unsigned i = 0; i < consumer->n_variables; i++) {
        if (in_order(consumer, record, i) &&
            (micrometres(model, consumer, other, i) > micrometres(model, consumer, record, i)) == high) {
            record[i] = other[i];
        }
    }
    return intern_seen(model, consumer, record);
}
