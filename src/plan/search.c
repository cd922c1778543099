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
    S(BOTTOM_BRACKET),
    S(CRANK),
    JOIN,
    S(CUP_SPACERS),
    JOIN,
    S(FRONT_DERAILLEUR),
    JOIN,
    S(OUTER_RING),
    JOIN,
    S(INNER_RING),
    JOIN,
    S(MIDDLE_RING),
    JOIN,
    S(RING_WASHERS),
    JOIN,
    S(LEFT_SHIFTER),
    S(LEFT_BRAKE_LEVER),
    JOIN,
    JOIN,
    S(CHAIN_GUIDE),
    JOIN,
    S(REAR_WHEEL),
    S(FREEHUB_BODY),
    JOIN,
    S(REAR_ROTOR),
    JOIN,
    S(CASSETTE),
    S(CASSETTE_SPACER),
    JOIN,
    JOIN,
    S(HANGER),
    S(HANGER_EXTENDER),
    JOIN,
    S(REAR_DERAILLEUR),
    JOIN,
    S(RIGHT_SHIFTER),
    S(RIGHT_BRAKE_LEVER),
    JOIN,
    S(CABLES),
    JOIN,
    JOIN,
    JOIN,
    S(CHAIN),
    JOIN,
    JOIN,
};
#undef S
#define STACK_MAX 8

/* --- messages ------------------------------------------------------------------------------------------------------ */

/* What a state holds behind what its consumers have seen: what was gathered so far. Of these each may be better in one
 * state than in another that has the same future. */
enum gathered {
    OPERATIONS = 0, /* bit set: triggered, and not paid yet */
    CASES,
    DRAWBACKS,             /* two words */
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
    size_t n, room;
};

struct message {
    struct base_arena *arena; /* owns states and labels */
    uint32_t slots;
    uint8_t consumers[PLAN_CONSUMERS_MAX]; /* that have seen some of the slots and are not answered yet */
    unsigned n_consumers;
    unsigned n_front; /* words of a state in front of what was gathered */
    struct plan_intern states;
    struct labels *labels; /* of each state */
    size_t room;
};

/* What a consumer sees of one slot over all that the slot may hold: distinct numbers. */
struct glimpses {
    uint32_t *at;
    uint32_t n;
};

struct search {
    struct plan_model *model;
    struct message leaves[TRADE_SLOTS];
    struct glimpses *glimpses; /* of consumer * TRADE_SLOTS + slot */
    uint32_t paid;             /* operations whose slots are all covered by a node that was made */
    bool by_mass;
    bool empty; /* some side has no state at all: there is no build */
    bool failed;
};

static void message_init(struct message *m, struct base_arena *arena, unsigned front_words) {
    m->arena = arena;
    m->n_front = front_words;
    plan_intern_init(&m->states, arena, (front_words + GATHERED) * sizeof(uint32_t));
}

static void message_clear(struct message *m) {
    if (m->arena) {
        base_arena_clear(m->arena);
        m->arena = NULL;
    }
}

/* An arena of its own for a message or for the work of one join, within what is left of the limit. */
static struct base_arena *new_arena(struct search *s) {
    struct base_arena *arena = base_arena_alloc(s->model->arena, 1, sizeof *arena);
    if (!arena) {
        s->failed = true;
        return NULL;
    }
    base_arena_init(arena, s->model->arena->limit);
    return arena;
}

static const uint32_t *state_at(const struct message *m, uint32_t id) { return plan_intern_at(&m->states, id); }
static uint64_t two_words(const uint32_t *words) { return (uint64_t)words[0] | (uint64_t)words[1] << 32; }
static void put_two_words(uint32_t *words, uint64_t bits) {
    words[0] = (uint32_t)bits;
    words[1] = (uint32_t)(bits >> 32);
}

static uint64_t saturating_sum(uint64_t a, uint64_t b) { return a > UINT64_MAX - b ? UINT64_MAX : a + b; }
static uint64_t saturating_product(uint64_t a, uint64_t b) { return b && a > UINT64_MAX / b ? UINT64_MAX : a * b; }

/* Most states have one label, so that room starts with one. */
static bool make_room(struct search *s, struct message *m, struct labels *to) {
    size_t room = to->room ? to->room * 2 : 1;
    struct plan_label *grown = base_arena_alloc(m->arena, room, sizeof *grown);
    if (!grown) {
        s->failed = true;
        return false;
    }
    if (to->n > 0) {
        memcpy(grown, to->at, to->n * sizeof *grown);
    }
    to->at = grown;
    to->room = room;
    return true;
}

/* Puts a label among those of one state: ties add up and keep the first part list; what is beaten goes. */
static void add_label(struct search *s, struct message *m, struct labels *to, const struct plan_label *label) {
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
        if (to->n == to->room && !make_room(s, m, to)) {
            return;
        }
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
        struct labels *grown = base_arena_grow(m->arena, m->labels, m->room, &m->room, (size_t)id + 1, sizeof *grown);
        if (!grown) {
            s->failed = true;
            return NULL;
        }
        m->labels = grown;
    }
    return &m->labels[id];
}

/* --- leaves -------------------------------------------------------------------------------------------------------- */

static uint32_t operations_of(enum trade_slot slot) {
    uint32_t operations = 0;
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        operations |= (trade_operation_rows[o].slots >> slot & 1) << o;
    }
    return operations;
}

/* The state and label of one choice; adds them to the leaf. */
static void add_choice(struct search *s, struct message *out, enum trade_slot slot, uint32_t rank) {
    struct plan_model *model = s->model;
    const struct trade_bike *bike = model->plan->question.bike;
    uint32_t state[PLAN_CONSUMERS_MAX + GATHERED] = {0};
    struct fit_choice choice = plan_choice(model->plan, slot, rank);
    bool changed = rank != (trade_bike_has(bike, slot) ? 0u : 1u);
    struct plan_label label = {.count = 1};
    for (unsigned i = 0; i < out->n_consumers; i++) {
        state[i] = plan_see(model, &model->consumers[out->consumers[i]], slot, &choice, changed);
    }
    if (changed) {
        state[out->n_front + OPERATIONS] = operations_of(slot);
        state[out->n_front + CHANGED_SLOTS] = model->plan->wish.objectives >> TRADE_CHANGED & 1;
    }
    label.rank[slot] = rank;
    label.cost = choice.kind == FIT_NEW ? choice.part->price_minor : 0;
    if (s->by_mass) {
        bool assumed = false;
        label.mass = plan_slot_mass_g(&assumed, bike, slot, &choice, model->usual_mass_g);
    }
    struct labels *labels = labels_of(s, out, state);
    if (labels) {
        add_label(s, out, labels, &label);
    }
}

static void leaf(struct search *s, struct message *out, struct base_arena *arena, enum trade_slot slot) {
    const struct plan_model *model = s->model;
    memset(out, 0, sizeof *out);
    out->slots = 1u << slot;
    for (unsigned c = 0; c < model->n_consumers; c++) {
        if (model->consumers[c].slots >> slot & 1) {
            out->consumers[out->n_consumers++] = (uint8_t)c;
        }
    }
    message_init(out, arena, out->n_consumers);
    for (uint32_t rank = 0; rank < plan_ranks(model->plan, slot) && !s->failed; rank++) {
        if (plan_may(model->plan, slot, rank)) {
            add_choice(s, out, slot, rank);
        }
    }
}

/* The message that joins without a change: no slot, one empty state. */
static void unit(struct search *s, struct message *out, struct base_arena *arena) {
    uint32_t state[GATHERED] = {0};
    const struct plan_label label = {.count = 1};
    memset(out, 0, sizeof *out);
    message_init(out, arena, 0);
    struct labels *labels = labels_of(s, out, state);
    if (labels) {
        add_label(s, out, labels, &label);
    }
}

/* Which word of a state holds what a consumer has seen; -1 when it has seen nothing of these slots. */
static int word_of(const struct message *m, unsigned consumer) {
    for (unsigned i = 0; i < m->n_consumers; i++) {
        if (m->consumers[i] == consumer) {
            return (int)i;
        }
    }
    return -1;
}

/* The distinct numbers in one word of a message's states, rising by first sight; `index`, where asked for, is for each
 * state which of them it has. */
static void distinct(struct search *s, struct base_arena *arena, struct glimpses *out, uint32_t *index,
                     const struct message *m, int word) {
    struct plan_intern numbers;
    plan_intern_init(&numbers, arena, sizeof(uint32_t));
    for (uint32_t i = 0; i < m->states.n; i++) {
        uint32_t number = word < 0 ? PLAN_SEEN_NOTHING : state_at(m, i)[word];
        uint32_t id = plan_intern_id(&numbers, &number, NULL);
        s->failed = s->failed || id == PLAN_NO_ID;
        if (index) {
            index[i] = id;
        }
    }
    out->at = (uint32_t *)(void *)numbers.records;
    out->n = numbers.n;
}

/* All leaves, and what each consumer can see of each slot. */
static void make_leaves(struct search *s) {
    const struct plan_model *model = s->model;
    s->glimpses = base_arena_alloc(model->arena, (size_t)model->n_consumers * TRADE_SLOTS, sizeof *s->glimpses);
    s->failed = s->failed || !s->glimpses;
    for (unsigned slot = 0; slot < TRADE_SLOTS && !s->failed; slot++) {
        struct base_arena *arena = new_arena(s);
        if (!arena) {
            return;
        }
        leaf(s, &s->leaves[slot], arena, slot);
        for (unsigned i = 0; i < s->leaves[slot].n_consumers && !s->failed; i++) {
            struct glimpses *glimpses = &s->glimpses[(size_t)s->leaves[slot].consumers[i] * TRADE_SLOTS + slot];
            distinct(s, model->arena, glimpses, NULL, &s->leaves[slot], (int)i);
        }
    }
}

/* --- one consumer at a join ---------------------------------------------------------------------------------------- */

#define DEAD PLAN_NO_ID /* seen so that whatever comes is forbidden */
#define ROWS_MOST 16384 /* answers that are worked out to put together what a consumer has seen */

/* One side as one consumer sees it. */
struct view {
    struct glimpses seen; /* distinct numbers */
    uint32_t *of;         /* of each state: which of them */
    uint32_t *class;      /* of each of them: those of one class go the same way with everything on the other side */
    uint32_t n_classes;
};

struct judged {
    struct plan_consumer *consumer;
    unsigned index;
    bool whole; /* it sees all of its slots here and is answered */
    struct view side[2];
    uint32_t *result; /* of class a * classes of b + class b: the outcome, or what is seen then, or DEAD */
};

static void look(struct search *s, struct base_arena *scratch, struct view *view, const struct message *m,
                 unsigned index) {
    view->of = base_arena_alloc(scratch, m->states.n, sizeof *view->of);
    if (!view->of) {
        s->failed = true;
        return;
    }
    distinct(s, scratch, &view->seen, view->of, m, word_of(m, index));
}

/* The distinct numbers of what a consumer can see of all the slots outside together; n 0 when there would be more than
 * ROWS_MOST on the way. */
static struct glimpses all_outside(struct search *s, struct base_arena *scratch, const struct judged *j,
                                   uint32_t outside) {
    struct glimpses sofar = {.at = base_arena_alloc(scratch, 1, sizeof(uint32_t)), .n = 1}; /* nothing seen */
    s->failed = s->failed || !sofar.at;
    for (unsigned slot = 0; slot < TRADE_SLOTS && !s->failed && sofar.n > 0; slot++) {
        const struct glimpses *more = &s->glimpses[(size_t)j->index * TRADE_SLOTS + slot];
        struct plan_intern numbers;
        if (!(outside >> slot & 1)) {
            continue;
        }
        plan_intern_init(&numbers, scratch, sizeof(uint32_t));
        for (size_t i = 0; (uint64_t)sofar.n * more->n <= ROWS_MOST && i < (size_t)sofar.n * more->n; i++) {
            uint32_t both = plan_see_both(s->model, j->consumer, sofar.at[i / more->n], more->at[i % more->n]);
            s->failed = s->failed || plan_intern_id(&numbers, &both, NULL) == PLAN_NO_ID;
        }
        sofar.at = (uint32_t *)(void *)numbers.records;
        sofar.n = numbers.n;
    }
    return sofar;
}

/* Puts together what a consumer has seen where it goes on alike whatever the slots outside hold: each number becomes the
 * first with the same answers, and DEAD when every answer is no. Left as it is where that takes too many answers. */
static void unify(struct search *s, struct base_arena *scratch, struct judged *j, uint32_t *numbers, size_t n,
                  uint32_t outside) {
    struct plan_intern known, rows;
    uint32_t *first = base_arena_alloc(scratch, n, sizeof *first), *to = base_arena_alloc(scratch, n, sizeof *to);
    struct glimpses ways = all_outside(s, scratch, j, outside);
    plan_intern_init(&known, scratch, sizeof(uint32_t));
    s->failed = s->failed || !first || !to;
    for (size_t i = 0; i < n && !s->failed; i++) {
        s->failed = plan_intern_id(&known, &numbers[i], NULL) == PLAN_NO_ID;
    }
    uint32_t *row = base_arena_alloc(scratch, ways.n, sizeof *row);
    s->failed = s->failed || !row;
    if (s->failed || ways.n == 0 || (uint64_t)ways.n * known.n > ROWS_MOST) {
        return;
    }
    plan_intern_init(&rows, scratch, ways.n * sizeof *row);
    for (uint32_t k = 0; k < known.n && !s->failed; k++) {
        uint32_t seen = *(const uint32_t *)plan_intern_at(&known, k);
        bool is_new, alive = false;
        for (uint32_t i = 0; i < ways.n && !s->model->failed; i++) {
            row[i] = plan_answer(s->model, j->consumer, plan_see_both(s->model, j->consumer, seen, ways.at[i]));
            alive = alive || row[i] != PLAN_OUTCOME_NO;
        }
        uint32_t id = plan_intern_id(&rows, row, &is_new);
        s->failed = s->failed || s->model->failed || id == PLAN_NO_ID;
        if (!s->failed) {
            first[id] = is_new ? seen : first[id];
            to[k] = alive ? first[id] : DEAD;
        }
    }
    for (size_t i = 0; i < n && !s->failed; i++) {
        numbers[i] = to[plan_intern_id(&known, &numbers[i], NULL)];
    }
}

/* Numbers of a side whose rows are equal get one class. rows: seen.n of them, width numbers each. */
static void classify(struct search *s, struct base_arena *scratch, struct view *view, const uint32_t *rows,
                     uint32_t width) {
    struct plan_intern classes;
    plan_intern_init(&classes, scratch, width * sizeof *rows);
    view->class = base_arena_alloc(scratch, view->seen.n, sizeof *view->class);
    for (uint32_t i = 0; i < view->seen.n && view->class; i++) {
        view->class[i] = plan_intern_id(&classes, rows + (size_t)i * width, NULL);
        s->failed = s->failed || view->class[i] == PLAN_NO_ID;
    }
    s->failed = s->failed || !view->class;
    view->n_classes = classes.n;
}

/* The results of every pair of numbers, row by row. */
static void fill_rows(struct search *s, struct base_arena *scratch, struct judged *j, uint32_t *rows,
                      uint32_t covered) {
    uint32_t na = j->side[0].seen.n, nb = j->side[1].seen.n;
    for (uint32_t x = 0; x < na && !s->model->failed; x++) {
        for (uint32_t y = 0; y < nb && !s->model->failed; y++) {
            uint32_t both = plan_see_both(s->model, j->consumer, j->side[0].seen.at[x], j->side[1].seen.at[y]);
            rows[(size_t)x * nb + y] = j->whole ? plan_answer(s->model, j->consumer, both) : both;
        }
    }
    s->failed = s->failed || s->model->failed;
    if (!j->whole && !s->failed) {
        unify(s, scratch, j, rows, (size_t)na * nb, j->consumer->slots & ~covered);
    }
}

static void judge(struct search *s, struct base_arena *scratch, struct judged *j, const struct message *a,
                  const struct message *b) {
    look(s, scratch, &j->side[0], a, j->index);
    look(s, scratch, &j->side[1], b, j->index);
    uint32_t na = j->side[0].seen.n, nb = j->side[1].seen.n;
    uint32_t *rows = base_arena_alloc(scratch, (size_t)na * nb, sizeof *rows);
    uint32_t *columns = base_arena_alloc(scratch, (size_t)na * nb, sizeof *columns);
    s->failed = s->failed || !rows || !columns;
    if (s->failed) {
        return;
    }
    fill_rows(s, scratch, j, rows, a->slots | b->slots);
    for (uint32_t i = 0; i < na * nb; i++) {
        columns[(size_t)(i % nb) * na + i / nb] = rows[i];
    }
    classify(s, scratch, &j->side[0], rows, nb);
    classify(s, scratch, &j->side[1], columns, na);
    j->result = base_arena_alloc(scratch, (size_t)j->side[0].n_classes * j->side[1].n_classes, sizeof *j->result);
    s->failed = s->failed || !j->result;
    for (uint32_t i = 0; i < na * nb && !s->failed; i++) {
        j->result[(size_t)j->side[0].class[i / nb] * j -> side[1].n_classes + j->side[1].class[i % nb]] = rows[i];
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
    uint32_t id;
    unsigned n_hard;
    int64_t cost;
};

static int compare_sorted(const void *x, const void *y) {
    const struct sorted *a = x, *b = y;
    int order = memcmp(a->state, b->state, a->n_hard * sizeof *a->state);
    if (order == 0) {
        order = (a->cost > b->cost) - (a->cost < b->cost);
    }
    return order != 0 ? order : (a->id > b->id) - (a->id < b->id);
}

static int compare_costs(const void *x, const void *y) {
    const struct sorted *a = x, *b = y;
    int order = (a->cost > b->cost) - (a->cost < b->cost);
    return order != 0 ? order : (a->id > b->id) - (a->id < b->id);
}

/* Among states that agree in all that is still to be read, drops labels that another one beats whatever comes. */
static void prune(struct search *s, struct message *m) {
    unsigned n_front = m->n_front;
    struct sorted *list = base_arena_alloc(m->arena, m->states.n, sizeof *list);
    if (!list) {
        s->failed = true;
        return;
    }
    for (uint32_t i = 0; i < m->states.n; i++) {
        list[i] = (struct sorted){state_at(m, i), i, n_front, m->labels[i].n ? m->labels[i].at[0].cost : 0};
    }
    if (m->states.n > 0) {
        qsort(list, m->states.n, sizeof *list, compare_sorted);
    }
    for (uint32_t from = 0, to; from < m->states.n; from = to) {
        for (to = from + 1; to < m->states.n; to++) {
            if (memcmp(list[from].state, list[to].state, n_front * sizeof(uint32_t)) != 0) {
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
    struct base_arena *scratch; /* freed when the join is done */
    struct judged judged[PLAN_CONSUMERS_MAX];
    unsigned n_judged;
    uint32_t pay;           /* operations that are complete here */
    struct message side[2]; /* states put together: the class for each judged consumer, then what was gathered */
};

static void judge_all(struct search *s, struct join *join, const struct message *a, const struct message *b) {
    uint32_t slots = a->slots | b->slots;
    for (unsigned c = 0; c < s->model->n_consumers && !s->failed; c++) {
        if (word_of(a, c) < 0 && word_of(b, c) < 0) {
            continue;
        }
        struct judged *j = &join->judged[join->n_judged++];
        j->consumer = &s->model->consumers[c];
        j->index = c;
        j->whole = (j->consumer->slots & ~slots) == 0;
        judge(s, join->scratch, j, a, b);
    }
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        if (!(s->paid >> o & 1) && !(trade_operation_rows[o].slots & ~slots)) {
            join->pay |= 1u << o;
        }
    }
    s->paid |= join->pay;
}

/* One side with the states put together that go the same way with everything on the other side. */
static void condense(struct search *s, struct join *join, unsigned side, const struct message *m) {
    struct message *out = &join->side[side];
    uint32_t state[PLAN_CONSUMERS_MAX + GATHERED];
    out->slots = m->slots;
    message_init(out, join->scratch, join->n_judged);
    for (uint32_t i = 0; i < m->states.n && !s->failed; i++) {
        for (unsigned j = 0; j < join->n_judged; j++) {
            const struct view *view = &join->judged[j].side[side];
            state[j] = view->class[view->of[i]];
        }
        memcpy(&state[join->n_judged], state_at(m, i) + m->n_front, GATHERED * sizeof *state);
        struct labels *labels = m->labels[i].n ? labels_of(s, out, state) : NULL;
        for (size_t l = 0; labels && l < m->labels[i].n; l++) {
            add_label(s, out, labels, &m->labels[i].at[l]);
        }
    }
    prune(s, out);
}

static void lay_out(const struct join *join, struct message *out, struct base_arena *arena) {
    for (unsigned j = 0; j < join->n_judged; j++) {
        if (!join->judged[j].whole) {
            out->consumers[out->n_consumers++] = (uint8_t)join->judged[j].index;
        }
    }
    message_init(out, arena, out->n_consumers);
}

static void gather_cell(uint32_t *word, int32_t value) {
    if (value != 0) {
        *word = (uint32_t)value;
    }
}

/* Adds what a consumer answers. False when it forbids the pair. */
static bool take_answer(struct search *s, uint32_t *gathered, uint32_t answer) {
    if (answer == PLAN_OUTCOME_PLAIN) {
        return true;
    }
    const struct plan_outcome *outcome = plan_intern_at(&s->model->outcomes, answer);
    if (!outcome->allowed) {
        return false;
    }
    put_two_words(&gathered[DRAWBACKS], two_words(&gathered[DRAWBACKS]) | outcome->drawbacks);
    put_two_words(&gathered[HANGS], two_words(&gathered[HANGS]) | outcome->hangs);
    gathered[CASES] = plan_meet(s->model, gathered[CASES], outcome->cases);
    gather_cell(&gathered[LOWEST], outcome->lowest);
    gather_cell(&gathered[COUNTED], outcome->counted);
    gather_cell(&gathered[LINE], outcome->line);
    s->failed = s->failed || gathered[CASES] == PLAN_NO_ID;
    return !s->failed;
}

/* The state of a pair: what is seen now, and what is gathered. False when something forbids it. */
static bool pair_state(struct search *s, const struct join *join, uint32_t *state, unsigned n_front, const uint32_t *a,
                       const uint32_t *b) {
    const uint32_t *ga = a + join->n_judged, *gb = b + join->n_judged;
    uint32_t *gathered = state + n_front;
    unsigned at = 0;
    for (unsigned w = 0; w < GATHERED; w++) {
        gathered[w] = ga[w] | gb[w]; /* bit sets; and of the cells at most one side has a value */
    }
    gathered[TENTHS] = ga[TENTHS] + gb[TENTHS];
    gathered[CHANGED_SLOTS] = ga[CHANGED_SLOTS] + gb[CHANGED_SLOTS];
    for (unsigned j = 0; j < join->n_judged; j++) {
        const struct judged *judged = &join->judged[j];
        uint32_t result = judged->result[(size_t)a[j] * judged->side[1].n_classes + b[j]];
        if (result == (judged->whole ? PLAN_OUTCOME_NO : DEAD)) {
            return false;
        }
        if (!judged->whole) {
            state[at++] = result;
        }
    }
    gathered[CASES] = plan_meet(s->model, ga[CASES], gb[CASES]);
    for (unsigned j = 0; j < join->n_judged; j++) {
        const struct judged *judged = &join->judged[j];
        if (judged->whole &&
            !take_answer(s, gathered, judged->result[(size_t)a[j] * judged->side[1].n_classes + b[j]])) {
            return false;
        }
    }
    return !fit_no_case(plan_intern_at(&s->model->cases, gathered[CASES]));
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

static void add_pairs(struct search *s, struct message *m, struct labels *to, const struct labels *a,
                      const struct labels *b, int64_t labour) {
    for (size_t x = 0; x < a->n; x++) {
        for (size_t y = 0; y < b->n && !s->failed; y++) {
            struct plan_label label = a->at[x];
            label.cost += b->at[y].cost + labour;
            label.mass += b->at[y].mass;
            label.count = saturating_product(label.count, b->at[y].count);
            for (unsigned i = 0; i < TRADE_SLOTS; i++) {
                label.rank[i] |= b->at[y].rank[i]; /* each slot stands on one side only */
            }
            add_label(s, m, to, &label);
        }
    }
}

/* At the root, the least cost of a result without drawback that fits in every case, at each gearing and line error or
 * better ones. A dearer pair is beaten, whatever else it is, and need not be made. */
struct least {
    bool on;        /* at the root, when gears and line are all that is compared beside cost */
    unsigned gears; /* which judged consumer gives the gears */
    int64_t *cost;  /* of outcome * LEAST_LINES + line error in steps, at most LEAST_LINES - 1 */
    uint32_t n;     /* outcomes that there is room for */
    const struct plan_model *model;
};
#define LEAST_LINES 64

static void least_init(struct search *s, struct least *out, const struct join *join, const struct message *root) {
    const uint32_t compared = 1u << TRADE_COST | 1u << TRADE_LOWEST | 1u << TRADE_HIGHEST | 1u << TRADE_LINE_ERROR;
    uint32_t objectives = s->model->plan->wish.objectives;
    *out = (struct least){.model = s->model, .n = s->model->outcomes.n};
    for (unsigned j = 0; j < join->n_judged; j++) {
        if (join->judged[j].consumer->kind == PLAN_GEARS) {
            out->gears = j;
            out->on = root->n_front == 0 && join->judged[j].whole && (objectives & ~compared) == 0 &&
                      (objectives >> TRADE_COST & 1) != 0;
        }
    }
    if (!out->on) {
        return;
    }
    out->cost = base_arena_alloc(join->scratch, (size_t)out->n * LEAST_LINES, sizeof *out->cost);
    s->failed = s->failed || !out->cost;
    for (size_t i = 0; i < (size_t)out->n * LEAST_LINES && !s->failed; i++) {
        out->cost[i] = INT64_MAX;
    }
}

static unsigned line_of(uint32_t steps) { return steps < LEAST_LINES ? steps : LEAST_LINES - 1; }

static bool least_rejects(const struct least *least, const struct join *join, const uint32_t *a, const uint32_t *b,
                          int64_t cost) {
    if (!least->on) {
        return false;
    }
    const struct judged *gears = &join->judged[least->gears];
    uint32_t outcome = gears->result[(size_t)a[least->gears] * gears->side[1].n_classes + b[least->gears]];
    uint32_t line = a[join->n_judged + LINE] | b[join->n_judged + LINE];
    return outcome == PLAN_OUTCOME_NO || cost > least->cost[(size_t)outcome * LEAST_LINES + line_of(line)];
}

/* A result was found: what is no better and dearer need not be looked at any more. */
static void least_learns(const struct least *least, const uint32_t *gathered, int64_t cost) {
    if (!least->on || gathered[CASES] != 0 || two_words(&gathered[DRAWBACKS]) || two_words(&gathered[HANGS]) ||
        gathered[LINE] >= LEAST_LINES - 1) {
        return;
    }
    for (uint32_t i = PLAN_OUTCOME_PLAIN; i < least->n; i++) {
        const struct plan_outcome *other = plan_intern_at(&least->model->outcomes, i);
        if (other->lowest < (int32_t)gathered[LOWEST] || other->counted > (int32_t)gathered[COUNTED]) {
            continue;
        }
        for (unsigned line = gathered[LINE]; line < LEAST_LINES; line++) {
            int64_t *at = &least->cost[(size_t)i * LEAST_LINES + line];
            *at = cost < *at ? cost : *at;
        }
    }
}

static void make_pair(struct search *s, const struct join *join, struct message *out, const struct least *least,
                      uint32_t x, uint32_t y) {
    uint32_t state[PLAN_CONSUMERS_MAX + GATHERED], *gathered = state + out->n_front;
    if (!pair_state(s, join, state, out->n_front, state_at(&join->side[0], x), state_at(&join->side[1], y))) {
        return;
    }
    int64_t labour = pay(s, join, gathered);
    struct labels *labels = labels_of(s, out, state);
    if (labels) {
        add_pairs(s, out, labels, &join->side[0].labels[x], &join->side[1].labels[y], labour);
        least_learns(least, gathered, join->side[0].labels[x].at[0].cost + join->side[1].labels[y].at[0].cost + labour);
    }
}

/* States of a side in rising cost of their first label; those without a label left are not among them. */
static uint32_t *by_cost(struct search *s, struct base_arena *scratch, const struct message *m, uint32_t *n) {
    struct sorted *list = base_arena_alloc(scratch, m->states.n, sizeof *list);
    uint32_t *ids = base_arena_alloc(scratch, m->states.n, sizeof *ids);
    *n = 0;
    s->failed = s->failed || !list || !ids;
    for (uint32_t i = 0; i < m->states.n && !s->failed; i++) {
        if (m->labels[i].n > 0) {
            list[(*n)++] = (struct sorted){NULL, i, 0, m->labels[i].at[0].cost};
        }
    }
    if (*n > 0) {
        qsort(list, *n, sizeof *list, compare_costs);
    }
    for (uint32_t i = 0; i < *n; i++) {
        ids[i] = list[i].id;
    }
    return ids;
}

/* All pairs, the cheaper ones first. Cost only grows on the way to the root, so that what is over the budget here is over
 * it there. */
static void pair_all(struct search *s, const struct join *join, struct message *out) {
    uint32_t na, nb;
    int64_t budget = s->model->plan->wish.budget_minor;
    const struct message *a = &join->side[0], *b = &join->side[1];
    const uint32_t *ia = by_cost(s, join->scratch, a, &na), *ib = by_cost(s, join->scratch, b, &nb);
    struct least least;
    least_init(s, &least, join, out);
    for (uint32_t x = 0; x < na && !s->failed; x++) {
        for (uint32_t y = 0; y < nb && !s->failed; y++) {
            int64_t cost = a->labels[ia[x]].at[0].cost + b->labels[ib[y]].at[0].cost;
            if (budget >= 0 && cost > budget) {
                break;
            }
            if (!least_rejects(&least, join, state_at(a, ia[x]), state_at(b, ib[y]), cost)) {
                make_pair(s, join, out, &least, ia[x], ib[y]);
            }
        }
    }
}

/* Judges, puts together, pairs. */
static void work_join(struct search *s, struct join *join, struct message *out, const struct message *a,
                      const struct message *b, struct base_arena *arena) {
    judge_all(s, join, a, b);
    if (s->failed) {
        return;
    }
    condense(s, join, 0, a);
    condense(s, join, 1, b);
    lay_out(join, out, arena);
    pair_all(s, join, out);
    if (!s->failed) {
        prune(s, out);
    }
}

/* Joins a and b, and frees them. */
static void join_messages(struct search *s, struct message *out, struct message *a, struct message *b) {
    struct base_arena *arena = new_arena(s), *scratch = new_arena(s);
    struct join *join = scratch ? base_arena_alloc(scratch, 1, sizeof *join) : NULL;
    memset(out, 0, sizeof *out);
    out->slots = a->slots | b->slots;
    out->arena = arena;
    s->failed = s->failed || !arena || !join;
    s->empty = s->empty || a->states.n == 0 || b->states.n == 0;
    if (!s->failed && !s->empty) {
        join->scratch = scratch;
        work_join(s, join, out, a, b, arena);
    }
    if (scratch) {
        base_arena_clear(scratch);
    }
    message_clear(a);
    message_clear(b);
}

/* A leaf with all answered that looks at this slot only. */
static void answered_leaf(struct search *s, struct message *out, enum trade_slot slot) {
    struct message nothing;
    struct base_arena *arena = new_arena(s);
    if (!arena) {
        return;
    }
    unit(s, &nothing, arena);
    join_messages(s, out, &s->leaves[slot], &nothing);
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
        const uint32_t *g = state_at(root, i) + root->n_front;
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

/* Walks the tree; what is left on the stack is the root, or what there was when it failed. */
static size_t walk(struct search *s, struct message *stack) {
    size_t depth = 0;
    for (size_t i = 0; i < sizeof tree / sizeof tree[0] && !s->failed && !s->empty; i++) {
        if (tree[i] != JOIN) {
            answered_leaf(s, &stack[depth++], (enum trade_slot)tree[i]);
        } else {
            struct message joined;
            depth--;
            join_messages(s, &joined, &stack[depth - 1], &stack[depth]);
            stack[depth - 1] = joined;
        }
    }
    return depth;
}

enum base_status plan_search(struct plan_found **out, size_t *n, struct plan_model *model) {
    struct search s = {.model = model, .by_mass = (model->plan->wish.objectives >> TRADE_MASS & 1) != 0};
    struct message *stack = base_arena_alloc(model->arena, STACK_MAX + 1, sizeof *stack);
    enum base_status status = BASE_NO_MEMORY;
    if (!stack) {
        return status;
    }
    make_leaves(&s);
    size_t depth = s.failed ? 0 : walk(&s, stack);
    *n = 0;
    if (!s.failed && !model->failed) {
        status = s.empty ? BASE_OK : collect(out, n, &s, &stack[0]);
    }
    for (size_t i = 0; i < depth; i++) {
        message_clear(&stack[i]);
    }
    for (size_t i = 0; i < TRADE_SLOTS; i++) {
        message_clear(&s.leaves[i]);
    }
    return status;
}
