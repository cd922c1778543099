/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/unify.h"

#include "plan/outside.h"
#include "plan/tuning.h"

#include <stdlib.h>

/* Numbers that a consumer has seen, and to which of them each is put: the first that goes on alike, or PLAN_DEAD when
 * whatever comes is forbidden. */
struct put {
    struct plan_searching *s;
    struct plan_consumer *consumer;
    struct plan_ways ways;
    struct plan_intern rows; /* answers to every way; number 0 is all no */
    size_t worth;            /* answers that may still be asked for */
    uint32_t *row, *first;   /* one row; of each row the first number with these answers */
    size_t first_room;
};

static void put_init(struct put *out, struct plan_searching *s, struct base_arena *scratch,
                     struct plan_consumer *consumer, struct plan_ways ways, size_t worth) {
    *out = (struct put){.s = s,
                        .consumer = consumer,
                        .ways = ways,
                        .worth = worth,
                        .row = base_arena_alloc(scratch, ways.n, sizeof *out->row)};
    plan_intern_init(&out->rows, scratch, ways.n * sizeof *out->row);
    s->failed = s->failed || !out->row || plan_intern_id(&out->rows, out->row, NULL) != PLAN_OUTCOME_NO;
}

/* Number of the answers to a number seen, with every way at its lowest or at its highest. */
static uint32_t row_of(struct put *put, uint32_t seen, bool high) {
    struct plan_model *model = put->s->model;
    put->worth -= put->ways.n < put->worth ? put->ways.n : put->worth;
    for (uint32_t i = 0; i < put->ways.n && !model->failed; i++) {
        uint32_t way = high ? put->ways.at[i].high : put->ways.at[i].low;
        put->row[i] = plan_answer_both(model, put->consumer, seen, way);
    }
    uint32_t id = plan_intern_id(&put->rows, put->row, NULL);
    put->s->failed = put->s->failed || model->failed || id == PLAN_NO_ID;
    return id;
}

/* Where a number with these answers goes. */
static uint32_t put_by_row(struct put *put, uint32_t seen, uint32_t row) {
    if (row == 0) {
        return PLAN_DEAD;
    }
    size_t had = put->first_room;
    uint32_t *first =
        base_arena_grow(put->rows.arena, put->first, had, &put->first_room, (size_t)row + 1, sizeof *first);
    if (!first) {
        put->s->failed = true;
        return seen;
    }
    put->first = first;
    first[row] = first[row] == 0 ? seen : first[row]; /* 0 is nothing seen, which is never alone */
    return first[row];
}

/* A number in the order of those that differ in rising sums only. */
struct ranked {
    uint32_t kind, place; /* place in the list of known numbers */
    int64_t total;
    uint32_t seen;
};

static int compare_ranked(const void *x, const void *y) {
    const struct ranked *a = x, *b = y;
    int by = (a->kind > b->kind) - (a->kind < b->kind);
    by = by ? by : (a->total > b->total) - (a->total < b->total);
    return by ? by : (a->seen > b->seen) - (a->seen < b->seen);
}

static void leave_run(uint32_t *to, const struct ranked *run, size_t n) {
    for (size_t i = 0; i < n; i++) {
        to[run[i].place] = run[i].seen;
    }
}

/* n numbers of one kind, each no higher than the next: where the lowest fares at worst as the highest does at best, all
 * between fare so too; else the halves are tried. */
static void put_run(struct put *put, uint32_t *to, const struct ranked *run, size_t n) {
    if (put->worth < 2 * (size_t)put->ways.n) {
        leave_run(to, run, n);
        return;
    }
    uint32_t best = row_of(put, run[n - 1].seen, true);
    uint32_t worst = best == 0 || put->s->failed ? best : row_of(put, run[0].seen, false);
    if (put->s->failed) {
        return;
    }
    if (best == worst || n == 1) {
        uint32_t where = best == worst ? put_by_row(put, run[0].seen, best) : run[0].seen;
        for (size_t i = 0; i < n; i++) {
            to[run[i].place] = where;
        }
        return;
    }
    put_run(put, to, run, n / 2);
    put_run(put, to, run + n / 2, n - n / 2);
}

static void put_rising(struct put *put, struct base_arena *scratch, uint32_t *to, const uint32_t *known, uint32_t n) {
    struct ranked *ranked = base_arena_alloc(scratch, n, sizeof *ranked);
    put->s->failed = put->s->failed || !ranked;
    for (uint32_t i = 0; i < n && !put->s->failed; i++) {
        struct plan_order order = plan_order_of(put->s->model, put->consumer, known[i]);
        ranked[i] = (struct ranked){order.kind, i, order.total, known[i]};
        put->s->failed = put->s->model->failed;
    }
    if (put->s->failed) {
        return;
    }
    qsort(ranked, n, sizeof *ranked, compare_ranked);
    for (uint32_t from = 0, i = 1; i <= n && !put->s->failed; i++) {
        if (i == n || ranked[i].kind != ranked[i - 1].kind ||
            !plan_no_higher(put->s->model, put->consumer, ranked[i - 1].seen, ranked[i].seen)) {
            put_run(put, to, &ranked[from], i - from);
            from = i;
        }
    }
}

/* Where each of the known numbers goes; NULL when it is not worth it. */
static uint32_t *put_all(struct plan_searching *s, struct base_arena *scratch, unsigned consumer, uint32_t outside,
                         const uint32_t *known, uint32_t n, bool between, size_t worth) {
    struct put put;
    size_t most = worth < PLAN_WAYS_A_NUMBER * (size_t)n ? worth : PLAN_WAYS_A_NUMBER * (size_t)n;
    struct plan_ways ways = plan_ways_outside(s, consumer, outside, between, most);
    if (s->failed || ways.n == 0 || (size_t)ways.n * (between ? 1 : n) > worth) {
        return NULL;
    }
    uint32_t *to = base_arena_alloc(scratch, n, sizeof *to);
    put_init(&put, s, scratch, &s->model->consumers[consumer], ways, worth);
    s->failed = s->failed || !to;
    if (!s->failed && between) {
        put_rising(&put, scratch, to, known, n);
    }
    for (uint32_t k = 0; k < n && !s->failed && !between; k++) {
        to[k] = put_by_row(&put, known[k], row_of(&put, known[k], false));
    }
    return to;
}

/* Puts together those of n numbers that go on alike. */
static void put_together(struct plan_searching *s, struct base_arena *scratch, unsigned consumer, uint32_t outside,
                         uint32_t *numbers, size_t n, bool between, size_t worth) {
    uint32_t most = s->model->consumers[consumer].seen.n, n_known = 0;
    uint32_t *place = base_arena_alloc(scratch, most, sizeof *place); /* of each number: its place in known, from 1 */
    uint32_t *known = base_arena_alloc(scratch, n < most ? n : most, sizeof *known);
    s->failed = s->failed || !place || !known;
    for (size_t i = 0; i < n && !s->failed; i++) {
        if (numbers[i] < PLAN_UNASKED && place[numbers[i]] == 0) {
            known[n_known++] = numbers[i];
            place[numbers[i]] = n_known;
        }
    }
    const uint32_t *to =
        n_known < 2 || s->failed ? NULL : put_all(s, scratch, consumer, outside, known, n_known, between, worth);
    for (size_t i = 0; i < n && !s->failed && to; i++) {
        numbers[i] = numbers[i] < PLAN_UNASKED ? to[place[numbers[i]] - 1] : numbers[i];
    }
}

void plan_unify(struct plan_searching *s, struct base_arena *scratch, unsigned consumer, uint32_t outside,
                uint32_t *numbers, size_t n, size_t states) {
    if (plan_plainly(s)) {
        return;
    }
    size_t worth =
        states * PLAN_ANSWERS_A_STATE < PLAN_ANSWERS_MOST ? states * PLAN_ANSWERS_A_STATE : PLAN_ANSWERS_MOST;
    if (s->model->consumers[consumer].rising) {
        put_together(s, scratch, consumer, outside, numbers, n, true, worth);
        worth = worth < PLAN_ANSWERS_LEFT ? worth : PLAN_ANSWERS_LEFT;
    }
    put_together(s, scratch, consumer, outside, numbers, n, false, worth);
}
