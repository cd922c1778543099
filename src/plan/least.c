/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/least.h"

#include "plan/tuning.h"

#include <stdlib.h>

/* --- rows ---------------------------------------------------------------------------------------------------------- */

static int compare_counted(const void *x, const void *y) {
    const int32_t *a = x, *b = y;
    return (*a > *b) - (*a < *b);
}

/* The highest gears that occur, each once. */
static void find_counted(struct plan_searching *s, struct plan_least *out, const struct plan_join *join) {
    const struct plan_judged *gears = &join->judged[join->gears];
    size_t n = (size_t)gears->side[0].n_classes * gears->side[1].n_classes;
    out->counted = base_arena_alloc(join->scratch, n, sizeof *out->counted);
    s->failed = s->failed || !out->counted;
    for (size_t i = 0; i < n && !s->failed; i++) {
        if (gears->result[i] != PLAN_OUTCOME_NO) {
            const struct plan_outcome *outcome = plan_intern_at(&s->model->outcomes, gears->result[i]);
            out->counted[out->n_rows++] = outcome->counted;
        }
    }
    if (s->failed || out->n_rows == 0) {
        return;
    }
    qsort(out->counted, out->n_rows, sizeof *out->counted, compare_counted);
    uint32_t left = 1;
    for (uint32_t i = 1; i < out->n_rows; i++) {
        if (out->counted[i] != out->counted[left - 1]) {
            out->counted[left++] = out->counted[i];
        }
    }
    out->n_rows = left;
}

/* Labels stand in falling mass: of a side's states the least and the most. */
static void find_masses(const struct plan_message *m, int32_t *low, int32_t *high) {
    *low = INT32_MAX;
    *high = INT32_MIN;
    for (uint32_t i = 0; i < m->states.n; i++) {
        const struct plan_labels *labels = &m->labels[i];
        if (labels->n > 0) {
            *low = labels->at[labels->n - 1].mass < *low ? labels->at[labels->n - 1].mass : *low;
            *high = labels->at[0].mass > *high ? labels->at[0].mass : *high;
        }
    }
}

/* How long a row is; 0 where that can't be. */
static void measure_rows(struct plan_least *out, const struct plan_join *join) {
    int32_t low[2], high[2];
    out->n = PLAN_LEAST_LINES;
    if (!out->by_mass) {
        return;
    }
    find_masses(&join->side[0], &low[0], &high[0]);
    find_masses(&join->side[1], &low[1], &high[1]);
    int64_t n = (int64_t)high[0] + high[1] - low[0] - low[1] + 1;
    out->offset = low[0] + low[1];
    out->lightest = low[1];
    out->n = n > 0 && n <= PLAN_LEAST_ENTRIES ? (uint32_t)n : 0;
}

static bool can_help(const struct plan_searching *s, const struct plan_join *join, const struct plan_message *root) {
    const uint32_t gears = 1u << TRADE_COST | 1u << TRADE_LOWEST | 1u << TRADE_HIGHEST;
    uint32_t objectives = s->model->plan->wish.objectives, beside = objectives & ~gears;
    return !plan_plainly(s) && join->gears >= 0 && root->n_front == 0 && (objectives >> TRADE_COST & 1) &&
           (beside == 0 || beside == 1u << TRADE_LINE_ERROR || beside == 1u << TRADE_MASS);
}

void plan_least_init(struct plan_searching *s, struct plan_least *out, const struct plan_join *join,
                     const struct plan_message *root) {
    *out = (struct plan_least){.by_mass = s->by_mass};
    if (!can_help(s, join, root)) {
        return;
    }
    find_counted(s, out, join);
    measure_rows(out, join);
    if (s->failed || out->n == 0 || out->n_rows == 0 || out->n_rows > PLAN_LEAST_ENTRIES / out->n) {
        return;
    }
    out->on = true;
    out->rows = base_arena_alloc(join->scratch, (size_t)out->n_rows * out->n, sizeof *out->rows);
    s->failed = !out->rows;
    for (size_t i = 0; i < (size_t)out->n_rows * out->n && !s->failed; i++) {
        out->rows[i] = INT64_MAX;
    }
}

/* --- what they tell ------------------------------------------------------------------------------------------------ */

static int64_t *row_at(const struct plan_least *least, uint32_t row) { return &least->rows[(size_t)row * least->n]; }

/* What was learned of the last gearing holds for all slower ones. */
static void pass_on(struct plan_least *least) {
    const int64_t *from = row_at(least, least->row);
    for (uint32_t r = 0; r < least->row; r++) {
        int64_t *to = row_at(least, r);
        for (uint32_t i = 0; i < least->n; i++) {
            to[i] = from[i] < to[i] ? from[i] : to[i];
        }
    }
}

void plan_least_begin(struct plan_least *least, int32_t counted) {
    if (!least->on) {
        return;
    }
    if (least->changed) {
        pass_on(least);
    }
    least->changed = false;
    least->row = 0;
    while (least->counted[least->row] != counted) {
        least->row++;
    }
}

static uint32_t line_of(uint32_t steps) { return steps < PLAN_LEAST_LINES ? steps : PLAN_LEAST_LINES - 1; }

static uint32_t mass_entry(const struct plan_least *least, int32_t mass) { return (uint32_t)(mass - least->offset); }

bool plan_least_rejects(const struct plan_least *least, const struct plan_join *join, uint32_t a, int64_t cost) {
    if (!least->on) {
        return false;
    }
    const int64_t *row = row_at(least, least->row);
    if (least->by_mass) { /* with the lightest of any state of the second side */
        const struct plan_labels *mine = &join->side[0].labels[a];
        return cost > row[mass_entry(least, mine->at[mine->n - 1].mass + least->lightest)];
    }
    return cost > row[line_of(plan_state_at(&join->side[0], a)[join->n_judged + PLAN_G_LINE])];
}

bool plan_least_beats(const struct plan_least *least, const struct plan_label *label) {
    return least->on && least->by_mass && label->cost > row_at(least, least->row)[mass_entry(least, label->mass)];
}

void plan_least_learns(struct plan_least *least, const uint32_t *gathered, const struct plan_label *label) {
    if (!least->on || gathered[PLAN_G_CASES] != 0 || plan_two_words(&gathered[PLAN_G_DRAWBACKS]) ||
        plan_two_words(&gathered[PLAN_G_HANGS]) || (!least->by_mass && gathered[PLAN_G_LINE] >= PLAN_LEAST_LINES - 1)) {
        return;
    }
    int64_t *row = row_at(least, least->row);
    uint32_t from = least->by_mass ? mass_entry(least, label->mass) : gathered[PLAN_G_LINE];
    for (uint32_t i = from; i < least->n && label->cost < row[i]; i++) { /* rows never rise */
        row[i] = label->cost;
        least->changed = true;
    }
}
