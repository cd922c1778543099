/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/least.h"

#include "plan/tuning.h"

void plan_least_init(struct plan_searching *s, struct plan_least *out, const struct plan_join *join,
                     const struct plan_message *root) {
    const uint32_t compared = 1u << TRADE_COST | 1u << TRADE_LOWEST | 1u << TRADE_HIGHEST | 1u << TRADE_LINE_ERROR;
    uint32_t objectives = s->model->plan->wish.objectives;
    *out = (struct plan_least){.model = s->model, .n = s->model->outcomes.n};
    if (join->gears >= 0) {
        out->gears = (unsigned)join->gears;
        out->on = root->n_front == 0 && !plan_plainly(s) && (objectives & ~compared) == 0 &&
                  (objectives >> TRADE_COST & 1) != 0;
    }
    if (!out->on) {
        return;
    }
    out->by_cost = true;
    for (uint32_t i = 0; i < join->side[1].states.n; i++) {
        const uint32_t *gathered = plan_state_at(&join->side[1], i) + join->n_judged;
        out->by_cost = out->by_cost && gathered[PLAN_G_LINE] == 0;
    }
    out->cost = base_arena_alloc(join->scratch, (size_t)out->n * PLAN_LEAST_LINES, sizeof *out->cost);
    s->failed = s->failed || !out->cost;
    for (size_t i = 0; i < (size_t)out->n * PLAN_LEAST_LINES && !s->failed; i++) {
        out->cost[i] = INT64_MAX;
    }
}

static unsigned line_of(uint32_t steps) { return steps < PLAN_LEAST_LINES ? steps : PLAN_LEAST_LINES - 1; }

bool plan_least_rejects(const struct plan_least *least, const struct plan_join *join, const uint32_t *a,
                        const uint32_t *b, int64_t cost) {
    if (!least->on) {
        return false;
    }
    const struct plan_judged *gears = &join->judged[least->gears];
    uint32_t outcome = gears->result[(size_t)a[least->gears] * gears->side[1].n_classes + b[least->gears]];
    uint32_t line = a[join->n_judged + PLAN_G_LINE] | b[join->n_judged + PLAN_G_LINE];
    return outcome == PLAN_OUTCOME_NO || cost > least->cost[(size_t)outcome * PLAN_LEAST_LINES + line_of(line)];
}

void plan_least_learns(const struct plan_least *least, const uint32_t *gathered, int64_t cost) {
    if (!least->on || gathered[PLAN_G_CASES] != 0 || plan_two_words(&gathered[PLAN_G_DRAWBACKS]) ||
        plan_two_words(&gathered[PLAN_G_HANGS]) || gathered[PLAN_G_LINE] >= PLAN_LEAST_LINES - 1) {
        return;
    }
    for (uint32_t i = PLAN_OUTCOME_PLAIN; i < least->n; i++) {
        const struct plan_outcome *other = plan_intern_at(&least->model->outcomes, i);
        if (other->lowest < (int32_t)gathered[PLAN_G_LOWEST] || other->counted > (int32_t)gathered[PLAN_G_COUNTED]) {
            continue;
        }
        for (unsigned line = gathered[PLAN_G_LINE]; line < PLAN_LEAST_LINES; line++) {
            int64_t *at = &least->cost[(size_t)i * PLAN_LEAST_LINES + line];
            *at = cost < *at ? cost : *at;
        }
    }
}
