/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/join.h"

#include "plan/labour.h"
#include "plan/least.h"
#include "plan/open_gears.h"
#include "plan/pairing.h"

#include <string.h>

/* --- what the consumers make of the pairs -------------------------------------------------------------------------- */

/* Puts a consumer among those that forbid pairs, what forbids most first. */
static void forbid(struct plan_join *join, unsigned number) {
    unsigned at = join->n_forbids++;
    for (; at > 0 && join->judged[join->forbids[at - 1]].allows > join->judged[number].allows; at--) {
        join->forbids[at] = join->forbids[at - 1];
    }
    join->forbids[at] = (uint8_t)number;
}

static void judge_one(struct plan_searching *s, struct plan_join *join, unsigned number, const struct plan_message *a,
                      const struct plan_message *b) {
    struct plan_judged *j = &join->judged[number];
    plan_judge_at_join(s, join->scratch, j, a, b);
    if (s->failed) {
        return;
    }
    if (j->allows < 1.0) {
        forbid(join, number);
    }
    if (!j->whole) {
        join->open[join->n_open++] = (uint8_t)number;
    } else if (plan_judged_tells(j)) {
        join->tells[join->n_tells++] = (uint8_t)number;
    }
    if (j->whole && j->consumer->kind == PLAN_GEARS) {
        join->gears = (int)number;
    }
}

static void judge_all(struct plan_searching *s, struct plan_join *join, const struct plan_message *a,
                      const struct plan_message *b) {
    uint32_t slots = a->slots | b->slots;
    for (unsigned c = 0; c < s->model->n_consumers && !s->failed; c++) {
        if (plan_word_of(a, c) < 0 && plan_word_of(b, c) < 0) {
            continue;
        }
        struct plan_judged *j = &join->judged[join->n_judged];
        j->consumer = &s->model->consumers[c];
        j->index = c;
        j->whole = (j->consumer->slots & ~slots) == 0;
        judge_one(s, join, join->n_judged++, a, b);
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

/* --- pairs --------------------------------------------------------------------------------------------------------- */

/* What is done with the pairs that no whole consumer forbids. */
struct pass {
    struct plan_join *join;
    struct plan_message *out; /* NULL: it is only looked at what the pairs need */
    struct plan_least *least;
};

static bool allowed(const struct plan_join *join, const uint32_t *a, const uint32_t *b) {
    for (unsigned i = 0; i < join->n_forbids; i++) {
        unsigned j = join->forbids[i];
        if (plan_result(&join->judged[j], a[j], b[j]) == join->judged[j].no) {
            return false;
        }
    }
    return true;
}

/* Works out what the open consumers see of a pair. */
static void see_pair(struct plan_searching *s, struct plan_join *join, const uint32_t *a, const uint32_t *b) {
    for (unsigned i = 0; i < join->n_open; i++) {
        unsigned j = join->open[i];
        plan_judged_see(s, &join->judged[j], a[j], b[j]);
    }
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
    gather_cell(&gathered[PLAN_G_IN_BAND], outcome->in_band);
    gather_cell(&gathered[PLAN_G_WALKED], outcome->walked_m);
    s->failed = s->failed || gathered[PLAN_G_CASES] == PLAN_NO_ID;
    return !s->failed;
}

/* The state of a pair: what is seen now, and what is gathered. False when something forbids it. */
static bool pair_state(struct plan_searching *s, const struct plan_join *join, uint32_t *state, const uint32_t *a,
                       const uint32_t *b) {
    const uint32_t *ga = a + join->n_judged, *gb = b + join->n_judged;
    uint32_t *gathered = state + join->n_open;
    for (unsigned i = 0; i < join->n_open; i++) {
        unsigned j = join->open[i];
        state[i] = plan_result(&join->judged[j], a[j], b[j]);
        if (state[i] == PLAN_DEAD) {
            return false;
        }
    }
    for (unsigned w = 0; w < PLAN_GATHERED; w++) {
        gathered[w] = ga[w] | gb[w]; /* bit sets; and of the cells at most one side has a value */
    }
    gathered[PLAN_G_TENTHS] = ga[PLAN_G_TENTHS] + gb[PLAN_G_TENTHS];
    gathered[PLAN_G_CHANGED_SLOTS] = ga[PLAN_G_CHANGED_SLOTS] + gb[PLAN_G_CHANGED_SLOTS];
    gathered[PLAN_G_CASES] = plan_meet(s->model, ga[PLAN_G_CASES], gb[PLAN_G_CASES]);
    s->failed = s->failed || gathered[PLAN_G_CASES] == PLAN_NO_ID;
    for (unsigned i = 0; i < join->n_tells && !s->failed; i++) {
        unsigned j = join->tells[i];
        if (!take_answer(s, gathered, plan_result(&join->judged[j], a[j], b[j]))) {
            return false;
        }
    }
    return !s->failed && !fit_no_case(plan_intern_at(&s->model->cases, gathered[PLAN_G_CASES]));
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

/* All labels of a pair; at the root those that are not beaten already. */
static void add_pairs(struct plan_searching *s, const struct pass *pass, struct plan_labels *to,
                      const uint32_t *gathered, uint32_t x, uint32_t y, int64_t labour) {
    struct plan_least *least = pass->least;
    uint32_t caveat = least->on ? plan_caveat_of(s, &least->caveats, gathered) : 0;
    int32_t line = (int32_t)gathered[PLAN_G_LINE];
    const struct plan_labels *a = &pass->join->side[0].labels[x], *b = &pass->join->side[1].labels[y];
    for (size_t i = 0; i < a->n; i++) {
        for (size_t k = 0; k < b->n && !s->failed; k++) {
            const struct plan_parts both = {.a = a->at[i].parts, .b = b->at[k].parts};
            const struct plan_label label = {.cost = a->at[i].cost + b->at[k].cost + labour,
                                             .mass = a->at[i].mass + b->at[k].mass,
                                             .count = saturating_product(a->at[i].count, b->at[k].count),
                                             .parts = both.b ? &both : both.a};
            if (!plan_least_beats(s, least, caveat, line, &label)) {
                plan_add_label(s, pass->out, to, &label, both.b != NULL);
                plan_least_learns(s, least, caveat, line, &label);
            }
        }
    }
}

static void make_pair(struct plan_searching *s, const struct pass *pass, uint32_t x, uint32_t y) {
    const struct plan_join *join = pass->join;
    uint32_t state[PLAN_CONSUMERS_MAX + PLAN_GATHERED], *gathered = state + join->n_open;
    if (!pair_state(s, join, state, plan_state_at(&join->side[0], x), plan_state_at(&join->side[1], y))) {
        return;
    }
    int64_t labour = pay(s, join, gathered);
    struct plan_labels *labels = plan_labels_of(s, pass->out, state);
    if (labels) {
        add_pairs(s, pass, labels, gathered, x, y, labour);
    }
}

/* One state of a with a bucket of b, the cheaper first. Cost only grows on the way to the root, so that what is over the
 * budget here is over it there. */
static void pair_bucket(struct plan_searching *s, const struct pass *pass, const struct plan_bucketed *bs, uint32_t x,
                        uint32_t bucket) {
    const struct plan_message *a = &pass->join->side[0], *b = &pass->join->side[1];
    const uint32_t *mine = plan_state_at(a, x);
    int64_t budget = s->model->plan->wish.budget_minor;
    for (uint32_t i = bs->from[bucket]; i < bs->from[bucket + 1] && !s->failed; i++) {
        uint32_t y = bs->states[i];
        const uint32_t *other = plan_state_at(b, y);
        int64_t cost = a->labels[x].at[0].cost + b->labels[y].at[0].cost;
        if (budget >= 0 && cost > budget) {
            return;
        }
        if (plan_least_rejects(s, pass->least, pass->join, x, cost)) {
            return; /* so are those that follow */
        }
        if (plan_least_rejects_both(s, pass->least, pass->join, x, y, cost)) {
            continue;
        }
        if (!allowed(pass->join, mine, other)) {
            continue;
        }
        if (pass->out) {
            make_pair(s, pass, x, y);
        } else {
            see_pair(s, pass->join, mine, other);
        }
    }
}

/* When it is enough, the gearings from here on stay open. */
static bool is_enough(struct plan_searching *s, const struct plan_pairing *p, size_t from) {
    const struct plan_question *question = &s->model->plan->question;
    if (!question->enough || !question->enough(question->self)) {
        return false;
    }
    s->model->plan->stopped = true;
    for (size_t i = from; i < p->n && !s->failed; i++) {
        if (i == from || plan_other_gearing(&p->pairs[i - 1], &p->pairs[i])) {
            s->failed = !plan_leave_open(s->model->plan, p->pairs[i].lowest, p->pairs[i].counted);
        }
    }
    return true;
}

static void pair_all(struct plan_searching *s, const struct pass *pass, const struct plan_pairing *p) {
    const struct plan_bucketed *as = &p->side[0];
    for (size_t i = 0; i < p->n && !s->failed; i++) {
        const struct plan_bucket_pair *pair = &p->pairs[i];
        bool next = pass->join->gears >= 0 && (i == 0 || plan_other_gearing(pair - 1, pair));
        if (next && is_enough(s, p, i)) {
            return;
        }
        if (next) {
            plan_least_begin(pass->least, pair->counted);
        }
        for (uint32_t x = as->from[pair->a]; x < as->from[pair->a + 1] && !s->failed; x++) {
            pair_bucket(s, pass, &p->side[1], as->states[x], pair->b);
        }
    }
}

/* --- the join ------------------------------------------------------------------------------------------------------ */

/* What the open consumers see of the pairs, put together where it goes on alike. */
static void see_all(struct plan_searching *s, struct plan_join *join, const struct plan_pairing *p,
                    const struct plan_message *a, const struct plan_message *b) {
    struct plan_least none = {.on = false};
    const struct pass pass = {.join = join, .least = &none};
    pair_all(s, &pass, p);
    for (unsigned i = 0; i < join->n_open && !s->failed; i++) {
        const struct plan_judged *j = &join->judged[join->open[i]];
        if (!j->at_once) {
            plan_judged_unify(s, join->scratch, j, a, b);
        }
    }
}

static void lay_out(const struct plan_join *join, struct plan_message *out, struct base_arena *arena) {
    for (unsigned i = 0; i < join->n_open; i++) {
        out->consumers[out->n_consumers++] = (uint8_t)join->judged[join->open[i]].index;
    }
    plan_message_init(out, arena, out->n_consumers);
}

/* Judges, puts together, pairs. */
static void work_join(struct plan_searching *s, struct plan_join *join, struct plan_message *out,
                      const struct plan_message *a, const struct plan_message *b, struct base_arena *arena) {
    struct plan_pairing pairing;
    struct plan_least least;
    judge_all(s, join, a, b);
    if (s->failed) {
        return;
    }
    condense(s, join, 0, a);
    condense(s, join, 1, b);
    lay_out(join, out, arena);
    plan_least_init(s, &least, join, out);
    if (!s->failed) {
        plan_pairing_init(s, &pairing, join);
    }
    if (!s->failed && join->n_open > 0) {
        see_all(s, join, &pairing, a, b);
    }
    const struct pass pass = {.join = join, .out = out, .least = &least};
    if (!s->failed) {
        pair_all(s, &pass, &pairing);
    }
    if (!s->failed && out->n_front > 0) { /* at the root the front is cut from what is found */
        plan_prune(s, out);
    }
}

void plan_join_messages(struct plan_searching *s, struct plan_message *out, struct plan_message *a,
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
        join->gears = -1;
        work_join(s, join, out, a, b, arena);
    }
    s->empty = s->empty || (!s->failed && out->states.n == 0);
    if (scratch) {
        base_arena_clear(scratch);
    }
    plan_message_clear(a);
    plan_message_clear(b);
}
