/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/message.h"

#include <stdlib.h>
#include <string.h>

void plan_message_init(struct plan_message *m, struct base_arena *arena, unsigned front_words) {
    m->arena = arena;
    m->n_front = front_words;
    plan_intern_init(&m->states, arena, (front_words + PLAN_GATHERED) * sizeof(uint32_t));
}

void plan_message_clear(struct plan_message *m) {
    if (m->arena) {
        base_arena_clear(m->arena);
        m->arena = NULL;
    }
}

struct base_arena *plan_new_arena(struct plan_searching *s) {
    struct base_arena *arena = base_arena_alloc(s->model->arena, 1, sizeof *arena);
    if (!arena) {
        s->failed = true;
        return NULL;
    }
    base_arena_share(arena, s->model->arena->budget);
    return arena;
}

static uint64_t saturating_sum(uint64_t a, uint64_t b) { return a > UINT64_MAX - b ? UINT64_MAX : a + b; }

/* Most states have one label, so that room starts with one. */
static bool make_room(struct plan_searching *s, struct plan_message *m, struct plan_labels *to) {
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
void plan_ranks_of(uint32_t rank[TRADE_SLOTS], const struct plan_parts *parts) {
    if (!parts) {
        return;
    }
    if (!parts->a) {
        rank[parts->slot] = parts->rank;
        return;
    }
    plan_ranks_of(rank, parts->a);
    plan_ranks_of(rank, parts->b);
}

/* Does the first part list come before the second in slot order? Both of the same slots. */
static bool comes_first(const struct plan_parts *a, const struct plan_parts *b) {
    uint32_t x[TRADE_SLOTS] = {0}, y[TRADE_SLOTS] = {0};
    plan_ranks_of(x, a);
    plan_ranks_of(y, b);
    for (unsigned i = 0; i < TRADE_SLOTS; i++) {
        if (x[i] != y[i]) {
            return x[i] < y[i];
        }
    }
    return false;
}

/* The parts, where they stand for good. */
static const struct plan_parts *kept(struct plan_searching *s, const struct plan_parts *parts, bool passing) {
    if (!passing || !parts) {
        return parts;
    }
    struct plan_parts *copy = base_arena_alloc(s->model->arena, 1, sizeof *copy);
    if (!copy) {
        s->failed = true;
        return NULL;
    }
    *copy = *parts;
    return copy;
}

/* Adds to a label one with the same sums. */
static void add_tie(struct plan_searching *s, struct plan_label *same, const struct plan_label *label, bool passing) {
    same->count = saturating_sum(same->count, label->count);
    if (comes_first(label->parts, same->parts)) {
        same->parts = kept(s, label->parts, passing);
    }
}

/* Index of the first label that costs at least this. */
static size_t first_not_cheaper(const struct plan_labels *labels, int64_t cost) {
    size_t low = 0, high = labels->n;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (labels->at[middle].cost < cost) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

void plan_add_label(struct plan_searching *s, struct plan_message *m, struct plan_labels *to,
                    const struct plan_label *label, bool passing) {
    size_t at = first_not_cheaper(to, label->cost);
    if (at > 0 && to->at[at - 1].mass <= label->mass) {
        return;
    }
    if (at < to->n && to->at[at].cost == label->cost && to->at[at].mass <= label->mass) {
        if (to->at[at].mass == label->mass) {
            add_tie(s, &to->at[at], label, passing);
        }
        return;
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
    to->at[at].parts = kept(s, label->parts, passing);
}

/* The labels of a state, made when it is new. */
struct plan_labels *plan_labels_of(struct plan_searching *s, struct plan_message *m, const uint32_t *state) {
    uint32_t id = plan_intern_id(&m->states, state, NULL);
    if (id == PLAN_NO_ID) {
        s->failed = true;
        return NULL;
    }
    if (id >= m->room) {
        struct plan_labels *grown =
            base_arena_grow(m->arena, m->labels, m->room, &m->room, (size_t)id + 1, sizeof *grown);
        if (!grown) {
            s->failed = true;
            return NULL;
        }
        m->labels = grown;
    }
    return &m->labels[id];
}

int plan_word_of(const struct plan_message *m, unsigned consumer) {
    for (unsigned i = 0; i < m->n_consumers; i++) {
        if (m->consumers[i] == consumer) {
            return (int)i;
        }
    }
    return -1;
}

void plan_distinct(struct plan_searching *s, struct base_arena *arena, struct plan_glimpses *out, uint32_t *index,
                   const struct plan_message *m, int word) {
    struct plan_intern numbers;
    plan_intern_init(&numbers, arena, sizeof(uint32_t));
    for (uint32_t i = 0; i < m->states.n; i++) {
        uint32_t number = word < 0 ? PLAN_SEEN_NOTHING : plan_state_at(m, i)[word];
        uint32_t id = plan_intern_id(&numbers, &number, NULL);
        s->failed = s->failed || id == PLAN_NO_ID;
        if (index) {
            index[i] = id;
        }
    }
    out->at = (uint32_t *)(void *)numbers.records;
    out->n = numbers.n;
}

/* --- what stands in for what --------------------------------------------------------------------------------------- */

static bool no_more(uint64_t a, uint64_t b) { return (a & ~b) == 0; }

/* Is what a has gathered at least as good as what b has, whatever comes? Whether the mass is open does not count: where b
 * completes to an open mass and a to a known one, a does so in the search for these, and beats b there. */
static bool gathered_as_well(struct plan_searching *s, const uint32_t *a, const uint32_t *b) {
    return no_more(a[PLAN_G_OPERATIONS], b[PLAN_G_OPERATIONS]) &&
           no_more(plan_two_words(&a[PLAN_G_DRAWBACKS]), plan_two_words(&b[PLAN_G_DRAWBACKS])) &&
           no_more(plan_two_words(&a[PLAN_G_HANGS]), plan_two_words(&b[PLAN_G_HANGS])) &&
           a[PLAN_G_TENTHS] <= b[PLAN_G_TENTHS] && a[PLAN_G_CHANGED_SLOTS] <= b[PLAN_G_CHANGED_SLOTS] &&
           a[PLAN_G_LOWEST] <= b[PLAN_G_LOWEST] && a[PLAN_G_COUNTED] >= b[PLAN_G_COUNTED] &&
           a[PLAN_G_LINE] <= b[PLAN_G_LINE] && plan_meet(s->model, a[PLAN_G_CASES], b[PLAN_G_CASES]) == b[PLAN_G_CASES];
}

/* Drops the labels of b that cost more than one of a that is not heavier. Such a one can't even tie in the end. */
static void drop_dearer(struct plan_labels *b, const struct plan_labels *a) {
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

void plan_prune(struct plan_searching *s, struct plan_message *m) {
    unsigned n_front = m->n_front;
    struct sorted *list = base_arena_alloc(m->arena, m->states.n, sizeof *list);
    if (!list) {
        s->failed = true;
        return;
    }
    for (uint32_t i = 0; i < m->states.n; i++) {
        list[i] = (struct sorted){plan_state_at(m, i), i, n_front, m->labels[i].n ? m->labels[i].at[0].cost : 0};
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
            struct plan_labels *mine = &m->labels[list[b].id];
            for (uint32_t a = from; a < b && mine->n > 0; a++) {
                struct plan_labels *others = &m->labels[list[a].id];
                if (others->n > 0 && gathered_as_well(s, list[a].state + n_front, list[b].state + n_front)) {
                    drop_dearer(mine, others);
                }
            }
        }
    }
}

uint32_t *plan_by_cost(struct plan_searching *s, struct base_arena *scratch, const struct plan_message *m,
                       uint32_t *n) {
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
