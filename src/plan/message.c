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
                   const struct plan_message *m, unsigned consumer) {
    int word = plan_word_of(m, consumer);
    uint32_t most = word < 0 ? 1 : s->model->consumers[consumer].seen.n;
    uint32_t *place = base_arena_alloc(arena, most, sizeof *place); /* of each number: its place in the list, from 1 */
    out->n = 0;
    out->at = base_arena_alloc(arena, most < m->states.n ? most : m->states.n, sizeof *out->at);
    s->failed = s->failed || !place || !out->at;
    for (uint32_t i = 0; i < m->states.n && !s->failed; i++) {
        uint32_t number = word < 0 ? PLAN_SEEN_NOTHING : plan_state_at(m, i)[word];
        if (place[number] == 0) {
            out->at[out->n++] = number;
            place[number] = out->n;
        }
        if (index) {
            index[i] = place[number] - 1;
        }
    }
}

/* --- in rising cost ------------------------------------------------------------------------------------------------ */

/* A state by the cost of its first label; what is sorted is small, since there are many. */
struct priced {
    int64_t cost;
    uint32_t id;
};

static int compare_priced(const void *x, const void *y) {
    const struct priced *a = x, *b = y;
    int order = (a->cost > b->cost) - (a->cost < b->cost);
    return order != 0 ? order : (a->id > b->id) - (a->id < b->id);
}

static void sort_priced(struct priced *list, size_t n) {
    if (n > 1) {
        qsort(list, n, sizeof *list, compare_priced);
    }
}

static struct priced price(const struct plan_message *m, uint32_t id) {
    return (struct priced){m->labels[id].n ? m->labels[id].at[0].cost : 0, id};
}

uint32_t *plan_by_cost(struct plan_searching *s, struct base_arena *scratch, const struct plan_message *m,
                       uint32_t *n) {
    struct priced *list = base_arena_alloc(scratch, m->states.n, sizeof *list);
    uint32_t *ids = base_arena_alloc(scratch, m->states.n, sizeof *ids);
    *n = 0;
    s->failed = s->failed || !list || !ids;
    for (uint32_t i = 0; i < m->states.n && !s->failed; i++) {
        if (m->labels[i].n > 0) {
            list[(*n)++] = price(m, i);
        }
    }
    sort_priced(list, s->failed ? 0 : *n);
    for (uint32_t i = 0; i < *n; i++) {
        ids[i] = list[i].id;
    }
    return ids;
}
