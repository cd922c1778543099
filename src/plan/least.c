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
static void measure_rows(const struct plan_searching *s, struct plan_least *out, const struct plan_join *join) {
    int32_t low[2], high[2];
    if (!out->by_mass) {
        out->n = s->model->plan->wish.objectives >> TRADE_LINE_ERROR & 1 ? PLAN_LEAST_LINES : 1;
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
    measure_rows(s, out, join);
    if (s->failed || out->n == 0 || out->n_rows == 0 || out->n_rows > PLAN_LEAST_ENTRIES / out->n) {
        return;
    }
    out->on = true;
    out->arena = join->scratch;
    plan_caveats_init(s, &out->caveats, join->scratch, join->side, join->n_judged);
}

/* --- what is known ------------------------------------------------------------------------------------------------- */

static int64_t *row_at(const struct plan_least *least, const struct plan_least_known *known, uint32_t row) {
    return &known->rows[(size_t)row * least->n];
}

/* What was learned of the last gearing holds for all slower ones. */
static void pass_on(const struct plan_least *least, const struct plan_least_known *known) {
    const int64_t *from = row_at(least, known, least->row);
    for (uint32_t r = 0; r < least->row; r++) {
        int64_t *to = row_at(least, known, r);
        for (uint32_t i = 0; i < least->n; i++) {
            to[i] = from[i] < to[i] ? from[i] : to[i];
        }
    }
}

void plan_least_begin(struct plan_least *least, int32_t counted) {
    if (!least->on) {
        return;
    }
    for (unsigned k = 0; k < least->n_known; k++) {
        if (least->known[k].changed) {
            pass_on(least, &least->known[k]);
        }
        least->known[k].changed = false;
    }
    least->row = 0;
    while (least->counted[least->row] != counted) {
        least->row++;
    }
}

/* NULL without memory. */
static struct plan_least_caveat *look_at(struct plan_searching *s, struct plan_least *least, uint32_t caveat) {
    struct plan_least_caveat *seen = base_arena_grow(least->arena, least->seen, least->seen_room, &least->seen_room,
                                                     (size_t)caveat + 1, sizeof *seen);
    if (!seen) {
        s->failed = true;
        return NULL;
    }
    least->seen = seen;
    if (seen[caveat].weight == 0) {
        seen[caveat].weight = 1 + plan_caveat_weight(s, &least->caveats, caveat);
    }
    return &seen[caveat];
}

static void find_heaviest(struct plan_least *least) {
    uint32_t most = 0;
    for (unsigned k = 0; k < least->n_known; k++) {
        uint32_t weight = least->seen[least->known[k].caveat].weight;
        if (weight > most) {
            most = weight;
            least->heaviest = k;
        }
    }
}

/* Makes room for what is not known yet: a new place, or that of the heaviest caveats if these are lighter; else NULL. */
static struct plan_least_known *make_place(struct plan_searching *s, struct plan_least *least, uint32_t weight) {
    size_t n = (size_t)least->n_rows * least->n;
    if (least->n_known < PLAN_LEAST_KNOWN && n * (least->n_known + 1) <= PLAN_LEAST_ENTRIES) {
        struct plan_least_known *new = &least->known[least->n_known];
        new->rows = base_arena_alloc(least->arena, n, sizeof *new->rows);
        s->failed = s->failed || !new->rows;
        least->n_known += new->rows ? 1 : 0;
        return new->rows ? new : NULL;
    }
    struct plan_least_known *heaviest = &least->known[least->heaviest];
    struct plan_least_caveat *gone = &least->seen[heaviest->caveat];
    if (gone->weight <= weight) {
        return NULL;
    }
    gone->place = 0;
    return heaviest;
}

/* What is found with these caveats from here on; NULL where there are too many that are no heavier. */
static struct plan_least_known *know(struct plan_searching *s, struct plan_least *least, uint32_t caveat) {
    struct plan_least_caveat *seen = look_at(s, least, caveat);
    if (!seen || seen->place) {
        return seen ? &least->known[seen->place - 1] : NULL;
    }
    struct plan_least_known *known = make_place(s, least, seen->weight);
    if (known) {
        known->caveat = caveat;
        known->changed = false;
        for (size_t i = 0; i < (size_t)least->n_rows * least->n; i++) {
            known->rows[i] = INT64_MAX;
        }
        seen->place = (uint32_t)(known - least->known) + 1;
        least->version++;
        find_heaviest(least);
    }
    return known;
}

/* Which of the known have no caveat that this has not; bit set. */
static uint64_t no_worse_than(struct plan_searching *s, struct plan_least *least, uint32_t caveat) {
    struct plan_least_caveat *seen = look_at(s, least, caveat);
    if (seen && seen->version != least->version) {
        seen->version = least->version;
        seen->under = 0;
        for (unsigned k = 0; k < least->n_known; k++) {
            seen->under |= (uint64_t)plan_caveat_no_worse(s, &least->caveats, least->known[k].caveat, caveat) << k;
        }
    }
    return seen ? seen->under : 0;
}

/* --- what that tells ----------------------------------------------------------------------------------------------- */

static uint32_t line_of(uint32_t steps) { return steps < PLAN_LEAST_LINES ? steps : PLAN_LEAST_LINES - 1; }

static uint32_t mass_entry(const struct plan_least *least, int32_t mass) { return (uint32_t)(mass - least->offset); }

/* Is a cost in this place of a row beaten by something that has no caveat beyond these? */
static bool beaten(struct plan_searching *s, struct plan_least *least, uint32_t caveat, uint32_t entry, int64_t cost) {
    for (uint64_t under = no_worse_than(s, least, caveat); under; under &= under - 1) {
        const struct plan_least_known *known = &least->known[__builtin_ctzll(under)];
        if (cost > row_at(least, known, least->row)[entry]) {
            return true;
        }
    }
    return false;
}

static int32_t lightest_of(const struct plan_labels *labels) { return labels->at[labels->n - 1].mass; }

static uint32_t line_word(const struct plan_join *join, unsigned side, uint32_t state) {
    return plan_state_at(&join->side[side], state)[join->n_judged + PLAN_G_LINE];
}

bool plan_least_rejects(struct plan_searching *s, struct plan_least *least, const struct plan_join *join, uint32_t a,
                        int64_t cost) {
    if (!least->on) {
        return false;
    }
    uint32_t entry = least->by_mass ? mass_entry(least, lightest_of(&join->side[0].labels[a]) + least->lightest)
                                    : line_of(line_word(join, 0, a));
    return beaten(s, least, least->caveats.of[0][a], entry, cost);
}

bool plan_least_rejects_both(struct plan_searching *s, struct plan_least *least, const struct plan_join *join,
                             uint32_t a, uint32_t b, int64_t cost) {
    if (!least->on) {
        return false;
    }
    const struct plan_labels *x = &join->side[0].labels[a], *y = &join->side[1].labels[b];
    uint32_t entry = least->by_mass ? mass_entry(least, lightest_of(x) + lightest_of(y))
                                    : line_of(line_word(join, 0, a) | line_word(join, 1, b));
    uint32_t caveat = plan_caveat_of_both(s, &least->caveats, a, b);
    return !s->failed && beaten(s, least, caveat, entry, cost);
}

static uint32_t entry_of(const struct plan_least *least, int32_t line, const struct plan_label *label) {
    return least->by_mass ? mass_entry(least, label->mass) : line_of((uint32_t)line);
}

bool plan_least_beats(struct plan_searching *s, struct plan_least *least, uint32_t caveat, int32_t line,
                      const struct plan_label *label) {
    return least->on && beaten(s, least, caveat, entry_of(least, line, label), label->cost);
}

void plan_least_learns(struct plan_searching *s, struct plan_least *least, uint32_t caveat, int32_t line,
                       const struct plan_label *label) {
    if (!least->on || (!least->by_mass && line >= PLAN_LEAST_LINES - 1)) {
        return;
    }
    struct plan_least_known *known = know(s, least, caveat);
    int64_t *row = known ? row_at(least, known, least->row) : NULL;
    uint32_t i = row ? entry_of(least, line, label) : least->n;
    for (; i < least->n && label->cost < row[i]; i++) { /* rows never rise */
        row[i] = label->cost;
        known->changed = true;
    }
}
