/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/search.h"

#include "plan/join.h"
#include "plan/leaf.h"

/* --- the tree ------------------------------------------------------------------------------------------------------ */

/* Reverse Polish: a slot pushes its leaf, JOIN joins the two messages on top. The shape follows where parts meet: spindle
 * and crank, the rings on it, the left control; hub, body and cassette; derailleur and shifter; the chain ties them. Where
 * one ring is wished the rings are joined first: of all that a shop sells for three places there is one in any of them. */
/* clang-format off */
#define JOIN (-1)
#define S(SLOT) TRADE_SLOT_##SLOT
#define CRANK S(BOTTOM_BRACKET), S(CRANK), JOIN
#define FRONT_REST \
    S(FRONT_DERAILLEUR), S(LEFT_SHIFTER), S(LEFT_BRAKE_LEVER), JOIN, JOIN, JOIN, S(CUP_SPACERS), JOIN, \
        S(RING_WASHERS), JOIN, S(CHAIN_GUIDE), JOIN
#define REAR_AND_CHAIN \
    S(REAR_WHEEL), S(FREEHUB_BODY), JOIN, S(REAR_ROTOR), JOIN, S(CASSETTE), S(CASSETTE_SPACER), JOIN, JOIN, \
        S(HANGER), S(HANGER_EXTENDER), JOIN, S(REAR_DERAILLEUR), JOIN, \
        S(RIGHT_SHIFTER), S(RIGHT_BRAKE_LEVER), JOIN, S(CABLES), JOIN, JOIN, \
    JOIN, S(CHAIN), JOIN
static const int8_t any_tree[] = {
    CRANK, S(OUTER_RING), JOIN, S(INNER_RING), JOIN, S(MIDDLE_RING), JOIN, FRONT_REST,
    REAR_AND_CHAIN, JOIN,
};
static const int8_t one_ring_tree[] = {
    CRANK, S(OUTER_RING), S(INNER_RING), JOIN, S(MIDDLE_RING), JOIN, JOIN, FRONT_REST,
    REAR_AND_CHAIN, JOIN,
};
#undef S
/* clang-format on */
#define STACK_MAX 8

/* --- walking it ------------------------------------------------------------------------------------------------- */

/* A leaf with all answered that looks at this slot only. */
static void answered_leaf(struct plan_searching *s, struct plan_message *out, enum trade_slot slot) {
    struct plan_message nothing;
    struct base_arena *arena = plan_new_arena(s);
    if (!arena) {
        return;
    }
    plan_unit(s, &nothing, arena);
    plan_join_messages(s, out, &s->leaves[slot], &nothing);
}

/* --- the root ------------------------------------------------------------------------------------------------------ */

static enum base_status collect(struct plan_found **out, size_t *n, struct plan_searching *s,
                                const struct plan_message *root) {
    size_t total = 0;
    for (uint32_t i = 0; i < root->states.n; i++) {
        total += root->labels[i].n;
    }
    *out = base_arena_alloc(s->model->arena, total, sizeof **out);
    *n = 0;
    if (!*out) {
        return BASE_NO_MEMORY;
    }
    for (uint32_t i = 0; i < root->states.n; i++) {
        const uint32_t *g = plan_state_at(root, i) + root->n_front;
        if (s->model->open_mass && !g[PLAN_G_OPEN_MASS]) {
            continue;
        }
        for (size_t l = 0; l < root->labels[i].n; l++) {
            struct plan_found *found = &(*out)[(*n)++];
            *found = (struct plan_found){.label = root->labels[i].at[l],
                                         .cases = g[PLAN_G_CASES],
                                         .drawbacks = plan_two_words(&g[PLAN_G_DRAWBACKS]),
                                         .hangs = plan_two_words(&g[PLAN_G_HANGS]),
                                         .lowest = (int32_t)g[PLAN_G_LOWEST],
                                         .counted = (int32_t)g[PLAN_G_COUNTED],
                                         .line = (int32_t)g[PLAN_G_LINE],
                                         .in_band = (int32_t)g[PLAN_G_IN_BAND],
                                         .walked_m = (int32_t)g[PLAN_G_WALKED],
                                         .tenths = (int32_t)g[PLAN_G_TENTHS],
                                         .changed = (int32_t)g[PLAN_G_CHANGED_SLOTS]};
            plan_ranks_of(found->rank, found->label.parts);
        }
    }
    return BASE_OK;
}

/* Stops before the gearings are looked at. */
static bool is_enough(struct plan_searching *s) {
    const struct plan_question *question = &s->model->plan->question;
    if (!question->enough || !question->enough(question->self)) {
        return false;
    }
    s->model->plan->stopped = true;
    s->model->plan->all_open = true;
    return true;
}

/* Walks the tree; what is left on the stack is the root, or what there was when it failed. */
static size_t walk(struct plan_searching *s, struct plan_message *stack, const int8_t *tree, size_t n) {
    size_t depth = 0;
    s->waiting = stack;
    for (size_t i = 0; i < n; i++) {
        if (tree[i] != JOIN) {
            s->turn[tree[i]] = (unsigned)i;
        }
    }
    for (size_t i = 0; i < n && !s->failed && !s->empty; i++) {
        s->empty = is_enough(s);
        s->n_waiting = tree[i] == JOIN ? depth - 2 : depth;
        if (s->empty) {
            break;
        }
        if (tree[i] != JOIN) {
            answered_leaf(s, &stack[depth++], (enum trade_slot)tree[i]);
        } else {
            struct plan_message joined;
            depth--;
            plan_join_messages(s, &joined, &stack[depth - 1], &stack[depth]);
            stack[depth - 1] = joined;
        }
    }
    return depth;
}

enum base_status plan_search(struct plan_found **out, size_t *n, struct plan_model *model) {
    struct plan_searching s = {.model = model, .by_mass = (model->plan->wish.objectives >> TRADE_MASS & 1) != 0};
    struct plan_message *stack = base_arena_alloc(model->arena, STACK_MAX + 1, sizeof *stack);
    enum base_status status = BASE_NO_MEMORY;
    if (!stack) {
        return status;
    }
    plan_make_leaves(&s);
    size_t depth = 0;
    if (!s.failed && model->plan->wish.rings == 1) {
        depth = walk(&s, stack, one_ring_tree, sizeof one_ring_tree);
    } else if (!s.failed) {
        depth = walk(&s, stack, any_tree, sizeof any_tree);
    }
    *n = 0;
    if (!s.failed && !model->failed) {
        status = s.empty ? BASE_OK : collect(out, n, &s, &stack[0]);
    }
    for (size_t i = 0; i < depth; i++) {
        plan_message_clear(&stack[i]);
    }
    for (size_t i = 0; i < TRADE_SLOTS; i++) {
        plan_message_clear(&s.leaves[i]);
    }
    return status;
}
