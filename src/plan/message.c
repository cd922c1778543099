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

/* States that agree in all that is still to be read stand together: group after group, each in rising cost. */
struct groups {
    struct priced *list;
    uint32_t *end; /* of each group in the list */
    uint32_t n;
};

static bool group(struct plan_searching *s, struct groups *out, struct plan_message *m) {
    struct plan_intern fronts;
    uint32_t *of = base_arena_alloc(m->arena, m->states.n, sizeof *of);
    plan_intern_init(&fronts, m->arena, m->n_front * sizeof(uint32_t));
    for (uint32_t i = 0; i < m->states.n && of; i++) {
        of[i] = plan_intern_id(&fronts, plan_state_at(m, i), NULL);
        s->failed = s->failed || of[i] == PLAN_NO_ID;
    }
    out->n = fronts.n;
    out->list = base_arena_alloc(m->arena, m->states.n, sizeof *out->list);
    out->end = base_arena_alloc(m->arena, (size_t)fronts.n + 1, sizeof *out->end);
    s->failed = s->failed || !of || !out->list || !out->end;
    if (s->failed) {
        return false;
    }
    for (uint32_t i = 0; i < m->states.n; i++) {
        out->end[of[i] + 1]++; /* for now how many: from where the next group begins */
    }
    for (uint32_t g = 0; g < out->n; g++) {
        out->end[g + 1] += out->end[g];
    }
    for (uint32_t i = 0; i < m->states.n; i++) {
        out->list[out->end[of[i]]++] = price(m, i);
    }
    return true;
}

void plan_prune(struct plan_searching *s, struct plan_message *m) {
    struct groups groups;
    if (!group(s, &groups, m)) {
        return;
    }
    for (uint32_t g = 0, from = 0; g < groups.n; from = groups.end[g++]) {
        const struct priced *list = groups.list + from;
        uint32_t n = groups.end[g] - from;
        sort_priced(groups.list + from, n);
        for (uint32_t b = 1; b < n; b++) {
            struct plan_labels *mine = &m->labels[list[b].id];
            const uint32_t *gathered = plan_state_at(m, list[b].id) + m->n_front;
            for (uint32_t a = 0; a < b && mine->n > 0; a++) {
                struct plan_labels *others = &m->labels[list[a].id];
                if (others->n > 0 && gathered_as_well(s, plan_state_at(m, list[a].id) + m->n_front, gathered)) {
                    drop_dearer(mine, others);
                }
            }
        }
    }
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
