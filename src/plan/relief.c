/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Other wishes on the same bike: what opens when a wish goes, and what keeping the rings takes.
 */
#include "plan/relief.h"

#include "plan/choice.h"

#include "base/number.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static unsigned count_bits(uint64_t bits) { return (unsigned)__builtin_popcountll(bits); }
static int order(int64_t a, int64_t b) { return (a > b) - (a < b); }

/* --- plans of the same bike ---------------------------------------------------------------------------------------- */

enum base_status plan_again(struct plan **out, const struct plan *plan, const struct trade_wish *wish,
                            const struct plan_beyond *beyond) {
    struct plan *other = calloc(1, sizeof *other);
    if (!other) {
        return BASE_NO_MEMORY;
    }
    base_arena_init(&other->arena, 0);
    other->question = plan->question;
    other->wish = *wish;
    other->gears_known = plan->gears_known;
    other->now = plan->now;
    other->now_values = plan->now_values;
    other->cases = plan->cases;
    other->shelf = plan->shelf;
    if (beyond) {
        other->beyond = *beyond;
    }
    enum base_status status = plan_work_out(other);
    memset(&other->beyond, 0, sizeof other->beyond); /* its lists are the caller's */
    if (status == BASE_OK) {
        *out = other;
    } else {
        plan_free(other);
    }
    return status;
}

/* --- the rings of now ---------------------------------------------------------------------------------------------- */

/* What may stand in a ring's place when the sizes of now are kept: what has the teeth of what is there, or nothing. */
static const bool *only_size_of_now(struct base_arena *arena, const struct plan *plan, enum trade_slot slot) {
    const struct trade_bike *bike = plan->question.bike;
    double teeth = trade_get_number(&bike->fitted[slot].part, TRADE_RING_TEETH);
    uint32_t n = plan_ranks(plan, slot);
    bool *only = base_arena_alloc(arena, n, sizeof *only);
    for (uint32_t rank = 0; rank < n && only; rank++) {
        const struct trade_part *part = plan_choice(plan, slot, rank).part;
        bool same = part && (isnan(teeth) || trade_get_number(part, TRADE_RING_TEETH) == teeth);
        only[rank] = trade_bike_has(bike, slot) ? same || rank == 0 : rank == 1;
    }
    return only;
}

/* A plan under this wish with rings of the sizes of now. */
static enum base_status plan_same_sizes(struct plan **out, const struct plan *plan, const struct trade_wish *wish) {
    struct plan_beyond beyond = {.may_stay = 0};
    struct base_arena arena;
    enum base_status status = BASE_OK;
    base_arena_init(&arena, 0);
    for (unsigned slot = TRADE_SLOT_OUTER_RING; slot <= TRADE_SLOT_INNER_RING; slot++) {
        beyond.only[slot] = only_size_of_now(&arena, plan, (enum trade_slot)slot);
        status = beyond.only[slot] ? status : BASE_NO_MEMORY;
    }
    if (status == BASE_OK) {
        status = plan_again(out, plan, wish, &beyond);
    }
    base_arena_clear(&arena);
    return status;
}

/* As many rings as now: of their sizes, or where that gives no way, of any. *out is the caller's. */
static enum base_status plan_with_rings(struct plan **out, const struct plan *plan, const struct trade_wish *asked) {
    struct trade_wish wish = *asked;
    wish.rings = trade_bike_rings(plan->question.bike);
    enum base_status status = plan_same_sizes(out, plan, &wish);
    if (status == BASE_OK && (*out)->n_ways == 0) {
        plan_free(*out);
        *out = NULL;
        status = plan_again(out, plan, &wish, NULL);
    }
    return status;
}

/* --- other wishes -------------------------------------------------------------------------------------------------- */

void plan_give_up(struct trade_wish *wish, uint32_t which) {
    if (which >> PLAN_WISH_SPROCKETS & 1) {
        wish->sprockets = 0;
    }
    if (which >> PLAN_WISH_LOWEST & 1) {
        wish->lowest_m_max = NAN;
    }
    if (which >> PLAN_WISH_HIGHEST & 1) {
        wish->highest_m_min = NAN;
    }
    if (which >> PLAN_WISH_BUDGET & 1) {
        wish->budget_minor = -1;
    }
    if (which >> PLAN_WISH_KEEP & 1) {
        wish->keep = 0;
    }
}

uint32_t plan_wishes_given(const struct trade_wish *wish) {
    return (uint32_t)(wish->rings != 0) << PLAN_WISH_RINGS | (uint32_t)(wish->sprockets != 0) << PLAN_WISH_SPROCKETS |
           (uint32_t)!isnan(wish->lowest_m_max) << PLAN_WISH_LOWEST |
           (uint32_t)!isnan(wish->highest_m_min) << PLAN_WISH_HIGHEST |
           (uint32_t)(wish->budget_minor >= 0) << PLAN_WISH_BUDGET | (uint32_t)(wish->keep != 0) << PLAN_WISH_KEEP;
}

/* Those that can be given up: the number of rings only for another one, that of now. */
static uint32_t wishes_of(const struct trade_wish *wish, const struct trade_bike *bike) {
    unsigned rings = trade_bike_rings(bike);
    bool as_now = rings == 0 || wish->rings == rings;
    return plan_wishes_given(wish) & ~(as_now ? 1u << PLAN_WISH_RINGS : 0);
}

/* Wishes about an objective are cuts of the front that is found without them; the others need a plan of their own. */
#define BOUNDS (1u << PLAN_WISH_LOWEST | 1u << PLAN_WISH_HIGHEST | 1u << PLAN_WISH_BUDGET)

static bool meets(const struct plan_values *values, const struct trade_wish *wish, uint32_t given_up) {
    struct trade_wish left = *wish;
    plan_give_up(&left, given_up & BOUNDS);
    return !(left.budget_minor >= 0 && values->cost_minor > left.budget_minor) &&
           !(!isnan(left.lowest_m_max) && values->lowest > base_round(left.lowest_m_max * 10000)) &&
           !(!isnan(left.highest_m_min) && values->highest < base_round(left.highest_m_min * 10000));
}

/* The front of the bike without bounds, with these other wishes given up; planned when it is first asked for. */
static enum base_status front_without(struct plan **fronts, const struct plan *plan, uint32_t given_up) {
    struct trade_wish wish = plan->wish;
    if (fronts[given_up]) {
        return BASE_OK;
    }
    plan_give_up(&wish, given_up | BOUNDS);
    wish.highest_m_cap = INFINITY;
    wish.objectives = 1u << TRADE_COST | 1u << TRADE_LOWEST | 1u << TRADE_HIGHEST;
    bool with_rings = (given_up >> PLAN_WISH_RINGS & 1) != 0;
    return with_rings ? plan_with_rings(&fronts[given_up], plan, &wish)
                      : plan_again(&fronts[given_up], plan, &wish, NULL);
}

static int compare_reliefs(const void *x, const void *y) {
    const struct plan_relief *a = x, *b = y;
    int by_cost = order(a->values.cost_minor, b->values.cost_minor);
    return by_cost ? by_cost : order(a->given_up, b->given_up);
}

double plan_excess(const struct plan_values *values, const struct trade_wish *wish, uint32_t given_up) {
    double excess = 0;
    if ((given_up >> PLAN_WISH_BUDGET & 1) && values->cost_minor > wish->budget_minor) {
        excess += (double)(values->cost_minor - wish->budget_minor) / (double)(wish->budget_minor + 1);
    }
    if (given_up >> PLAN_WISH_LOWEST & 1) {
        excess += fmax(values->lowest / (wish->lowest_m_max * 10000) - 1, 0);
    }
    if (given_up >> PLAN_WISH_HIGHEST & 1) {
        excess += fmax(1 - values->highest / (wish->highest_m_min * 10000), 0);
    }
    return excess;
}

/* Adds the way that giving up exactly these opens, if there is one: the least beyond the bounds that are given up; of
 * several the cheapest. */
static enum base_status try_relief(struct plan_relief *out, size_t *n, struct plan **fronts, const struct plan *plan,
                                   uint32_t which) {
    enum base_status status = front_without(fronts, plan, which & ~BOUNDS);
    const struct plan_way *best = NULL;
    double least = INFINITY;
    for (size_t i = 0; status == BASE_OK && i < fronts[which & ~BOUNDS]->n_ways; i++) {
        const struct plan_way *way = &fronts[which & ~BOUNDS]->ways[i]; /* in rising cost */
        double excess = plan_excess(&way->values, &plan->wish, which);
        if (excess < least && meets(&way->values, &plan->wish, which)) {
            best = way;
            least = excess;
        }
    }
    if (best) {
        out[(*n)++] = (struct plan_relief){which, best->values, best->build};
    }
    return status;
}

#define RELIEFS_MAX 20 /* sets of three of six wishes: there are no more of any one size */

enum base_status plan_reliefs(struct plan_relief *out, size_t *n, size_t max, const struct plan *plan) {
    struct plan *fronts[1u << PLAN_WISHES] = {NULL};
    struct plan_relief found[RELIEFS_MAX];
    uint32_t all = wishes_of(&plan->wish, plan->question.bike);
    enum base_status status = BASE_OK;
    size_t n_found = 0;
    for (unsigned size = 1; size <= PLAN_WISHES && n_found == 0; size++) {
        for (uint32_t which = 1; which < 1u << PLAN_WISHES && status == BASE_OK; which++) {
            if (!(which & ~all) && count_bits(which) == size) {
                status = try_relief(found, &n_found, fronts, plan, which);
            }
        }
    }
    for (size_t i = 0; i < sizeof fronts / sizeof fronts[0]; i++) {
        plan_free(fronts[i]);
    }
    qsort(found, n_found, sizeof *found, compare_reliefs);
    *n = n_found < max ? n_found : max;
    memcpy(out, found, *n * sizeof *out);
    return status;
}

/* The bits of another plan's drawbacks in this one's list, which takes on what it does not have yet. */
static uint64_t adopt_drawbacks(struct plan *plan, const struct plan *other, uint64_t bits) {
    uint64_t out = 0;
    for (size_t i = 0; i < other->n_drawbacks; i++) {
        size_t at = 0;
        while (at < plan->n_drawbacks && strcmp(plan->drawbacks[at], other->drawbacks[i]) != 0) {
            at++;
        }
        if (!(bits >> i & 1) || at == PLAN_DRAWBACKS_MAX) {
            continue;
        }
        if (at == plan->n_drawbacks) {
            plan->drawbacks[plan->n_drawbacks++] = other->drawbacks[i];
        }
        out |= UINT64_C(1) << at;
    }
    return out;
}

static uint64_t adopt_hangs(struct plan *plan, const struct plan *other, uint64_t bits) {
    uint64_t out = 0;
    for (size_t i = 0; i < other->n_hangs; i++) {
        const struct plan_hang *hang = &other->hangs[i];
        size_t at = 0;
        while (at < plan->n_hangs &&
               (plan->hangs[at].subject != hang->subject || plan->hangs[at].property != hang->property)) {
            at++;
        }
        if (!(bits >> i & 1) || at == PLAN_HANGS_MAX) {
            continue;
        }
        if (at == plan->n_hangs) {
            plan->hangs[plan->n_hangs++] = *hang;
        }
        out |= UINT64_C(1) << at;
    }
    return out;
}

void plan_adopt(struct plan *plan, const struct plan *other, struct plan_way *way) {
    way->drawbacks = adopt_drawbacks(plan, other, way->drawbacks);
    way->hangs = adopt_hangs(plan, other, way->hangs);
}

enum base_status plan_keep_rings(struct plan_kept_rings *out, struct plan *plan) {
    struct trade_wish wish;
    trade_wish_init(&wish);
    out->found = out->clean_found = false;
    if (trade_bike_rings(plan->question.bike) == 0) {
        return BASE_OK;
    }
    wish.given = true;
    wish.keep = plan->wish.keep;
    if (plan->now_values.lowest > 0) {
        wish.lowest_m_max = plan->now_values.lowest / 10000.0;
        wish.highest_m_min = plan->now_values.highest / 10000.0;
    }
    wish.objectives = 1u << TRADE_COST;
    struct plan *other = NULL;
    enum base_status status = plan_with_rings(&other, plan, &wish);
    for (size_t i = 0; status == BASE_OK && i < other->n_ways; i++) { /* in rising cost */
        if (i == 0) {
            out->found = true;
            out->way = other->ways[0];
            plan_adopt(plan, other, &out->way);
        }
        if (other->ways[i].drawbacks == 0 && !out->clean_found) {
            out->clean_found = true;
            out->clean = other->ways[i];
            plan_adopt(plan, other, &out->clean);
        }
    }
    plan_free(other);
    return status;
}
