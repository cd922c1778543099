/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/unify.h"

/* Answers that are worked out to put together what one consumer has seen at one join: so many for each state that there is
 * to put together, and no more than that. Chosen by measuring; they change the time, never the result. */
#ifndef PLAN_ANSWERS_A_STATE
#define ANSWERS_A_STATE 16
#define ANSWERS_MOST 32768
#else
#define ANSWERS_A_STATE PLAN_ANSWERS_A_STATE
#define ANSWERS_MOST (1000 * PLAN_ANSWERS_A_STATE)
#endif

static void look(struct plan_searching *s, struct base_arena *scratch, struct plan_view *view,
                 const struct plan_message *m, unsigned index) {
    view->of = base_arena_alloc(scratch, m->states.n, sizeof *view->of);
    if (!view->of) {
        s->failed = true;
        return;
    }
    plan_distinct(s, scratch, &view->seen, view->of, m, plan_word_of(m, index));
}

/* What a consumer can see of several sets of slots together: distinct numbers; n 0 when there would be more than `most`. */
static struct plan_glimpses see_more(struct plan_searching *s, struct base_arena *scratch, const struct plan_judged *j,
                                     struct plan_glimpses sofar, struct plan_glimpses more, size_t most) {
    struct plan_intern numbers;
    size_t n = (size_t)sofar.n * more.n;
    plan_intern_init(&numbers, scratch, sizeof(uint32_t));
    for (size_t i = 0; n <= most && i < n && !s->failed; i++) {
        uint32_t both = plan_see_both(s->model, j->consumer, sofar.at[i / more.n], more.at[i % more.n]);
        s->failed = plan_intern_id(&numbers, &both, NULL) == PLAN_NO_ID;
    }
    return (struct plan_glimpses){(uint32_t *)(void *)numbers.records, numbers.n};
}

/* The distinct numbers of what a consumer can see of all the slots outside together: of the messages that wait, and of the
 * leaves that are in none. n 0 when there would be more than `most` on the way. */
static struct plan_glimpses all_outside(struct plan_searching *s, struct base_arena *scratch,
                                        const struct plan_judged *j, uint32_t outside, size_t most) {
    struct plan_glimpses sofar = {.at = base_arena_alloc(scratch, 1, sizeof(uint32_t)), .n = 1}; /* nothing seen */
    s->failed = s->failed || !sofar.at;
    for (size_t w = 0; w < s->n_waiting && !s->failed && sofar.n > 0; w++) {
        const struct plan_message *m = &s->waiting[w];
        struct plan_glimpses of_message;
        if (outside & m->slots) {
            plan_distinct(s, scratch, &of_message, NULL, m, plan_word_of(m, j->index));
            sofar = see_more(s, scratch, j, sofar, of_message, most);
        }
        outside &= ~m->slots;
    }
    for (unsigned slot = 0; slot < TRADE_SLOTS && !s->failed && sofar.n > 0; slot++) {
        if (outside >> slot & 1) {
            sofar = see_more(s, scratch, j, sofar, s->glimpses[(size_t)j->index * TRADE_SLOTS + slot], most);
        }
    }
    return sofar;
}

/* Of each number known, the first with the same answers to every way outside, or PLAN_DEAD when every answer is no. */
static uint32_t *same_answers(struct plan_searching *s, struct base_arena *scratch, const struct plan_judged *j,
                              const struct plan_intern *known, const struct plan_glimpses *ways) {
    struct plan_intern rows;
    uint32_t *first = base_arena_alloc(scratch, known->n, sizeof *first);
    uint32_t *to = base_arena_alloc(scratch, known->n, sizeof *to);
    uint32_t *row = base_arena_alloc(scratch, ways->n, sizeof *row);
    s->failed = s->failed || !first || !to || !row;
    plan_intern_init(&rows, scratch, ways->n * sizeof *row);
    for (uint32_t k = 0; k < known->n && !s->failed; k++) {
        uint32_t seen = *(const uint32_t *)plan_intern_at(known, k);
        bool is_new, alive = false;
        for (uint32_t i = 0; i < ways->n && !s->model->failed; i++) {
            row[i] = plan_answer(s->model, j->consumer, plan_see_both(s->model, j->consumer, seen, ways->at[i]));
            alive = alive || row[i] != PLAN_OUTCOME_NO;
        }
        uint32_t id = plan_intern_id(&rows, row, &is_new);
        s->failed = s->failed || s->model->failed || id == PLAN_NO_ID;
        if (!s->failed) {
            first[id] = is_new ? seen : first[id];
            to[k] = alive ? first[id] : PLAN_DEAD;
        }
    }
    return to;
}

/* Puts together what a consumer has seen where it goes on alike whatever the slots outside hold. Left as it is where that
 * takes more answers than it can spare states: what is put together is never wrong, only larger when left. */
static void unify(struct plan_searching *s, struct base_arena *scratch, const struct plan_judged *j, uint32_t *numbers,
                  size_t n, uint32_t outside, size_t states) {
    struct plan_intern known;
    plan_intern_init(&known, scratch, sizeof(uint32_t));
    for (size_t i = 0; i < n && !s->failed; i++) {
        s->failed = plan_intern_id(&known, &numbers[i], NULL) == PLAN_NO_ID;
    }
    size_t worth = states * ANSWERS_A_STATE < ANSWERS_MOST ? states * ANSWERS_A_STATE : ANSWERS_MOST;
    if (s->failed || known.n < 2 || known.n > worth) {
        return;
    }
    struct plan_glimpses ways = all_outside(s, scratch, j, outside, worth);
    if (s->failed || ways.n == 0 || (size_t)ways.n * known.n > worth) {
        return;
    }
    const uint32_t *to = same_answers(s, scratch, j, &known, &ways);
    for (size_t i = 0; i < n && !s->failed; i++) {
        numbers[i] = to[plan_intern_id(&known, &numbers[i], NULL)];
    }
}

/* Numbers of a side whose rows are equal get one class. rows: seen.n of them, width numbers each. */
static void classify(struct plan_searching *s, struct base_arena *scratch, struct plan_view *view, const uint32_t *rows,
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

/* Where one side has seen nothing and the other comes from a join, there is nothing new to put together. */
static bool nothing_new(const struct plan_judged *j, const struct plan_message *a, const struct plan_message *b) {
    return (a->unified && plan_word_of(b, j->index) < 0) || (b->unified && plan_word_of(a, j->index) < 0);
}

/* The results of every pair of numbers, row by row. */
static void fill_rows(struct plan_searching *s, struct base_arena *scratch, struct plan_judged *j, uint32_t *rows,
                      const struct plan_message *a, const struct plan_message *b) {
    uint32_t na = j->side[0].seen.n, nb = j->side[1].seen.n;
    for (uint32_t x = 0; x < na && !s->model->failed; x++) {
        for (uint32_t y = 0; y < nb && !s->model->failed; y++) {
            uint32_t both = plan_see_both(s->model, j->consumer, j->side[0].seen.at[x], j->side[1].seen.at[y]);
            rows[(size_t)x * nb + y] = j->whole ? plan_answer(s->model, j->consumer, both) : both;
        }
    }
    s->failed = s->failed || s->model->failed;
    if (!j->whole && !s->failed && !nothing_new(j, a, b)) {
        unify(s, scratch, j, rows, (size_t)na * nb, j->consumer->slots & ~(a->slots | b->slots),
              (size_t)a->states.n + b->states.n);
    }
}

/* The results by class, and the classes of both sides. */
static void fill_result(struct plan_searching *s, struct base_arena *scratch, struct plan_judged *j,
                        const uint32_t *rows) {
    size_t na = j->side[0].seen.n, nb = j->side[1].seen.n;
    uint32_t *columns = base_arena_alloc(scratch, na * nb, sizeof *columns);
    if (!columns) {
        s->failed = true;
        return;
    }
    for (size_t i = 0; i < na * nb; i++) {
        columns[i % nb * na + i / nb] = rows[i];
    }
    classify(s, scratch, &j->side[0], rows, (uint32_t)nb);
    classify(s, scratch, &j->side[1], columns, (uint32_t)na);
    size_t n_classes = j->side[1].n_classes;
    j->result = base_arena_alloc(scratch, j->side[0].n_classes * n_classes, sizeof *j->result);
    s->failed = s->failed || !j->result;
    for (size_t i = 0; i < na * nb && !s->failed; i++) {
        j->result[j->side[0].class[i / nb] * n_classes + j->side[1].class[i % nb]] = rows[i];
    }
}

void plan_judge_pair(struct plan_searching *s, struct base_arena *scratch, struct plan_judged *j,
                     const struct plan_message *a, const struct plan_message *b) {
    look(s, scratch, &j->side[0], a, j->index);
    look(s, scratch, &j->side[1], b, j->index);
    uint32_t *rows = base_arena_alloc(scratch, (size_t)j->side[0].seen.n * j->side[1].seen.n, sizeof *rows);
    s->failed = s->failed || !rows;
    if (!s->failed) {
        fill_rows(s, scratch, j, rows, a, b);
    }
    if (!s->failed) {
        fill_result(s, scratch, j, rows);
    }
}
