/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/judged.h"

#include "plan/tuning.h"

static void look(struct plan_searching *s, struct base_arena *scratch, struct plan_view *view,
                 const struct plan_message *m, unsigned index) {
    view->of = base_arena_alloc(scratch, m->states.n, sizeof *view->of);
    if (!view->of) {
        s->failed = true;
        return;
    }
    plan_distinct(s, scratch, &view->seen, view->of, m, index);
}

static void each_by_itself(struct plan_searching *s, struct base_arena *scratch, struct plan_view *view) {
    view->class = base_arena_alloc(scratch, view->seen.n, sizeof *view->class);
    view->n_classes = view->seen.n;
    s->failed = s->failed || !view->class;
    for (uint32_t i = 0; i < view->seen.n && !s->failed; i++) {
        view->class[i] = i;
    }
}

/* Numbers of a side whose rows are equal get one class. rows: seen.n of them, width numbers each. */
static void classify(struct plan_searching *s, struct base_arena *scratch, struct plan_view *view, const uint32_t *rows,
                     uint32_t width) {
    struct plan_intern classes;
    if (plan_plainly(s)) {
        each_by_itself(s, scratch, view);
        return;
    }
    plan_intern_init(&classes, scratch, width * sizeof *rows);
    view->class = base_arena_alloc(scratch, view->seen.n, sizeof *view->class);
    for (uint32_t i = 0; i < view->seen.n && view->class; i++) {
        view->class[i] = plan_intern_id(&classes, rows + (size_t)i * width, NULL);
        s->failed = s->failed || view->class[i] == PLAN_NO_ID;
    }
    s->failed = s->failed || !view->class;
    view->n_classes = classes.n;
}

/* The answers by class, and the classes of both sides. */
static void fill_answers(struct plan_searching *s, struct base_arena *scratch, struct plan_judged *j,
                         const uint32_t *rows) {
    size_t na = j->side[0].seen.n, nb = j->side[1].seen.n, allowed = 0;
    uint32_t *columns = base_arena_alloc(scratch, na * nb, sizeof *columns);
    if (!columns) {
        s->failed = true;
        return;
    }
    for (size_t i = 0; i < na * nb; i++) {
        columns[i % nb * na + i / nb] = rows[i];
        allowed += rows[i] != PLAN_OUTCOME_NO;
    }
    classify(s, scratch, &j->side[0], rows, (uint32_t)nb);
    classify(s, scratch, &j->side[1], columns, (uint32_t)na);
    size_t n_classes = j->side[1].n_classes;
    j->no = PLAN_OUTCOME_NO;
    j->allows = (double)allowed / (double)(na * nb);
    j->result = base_arena_alloc(scratch, j->side[0].n_classes * n_classes, sizeof *j->result);
    s->failed = s->failed || !j->result;
    for (size_t i = 0; i < na * nb && !s->failed; i++) {
        j->result[j->side[0].class[i / nb] * n_classes + j->side[1].class[i % nb]] = rows[i];
    }
}

/* A consumer that is answered here. */
static void judge_whole(struct plan_searching *s, struct base_arena *scratch, struct plan_judged *j) {
    uint32_t na = j->side[0].seen.n, nb = j->side[1].seen.n;
    uint32_t *rows = base_arena_alloc(scratch, (size_t)na * nb, sizeof *rows);
    s->failed = s->failed || !rows;
    for (uint32_t x = 0; x < na && !s->failed; x++) {
        for (uint32_t y = 0; y < nb && !s->failed; y++) {
            rows[(size_t)x * nb + y] =
                plan_answer_both(s->model, j->consumer, j->side[0].seen.at[x], j->side[1].seen.at[y]);
            s->failed = s->model->failed;
        }
    }
    if (!s->failed) {
        fill_answers(s, scratch, j, rows);
    }
}

static size_t table_size(const struct plan_judged *j) { return (size_t)j->side[0].n_classes * j->side[1].n_classes; }

void plan_judged_see(struct plan_searching *s, const struct plan_judged *j, uint32_t a, uint32_t b) {
    uint32_t *result = &j->result[(size_t)a * j->side[1].n_classes + b];
    if (*result == PLAN_UNASKED) {
        *result = plan_see_both(s->model, j->consumer, j->side[0].seen.at[a], j->side[1].seen.at[b]);
        s->failed = s->failed || s->model->failed;
    }
}

/* Where one side has seen nothing and the other comes from a join, there is nothing new to put together. */
static bool nothing_new(const struct plan_judged *j, const struct plan_message *a, const struct plan_message *b) {
    return (a->unified && plan_word_of(b, j->index) < 0) || (b->unified && plan_word_of(a, j->index) < 0);
}

void plan_judged_unify(struct plan_searching *s, struct base_arena *scratch, const struct plan_judged *j,
                       const struct plan_message *a, const struct plan_message *b) {
    if (!nothing_new(j, a, b)) {
        plan_unify(s, scratch, j->index, j->consumer->slots & ~(a->slots | b->slots), j->result, table_size(j),
                   (size_t)a->states.n + b->states.n);
    }
}

/* A small table of an open consumer is filled at once, so that what can't go on is known before the pairs are made. */
static void see_at_once(struct plan_searching *s, struct base_arena *scratch, struct plan_judged *j,
                        const struct plan_message *a, const struct plan_message *b) {
    size_t dead = 0, n = table_size(j);
    for (uint32_t x = 0; x < j->side[0].n_classes && !s->failed; x++) {
        for (uint32_t y = 0; y < j->side[1].n_classes && !s->failed; y++) {
            plan_judged_see(s, j, x, y);
        }
    }
    if (!s->failed) {
        plan_judged_unify(s, scratch, j, a, b);
    }
    for (size_t i = 0; i < n; i++) {
        dead += j->result[i] == PLAN_DEAD;
    }
    j->allows = 1.0 - (double)dead / (double)n;
}

/* A consumer that waits for more slots: what it sees of a pair is worked out when a pair needs it. */
static void judge_open(struct plan_searching *s, struct base_arena *scratch, struct plan_judged *j,
                       const struct plan_message *a, const struct plan_message *b) {
    each_by_itself(s, scratch, &j->side[0]);
    each_by_itself(s, scratch, &j->side[1]);
    size_t n = table_size(j);
    j->no = PLAN_DEAD;
    j->allows = 1.0;
    j->result = base_arena_alloc(scratch, n, sizeof *j->result);
    s->failed = s->failed || !j->result;
    for (size_t i = 0; i < n && !s->failed; i++) {
        j->result[i] = PLAN_UNASKED;
    }
    j->at_once = n <= PLAN_SMALL_TABLE && !plan_plainly(s);
    if (j->at_once && !s->failed) {
        see_at_once(s, scratch, j, a, b);
    }
}

bool plan_judged_tells(const struct plan_judged *j) {
    for (size_t i = 0; i < table_size(j); i++) {
        if (j->result[i] > PLAN_OUTCOME_PLAIN) {
            return true;
        }
    }
    return false;
}

void plan_judge_at_join(struct plan_searching *s, struct base_arena *scratch, struct plan_judged *j,
                        const struct plan_message *a, const struct plan_message *b) {
    look(s, scratch, &j->side[0], a, j->index);
    look(s, scratch, &j->side[1], b, j->index);
    if (s->failed) {
        return;
    }
    if (j->whole) {
        judge_whole(s, scratch, j);
    } else {
        judge_open(s, scratch, j, a, b);
    }
}
