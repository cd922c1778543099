/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A bound that moves inwards is a cut of the front: what is within it and was beaten was beaten by something that is within
 * it, too, since that is as good in what the bound is on.
 */
#include "plan/plan.h"

#include "plan/picks.h"
#include "plan/values.h"

#include "base/number.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The bounds as the search compares them. */
struct bounds {
    int32_t lowest_most, highest_least;
    int64_t budget; /* INT64_MAX: none */
};

static int32_t tenths(double metres, int32_t none) {
    return isnan(metres) ? none : (int32_t)base_round(metres * 10000);
}

static struct bounds bounds_of(const struct trade_wish *wish) {
    return (struct bounds){tenths(wish->lowest_m_max, INT32_MAX), tenths(wish->highest_m_min, 0),
                           wish->budget_minor < 0 ? INT64_MAX : wish->budget_minor};
}

/* Is it no wider, and narrower only in what is compared? A highest gear counts up to the cap. */
static bool is_cut(const struct plan *plan, const struct bounds *from, const struct bounds *to, int32_t cap) {
    uint32_t compared = plan->wish.objectives;
    bool lowest =
        to->lowest_most == from->lowest_most || (to->lowest_most < from->lowest_most && (compared >> TRADE_LOWEST & 1));
    bool highest =
        to->highest_least == from->highest_least ||
        (to->highest_least > from->highest_least && to->highest_least <= cap && (compared >> TRADE_HIGHEST & 1));
    bool budget = to->budget == from->budget || (to->budget < from->budget && (compared >> TRADE_COST & 1));
    return lowest && highest && budget;
}

static bool same_number(double a, double b) { return a == b || (isnan(a) && isnan(b)); }

/* Do two wishes differ in bounds at most? */
static bool same_but_bounds(const struct trade_wish *a, const struct trade_wish *b) {
    return a->rings == b->rings && a->sprockets == b->sprockets && a->keep == b->keep &&
           a->objectives == b->objectives && same_number(a->highest_m_cap, b->highest_m_cap) &&
           same_number(a->least_difference, b->least_difference);
}

static bool is_within(const struct plan_values *values, const struct bounds *bounds) {
    return values->lowest <= bounds->lowest_most && values->highest >= bounds->highest_least &&
           values->cost_minor <= bounds->budget;
}

/* A plan that has the ways of another that are within the bounds. NULL without memory. */
static struct plan *cut_of(const struct plan *plan, const struct trade_wish *wish, const struct bounds *bounds) {
    struct plan *cut = calloc(1, sizeof *cut);
    if (!cut) {
        return NULL;
    }
    *cut = *plan;
    base_arena_init(&cut->arena, 0);
    cut->question.wish = wish;
    cut->wish = *wish;
    cut->own_shelf = NULL; /* the other plan's */
    cut->n_ways = 0;
    cut->n_picks = 0;
    cut->ways = base_arena_alloc(&cut->arena, plan->n_ways, sizeof *cut->ways);
    for (size_t i = 0; i < plan->n_ways && cut->ways; i++) {
        if (is_within(&plan->ways[i].values, bounds)) {
            cut->ways[cut->n_ways] = plan->ways[i];
            cut->ways[cut->n_ways++].purposes = 0;
        }
    }
    if (!cut->ways) {
        plan_free(cut);
        return NULL;
    }
    return cut;
}

enum base_status plan_tighten(struct plan **out, bool *can, const struct plan *plan, const struct trade_wish *wish) {
    const struct bounds from = bounds_of(&plan->wish), to = bounds_of(wish);
    *can = plan->complete && wish->given && same_but_bounds(&plan->wish, wish) &&
           is_cut(plan, &from, &to, plan_cap(wish, plan->question.bike));
    if (!*can) {
        return BASE_OK;
    }
    struct plan *cut = cut_of(plan, wish, &to);
    if (!cut) {
        return BASE_NO_MEMORY;
    }
    plan_name_picks(cut);
    *out = cut;
    return BASE_OK;
}
