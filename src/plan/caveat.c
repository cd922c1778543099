/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/caveat.h"

#include <string.h>

static uint32_t number_of(struct plan_searching *s, struct plan_caveats *caveats, const struct plan_caveat *caveat) {
    uint32_t id = plan_intern_id(&caveats->all, caveat, NULL);
    s->failed = s->failed || id == PLAN_NO_ID;
    return id;
}

uint32_t plan_caveat_of(struct plan_searching *s, struct plan_caveats *caveats, const uint32_t *gathered) {
    const struct plan_caveat caveat = {.cases = gathered[PLAN_G_CASES],
                                       .drawbacks = plan_two_words(&gathered[PLAN_G_DRAWBACKS]),
                                       .hangs = plan_two_words(&gathered[PLAN_G_HANGS])};
    return number_of(s, caveats, &caveat);
}

static const struct plan_caveat *at(const struct plan_caveats *caveats, uint32_t number) {
    return plan_intern_at(&caveats->all, number);
}

static uint32_t together(struct plan_searching *s, struct plan_caveats *caveats, uint32_t a, uint32_t b) {
    const struct plan_caveat x = *at(caveats, a), y = *at(caveats, b);
    const struct plan_caveat both = {.drawbacks = x.drawbacks | y.drawbacks,
                                     .hangs = x.hangs | y.hangs,
                                     .cases = plan_meet(s->model, x.cases, y.cases)};
    s->failed = s->failed || both.cases == PLAN_NO_ID;
    return number_of(s, caveats, &both);
}

uint32_t plan_caveat_of_both(struct plan_searching *s, struct plan_caveats *caveats, uint32_t a, uint32_t b) {
    uint32_t x = caveats->of[0][a], y = caveats->of[1][b];
    uint32_t *both = &caveats->both[(size_t)x * caveats->n_own + y];
    if (*both == PLAN_NO_ID) {
        *both = together(s, caveats, x, y);
    }
    return *both;
}

bool plan_caveat_no_worse(struct plan_searching *s, const struct plan_caveats *caveats, uint32_t a, uint32_t b) {
    const struct plan_caveat *x = at(caveats, a), *y = at(caveats, b);
    return (x->drawbacks & ~y->drawbacks) == 0 && (x->hangs & ~y->hangs) == 0 &&
           plan_meet(s->model, x->cases, y->cases) == y->cases;
}

uint32_t plan_caveat_weight(const struct plan_searching *s, const struct plan_caveats *caveats, uint32_t caveat) {
    const struct plan_caveat *c = at(caveats, caveat);
    const struct fit_case_set *fits = plan_intern_at(&s->model->cases, c->cases);
    int said = __builtin_popcountll(c->drawbacks) + __builtin_popcountll(c->hangs), n_cases = 0;
    for (size_t i = 0; i < FIT_CASE_WORDS; i++) {
        n_cases += __builtin_popcountll(fits->bits[i]);
    }
    return (uint32_t)said * (FIT_CASES_MAX + 1) + (uint32_t)(FIT_CASES_MAX - n_cases);
}

/* The numbers of one side's states. */
static void number_states(struct plan_searching *s, struct plan_caveats *out, struct base_arena *arena, unsigned side,
                          const struct plan_message *m, unsigned gathered) {
    out->of[side] = base_arena_alloc(arena, m->states.n, sizeof *out->of[side]);
    s->failed = s->failed || !out->of[side];
    for (uint32_t state = 0; state < m->states.n && !s->failed; state++) {
        out->of[side][state] = plan_caveat_of(s, out, plan_state_at(m, state) + gathered);
    }
}

void plan_caveats_init(struct plan_searching *s, struct plan_caveats *out, struct base_arena *arena,
                       const struct plan_message side[2], unsigned gathered) {
    plan_intern_init(&out->all, arena, sizeof(struct plan_caveat));
    number_states(s, out, arena, 0, &side[0], gathered);
    uint32_t n_first = out->all.n;
    number_states(s, out, arena, 1, &side[1], gathered);
    out->n_own = out->all.n;
    size_t n = (size_t)n_first * out->n_own;
    out->both = base_arena_alloc(arena, n, sizeof *out->both);
    s->failed = s->failed || !out->both;
    if (!s->failed) {
        memset(out->both, 0xFF, n * sizeof *out->both);
    }
}
