/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A plan from question to answer: fill in the wish, search, drop what is beaten, name the picks.
 */
#include "plan/plan.h"

#include "plan/picks.h"
#include "plan/search.h"
#include "plan/values.h"

#include "base/number.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static unsigned count_bits(uint64_t bits) { return (unsigned)__builtin_popcountll(bits); }

/* The wish that nobody gave: one ring, not harder than now. */
static void fill_wish(struct plan *plan) {
    plan->wish = *plan->question.wish;
    if (plan->wish.given || plan->now_values.lowest == 0) {
        return;
    }
    plan->wish.lowest_m_max = plan->now_values.lowest / 10000.0;
}

/* --- the front ----------------------------------------------------------------------------------------------------- */

static bool holds_all(const struct fit_case_set *a, const struct fit_case_set *b) {
    for (size_t i = 0; i < FIT_CASE_WORDS; i++) {
        if (b->bits[i] & ~a->bits[i]) {
            return false;
        }
    }
    return true;
}

/* Is a at least as good as b in one objective? *better: strictly. */
static bool as_good(const struct plan_values *a, const struct plan_values *b, enum trade_objective objective,
                    bool *better) {
    int64_t x = 0, y = 0; /* lower is better */
    switch (objective) {
    case TRADE_COST:
        x = a->cost_minor, y = b->cost_minor;
        break;
    case TRADE_LOWEST:
        x = a->lowest, y = b->lowest;
        break;
    case TRADE_HIGHEST:
        x = -(int64_t)a->counted, y = -(int64_t)b->counted;
        break;
    case TRADE_MASS:
        x = a->mass_g, y = b->mass_g;
        break;
    case TRADE_LINE_ERROR:
        x = a->line_steps < 0 ? INT16_MAX : a->line_steps, y = b->line_steps < 0 ? INT16_MAX : b->line_steps;
        break;
    case TRADE_MINUTES:
        x = a->tenths, y = b->tenths;
        break;
    case TRADE_CHANGED:
        x = count_bits(a->changed), y = count_bits(b->changed);
        break;
    case TRADE_OBJECTIVES:
        break;
    }
    *better = *better || x < y;
    return x <= y;
}

bool plan_beats(const struct plan *plan, const struct plan_way *a, const struct plan_way *b) {
    bool better =
        a->drawbacks != b->drawbacks || a->hangs != b->hangs || memcmp(&a->cases, &b->cases, sizeof a->cases) != 0;
    if ((a->drawbacks & ~b->drawbacks) || (a->hangs & ~b->hangs) || !holds_all(&a->cases, &b->cases)) {
        return false;
    }
    for (unsigned o = 0; o < TRADE_OBJECTIVES; o++) {
        if ((plan->wish.objectives >> o & 1) && !as_good(&a->values, &b->values, (enum trade_objective)o, &better)) {
            return false;
        }
    }
    return better;
}

static int order(int64_t a, int64_t b) { return (a > b) - (a < b); }

/* The order in which ways are shown: cost, mass, lowest, highest, then parts in slot order. */
static int compare_shown(const void *x, const void *y) {
    const struct plan_way *a = x, *b = y;
    int by[] = {order(a->values.cost_minor, b->values.cost_minor), order(a->values.mass_g, b->values.mass_g),
                order(a->values.lowest, b->values.lowest), order(b->values.highest, a->values.highest)};
    for (size_t i = 0; i < sizeof by / sizeof by[0]; i++) {
        if (by[i] != 0) {
            return by[i];
        }
    }
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (a->rank[s] != b->rank[s]) {
            return order(a->rank[s], b->rank[s]);
        }
    }
    return 0;
}

/* What sorts a found result before all that it could beat: every objective, then cases, drawbacks, hangs. Results of
 * objectives that are not in the wish hold 0 there. */
static int compare_found(const void *x, const void *y) {
    const struct plan_found *a = x, *b = y;
    int by[] = {order(a->label.cost, b->label.cost),
                order(a->label.mass, b->label.mass),
                order(a->lowest, b->lowest),
                order(b->counted, a->counted),
                order(a->line, b->line),
                order(a->tenths, b->tenths),
                order(a->changed, b->changed),
                order(count_bits(a->drawbacks), count_bits(b->drawbacks)),
                order(count_bits(a->hangs), count_bits(b->hangs))};
    for (size_t i = 0; i < sizeof by / sizeof by[0]; i++) {
        if (by[i] != 0) {
            return by[i];
        }
    }
    return memcmp(a->label.rank, b->label.rank, sizeof a->label.rank);
}

static bool found_beats(const struct plan_model *model, const struct plan_found *a, const struct plan_found *b,
                        bool by_cost) {
    if ((by_cost && a->label.cost > b->label.cost) || a->label.mass > b->label.mass || a->lowest > b->lowest ||
        a->counted < b->counted || a->line > b->line || a->tenths > b->tenths || a->changed > b->changed ||
        (a->drawbacks & ~b->drawbacks) || (a->hangs & ~b->hangs)) {
        return false;
    }
    return a->cases == b->cases ||
           holds_all(plan_intern_at(&model->cases, a->cases), plan_intern_at(&model->cases, b->cases));
}

/* Keeps in place what nothing beats; *n is how many. Budget first: a bound is a cut. Two results that are alike in all
 * have been put together by the search, so that of two here that are as good as each other one is better. */
static void keep_front(struct plan_found *found, size_t *n, const struct plan_model *model) {
    const struct trade_wish *wish = &model->plan->wish;
    bool by_cost = (wish->objectives >> TRADE_COST & 1) != 0;
    size_t kept = 0;
    for (size_t i = 0; i < *n; i++) {
        bool beaten = wish->budget_minor >= 0 && found[i].label.cost > wish->budget_minor;
        for (size_t k = 0; k < kept && !beaten; k++) {
            beaten = found_beats(model, &found[k], &found[i], by_cost);
        }
        if (beaten) {
            continue;
        }
        struct plan_found way = found[i];
        size_t left = 0;
        for (size_t k = 0; k < kept; k++) {
            if (!found_beats(model, &way, &found[k], by_cost)) {
                found[left++] = found[k];
            }
        }
        found[left] = way;
        kept = left + 1;
    }
    *n = kept;
}

static void fill_way(struct plan_way *out, const struct plan_model *model, const struct plan_found *found) {
    const struct plan *plan = model->plan;
    memset(out, 0, sizeof *out);
    memcpy(out->rank, found->label.rank, sizeof out->rank);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        out->build.at[s] = plan_choice(plan, s, out->rank[s]);
    }
    plan_values_of(&out->values, &plan->question, &out->build, model->usual_mass_g, model->cap);
    memcpy(&out->cases, plan_intern_at(&model->cases, found->cases), sizeof out->cases);
    out->drawbacks = found->drawbacks;
    out->hangs = found->hangs;
    out->certain = found->hangs == 0 && fit_every_case(&out->cases, &plan->cases);
    out->equals = found->label.count - 1;
}

/* The place of a drawback's code in the registry. */
static size_t registry_place(const char *code) {
    for (size_t r = 0; r < fit_rules_n; r++) {
        for (size_t i = 0; i < FIT_REASONS_MAX && fit_rules[r]->reasons[i]; i++) {
            if (strcmp(fit_rules[r]->reasons[i], code) == 0) {
                return r * FIT_REASONS_MAX + i;
            }
        }
    }
    return SIZE_MAX;
}

static int compare_codes(const void *x, const void *y) {
    size_t a = registry_place(*(const char *const *)x), b = registry_place(*(const char *const *)y);
    return (a > b) - (a < b);
}

/* Drawbacks in the order of the registry, whatever the order in which the search met them. */
static void order_drawbacks(struct plan *plan) {
    const char *met[PLAN_DRAWBACKS_MAX];
    memcpy(met, plan->drawbacks, sizeof met);
    qsort(plan->drawbacks, plan->n_drawbacks, sizeof plan->drawbacks[0], compare_codes);
    for (size_t w = 0; w < plan->n_ways; w++) {
        uint64_t bits = 0;
        for (size_t i = 0; i < plan->n_drawbacks; i++) {
            for (size_t k = 0; k < plan->n_drawbacks; k++) {
                if (plan->drawbacks[i] == met[k] && (plan->ways[w].drawbacks >> k & 1)) {
                    bits |= UINT64_C(1) << i;
                }
            }
        }
        plan->ways[w].drawbacks = bits;
    }
}

/* Searches for one number of rings (0: any) and appends what nothing beats to plan->ways. */
static enum base_status search_once(struct plan *plan, size_t *room) {
    struct base_arena arena;
    struct plan_found *found = NULL;
    size_t n = 0;
    base_arena_init(&arena, plan->question.limit_bytes ? plan->question.limit_bytes : PLAN_LIMIT_BYTES);
    struct plan_model *model = base_arena_alloc(&arena, 1, sizeof *model);
    enum base_status status = model ? plan_model_init(model, plan, &arena) : BASE_NO_MEMORY;
    if (status == BASE_OK) {
        status = plan_search(&found, &n, model);
    }
    if (status == BASE_OK && n > 0) {
        qsort(found, n, sizeof *found, compare_found);
        keep_front(found, &n, model);
        struct plan_way *ways =
            base_arena_grow(&plan->arena, plan->ways, plan->n_ways, room, plan->n_ways + n, sizeof *ways);
        plan->ways = ways ? ways : plan->ways;
        status = ways ? BASE_OK : BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < n && status == BASE_OK; i++) {
        fill_way(&plan->ways[plan->n_ways++], model, &found[i]);
    }
    bool spent = status == BASE_NO_MEMORY && arena.limit != 0 && arena.used + (arena.limit >> 2) >= arena.limit;
    base_arena_clear(&arena);
    return spent ? BASE_LIMIT : status;
}

/* Drops the ways that one with another number of rings beats. */
static void merge_front(struct plan *plan) {
    size_t kept = 0;
    for (size_t i = 0; i < plan->n_ways; i++) {
        bool beaten = false;
        for (size_t k = 0; k < plan->n_ways && !beaten; k++) {
            beaten = plan_beats(plan, &plan->ways[k], &plan->ways[i]);
        }
        plan->ways[i].beaten = beaten;
    }
    for (size_t i = 0; i < plan->n_ways; i++) {
        if (!plan->ways[i].beaten) {
            plan->ways[kept++] = plan->ways[i];
        }
    }
    plan->n_ways = kept;
}

/* Searches under plan->wish and fills plan->ways. Any number of rings is one search for each number: what has one ring
 * and what has three share no state, so that one search for all would only be larger. */
static enum base_status work_out(struct plan *plan) {
    unsigned wished = plan->wish.rings;
    size_t room = 0;
    enum base_status status = BASE_OK;
    for (unsigned rings = wished ? wished : 1; rings <= (wished ? wished : 3) && status == BASE_OK; rings++) {
        plan->wish.rings = rings;
        status = search_once(plan, &room);
    }
    plan->wish.rings = wished;
    if (status != BASE_OK) {
        return status;
    }
    if (wished == 0) {
        merge_front(plan);
    }
    qsort(plan->ways, plan->n_ways, sizeof *plan->ways, compare_shown);
    plan->complete = true;
    order_drawbacks(plan);
    return BASE_OK;
}

/* A plan up to the point where it could be searched. */
static enum base_status set_up(struct plan *plan, const struct plan_question *question) {
    double usual[TRADE_KINDS];
    base_arena_init(&plan->arena, 0);
    plan->question = *question;
    plan->gears_known = !isnan(trade_get_number(&question->bike->wheel, TRADE_WHEEL_ROLLING_MM));
    fit_build_now(&plan->now, question->bike);
    fit_cases_of(&plan->cases, question->bike);
    plan_usual_masses(usual, question->catalogue, &plan->arena);
    plan_values_of(&plan->now_values, question, &plan->now, usual, plan_cap(question->wish, question->bike));
    fill_wish(plan);
    return plan_find_left_out(plan);
}

enum base_status plan_new(struct plan **out, const struct plan_question *question) {
    struct plan *plan = calloc(1, sizeof *plan);
    if (!plan) {
        return BASE_NO_MEMORY;
    }
    enum base_status status = set_up(plan, question);
    if (status == BASE_OK) {
        status = work_out(plan);
    }
    if (status == BASE_OK) {
        plan_name_picks(plan);
        *out = plan;
    } else {
        plan_free(plan);
    }
    return status;
}

void plan_free(struct plan *plan) {
    if (plan) {
        base_arena_clear(&plan->arena);
        free(plan);
    }
}

/* --- other wishes on the same bike --------------------------------------------------------------------------------- */

/* The rings of now stay. */
static void keep_rings(struct trade_wish *wish, const struct trade_bike *bike) {
    wish->rings = trade_bike_rings(bike);
    for (unsigned s = TRADE_SLOT_OUTER_RING; s <= TRADE_SLOT_INNER_RING; s++) {
        wish->keep |= trade_bike_has(bike, s) ? 1u << s : 0;
    }
}

static void give_up(struct trade_wish *wish, uint32_t which, const struct trade_bike *bike) {
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
    if (which >> PLAN_WISH_RINGS & 1) {
        keep_rings(wish, bike);
    }
}

static uint32_t wishes_of(const struct trade_wish *wish, const struct trade_bike *bike) {
    unsigned rings = trade_bike_rings(bike);
    uint32_t which = 0;
    which |= wish->rings != 0 && rings != 0 && wish->rings != rings ? 1u << PLAN_WISH_RINGS : 0;
    which |= wish->sprockets != 0 ? 1u << PLAN_WISH_SPROCKETS : 0;
    which |= !isnan(wish->lowest_m_max) ? 1u << PLAN_WISH_LOWEST : 0;
    which |= !isnan(wish->highest_m_min) ? 1u << PLAN_WISH_HIGHEST : 0;
    which |= wish->budget_minor >= 0 ? 1u << PLAN_WISH_BUDGET : 0;
    which |= wish->keep != 0 ? 1u << PLAN_WISH_KEEP : 0;
    return which;
}

/* A plan of the same bike under another wish; *out is the caller's. */
static enum base_status plan_under(struct plan **out, const struct plan *plan, const struct trade_wish *wish) {
    struct plan *other = calloc(1, sizeof *other);
    if (!other) {
        return BASE_NO_MEMORY;
    }
    enum base_status status = set_up(other, &plan->question);
    other->wish = *wish;
    if (status == BASE_OK) {
        status = work_out(other);
    }
    if (status == BASE_OK) {
        *out = other;
    } else {
        plan_free(other);
    }
    return status;
}

/* Wishes about an objective are cuts of the front that is found without them; the others need a plan of their own. */
#define BOUNDS (1u << PLAN_WISH_LOWEST | 1u << PLAN_WISH_HIGHEST | 1u << PLAN_WISH_BUDGET)

static bool meets(const struct plan_values *values, const struct trade_wish *wish, uint32_t given_up) {
    struct trade_wish left = *wish;
    give_up(&left, given_up & BOUNDS, NULL);
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
    give_up(&wish, given_up | BOUNDS, plan->question.bike);
    wish.highest_m_cap = INFINITY;
    wish.objectives = 1u << TRADE_COST | 1u << TRADE_LOWEST | 1u << TRADE_HIGHEST;
    return plan_under(&fronts[given_up], plan, &wish);
}

static bool holds_smaller(const struct plan_relief *reliefs, size_t n, uint32_t which) {
    for (size_t i = 0; i < n; i++) {
        if ((reliefs[i].given_up & ~which) == 0) {
            return true;
        }
    }
    return false;
}

static int compare_reliefs(const void *x, const void *y) {
    const struct plan_relief *a = x, *b = y;
    int by_size = order(count_bits(a->given_up), count_bits(b->given_up));
    int by_cost = order(a->values.cost_minor, b->values.cost_minor);
    return by_size ? by_size : by_cost ? by_cost : order(a->given_up, b->given_up);
}

/* Adds the cheapest way that giving up exactly these opens, if there is one. */
static enum base_status try_relief(struct plan_relief *out, size_t *n, struct plan **fronts, const struct plan *plan,
                                   uint32_t which) {
    enum base_status status = front_without(fronts, plan, which & ~BOUNDS);
    for (size_t i = 0; status == BASE_OK && i < fronts[which & ~BOUNDS]->n_ways; i++) {
        const struct plan_way *way = &fronts[which & ~BOUNDS]->ways[i]; /* in rising cost */
        if (meets(&way->values, &plan->wish, which)) {
            out[(*n)++] = (struct plan_relief){which, way->values, way->build};
            break;
        }
    }
    return status;
}

enum base_status plan_reliefs(struct plan_relief *out, size_t *n, size_t max, const struct plan *plan) {
    struct plan *fronts[1u << PLAN_WISHES] = {NULL};
    uint32_t all = wishes_of(&plan->wish, plan->question.bike);
    enum base_status status = BASE_OK;
    *n = 0;
    for (unsigned size = 1; size <= PLAN_WISHES && *n == 0; size++) {
        for (uint32_t which = 1; which < 1u << PLAN_WISHES && *n < max && status == BASE_OK; which++) {
            if (!(which & ~all) && count_bits(which) == size && !holds_smaller(out, *n, which)) {
                status = try_relief(out, n, fronts, plan, which);
            }
        }
    }
    for (size_t i = 0; i < sizeof fronts / sizeof fronts[0]; i++) {
        plan_free(fronts[i]);
    }
    qsort(out, *n, sizeof *out, compare_reliefs);
    return status;
}

enum base_status plan_keep_rings(bool *found, struct plan_way *out, const struct plan *plan) {
    struct trade_wish wish;
    trade_wish_init(&wish);
    wish.given = true;
    keep_rings(&wish, plan->question.bike);
    if (wish.rings == 0) {
        *found = false;
        return BASE_OK;
    }
    if (plan->now_values.lowest > 0) {
        wish.lowest_m_max = plan->now_values.lowest / 10000.0;
        wish.highest_m_min = plan->now_values.highest / 10000.0;
    }
    wish.objectives = 1u << TRADE_COST;
    struct plan *other = NULL;
    enum base_status status = plan_under(&other, plan, &wish);
    *found = status == BASE_OK && other->n_ways > 0;
    if (*found) {
        *out = other->ways[0];
    }
    plan_free(other);
    return status;
}
