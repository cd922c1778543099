/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/leaf.h"

#include "plan/labour.h"
#include "plan/mass.h"

#include <string.h>

/* The change of mass of one choice. False when it is open and only ways where it is known are looked for; where those are
 * looked for of which it is open, the number does not count. */
static bool weigh(struct plan_label *label, uint32_t *open_mass, const struct plan_model *model, enum trade_slot slot,
                  const struct fit_choice *choice) {
    const struct plan *plan = model->plan;
    enum base_known known = BASE_MEASURED;
    int32_t mass = plan_slot_mass_g(&known, plan->question.bike, slot, choice, plan->usual_mass_g);
    *open_mass = known == BASE_OPEN;
    label->mass = model->open_mass ? 0 : mass;
    return model->open_mass || known != BASE_OPEN;
}

/* The state and label of one choice; adds them to the leaf. */
static void add_choice(struct plan_searching *s, struct plan_message *out, enum trade_slot slot, uint32_t rank) {
    struct plan_model *model = s->model;
    const struct trade_bike *bike = model->plan->question.bike;
    uint32_t state[PLAN_CONSUMERS_MAX + PLAN_GATHERED] = {0};
    struct fit_choice choice = plan_choice(model->plan, slot, rank);
    bool changed = rank != (trade_bike_has(bike, slot) ? 0u : 1u);
    struct plan_label label = {.count = 1};
    if (s->by_mass && !weigh(&label, &state[out->n_front + PLAN_G_OPEN_MASS], model, slot, &choice)) {
        return;
    }
    for (unsigned i = 0; i < out->n_consumers; i++) {
        state[i] = plan_see(model, &model->consumers[out->consumers[i]], slot, &choice, changed);
    }
    state[out->n_front + PLAN_G_OPERATIONS] = plan_slot_operations(bike, slot, &choice);
    if (changed) {
        state[out->n_front + PLAN_G_CHANGED_SLOTS] = model->plan->wish.objectives >> TRADE_CHANGED & 1;
    }
    const struct plan_parts parts = {.rank = rank, .slot = (uint8_t)slot};
    label.parts = &parts;
    label.cost = choice.kind == FIT_NEW ? choice.part->price_minor : 0;
    struct plan_labels *labels = plan_labels_of(s, out, state);
    if (labels) {
        plan_add_label(s, out, labels, &label, true);
    }
}

static void leaf(struct plan_searching *s, struct plan_message *out, struct base_arena *arena, enum trade_slot slot) {
    const struct plan_model *model = s->model;
    memset(out, 0, sizeof *out);
    out->slots = 1u << slot;
    for (unsigned c = 0; c < model->n_consumers; c++) {
        if (model->consumers[c].slots >> slot & 1) {
            out->consumers[out->n_consumers++] = (uint8_t)c;
        }
    }
    plan_message_init(out, arena, out->n_consumers);
    for (uint32_t rank = 0; rank < plan_ranks(model->plan, slot) && !s->failed; rank++) {
        if (plan_may(model->plan, slot, rank)) {
            add_choice(s, out, slot, rank);
        }
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
            struct plan_glimpses *glimpses = &s->glimpses[(size_t)s->leaves[slot].consumers[i] * TRADE_SLOTS + slot];
            plan_distinct(s, model->arena, glimpses, NULL, &s->leaves[slot], (int)i);
        }
    }
}
