/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/search.h"

#include "plan/values.h"

#include <stdlib.h>
#include <string.h>

/* --- the tree ------------------------------------------------------------------------------------------------------ */

/* Reverse Polish: a slot pushes its leaf, JOIN joins the two messages on top. The shape follows where parts meet: spindle
 * and crank, the rings on it, the left control; hub, body and cassette; derailleur and shifter; the chain ties them. */
#define JOIN (-1)
#define S(SLOT) TRADE_SLOT_##SLOT
static const int8_t tree[] = {
    S(BOTTOM_BRACKET), S(CRANK), JOIN, S(CUP_SPACERS), JOIN, S(FRONT_DERAILLEUR), JOIN, S(OUTER_RING), JOIN,
    S(INNER_RING), JOIN, S(MIDDLE_RING), JOIN, S(RING_WASHERS), JOIN, S(LEFT_SHIFTER), S(LEFT_BRAKE_LEVER), JOIN, JOIN,
    S(CHAIN_GUIDE), JOIN,
    S(REAR_WHEEL), S(FREEHUB_BODY), JOIN, S(REAR_ROTOR), JOIN, S(CASSETTE), S(CASSETTE_SPACER), JOIN, JOIN,
    S(HANGER), S(HANGER_EXTENDER), JOIN, S(REAR_DERAILLEUR), JOIN, S(RIGHT_SHIFTER), S(RIGHT_BRAKE_LEVER), JOIN,
    S(CABLES), JOIN, JOIN,
    JOIN, S(CHAIN), JOIN,
    JOIN,
};
#undef S
#define STACK_MAX 8

/* --- messages ------------------------------------------------------------------------------------------------------ */

/* What a state holds behind its variables. The words up to GATHERED_HARD must be equal for one state to stand in for
 * another; of the rest each may be better. */
enum gathered {
    CHANGED_0, /* of each consumer that is still to be judged: has something changed in its slots? */
    GATHERED_HARD = CHANGED_0 + PLAN_CONSUMERS_MAX / 32,
    OPERATIONS = GATHERED_HARD, /* bit set: triggered, and not paid yet */
    CASES,
    DRAWBACKS,            /* two words */
    HANGS = DRAWBACKS + 2, /* two words */
    TENTHS = HANGS + 2,
    CHANGED_SLOTS,
    LOWEST,
    COUNTED,
    LINE,
    GATHERED
};

struct labels {
    struct plan_label *at; /* rising cost, falling mass */
    size_t             n, room;
};

struct message {
    uint32_t           slots;
    uint16_t           variables[PLAN_VARIABLES_MAX];
    unsigned           n_variables;
    unsigned           n_words; /* of a state: front words, then GATHERED */
    struct plan_intern states;
    struct labels     *labels; /* of each state */
    size_t             room;
};

struct search {
    struct plan_model *model;
    uint32_t           paid;      /* operations whose slots are all covered by a node that was made */
    bool               by_mass;
    bool               empty; /* some side has no state at all: there is no build */
    bool               failed;
};

static void message_init(struct search *s, struct message *m, unsigned front_words) {
    m->n_words = front_words + GATHERED;
    plan_intern_init(&m->states, s->model->arena, m->n_words * sizeof(uint32_t));
}

static const uint32_t *state_at(const struct message *m, uint32_t id) { return plan_intern_at(&m->states, id); }
static uint64_t two_words(const uint32_t *words) { return (uint64_t)words[0] | (uint64_t)words[1] << 32; }
static void put_two_words(uint32_t *words, uint64_t bits) {
    words[0] = (uint32_t)bits;
    words[1] = (uint32_t)(bits >> 32);
}

static uint64_t saturating_sum(uint64_t a, uint64_t b) { return a > UINT64_MAX - b ? UINT64_MAX : a + b; }
static uint64_t saturating_product(uint64_t a, uint64_t b) { return b && a > UINT64_MAX / b ? UINT64_MAX : a * b; }

/* Puts a label among those of one state: ties add up and keep the first part list; what is beaten goes. */
static void add_label(struct search *s, struct labels *to, const struct plan_label *label) {
    size_t at = 0;
    while (at < to->n && to->at[at].cost < label->cost) {
        at++;
    }
    if (at > 0 && to->at[at - 1].mass <= label->mass) {
        return;
    }
    if (at < to->n && to->at[at].cost == label->cost) {
        if (to->at[at].mass < label->mass) {
            return;
        }
        if (to->at[at].mass == label->mass) {
            struct plan_label *same = &to->at[at];
            same->count = saturating_sum(same->count, label->count);
            for (unsigned i = 0; i < TRADE_SLOTS; i++) {
                if (same->rank[i] != label->rank[i]) {
                    if (label->rank[i] < same->rank[i]) {
                        memcpy(same->rank, label->rank, sizeof same->rank);
                    }
                    break;
                }
            }
            return;
        }
    }
    size_t beaten = at;
    while (beaten < to->n && to->at[beaten].mass >= label->mass) {
        beaten++;
    }
    if (beaten == at) {
        struct plan_label *grown = base_arena_grow(s->model->arena, to->at, to->n, &to->room, to->n + 1, sizeof *grown);
        if (!grown) {
            s->failed = true;
            return;
        }
        to->at = grown;
        memmove(&to->at[at + 1], &to->at[at], (to->n - at) * sizeof *to->at);
        to->n++;
    } else {
        memmove(&to->at[at + 1], &to->at[beaten], (to->n - beaten) * sizeof *to->at);
        to->n -= beaten - at - 1;
    }
    to->at[at] = *label;
}

/* The labels of a state, made when it is new. */
static struct labels *labels_of(struct search *s, struct message *m, const uint32_t *state) {
    uint32_t id = plan_intern_id(&m->states, state, NULL);
    if (id == PLAN_NO_ID) {
        s->failed = true;
        return NULL;
    }
    if (id >= m->room) {
        struct labels *grown = base_arena_grow(s->model->arena, m->labels, m->room, &m->room, (size_t)id + 1, sizeof *grown);
        if (!grown) {
            s->failed = true;
            return NULL;
        }
        m->labels = grown;
    }
    return &m->labels[id];
}

/* --- leaves -------------------------------------------------------------------------------------------------------- */

static void mark_changed(struct search *s, uint32_t *gathered, enum trade_slot slot) {
    const struct plan_model *model = s->model;
    for (unsigned c = 0; c < model->n_consumers; c++) {
        if (model->consumers[c].any && (model->consumers[c].slots >> slot & 1)) {
            gathered[CHANGED_0 + c / 32] |= 1u << (c % 32);
        }
    }
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        if (trade_operation_rows[o].slots >> slot & 1) {
            gathered[OPERATIONS] |= 1u << o;
        }
    }
    gathered[CHANGED_SLOTS] = model->plan->wish.objectives >> TRADE_CHANGED & 1;
}

static void leaf(struct search *s, struct message *out, enum trade_slot slot) {
    struct plan_model *model = s->model;
    const struct trade_bike *bike = model->plan->question.bike;
    uint32_t state[PLAN_VARIABLES_MAX + GATHERED];
    memset(out, 0, sizeof *out);
    out->slots = 1u << slot;
    for (unsigned v = 0; v < model->n_variables; v++) {
        if (model->variables[v].slots >> slot & 1) {
            out->variables[out->n_variables++] = (uint16_t)v;
        }
    }
    message_init(s, out, out->n_variables);
    for (uint32_t rank = 0; rank < plan_ranks(model->plan, slot) && !s->failed; rank++) {
        if (!plan_may(model->plan, slot, rank)) {
            continue;
        }
        struct fit_choice choice = plan_choice(model->plan, slot, rank);
        struct plan_label label = {.count = 1};
        memset(state, 0, sizeof state);
        for (unsigned i = 0; i < out->n_variables; i++) {
            state[i] = plan_entry_of(model, out->variables[i], slot, &choice);
        }
        if (rank != (trade_bike_has(bike, slot) ? 0u : 1u)) {
            mark_changed(s, &state[out->n_variables], slot);
        }
        label.rank[slot] = rank;
        label.cost = choice.kind == FIT_NEW ? choice.part->price_minor : 0;
        if (s->by_mass) {
            bool assumed = false;
            label.mass = plan_slot_mass_g(&assumed, bike, slot, &choice, model->usual_mass_g);
        }
        struct labels *labels = labels_of(s, out, state);
        if (labels) {
            add_label(s, labels, &label);
        }
    }
}

/* The message that joins without a change: no slot, one empty state. */
static void unit(struct search *s, struct message *out) {
    uint32_t state[GATHERED] = {0};
    const struct plan_label label = {.count = 1};
    memset(out, 0, sizeof *out);
    message_init(s, out, 0);
    struct labels *labels = labels_of(s, out, state);
    if (labels) {
        add_label(s, labels, &label);
    }
}

/* --- one consumer at a join ---------------------------------------------------------------------------------------- */

/* The states of one side as one consumer sees them. */
struct view {
    struct plan_intern seen;  /* values of its variables on this side, and whether something changed */
    uint32_t          *of;    /* of each state: the number of what is seen */
    unsigned           n;     /* variables on this side */
    uint8_t            which[PLAN_CONSUMER_VARIABLES_MAX]; /* index in the consumer's variables */
    uint16_t           where[PLAN_CONSUMER_VARIABLES_MAX]; /* word of the state */
    uint32_t          *row;   /* of each number seen: its class, states of one class answering alike */
    uint32_t           n_rows;
};

struct judged {
    const struct plan_consumer *consumer;
    unsigned                    index;
    struct view                 side[2];
    uint32_t                   *outcome; /* of class a * classes of b + class b */
};

static void look(struct search *s, struct view *view, const struct message *m, const struct plan_consumer *c, unsigned index) {
    uint32_t seen[PLAN_CONSUMER_VARIABLES_MAX + 1];
    for (unsigned i = 0; i < c->n_variables; i++) {
        for (unsigned w = 0; w < m->n_variables; w++) {
            if (m->variables[w] == c->variables[i]) {
                view->which[view->n] = (uint8_t)i;
                view->where[view->n++] = (uint16_t)w;
            }
        }
    }
    plan_intern_init(&view->seen, s->model->arena, (view->n + 1) * sizeof *seen);
    view->of = base_arena_alloc(s->model->arena, m->states.n, sizeof *view->of);
    for (uint32_t i = 0; i < m->states.n && view->of; i++) {
        const uint32_t *state = state_at(m, i);
        for (unsigned v = 0; v < view->n; v++) {
            seen[v] = state[view->where[v]];
        }
        seen[view->n] = state[m->n_variables + CHANGED_0 + index / 32] >> (index % 32) & 1;
        view->of[i] = plan_intern_id(&view->seen, seen, NULL);
        s->failed = s->failed || view->of[i] == PLAN_NO_ID;
    }
    s->failed = s->failed || !view->of;
}

/* What the consumer says of what is seen on one side and on the other. */
static uint32_t ask(struct search *s, const struct judged *j, uint32_t a, uint32_t b) {
    uint32_t values[PLAN_CONSUMER_VARIABLES_MAX];
    bool have[PLAN_CONSUMER_VARIABLES_MAX] = {false};
    const uint32_t seen[2] = {a, b};
    bool changed = false;
    for (unsigned side = 0; side < 2; side++) {
        const struct view *view = &j->side[side];
        const uint32_t *record = plan_intern_at(&view->seen, seen[side]);
        changed = changed || record[view->n] != 0;
        for (unsigned i = 0; i < view->n; i++) {
            unsigned v = view->which[i];
            values[v] = have[v] ? plan_entry_add(s->model, j->consumer->variables[v], values[v], record[i]) : record[i];
            have[v] = true;
        }
    }
    return plan_judge(s->model, j->consumer, values, changed);
}

/* Numbers seen whose rows of answers are equal get one class. rows: n of them, width numbers each. */
static void put_together(struct search *s, struct view *view, const uint32_t *rows, uint32_t width) {
    struct plan_intern classes;
    plan_intern_init(&classes, s->model->arena, width * sizeof *rows);
    view->row = base_arena_alloc(s->model->arena, view->seen.n, sizeof *view->row);
    for (uint32_t i = 0; i < view->seen.n && view->row; i++) {
        view->row[i] = plan_intern_id(&classes, rows + (size_t)i * width, NULL);
        s->failed = s->failed || view->row[i] == PLAN_NO_ID;
    }
    s->failed = s->failed || !view->row;
    view->n_rows = classes.n;
}

static void judge(struct search *s, struct judged *j, const struct message *a, const struct message *b) {
    look(s, &j->side[0], a, j->consumer, j->index);
    look(s, &j->side[1], b, j->consumer, j->index);
    uint32_t na = j->side[0].seen.n, nb = j->side[1].seen.n;
    uint32_t *rows = base_arena_alloc(s->model->arena, (size_t)na * nb, sizeof *rows);
    uint32_t *columns = base_arena_alloc(s->model->arena, (size_t)na * nb, sizeof *columns);
    s->failed = s->failed || !rows || !columns;
    if (s->failed || na == 0 || nb == 0) {
        return;
    }
    for (uint32_t x = 0; x < na && !s->model->failed; x++) {
        for (uint32_t y = 0; y < nb && !s->model->failed; y++) {
            rows[(size_t)x * nb + y] = columns[(size_t)y * na + x] = ask(s, j, x, y);
        }
    }
    put_together(s, &j->side[0], rows, nb);
    put_together(s, &j->side[1], columns, na);
    j->outcome = base_arena_alloc(s->model->arena, (size_t)j->side[0].n_rows * j->side[1].n_rows, sizeof *j->outcome);
    s->failed = s->failed || s->model->failed || !j->outcome;
    for (uint32_t x = 0; x < na && !s->failed; x++) {
        for (uint32_t y = 0; y < nb; y++) {
            j->outcome[(size_t)j->side[0].row[x] * j->side[1].n_rows + j->side[1].row[y]] = rows[(size_t)x * nb + y];
        }
    }
}

/* --- what stands in for what --------------------------------------------------------------------------------------- */

static bool no_more(uint64_t a, uint64_t b) { return (a & ~b) == 0; }

/* Is what a has gathered at least as good as what b has, whatever comes? */
static bool gathered_as_well(struct search *s, const uint32_t *a, const uint32_t *b) {
    return no_more(a[OPERATIONS], b[OPERATIONS]) && no_more(two_words(&a[DRAWBACKS]), two_words(&b[DRAWBACKS])) &&
           no_more(two_words(&a[HANGS]), two_words(&b[HANGS])) && a[TENTHS] <= b[TENTHS] &&
           a[CHANGED_SLOTS] <= b[CHANGED_SLOTS] && a[LOWEST] <= b[LOWEST] && a[COUNTED] >= b[COUNTED] &&
           a[LINE] <= b[LINE] && plan_meet(s->model, a[CASES], b[CASES]) == b[CASES];
}

/* Drops the labels of b that cost more than one of a that is not heavier. Such a one can't even tie in the end. */
static void drop_dearer(struct labels *b, const struct labels *a) {
    size_t left = 0, at = 0;
    for (size_t i = 0; i < b->n; i++) {
        while (at + 1 < a->n && a->at[at].mass > b->at[i].mass && a->at[at + 1].cost < b->at[i].cost) {
            at++;
        }
        if (!(a->at[at].cost < b->at[i].cost && a->at[at].mass <= b->at[i].mass)) {
            b->at[left++] = b->at[i];
        }
    }
    b->n = left;
}

struct sorted {
    const uint32_t *state;
    uint32_t        id;
    unsigned        n_hard;
    int64_t         cost;
};

static int compare_sorted(const void *x, const void *y) {
    const struct sorted *a = x, *b = y;
    int order = memcmp(a->state, b->state, a->n_hard * sizeof *a->state);
    if (order == 0) {
        order = (a->cost > b->cost) - (a->cost < b->cost);
    }
    return order != 0 ? order : (a->id > b->id) - (a->id < b->id);
}

/* Among states that agree in all that is still to be read, drops labels that another one beats whatever comes. */
static void prune(struct search *s, struct message *m) {
    unsigned n_front = m->n_words - GATHERED, n_hard = n_front + GATHERED_HARD;
    struct sorted *list = base_arena_alloc(s->model->arena, m->states.n, sizeof *list);
    if (!list) {
        s->failed = true;
        return;
    }
    for (uint32_t i = 0; i < m->states.n; i++) {
        list[i] = (struct sorted){state_at(m, i), i, n_hard, m->labels[i].n ? m->labels[i].at[0].cost : 0};
    }
    if (m->states.n > 0) {
        qsort(list, m->states.n, sizeof *list, compare_sorted);
    }
    for (uint32_t from = 0, to; from < m->states.n; from = to) {
        for (to = from + 1; to < m->states.n; to++) {
            if (memcmp(list[from].state, list[to].state, n_hard * sizeof(uint32_t)) != 0) {
                break;
            }
        }
        for (uint32_t b = from + 1; b < to; b++) {
            struct labels *mine = &m->labels[list[b].id];
            for (uint32_t a = from; a < b && mine->n > 0; a++) {
                struct labels *others = &m->labels[list[a].id];
                if (others->n > 0 && gathered_as_well(s, list[a].state + n_front, list[b].state + n_front)) {
                    drop_dearer(mine, others);
                }
            }
        }
    }
}

/* --- the join ------------------------------------------------------------------------------------------------------ */

struct join {
    struct judged  judged[PLAN_CONSUMERS_MAX];
    unsigned       n_judged;
    uint32_t       pay;  /* operations that are complete here */
    struct message side[2]; /* states put together: classes, then the variables that stay, then what was gathered */
    uint16_t       from[2][PLAN_VARIABLES_MAX]; /* of each variable of the result: word of that side's state */
};

#define NOT_HERE UINT16_MAX

/* Is the variable still read by a consumer that is not judged yet? */
static bool still_read(const struct plan_model *model, unsigned variable) {
    for (unsigned c = 0; c < model->n_consumers; c++) {
        if (model->consumers[c].done) {
            continue;
        }
        for (unsigned i = 0; i < model->consumers[c].n_variables; i++) {
            if (model->consumers[c].variables[i] == variable) {
                return true;
            }
        }
    }
    return false;
}

static void judge_all(struct search *s, struct join *join, const struct message *a, const struct message *b) {
    uint32_t slots = a->slots | b->slots;
    for (unsigned c = 0; c < s->model->n_consumers && !s->failed; c++) {
        struct plan_consumer *consumer = &s->model->consumers[c];
        if (consumer->done || (consumer->slots & ~slots)) {
            continue;
        }
        consumer->done = true;
        struct judged *j = &join->judged[join->n_judged++];
        memset(j, 0, sizeof *j);
        j->consumer = consumer;
        j->index = c;
        judge(s, j, a, b);
    }
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        if (!(s->paid >> o & 1) && !(trade_operation_rows[o].slots & ~slots)) {
            join->pay |= 1u << o;
        }
    }
    s->paid |= join->pay;
}

/* One side with the states put together that answer alike to all that is judged here and agree in what stays. */
static void condense(struct search *s, struct join *join, unsigned side, const struct message *m) {
    struct message *out = &join->side[side];
    uint32_t state[PLAN_CONSUMERS_MAX + PLAN_VARIABLES_MAX + GATHERED];
    memset(out, 0, sizeof *out);
    out->slots = m->slots;
    for (unsigned w = 0; w < m->n_variables; w++) {
        if (still_read(s->model, m->variables[w])) {
            out->variables[out->n_variables++] = (uint16_t)w; /* the word, for now */
        }
    }
    message_init(s, out, join->n_judged + out->n_variables);
    for (uint32_t i = 0; i < m->states.n && !s->failed; i++) {
        const uint32_t *from = state_at(m, i);
        unsigned n = 0;
        for (unsigned j = 0; j < join->n_judged; j++) {
            const struct view *view = &join->judged[j].side[side];
            state[n++] = view->row[view->of[i]];
        }
        for (unsigned w = 0; w < out->n_variables; w++) {
            state[n++] = from[out->variables[w]];
        }
        memcpy(&state[n], &from[m->n_variables], GATHERED * sizeof *state);
        for (unsigned j = 0; j < join->n_judged; j++) {
            state[n + CHANGED_0 + join->judged[j].index / 32] &= ~(1u << (join->judged[j].index % 32));
        }
        struct labels *labels = m->labels[i].n ? labels_of(s, out, state) : NULL;
        for (size_t l = 0; labels && l < m->labels[i].n; l++) {
            add_label(s, labels, &m->labels[i].at[l]);
        }
    }
    for (unsigned w = 0; w < out->n_variables; w++) {
        out->variables[w] = m->variables[out->variables[w]];
    }
    prune(s, out);
}

/* Which variables the result has, and where each side holds them. */
static void lay_out(struct search *s, struct join *join, struct message *out) {
    for (unsigned v = 0; v < s->model->n_variables; v++) {
        uint16_t at[2] = {NOT_HERE, NOT_HERE};
        for (unsigned side = 0; side < 2; side++) {
            for (unsigned w = 0; w < join->side[side].n_variables; w++) {
                if (join->side[side].variables[w] == v) {
                    at[side] = (uint16_t)(join->n_judged + w);
                }
            }
        }
        if (at[0] != NOT_HERE || at[1] != NOT_HERE) {
            join->from[0][out->n_variables] = at[0];
            join->from[1][out->n_variables] = at[1];
            out->variables[out->n_variables++] = (uint16_t)v;
        }
    }
    message_init(s, out, out->n_variables);
}

static void gather_cell(uint32_t *word, int32_t value) {
    if (value != 0) {
        *word = (uint32_t)value;
    }
}

/* What the pair has gathered, this node's answers included. False when something forbids it. */
static bool gather(struct search *s, const struct join *join, uint32_t *out, const uint32_t *a, const uint32_t *b) {
    unsigned na = join->side[0].n_words - GATHERED, nb = join->side[1].n_words - GATHERED;
    const uint32_t *ga = a + na, *gb = b + nb;
    uint64_t drawbacks = two_words(&ga[DRAWBACKS]) | two_words(&gb[DRAWBACKS]);
    uint64_t hangs = two_words(&ga[HANGS]) | two_words(&gb[HANGS]);
    uint32_t cases = plan_meet(s->model, ga[CASES], gb[CASES]);
    for (unsigned w = 0; w < GATHERED; w++) {
        out[w] = ga[w] | gb[w]; /* bit sets; and of the cells at most one side has a value */
    }
    out[TENTHS] = ga[TENTHS] + gb[TENTHS];
    out[CHANGED_SLOTS] = ga[CHANGED_SLOTS] + gb[CHANGED_SLOTS];
    for (unsigned j = 0; j < join->n_judged; j++) {
        uint32_t id = join->judged[j].outcome[(size_t)a[j] * join->judged[j].side[1].n_rows + b[j]];
        if (id == PLAN_OUTCOME_PLAIN) {
            continue;
        }
        const struct plan_outcome *outcome = plan_intern_at(&s->model->outcomes, id);
        if (!outcome->allowed) {
            return false;
        }
        drawbacks |= outcome->drawbacks;
        hangs |= outcome->hangs;
        cases = plan_meet(s->model, cases, outcome->cases);
        gather_cell(&out[LOWEST], outcome->lowest);
        gather_cell(&out[COUNTED], outcome->counted);
        gather_cell(&out[LINE], outcome->line);
    }
    if (cases == PLAN_NO_ID || fit_no_case(plan_intern_at(&s->model->cases, cases))) {
        s->failed = s->failed || cases == PLAN_NO_ID;
        return false;
    }
    out[CASES] = cases;
    put_two_words(&out[DRAWBACKS], drawbacks);
    put_two_words(&out[HANGS], hangs);
    return true;
}

/* Labour of the operations that are complete here and were triggered on either side; pays them off. */
static int64_t pay(const struct search *s, const struct join *join, uint32_t *gathered) {
    const struct trade_shop *shop = s->model->plan->question.shop;
    bool by_minutes = (s->model->plan->wish.objectives >> TRADE_MINUTES & 1) != 0;
    uint32_t due = gathered[OPERATIONS] & join->pay;
    int64_t labour = 0;
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        if (due >> o & 1) {
            labour += shop->labour_minor[o];
            gathered[TENTHS] += by_minutes ? (uint32_t)(shop->minutes[o] * 10 + 0.5) : 0;
        }
    }
    gathered[OPERATIONS] &= ~due;
    return labour;
}

static void add_pairs(struct search *s, struct labels *to, const struct labels *a, const struct labels *b, int64_t labour) {
    for (size_t x = 0; x < a->n; x++) {
        for (size_t y = 0; y < b->n && !s->failed; y++) {
            struct plan_label label = a->at[x];
            label.cost += b->at[y].cost + labour;
            label.mass += b->at[y].mass;
            label.count = saturating_product(label.count, b->at[y].count);
            for (unsigned i = 0; i < TRADE_SLOTS; i++) {
                label.rank[i] |= b->at[y].rank[i]; /* each slot stands on one side only */
            }
            add_label(s, to, &label);
        }
    }
}

static void make_pair(struct search *s, const struct join *join, struct message *out, uint32_t x, uint32_t y) {
    uint32_t state[PLAN_VARIABLES_MAX + GATHERED];
    const uint32_t *a = state_at(&join->side[0], x), *b = state_at(&join->side[1], y);
    uint32_t *gathered = state + out->n_variables;
    if (!gather(s, join, gathered, a, b)) {
        return;
    }
    for (unsigned v = 0; v < out->n_variables; v++) {
        uint16_t wa = join->from[0][v], wb = join->from[1][v];
        state[v] = wa == NOT_HERE ? b[wb] : a[wa];
        if (wa != NOT_HERE && wb != NOT_HERE) {
            state[v] = plan_entry_add(s->model, out->variables[v], a[wa], b[wb]);
        }
    }
    int64_t labour = pay(s, join, gathered);
    struct labels *labels = labels_of(s, out, state);
    if (labels) {
        add_pairs(s, labels, &join->side[0].labels[x], &join->side[1].labels[y], labour);
    }
}

static void join_messages(struct search *s, struct message *out, const struct message *a, const struct message *b) {
    struct join *join = base_arena_alloc(s->model->arena, 1, sizeof *join);
    if (!join) {
        s->failed = true;
        return;
    }
    memset(out, 0, sizeof *out);
    out->slots = a->slots | b->slots;
    if (a->states.n == 0 || b->states.n == 0) {
        s->empty = true;
        return;
    }
    judge_all(s, join, a, b);
    if (s->failed) {
        return;
    }
    condense(s, join, 0, a);
    condense(s, join, 1, b);
    lay_out(s, join, out);
    for (uint32_t x = 0; x < join->side[0].states.n && !s->failed; x++) {
        for (uint32_t y = 0; y < join->side[1].states.n && join->side[0].labels[x].n > 0 && !s->failed; y++) {
            if (join->side[1].labels[y].n > 0) {
                make_pair(s, join, out, x, y);
            }
        }
    }
    if (!s->failed) {
        prune(s, out);
    }
}

/* A leaf with all judged that looks at this slot only. */
static void judged_leaf(struct search *s, struct message *out, enum trade_slot slot) {
    struct message raw, nothing;
    leaf(s, &raw, slot);
    unit(s, &nothing);
    if (!s->failed) {
        join_messages(s, out, &raw, &nothing);
    }
}

/* --- the root ------------------------------------------------------------------------------------------------------ */

static enum base_status collect(struct plan_found **out, size_t *n, struct search *s, const struct message *root) {
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
        const uint32_t *g = state_at(root, i) + root->n_variables;
        for (size_t l = 0; l < root->labels[i].n; l++) {
            (*out)[(*n)++] = (struct plan_found){.label = root->labels[i].at[l],
                                                 .cases = g[CASES],
                                                 .drawbacks = two_words(&g[DRAWBACKS]),
                                                 .hangs = two_words(&g[HANGS]),
                                                 .lowest = (int32_t)g[LOWEST],
                                                 .counted = (int32_t)g[COUNTED],
                                                 .line = (int32_t)g[LINE],
                                                 .tenths = (int32_t)g[TENTHS],
                                                 .changed = (int32_t)g[CHANGED_SLOTS]};
        }
    }
    return BASE_OK;
}

enum base_status plan_search(struct plan_found **out, size_t *n, struct plan_model *model) {
    struct search s = {.model = model, .by_mass = (model->plan->wish.objectives >> TRADE_MASS & 1) != 0};
    struct message *stack = base_arena_alloc(model->arena, STACK_MAX + 1, sizeof *stack);
    size_t depth = 0;
    if (!stack) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < sizeof tree / sizeof tree[0] && !s.failed && !s.empty; i++) {
        if (tree[i] != JOIN) {
            judged_leaf(&s, &stack[depth++], (enum trade_slot)tree[i]);
        } else {
            struct message joined;
            depth--;
            join_messages(&s, &joined, &stack[depth - 1], &stack[depth]);
            stack[depth - 1] = joined;
        }
    }
    if (s.failed || model->failed) {
        return BASE_NO_MEMORY;
    }
    if (s.empty) {
        *n = 0;
        return BASE_OK;
    }
    return collect(out, n, &s, &stack[0]);
}
