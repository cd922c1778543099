/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/leaf.h"

#include "plan/labour.h"
#include "plan/mass.h"

#include <string.h>

/* The change of mass of one choice. False when it is open and only ways where it is known are looked for; where those are
 * looked for of which it is open, the number does not count. */
static bool weigh(struct plan_label *label, const struct plan_model *model, enum trade_slot slot,
                  const struct fit_choice *choice, enum base_known *known) {
    const struct plan *plan = model->plan;
    int32_t mass = plan_slot_mass_g(known, plan->question.bike, slot, choice, plan->shelf->usual_mass_g);
    label->mass = model->open_mass ? 0 : mass;
    return model->open_mass || *known != BASE_OPEN;
}

/* A leaf while it is filled. */
struct filling {
    struct plan_searching *s;
    struct plan_message *out;
    enum trade_slot slot;
    struct plan_labels *labels; /* of the state that is filled */
};

/* Adds one choice to the labels of its state. */
static void add_label(struct filling *f, uint32_t rank) {
    struct plan_model *model = f->s->model;
    struct fit_choice choice = plan_choice(model->plan, f->slot, rank);
    const struct plan_parts parts = {.rank = rank, .slot = (uint8_t)f->slot};
    enum base_known known = BASE_MEASURED;
    struct plan_label label = {
        .count = 1, .parts = &parts, .cost = choice.kind == FIT_NEW ? choice.part->price_minor : 0};
    if (!f->s->by_mass || weigh(&label, model, f->slot, &choice, &known)) {
        plan_add_label(f->s, f->out, f->labels, &label, true);
    }
}

/* Does a consumer that looks at this slot alone forbid what the slot gives? */
static bool forbidden(struct plan_searching *s, enum trade_slot slot, const uint32_t *entries, bool changed) {
    for (unsigned c = 0; c < s->model->n_consumers && !s->model->failed; c++) {
        struct plan_consumer *consumer = &s->model->consumers[c];
        if (consumer->slots == 1u << slot &&
            plan_answer(s->model, consumer, plan_see(s->model, consumer, entries, changed)) == PLAN_OUTCOME_NO) {
            return true;
        }
    }
    return false;
}

/* The state that a choice is in, with its labels; f->labels is NULL when the choice is forbidden. */
static void find_state(struct filling *f, const struct fit_choice *choice, bool changed) {
    struct plan_model *model = f->s->model;
    uint32_t entries[PLAN_VARIABLES_MAX], state[PLAN_CONSUMERS_MAX + PLAN_GATHERED] = {0};
    enum base_known known = BASE_MEASURED;
    struct plan_label label;
    f->labels = NULL;
    plan_entries_of(model, entries, f->slot, choice);
    if (forbidden(f->s, f->slot, entries, changed)) {
        return;
    }
    for (unsigned i = 0; i < f->out->n_consumers; i++) {
        state[i] = plan_see(model, &model->consumers[f->out->consumers[i]], entries, changed);
    }
    state[f->out->n_front + PLAN_G_OPERATIONS] = plan_slot_operations(model->plan->question.bike, f->slot, choice);
    if (changed) {
        state[f->out->n_front + PLAN_G_CHANGED_SLOTS] = model->plan->wish.objectives >> TRADE_CHANGED & 1;
    }
    if (f->s->by_mass) {
        (void)weigh(&label, model, f->slot, choice, &known); /* of a class it is known of all or of none */
        state[f->out->n_front + PLAN_G_OPEN_MASS] = known == BASE_OPEN;
    }
    f->s->failed = f->s->failed || model->failed;
    f->labels = f->s->failed ? NULL : plan_labels_of(f->s, f->out, state);
}

static void add_choice(struct filling *f, uint32_t rank) {
    const struct plan *plan = f->s->model->plan;
    struct fit_choice choice = plan_choice(plan, f->slot, rank);
    if (plan_may(plan, f->slot, rank)) {
        find_state(f, &choice, rank != (trade_bike_has(plan->question.bike, f->slot) ? 0u : 1u));
        if (f->labels) {
            add_label(f, rank);
        }
    }
}

/* The parts of a class that nothing of it beats: the cheapest, and where mass counts those that are lighter, too. */
static void add_class(struct filling *f, const struct plan_class *class) {
    const struct plan *plan = f->s->model->plan;
    const struct plan_shelved *parts = &plan->shelf->parts[trade_slot_rows[f->slot].kind][class->from];
    const struct plan_shelved *least = NULL; /* of those that were added, the last */
    for (uint32_t i = 0; i < class->n && !class->lacks && !f->s->failed; i++) {
        bool same_price = least && parts[i].price_minor == least->price_minor;
        if (least && !same_price && !(f->s->by_mass && parts[i].mass_g <= least->mass_g)) {
            if (!f->s->by_mass) {
                return;
            }
            continue;
        }
        if (!plan_may(plan, f->slot, parts[i].index + 2)) {
            continue;
        }
        if (!least) {
            struct fit_choice choice = plan_choice(plan, f->slot, parts[i].index + 2);
            find_state(f, &choice, true);
        }
        if (!f->labels) {
            return;
        }
        add_label(f, parts[i].index + 2);
        least = &parts[i];
    }
}

static void leaf(struct plan_searching *s, struct plan_message *out, struct base_arena *arena, enum trade_slot slot) {
    const struct plan_model *model = s->model;
    const struct plan_shelf *shelf = model->plan->shelf;
    enum trade_kind kind = trade_slot_rows[slot].kind;
    struct filling f = {.s = s, .out = out, .slot = slot};
    memset(out, 0, sizeof *out);
    out->slots = 1u << slot;
    for (unsigned c = 0; c < model->n_consumers; c++) {
        if (model->consumers[c].slots >> slot & 1) {
            out->consumers[out->n_consumers++] = (uint8_t)c;
        }
    }
    plan_message_init(out, arena, out->n_consumers);
    add_choice(&f, 0); /* keep */
    add_choice(&f, 1); /* none */
    for (uint32_t i = 0; i < shelf->catalogue->n[kind] && plan_plainly(s) && !s->failed; i++) {
        add_choice(&f, i + 2);
    }
    for (size_t c = 0; c < shelf->n_classes[kind] && !plan_plainly(s) && !s->failed; c++) {
        add_class(&f, &shelf->classes[kind][c]);
    }
}

void plan_unit(struct plan_searching *s, struct plan_message *out, struct base_arena *arena) {
    uint32_t state[PLAN_GATHERED] = {0};
    const struct plan_label label = {.count = 1};
    memset(out, 0, sizeof *out);
    plan_message_init(out, arena, 0);
    struct plan_labels *labels = plan_labels_of(s, out, state);
    if (labels) {
        plan_add_label(s, out, labels, &label, false);
    }
}

void plan_make_leaves(struct plan_searching *s) {
    const struct plan_model *model = s->model;
    s->glimpses = base_arena_alloc(model->arena, (size_t)model->n_consumers * TRADE_SLOTS, sizeof *s->glimpses);
    s->failed = s->failed || !s->glimpses;
    for (unsigned slot = 0; slot < TRADE_SLOTS && !s->failed; slot++) {
        struct base_arena *arena = plan_new_arena(s);
        if (!arena) {
            return;
        }
        leaf(s, &s->leaves[slot], arena, slot);
        for (unsigned i = 0; i < s->leaves[slot].n_consumers && !s->failed; i++) {
            unsigned consumer = s->leaves[slot].consumers[i];
            struct plan_glimpses *glimpses = &s->glimpses[(size_t)consumer * TRADE_SLOTS + slot];
            plan_distinct(s, model->arena, glimpses, NULL, &s->leaves[slot], consumer);
        }
    }
}
