/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/pairing.h"

#include <stdlib.h>
#include <string.h>

static uint32_t bucket_of(const struct plan_pairing *p, const struct plan_message *m, uint32_t state) {
    return p->key ? plan_state_at(m, state)[p->key_word] : 0;
}

/* The states of one side, in rising cost, put into buckets. */
static void fill_buckets(struct plan_searching *s, struct plan_pairing *p, unsigned side,
                         const struct plan_join *join) {
    const struct plan_message *m = &join->side[side];
    struct plan_bucketed *out = &p->side[side];
    uint32_t n, *sorted = plan_by_cost(s, join->scratch, m, &n);
    out->n = p->key ? p->key->side[side].n_classes : 1;
    out->from = base_arena_alloc(join->scratch, (size_t)out->n + 2, sizeof *out->from);
    out->states = base_arena_alloc(join->scratch, n, sizeof *out->states);
    s->failed = s->failed || !out->from || !out->states;
    if (s->failed) {
        return;
    }
    for (uint32_t i = 0; i < n; i++) {
        out->from[bucket_of(p, m, sorted[i]) + 2]++; /* for now how many, two places on */
    }
    for (uint32_t i = 2; i < out->n + 2; i++) {
        out->from[i] += out->from[i - 1];
    }
    for (uint32_t i = 0; i < n; i++) {
        out->states[out->from[bucket_of(p, m, sorted[i]) + 1]++] = sorted[i];
    }
}

/* The gearing with the lower lowest gear first, then that with the higher highest one. */
static int compare_pairs(const void *x, const void *y) {
    const struct plan_bucket_pair *a = x, *b = y;
    int by = (a->lowest > b->lowest) - (a->lowest < b->lowest);
    by = by ? by : (a->counted < b->counted) - (a->counted > b->counted);
    by = by ? by : (a->a > b->a) - (a->a < b->a);
    return by ? by : (a->b > b->b) - (a->b < b->b);
}

static void add_pair(struct plan_searching *s, struct plan_pairing *p, bool gears, uint32_t a, uint32_t b) {
    struct plan_bucket_pair pair = {.a = a, .b = b};
    uint32_t result = p->key ? plan_result(p->key, a, b) : PLAN_OUTCOME_PLAIN;
    if (p->key && result == p->key->no) {
        return;
    }
    if (gears) {
        const struct plan_outcome *outcome = plan_intern_at(&s->model->outcomes, result);
        pair.lowest = outcome->lowest;
        pair.counted = outcome->counted;
    }
    p->pairs[p->n++] = pair;
}

void plan_pairing_init(struct plan_searching *s, struct plan_pairing *out, const struct plan_join *join) {
    memset(out, 0, sizeof *out);
    if (!plan_plainly(s) && (join->gears >= 0 || join->n_forbids > 0)) {
        out->key_word = join->gears >= 0 ? (unsigned)join->gears : join->forbids[0];
        out->key = &join->judged[out->key_word];
    }
    fill_buckets(s, out, 0, join);
    fill_buckets(s, out, 1, join);
    out->pairs = base_arena_alloc(join->scratch, (size_t)out->side[0].n * out->side[1].n, sizeof *out->pairs);
    s->failed = s->failed || !out->pairs;
    for (uint32_t a = 0; a < out->side[0].n && !s->failed; a++) {
        for (uint32_t b = 0; b < out->side[1].n; b++) {
            add_pair(s, out, join->gears >= 0, a, b);
        }
    }
    if (join->gears >= 0 && !s->failed) {
        qsort(out->pairs, out->n, sizeof *out->pairs, compare_pairs);
    }
}
