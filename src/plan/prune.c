/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Dropping what something else stands in for.
 */
#include "plan/message.h"
#include "plan/tuning.h"

#include <stdlib.h>
#include <string.h>

static bool no_more(uint64_t a, uint64_t b) { return (a & ~b) == 0; }

/* Is what a has gathered at least as good as what b has, whatever comes? Whether the mass is open does not count: where b
 * completes to an open mass and a to a known one, a does so in the search for these, and beats b there. */
static bool gathered_as_well(struct plan_searching *s, const uint32_t *a, const uint32_t *b) {
    return no_more(a[PLAN_G_OPERATIONS], b[PLAN_G_OPERATIONS]) &&
           no_more(plan_two_words(&a[PLAN_G_DRAWBACKS]), plan_two_words(&b[PLAN_G_DRAWBACKS])) &&
           no_more(plan_two_words(&a[PLAN_G_HANGS]), plan_two_words(&b[PLAN_G_HANGS])) &&
           a[PLAN_G_TENTHS] <= b[PLAN_G_TENTHS] && a[PLAN_G_CHANGED_SLOTS] <= b[PLAN_G_CHANGED_SLOTS] &&
           a[PLAN_G_LOWEST] <= b[PLAN_G_LOWEST] && a[PLAN_G_COUNTED] >= b[PLAN_G_COUNTED] &&
           a[PLAN_G_LINE] <= b[PLAN_G_LINE] && a[PLAN_G_IN_BAND] >= b[PLAN_G_IN_BAND] &&
           a[PLAN_G_WALKED] <= b[PLAN_G_WALKED] &&
           plan_meet(s->model, a[PLAN_G_CASES], b[PLAN_G_CASES]) == b[PLAN_G_CASES];
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

/* Is what the consumers have seen of a answered at least as well as what they have seen of b, whatever comes? Both of one kind. */
static bool seen_as_well(const struct plan_searching *s, const struct plan_message *m, const uint32_t *a,
                         const uint32_t *b) {
    for (unsigned i = 0; i < m->n_consumers; i++) {
        if (a[i] != b[i] && !plan_no_higher(s->model, &s->model->consumers[m->consumers[i]], b[i], a[i])) {
            return false;
        }
    }
    return true;
}

/* The front of a state with the sums taken out that answers rise with. */
static void kind_of(struct plan_searching *s, const struct plan_message *m, uint32_t *kind, const uint32_t *state) {
    memcpy(kind, state, m->n_front * sizeof *kind);
    for (unsigned i = 0; i < m->n_consumers; i++) {
        kind[i] = plan_order_of(s->model, &s->model->consumers[m->consumers[i]], state[i]).kind;
    }
}

/* States of one kind stand together. */
struct groups {
    uint32_t *list; /* group after group, each in rising cost */
    uint32_t *end;  /* of each group in the list */
    uint32_t n;
};

static bool group(struct plan_searching *s, struct groups *out, struct base_arena *scratch, struct plan_message *m) {
    struct plan_intern kinds;
    uint32_t kind[PLAN_CONSUMERS_MAX], n;
    const uint32_t *sorted = plan_by_cost(s, scratch, m, &n);
    uint32_t *of = base_arena_alloc(scratch, n, sizeof *of);
    plan_intern_init(&kinds, scratch, m->n_front * sizeof *kind);
    s->failed = s->failed || !of;
    for (uint32_t i = 0; i < n && !s->failed; i++) {
        kind_of(s, m, kind, plan_state_at(m, sorted[i]));
        of[i] = plan_intern_id(&kinds, kind, NULL);
        s->failed = s->model->failed || of[i] == PLAN_NO_ID;
    }
    out->n = kinds.n;
    out->list = base_arena_alloc(scratch, n, sizeof *out->list);
    out->end = base_arena_alloc(scratch, (size_t)kinds.n + 1, sizeof *out->end);
    s->failed = s->failed || !out->list || !out->end;
    for (uint32_t i = 0; i < n && !s->failed; i++) {
        out->end[of[i] + 1]++; /* for now how many: from where the next group begins */
    }
    for (uint32_t g = 0; g < out->n && !s->failed; g++) {
        out->end[g + 1] += out->end[g];
    }
    for (uint32_t i = 0; i < n && !s->failed; i++) {
        out->list[out->end[of[i]]++] = sorted[i];
    }
    return !s->failed;
}

/* Drops the labels of one state that those of its rivals beat: cheaper ones of its kind, the last that beat something
 * first. */
static void hold_against(struct plan_searching *s, struct plan_message *m, uint32_t state, uint32_t *rivals,
                         uint32_t n) {
    struct plan_labels *mine = &m->labels[state];
    const uint32_t *seen = plan_state_at(m, state), *gathered = seen + m->n_front;
    for (uint32_t i = 0; i < n && i < PLAN_RIVALS_MOST && mine->n > 0; i++) {
        const uint32_t *other = plan_state_at(m, rivals[i]);
        if (m->labels[rivals[i]].at[0].cost < mine->at[mine->n - 1].cost && seen_as_well(s, m, other, seen) &&
            gathered_as_well(s, other + m->n_front, gathered)) {
            drop_dearer(mine, &m->labels[rivals[i]]);
            uint32_t up = rivals[i / 2];
            rivals[i / 2] = rivals[i];
            rivals[i] = up;
        }
    }
}

void plan_prune(struct plan_searching *s, struct plan_message *m) {
    struct groups groups;
    struct base_arena *scratch = plan_plainly(s) ? NULL : plan_new_arena(s);
    if (scratch && group(s, &groups, scratch, m)) {
        for (uint32_t g = 0, from = 0; g < groups.n; from = groups.end[g++]) {
            uint32_t *list = groups.list + from, left = 0; /* in front: the rivals of those that follow */
            for (uint32_t i = 0; i < groups.end[g] - from; i++) {
                uint32_t state = list[i];
                hold_against(s, m, state, list, left);
                if (m->labels[state].n > 0) {
                    list[left++] = state;
                }
            }
        }
    }
    if (scratch) {
        base_arena_clear(scratch);
    }
}
