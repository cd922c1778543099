/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/next.h"

#include <math.h>
#include <string.h>

static bool has_case(const struct fit_case_set *set, uint32_t joint) {
    return (set->bits[joint / 64] >> (joint % 64) & 1) != 0;
}

/* --- what a reading tells ------------------------------------------------------------------------------------------ */

/* Bit set of the picks that stand in a case. */
static uint32_t standing(const struct plan *plan, uint32_t joint) {
    uint32_t set = 0;
    for (size_t i = 0; i < plan->n_picks; i++) {
        set |= (uint32_t)has_case(&plan->ways[plan->picks[i]].cases, joint) << i;
    }
    return set;
}

/* Entropy, in bits times n, of n cases that fall into 32 groups of these sizes. */
static double entropy(const uint32_t *counts, uint32_t n) {
    double sum = 0;
    for (unsigned i = 0; i < 32; i++) {
        if (counts[i] > 0) {
            sum += counts[i] * log2((double)n / counts[i]);
        }
    }
    return sum;
}

/* Bits that the reading of dimension d tells of which picks stand. At most five picks, so 32 groups of cases. */
static double gain(const struct plan *plan, size_t d) {
    const struct fit_dim *dim = &plan->cases.dims[d];
    uint32_t all[32] = {0}, with[FIT_CANDIDATES_MAX][32] = {{0}}, n[FIT_CANDIDATES_MAX] = {0}, n_all = 0;
    for (uint32_t joint = 0; joint < plan->cases.n; joint++) {
        if (!has_case(&plan->cases.possible, joint)) {
            continue;
        }
        uint32_t group = standing(plan, joint) & 31;
        unsigned candidate = fit_candidate(dim, joint);
        all[group]++;
        with[candidate][group]++;
        n[candidate]++;
        n_all++;
    }
    double told = entropy(all, n_all);
    for (unsigned c = 0; c < dim->n; c++) {
        told -= entropy(with[c], n[c]);
    }
    return told / n_all;
}

/* --- what it costs ------------------------------------------------------------------------------------------------- */

/* Minutes of the reading and of what comes off for it, by the shop's own times. */
static double effort(const struct plan *plan, unsigned property) {
    static const struct {
        enum trade_operation operations[2];
        size_t n;
    } off[TRADE_NEEDS_OFF_COUNT] = {
        [TRADE_NEEDS_OFF_WHEEL] = {{TRADE_OPERATION_WHEEL_OUT_IN}, 1},
        [TRADE_NEEDS_OFF_CASSETTE] = {{TRADE_OPERATION_WHEEL_OUT_IN, TRADE_OPERATION_CASSETTE_OFF_ON}, 2},
        [TRADE_NEEDS_OFF_CRANK] = {{TRADE_OPERATION_CRANK_OFF_ON}, 1},
        [TRADE_NEEDS_OFF_BRACKET] = {{TRADE_OPERATION_CRANK_OFF_ON, TRADE_OPERATION_BOTTOM_BRACKET}, 2},
        [TRADE_NEEDS_OFF_CONTROLS] = {{TRADE_OPERATION_RIGHT_CONTROL}, 1}};
    if (property >= TRADE_PROPERTIES) {
        return 1;
    }
    const struct trade_property_row *row = &trade_property_rows[property];
    double minutes = fmax(row->minutes, 1);
    for (size_t i = 0; i < off[row->needs_off].n; i++) {
        minutes += plan->question.shop->minutes[off[row->needs_off].operations[i]];
    }
    return minutes;
}

/* --- which one ----------------------------------------------------------------------------------------------------- */

static uint32_t waiting_for_dim(const struct plan *plan, size_t d) {
    uint32_t set = 0;
    for (size_t i = 0; i < plan->n_picks; i++) {
        set |= (fit_deciding(&plan->cases, &plan->ways[plan->picks[i]].cases) >> d & 1) << i;
    }
    return set;
}

static uint32_t waiting_for_hang(const struct plan *plan, size_t h) {
    uint32_t set = 0;
    for (size_t i = 0; i < plan->n_picks; i++) {
        set |= (uint32_t)(plan->ways[plan->picks[i]].hangs >> h & 1) << i;
    }
    return set;
}

static void fill_readings(struct plan_next *out, const struct plan *plan) {
    const struct fit_dim *dim = &plan->cases.dims[out->dim];
    out->n = dim->n;
    memset(out->stand, 0, sizeof out->stand);
    out->occurs = 0;
    for (uint32_t joint = 0; joint < plan->cases.n; joint++) {
        if (!has_case(&plan->cases.possible, joint)) {
            continue;
        }
        out->occurs |= UINT32_C(1) << fit_candidate(dim, joint);
        out->stand[fit_candidate(dim, joint)] |= standing(plan, joint);
    }
}

void plan_next(struct plan_next *out, const struct plan *plan) {
    double best = -1; /* a value that alone tells nothing is asked for when it decides together with another */
    *out = (struct plan_next){.dim = -1};
    for (size_t d = 0; d < plan->cases.n_dims; d++) {
        const struct fit_dim *dim = &plan->cases.dims[d];
        uint32_t waiting = waiting_for_dim(plan, d);
        double worth = waiting ? gain(plan, d) / effort(plan, dim->property) : -1;
        if (worth > best) {
            best = worth;
            *out = (struct plan_next){true, dim->subject, dim->property, (int)d, .waiting = waiting};
        }
    }
    for (size_t h = 0; h < plan->n_hangs; h++) {
        uint32_t waiting = waiting_for_hang(plan, h);
        double worth = waiting ? 1 / effort(plan, plan->hangs[h].property) : -1;
        if (worth > best) {
            best = worth;
            *out = (struct plan_next){true, plan->hangs[h].subject, plan->hangs[h].property, -1, .waiting = waiting};
        }
    }
    if (out->dim >= 0) {
        fill_readings(out, plan);
    }
}

/* --- what the picks wait for --------------------------------------------------------------------------------------- */

size_t plan_asked(struct plan_hang *out, size_t max, const struct plan *plan) {
    size_t n = 0;
    for (size_t d = 0; d < plan->cases.n_dims && n < max; d++) {
        if (waiting_for_dim(plan, d) != 0 || plan->n_picks == 0) {
            out[n++] = (struct plan_hang){plan->cases.dims[d].subject, plan->cases.dims[d].property};
        }
    }
    for (size_t h = 0; h < plan->n_hangs && n < max; h++) {
        if (waiting_for_hang(plan, h) != 0) {
            out[n++] = plan->hangs[h];
        }
    }
    return n;
}
