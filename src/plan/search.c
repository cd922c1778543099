/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/search.h"

#include "plan/labour.h"
#include "plan/leaf.h"
#include "plan/least.h"

#include <stdlib.h>
#include <string.h>

/* --- the tree ------------------------------------------------------------------------------------------------------ */

/* Reverse Polish: a slot pushes its leaf, JOIN joins the two messages on top. The shape follows where parts meet: spindle
 * and crank, the rings on it, the left control; hub, body and cassette; derailleur and shifter; the chain ties them. Where
 * one ring is wished the rings are joined first: of all that a shop sells for three places there is one in any of them. */
/* clang-format off */
#define JOIN (-1)
#define S(SLOT) TRADE_SLOT_##SLOT
#define CRANK S(BOTTOM_BRACKET), S(CRANK), JOIN, S(CUP_SPACERS), JOIN, S(FRONT_DERAILLEUR), JOIN
#define LEFT_AND_GUIDE S(RING_WASHERS), JOIN, S(LEFT_SHIFTER), S(LEFT_BRAKE_LEVER), JOIN, JOIN, S(CHAIN_GUIDE), JOIN
#define REAR_AND_CHAIN \
    S(REAR_WHEEL), S(FREEHUB_BODY), JOIN, S(REAR_ROTOR), JOIN, S(CASSETTE), S(CASSETTE_SPACER), JOIN, JOIN, \
        S(HANGER), S(HANGER_EXTENDER), JOIN, S(REAR_DERAILLEUR), JOIN, \
        S(RIGHT_SHIFTER), S(RIGHT_BRAKE_LEVER), JOIN, S(CABLES), JOIN, JOIN, \
    JOIN, S(CHAIN), JOIN
static const int8_t any_tree[] = {
    CRANK, S(OUTER_RING), JOIN, S(INNER_RING), JOIN, S(MIDDLE_RING), JOIN, LEFT_AND_GUIDE,
    REAR_AND_CHAIN, JOIN,
};
static const int8_t one_ring_tree[] = {
    CRANK, S(OUTER_RING), S(INNER_RING), JOIN, S(MIDDLE_RING), JOIN, JOIN, LEFT_AND_GUIDE,
    REAR_AND_CHAIN, JOIN,
};
#undef S
/* clang-format on */
#define STACK_MAX 8

/* --- the join ------------------------------------------------------------------------------------------------------ */

static void judge_all(struct plan_searching *s, struct plan_join *join, const struct plan_message *a,
                      const struct plan_message *b) {
    uint32_t slots = a->slots | b->slots;
    for (unsigned c = 0; c < s->model->n_consumers && !s->failed; c++) {
        if (plan_word_of(a, c) < 0 && plan_word_of(b, c) < 0) {
            continue;
        }
        struct plan_judged *j = &join->judged[join->n_judged++];
        j->consumer = &s->model->consumers[c];
        j->index = c;
        j->whole = (j->consumer->slots & ~slots) == 0;
        plan_judge_pair(s, join->scratch, j, a, b);
    }
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        if (!(s->paid >> o & 1) && !(plan_slots_calling(s->model->plan->question.bike, o) & ~slots)) {
            join->pay |= 1u << o;
        }
    }
    s->paid |= join->pay;
}

/* One side with the states put together that go the same way with everything on the other side. */
static void condense(struct plan_searching *s, struct plan_join *join, unsigned side, const struct plan_message *m) {
    struct plan_message *out = &join->side[side];
    uint32_t state[PLAN_CONSUMERS_MAX + PLAN_GATHERED];
    out->slots = m->slots;
    plan_message_init(out, join->scratch, join->n_judged);
    for (uint32_t i = 0; i < m->states.n && !s->failed; i++) {
        for (unsigned j = 0; j < join->n_judged; j++) {
            const struct plan_view *view = &join->judged[j].side[side];
            state[j] = view->class[view->of[i]];
        }
        memcpy(&state[join->n_judged], plan_state_at(m, i) + m->n_front, PLAN_GATHERED * sizeof *state);
        struct plan_labels *labels = m->labels[i].n ? plan_labels_of(s, out, state) : NULL;
        for (size_t l = 0; labels && l < m->labels[i].n; l++) {
            plan_add_label(s, out, labels, &m->labels[i].at[l], false);
        }
    }
    if (!s->failed && out->n_front > 0) { /* at the root the front is cut from what is found */
        plan_prune(s, out);
    }
}

static void lay_out(const struct plan_join *join, struct plan_message *out, struct base_arena *arena) {
    for (unsigned j = 0; j < join->n_judged; j++) {
        if (!join->judged[j].whole) {
            out->consumers[out->n_consumers++] = (uint8_t)join->judged[j].index;
        }
    }
    plan_message_init(out, arena, out->n_consumers);
}

static void gather_cell(uint32_t *word, int32_t value) {
    if (value != 0) {
        *word = (uint32_t)value;
    }
}

/* Adds what a consumer answers. False when it forbids the pair. */
static bool take_answer(struct plan_searching *s, uint32_t *gathered, uint32_t answer) {
    if (answer == PLAN_OUTCOME_PLAIN) {
        return true;
    }
    const struct plan_outcome *outcome = plan_intern_at(&s->model->outcomes, answer);
    if (!outcome->allowed || (s->model->certain && (outcome->cases != 0 || outcome->hangs != 0))) {
        return false;
    }
    plan_put_two_words(&gathered[PLAN_G_DRAWBACKS], plan_two_words(&gathered[PLAN_G_DRAWBACKS]) | outcome->drawbacks);
    plan_put_two_words(&gathered[PLAN_G_HANGS], plan_two_words(&gathered[PLAN_G_HANGS]) | outcome->hangs);
    gathered[PLAN_G_CASES] = plan_meet(s->model, gathered[PLAN_G_CASES], outcome->cases);
    gather_cell(&gathered[PLAN_G_LOWEST], outcome->lowest);
    gather_cell(&gathered[PLAN_G_COUNTED], outcome->counted);
    gather_cell(&gathered[PLAN_G_LINE], outcome->line);
    s->failed = s->failed || gathered[PLAN_G_CASES] == PLAN_NO_ID;
    return !s->failed;
}

/* The state of a pair: what is seen now, and what is gathered. False when something forbids it. */
static bool pair_state(struct plan_searching *s, const struct plan_join *join, uint32_t *state, unsigned n_front,
                       const uint32_t *a, const uint32_t *b) {
    const uint32_t *ga = a + join->n_judged, *gb = b + join->n_judged;
    uint32_t *gathered = state + n_front;
    unsigned at = 0;
    for (unsigned w = 0; w < PLAN_GATHERED; w++) {
        gathered[w] = ga[w] | gb[w]; /* bit sets; and of the cells at most one side has a value */
    }
    gathered[PLAN_G_TENTHS] = ga[PLAN_G_TENTHS] + gb[PLAN_G_TENTHS];
    gathered[PLAN_G_CHANGED_SLOTS] = ga[PLAN_G_CHANGED_SLOTS] + gb[PLAN_G_CHANGED_SLOTS];
    for (unsigned j = 0; j < join->n_judged; j++) {
        const struct plan_judged *judged = &join->judged[j];
        uint32_t result = judged->result[(size_t)a[j] * judged->side[1].n_classes + b[j]];
        if (result == (judged->whole ? PLAN_OUTCOME_NO : PLAN_DEAD)) {
            return false;
        }
        if (!judged->whole) {
            state[at++] = result;
        }
    }
    gathered[PLAN_G_CASES] = plan_meet(s->model, ga[PLAN_G_CASES], gb[PLAN_G_CASES]);
    if (gathered[PLAN_G_CASES] == PLAN_NO_ID) {
        s->failed = true;
        return false;
    }
    for (unsigned j = 0; j < join->n_judged; j++) {
        const struct plan_judged *judged = &join->judged[j];
        if (judged->whole &&
            !take_answer(s, gathered, judged->result[(size_t)a[j] * judged->side[1].n_classes + b[j]])) {
            return false;
        }
    }
    return !fit_no_case(plan_intern_at(&s->model->cases, gathered[PLAN_G_CASES]));
}

/* Labour of the operations that are complete here and were triggered on either side; pays them off. */
static int64_t pay(const struct plan_searching *s, const struct plan_join *join, uint32_t *gathered) {
    const struct trade_shop *shop = s->model->plan->question.shop;
    bool by_minutes = (s->model->plan->wish.objectives >> TRADE_MINUTES & 1) != 0;
    uint32_t due = gathered[PLAN_G_OPERATIONS] & join->pay;
    int64_t labour = 0;
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        if (due >> o & 1) {
            labour += shop->labour_minor[o];
            gathered[PLAN_G_TENTHS] += by_minutes ? (uint32_t)plan_operation_tenths(shop, o) : 0;
        }
    }
    gathered[PLAN_G_OPERATIONS] &= ~due;
    return labour;
}

static uint64_t saturating_product(uint64_t a, uint64_t b) { return b && a > UINT64_MAX / b ? UINT64_MAX : a * b; }

static void add_pairs(struct plan_searching *s, struct plan_message *m, struct plan_labels *to,
                      const struct plan_labels *a, const struct plan_labels *b, int64_t labour) {
    for (size_t x = 0; x < a->n; x++) {
        for (size_t y = 0; y < b->n && !s->failed; y++) {
            const struct plan_parts both = {.a = a->at[x].parts, .b = b->at[y].parts};
            const struct plan_label label = {.cost = a->at[x].cost + b->at[y].cost + labour,
                                             .mass = a->at[x].mass + b->at[y].mass,
                                             .count = saturating_product(a->at[x].count, b->at[y].count),
                                             .parts = both.b ? &both : both.a};
            plan_add_label(s, m, to, &label, both.b != NULL);
        }
    }
}

static void make_pair(struct plan_searching *s, const struct plan_join *join, struct plan_message *out,
                      const struct plan_least *least, uint32_t x, uint32_t y) {
    uint32_t state[PLAN_CONSUMERS_MAX + PLAN_GATHERED], *gathered = state + out->n_front;
    if (!pair_state(s, join, state, out->n_front, plan_state_at(&join->side[0], x), plan_state_at(&join->side[1], y))) {
        return;
    }
    int64_t labour = pay(s, join, gathered);
    struct plan_labels *labels = plan_labels_of(s, out, state);
    if (labels) {
        add_pairs(s, out, labels, &join->side[0].labels[x], &join->side[1].labels[y], labour);
        plan_least_learns(least, gathered,
                          join->side[0].labels[x].at[0].cost + join->side[1].labels[y].at[0].cost + labour);
    }
}

/* All pairs, the cheaper ones first. Cost only grows on the way to the root, so that what is over the budget here is over
 * it there. */
static void pair_all(struct plan_searching *s, const struct plan_join *join, struct plan_message *out) {
    uint32_t na, nb;
    int64_t budget = s->model->plan->wish.budget_minor;
    const struct plan_message *a = &join->side[0], *b = &join->side[1];
    const uint32_t *ia = plan_by_cost(s, join->scratch, a, &na), *ib = plan_by_cost(s, join->scratch, b, &nb);
    struct plan_least least;
    plan_least_init(s, &least, join, out);
    for (uint32_t x = 0; x < na && !s->failed; x++) {
        for (uint32_t y = 0; y < nb && !s->failed; y++) {
            int64_t cost = a->labels[ia[x]].at[0].cost + b->labels[ib[y]].at[0].cost;
            if (budget >= 0 && cost > budget) {
                break;
            }
            if (!plan_least_rejects(&least, join, plan_state_at(a, ia[x]), plan_state_at(b, ib[y]), cost)) {
                make_pair(s, join, out, &least, ia[x], ib[y]);
            }
        }
    }
}

/* Judges, puts together, pairs. */
static void work_join(struct plan_searching *s, struct plan_join *join, struct plan_message *out,
                      const struct plan_message *a, const struct plan_message *b, struct base_arena *arena) {
    judge_all(s, join, a, b);
    if (s->failed) {
        return;
    }
    condense(s, join, 0, a);
    condense(s, join, 1, b);
    lay_out(join, out, arena);
    pair_all(s, join, out);
    if (!s->failed && out->n_front > 0) { /* at the root the front is cut from what is found */
        plan_prune(s, out);
    }
}

/* Joins a and b, and frees them. */
static void join_messages(struct plan_searching *s, struct plan_message *out, struct plan_message *a,
                          struct plan_message *b) {
    struct base_arena *arena = plan_new_arena(s), *scratch = plan_new_arena(s);
    struct plan_join *join = scratch ? base_arena_alloc(scratch, 1, sizeof *join) : NULL;
    memset(out, 0, sizeof *out);
    out->slots = a->slots | b->slots;
    out->unified = true;
    out->arena = arena;
    s->failed = s->failed || s->model->failed || !arena || !join;
    s->empty = s->empty || a->states.n == 0 || b->states.n == 0;
    if (!s->failed && !s->empty) {
        join->scratch = scratch;
        work_join(s, join, out, a, b, arena);
    }
    if (scratch) {
        base_arena_clear(scratch);
    }
    plan_message_clear(a);
    plan_message_clear(b);
}

/* A leaf with all answered that looks at this slot only. */
static void answered_leaf(struct plan_searching *s, struct plan_message *out, enum trade_slot slot) {
    struct plan_message nothing;
    struct base_arena *arena = plan_new_arena(s);
    if (!arena) {
        return;
    }
    plan_unit(s, &nothing, arena);
    join_messages(s, out, &s->leaves[slot], &nothing);
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
                                         .tenths = (int32_t)g[PLAN_G_TENTHS],
                                         .changed = (int32_t)g[PLAN_G_CHANGED_SLOTS]};
            plan_ranks_of(found->rank, found->label.parts);
        }
    }
    return BASE_OK;
}

/* Walks the tree; what is left on the stack is the root, or what there was when it failed. */
static size_t walk(struct plan_searching *s, struct plan_message *stack, const int8_t *tree, size_t n) {
    size_t depth = 0;
    s->waiting = stack;
    for (size_t i = 0; i < n && !s->failed && !s->empty; i++) {
        s->n_waiting = tree[i] == JOIN ? depth - 2 : depth;
        if (tree[i] != JOIN) {
            answered_leaf(s, &stack[depth++], (enum trade_slot)tree[i]);
        } else {
            struct plan_message joined;
            depth--;
            join_messages(s, &joined, &stack[depth - 1], &stack[depth]);
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
