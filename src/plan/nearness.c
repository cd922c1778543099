/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/nearness.h"

#include "plan/choice.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Does a rule or a measure read this property of a part of this kind? */
static bool reads_it(const struct fit_read *read, enum trade_kind kind, unsigned property) {
    return read->subject < TRADE_SLOTS && trade_slot_rows[read->subject].kind == kind && read->property == property;
}

static bool is_read(enum trade_kind kind, unsigned property) {
    bool any = false;
    for (size_t r = 0; r < fit_rules_n && !any; r++) {
        for (unsigned i = 0; i < fit_rules[r]->n_reads; i++) {
            any = any || reads_it(&fit_rules[r]->reads[i], kind, property);
        }
    }
    for (unsigned m = 0; m < FIT_MEASURES && !any; m++) {
        for (size_t t = 0; t < fit_measures[m].n_terms; t++) {
            for (unsigned i = 0; i < fit_measures[m].terms[t].n_reads; i++) {
                any = any || reads_it(&fit_measures[m].terms[t].reads[i], kind, property);
            }
        }
    }
    return any;
}

static double share(double a, double b) {
    double most = fmax(fabs(a), fabs(b));
    return most > 0 ? fabs(a - b) / most : 0;
}

static double counts_apart(const struct trade_counts *a, const struct trade_counts *b) {
    if (a->n == 0 || b->n == 0) {
        return a->n == b->n ? 0 : 1;
    }
    return share(a->at[0], b->at[0]) + share(a->at[a->n - 1], b->at[b->n - 1]) + share((double)a->n, (double)b->n);
}

static double values_apart(const struct trade_value *a, const struct trade_value *b, enum trade_type type) {
    if (trade_is_open(a) || trade_is_open(b)) {
        return trade_is_open(a) == trade_is_open(b) ? 0 : 1;
    }
    switch (type) {
    case TRADE_NUMBER:
    case TRADE_COUNT:
        return share(a->number, b->number);
    case TRADE_COUNTS:
        return counts_apart(a->counts, b->counts);
    default:
        return trade_same(a, b, type) ? 0 : 1;
    }
}

double plan_parts_apart(const struct trade_part *a, const struct trade_part *b) {
    const struct trade_kind_row *row = &trade_kind_rows[a->kind];
    double apart = 0;
    for (size_t i = 0; i < row->n; i++) {
        unsigned property = (unsigned)row->first + (unsigned)i;
        bool derived = trade_property_rows[property].type == TRADE_COUNTS; /* rules read what follows from a list */
        if (derived || is_read(a->kind, property)) {
            apart += values_apart(&a->values[i], &b->values[i], trade_property_rows[property].type);
        }
    }
    return apart;
}

struct near {
    const struct trade_part *part;
    double apart;
    int64_t price_apart;
};

static int compare_near(const void *x, const void *y) {
    const struct near *a = x, *b = y;
    if (a->apart < b->apart || a->apart > b->apart) {
        return a->apart < b->apart ? -1 : 1;
    }
    int by_price = (a->price_apart > b->price_apart) - (a->price_apart < b->price_apart);
    return by_price ? by_price : strcmp(a->part->id, b->part->id);
}

enum base_status plan_nearest_parts(const struct trade_part ***out, size_t *n, struct base_arena *arena,
                                    const struct plan *plan, enum trade_slot slot, const struct trade_part *part) {
    const struct trade_catalogue *catalogue = plan->question.catalogue;
    struct near *near = base_arena_alloc(arena, catalogue->n[part->kind], sizeof *near);
    *out = base_arena_alloc(arena, catalogue->n[part->kind], sizeof **out);
    *n = 0;
    if (!near || !*out) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < catalogue->n[part->kind]; i++) {
        const struct trade_part *other = &catalogue->parts[part->kind][i];
        if (other != part && !plan->shelf->lacks[part->kind][i] && plan_takes(slot, other)) {
            int64_t price_apart = llabs(other->price_minor - part->price_minor);
            near[(*n)++] = (struct near){other, plan_parts_apart(part, other), price_apart};
        }
    }
    qsort(near, *n, sizeof *near, compare_near);
    for (size_t i = 0; i < *n; i++) {
        (*out)[i] = near[i].part;
    }
    return BASE_OK;
}
