/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/picks.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

/* Fewest drawbacks that a way has. */
static unsigned fewest_drawbacks(const struct plan *plan) {
    unsigned least = UINT_MAX;
    for (size_t i = 0; i < plan->n_ways; i++) {
        unsigned n = (unsigned)__builtin_popcountll(plan->ways[i].drawbacks);
        least = n < least ? n : least;
    }
    return least;
}

/* May this way serve the purpose? For money and for little change a rider may take a few drawbacks beyond what every way
 * has, but no heap of them; a range that takes more than one is not what anybody means by it. */
static bool clean_enough(const struct plan_way *way, enum plan_purpose purpose, unsigned fewest) {
    unsigned n = (unsigned)__builtin_popcountll(way->drawbacks);
    if (purpose == PLAN_LEAST_MONEY || purpose == PLAN_LEAST_CHANGE || purpose == PLAN_CERTAIN) {
        return n <= fewest + 3;
    }
    return purpose == PLAN_CLEAN ? n == fewest : n <= fewest + 1;
}

/* Does the way fit in some case in which what is assumed is so? Nobody is shown first what holds only where the bike is
 * another than it is taken for. */
static bool likely(const struct plan *plan, const struct plan_way *way) {
    for (size_t i = 0; i < FIT_CASE_WORDS; i++) {
        if (way->cases.bits[i] & plan->cases.likely.bits[i]) {
            return true;
        }
    }
    return false;
}

/* Does it keep as much of the highest gear as a rider expects who wished none? */
static bool fast_enough(const struct plan *plan, const struct plan_way *way) {
    bool wished = !isnan(plan->wish.highest_m_min);
    double least = trade_limits[TRADE_LIMIT_PICK_HIGHEST_SHARE].value * plan->now_values.highest;
    return wished || way->values.highest >= least;
}

/* What a purpose wants least of; ways that it does not ask (an uncertain one for PLAN_CERTAIN) give INFINITY. */
static double score(const struct plan *plan, const struct plan_way *way, enum plan_purpose purpose) {
    const struct plan_values *v = &way->values, *now = &plan->now_values;
    double cost = (double)v->cost_minor, mass = v->mass_g;
    switch (purpose) {
    case PLAN_LEAST_MONEY:
        return cost;
    case PLAN_LEAST_CHANGE:
        return __builtin_popcount(v->changed);
    case PLAN_EASIEST:
        return v->lowest;
    case PLAN_FASTEST:
        return -v->counted;
    case PLAN_CLOSEST:
        if (now->lowest <= 0 || v->lowest <= 0) {
            return INFINITY;
        }
        return fabs(log((double)v->lowest / now->lowest)) + fabs(log((double)v->highest / now->highest));
    case PLAN_CERTAIN:
        return way->certain ? cost : INFINITY;
    case PLAN_CLEAN:
        return cost;
    case PLAN_LIGHTEST:
        return mass;
    case PLAN_MOST_IN_BAND:
        return -v->score.in_band;
    case PLAN_LEAST_ON_FOOT:
        return v->score.walked_m;
    case PLAN_PURPOSES:
        break;
    }
    return INFINITY;
}

/* One way with an open mass may be lighter than all the others. */
static bool can_tell_the_lightest(const struct plan *plan) {
    bool can = (plan->wish.objectives >> TRADE_MASS & 1) != 0;
    for (size_t i = 0; i < plan->n_ways; i++) {
        can = can && plan->ways[i].values.mass_known != BASE_OPEN;
    }
    return can;
}

/* The first of the best: ways stand in rising cost, so that ties go to the cheaper. n_ways when none will do. strict: only
 * of those that are likely and fast enough. */
static size_t best_of(const struct plan *plan, enum plan_purpose purpose, unsigned fewest, bool strict) {
    size_t best = plan->n_ways;
    double least = INFINITY;
    for (size_t i = 0; i < plan->n_ways; i++) {
        const struct plan_way *way = &plan->ways[i];
        if (!clean_enough(way, purpose, fewest) || (strict && !(likely(plan, way) && fast_enough(plan, way)))) {
            continue;
        }
        double s = score(plan, way, purpose);
        if (s < least) {
            least = s;
            best = i;
        }
    }
    return best;
}

/* A pick by a ride is only told where the ride was an objective, and where some way leaves more to be wished than another. */
static bool can_tell_by_road(const struct plan *plan, enum plan_purpose purpose) {
    enum trade_objective objective = purpose == PLAN_MOST_IN_BAND ? TRADE_IN_BAND : TRADE_WALKED;
    bool differ = false;
    for (size_t i = 1; i < plan->n_ways; i++) {
        differ = differ || score(plan, &plan->ways[i], purpose) != score(plan, &plan->ways[0], purpose);
    }
    return (plan->wish.objectives >> objective & 1) && differ;
}

static bool can_tell(const struct plan *plan, enum plan_purpose purpose) {
    switch (purpose) {
    case PLAN_LIGHTEST:
        return can_tell_the_lightest(plan);
    case PLAN_MOST_IN_BAND:
    case PLAN_LEAST_ON_FOOT:
        return can_tell_by_road(plan, purpose);
    default:
        return true;
    }
}

static size_t best_for(const struct plan *plan, enum plan_purpose purpose) {
    unsigned fewest = fewest_drawbacks(plan);
    if (!can_tell(plan, purpose)) {
        return plan->n_ways;
    }
    size_t best = best_of(plan, purpose, fewest, true);
    return best < plan->n_ways ? best : best_of(plan, purpose, fewest, false);
}

static bool near(double a, double b, double share) { return fabs(a - b) <= share * fmax(fabs(a), fabs(b)); }

/* Would nobody want to choose between the two? */
static bool alike(const struct plan *plan, const struct plan_way *a, const struct plan_way *b) {
    double share = plan->wish.least_difference;
    return near((double)a->values.cost_minor, (double)b->values.cost_minor, share) &&
           near(a->values.lowest, b->values.lowest, share) && near(a->values.highest, b->values.highest, share) &&
           a->certain == b->certain && a->drawbacks == b->drawbacks;
}

/* The pick that this way would be another of; NULL when it would be a pick of its own. */
static struct plan_way *standing_pick(struct plan *plan, const struct plan_way *way) {
    for (size_t i = 0; i < plan->n_picks; i++) {
        struct plan_way *pick = &plan->ways[plan->picks[i]];
        if (pick == way || alike(plan, pick, way)) {
            return pick;
        }
    }
    return NULL;
}

static int compare_indexes(const void *a, const void *b) {
    size_t x = *(const size_t *)a, y = *(const size_t *)b;
    return (x > y) - (x < y);
}

void plan_name_picks(struct plan *plan) {
    /* in the order in which they are wanted when there is not room for all */
    static const enum plan_purpose wanted[] = {PLAN_LEAST_MONEY,  PLAN_CERTAIN, PLAN_MOST_IN_BAND, PLAN_LEAST_ON_FOOT,
                                               PLAN_EASIEST,      PLAN_CLOSEST, PLAN_CLEAN,        PLAN_FASTEST,
                                               PLAN_LEAST_CHANGE, PLAN_LIGHTEST};
    for (size_t p = 0; p < sizeof wanted / sizeof wanted[0]; p++) {
        size_t best = best_for(plan, wanted[p]);
        if (best == plan->n_ways) {
            continue;
        }
        struct plan_way *way = &plan->ways[best], *pick = standing_pick(plan, way);
        if (!pick && plan->n_picks < PLAN_PICKS_MAX) {
            plan->picks[plan->n_picks++] = best;
            pick = way;
        }
        if (pick == way) {
            pick->purposes |= 1u << wanted[p];
        }
    }
    qsort(plan->picks, plan->n_picks, sizeof plan->picks[0], compare_indexes);
}

size_t plan_passed_over(const struct plan *plan) {
    size_t end = plan->n_picks > 0 ? plan->picks[0] : 0;
    for (size_t i = 0; i < end; i++) {
        if (likely(plan, &plan->ways[i]) && !fast_enough(plan, &plan->ways[i])) {
            return i;
        }
    }
    return plan->n_ways;
}
