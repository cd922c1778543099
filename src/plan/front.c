/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/front.h"

#include "plan/mass.h"
#include "plan/values.h"

#include <stdlib.h>
#include <string.h>

static unsigned count_bits(uint64_t bits) { return (unsigned)__builtin_popcountll(bits); }
static int order(int64_t a, int64_t b) { return (a > b) - (a < b); }

/* --- who beats whom ------------------------------------------------------------------------------------------------ */

static bool holds_all(const struct fit_case_set *a, const struct fit_case_set *b) {
    for (size_t i = 0; i < FIT_CASE_WORDS; i++) {
        if (b->bits[i] & ~a->bits[i]) {
            return false;
        }
    }
    return true;
}

/* Is a at least as good as b in one objective? */
static bool as_good_in(const struct plan_values *a, const struct plan_values *b, enum trade_objective objective) {
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
        x = plan_compared_mass(a), y = plan_compared_mass(b);
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
    case TRADE_IN_BAND:
        x = -(int64_t)a->score.in_band, y = -(int64_t)b->score.in_band;
        break;
    case TRADE_WALKED:
        x = a->score.walked_m, y = b->score.walked_m;
        break;
    case TRADE_OBJECTIVES:
        break;
    }
    return x <= y;
}

/* Is a at least as good as b in all that is compared? */
static bool as_good(const struct plan *plan, const struct plan_way *a, const struct plan_way *b) {
    if ((a->drawbacks & ~b->drawbacks) || (a->hangs & ~b->hangs) || !holds_all(&a->cases, &b->cases)) {
        return false;
    }
    for (unsigned o = 0; o < TRADE_OBJECTIVES; o++) {
        if ((plan->wish.objectives >> o & 1) && !as_good_in(&a->values, &b->values, (enum trade_objective)o)) {
            return false;
        }
    }
    return true;
}

bool plan_beats(const struct plan *plan, const struct plan_way *a, const struct plan_way *b) {
    return as_good(plan, a, b) && !as_good(plan, b, a);
}

/* Parts in slot order. */
static int compare_parts(const struct plan_way *a, const struct plan_way *b) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (a->rank[s] != b->rank[s]) {
            return order(a->rank[s], b->rank[s]);
        }
    }
    return 0;
}

/* --- from what was found to ways ----------------------------------------------------------------------------------- */

/* What is not a number in a result: in which cases, with which drawbacks, hanging on what. Results fall into few kinds. */
struct kind {
    uint32_t cases; /* number in model->cases */
    uint32_t zero;  /* padding, always 0 */
    uint64_t drawbacks, hangs;
};

/* A result as it is sorted. */
struct sorted {
    const struct plan_found *found;
    uint32_t kind;
    unsigned n_cases, n_drawbacks, n_hangs;
    bool by_cost;
};

/* Sorts a result before all that it could beat: every objective, then hangs, drawbacks and cases. Results hold 0 for
 * objectives that are not in the wish; of those that differ in nothing else the cheaper comes first, then the first by
 * its parts. */
static int compare_sorted(const void *x, const void *y) {
    const struct sorted *s = x, *t = y;
    const struct plan_found *a = s->found, *b = t->found;
    int by = s->by_cost ? order(a->label.cost, b->label.cost) : 0;
    by = by ? by : order(a->label.mass, b->label.mass);
    by = by ? by : order(a->lowest, b->lowest);
    by = by ? by : order(b->counted, a->counted);
    by = by ? by : order(a->line, b->line);
    by = by ? by : order(b->in_band, a->in_band);
    by = by ? by : order(a->walked_m, b->walked_m);
    by = by ? by : order(a->tenths, b->tenths);
    by = by ? by : order(a->changed, b->changed);
    by = by ? by : order(s->n_drawbacks, t->n_drawbacks);
    by = by ? by : order(s->n_hangs, t->n_hangs);
    by = by ? by : order(t->n_cases, s->n_cases);
    by = by ? by : order(a->label.cost, b->label.cost);
    return by ? by : memcmp(a->rank, b->rank, sizeof a->rank);
}

/* Is one kind of result as good as the other? */
static bool kind_as_good(const struct plan_model *model, const struct kind *a, const struct kind *b) {
    return !(a->drawbacks & ~b->drawbacks) && !(a->hangs & ~b->hangs) &&
           (a->cases == b->cases ||
            holds_all(plan_intern_at(&model->cases, a->cases), plan_intern_at(&model->cases, b->cases)));
}

/* Is the first, which was sorted before, as good in every objective? Its cost is not looked at: where that is an objective
 * it was sorted by it. */
static bool found_as_good(const struct plan_found *a, const struct plan_found *b) {
    return a->label.mass <= b->label.mass && a->lowest <= b->lowest && a->counted >= b->counted && a->line <= b->line &&
           a->in_band >= b->in_band && a->walked_m <= b->walked_m && a->tenths <= b->tenths && a->changed <= b->changed;
}

static unsigned count_cases(const struct fit_case_set *set) {
    unsigned n = 0;
    for (size_t i = 0; i < FIT_CASE_WORDS; i++) {
        n += count_bits(set->bits[i]);
    }
    return n;
}

/* The kinds of n results, and the results as they are sorted, in arena. */
static enum base_status sort_out(struct plan_intern *kinds, struct sorted **out, const struct plan_model *model,
                                 const struct plan_found *found, size_t n, struct base_arena *arena) {
    struct sorted *sorted = base_arena_alloc(arena, n, sizeof *sorted);
    plan_intern_init(kinds, arena, sizeof(struct kind));
    if (!sorted) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < n; i++) {
        const struct kind kind = {found[i].cases, 0, found[i].drawbacks, found[i].hangs};
        uint32_t id = plan_intern_id(kinds, &kind, NULL);
        if (id == PLAN_NO_ID) {
            return BASE_NO_MEMORY;
        }
        sorted[i] = (struct sorted){&found[i],
                                    id,
                                    count_cases(plan_intern_at(&model->cases, kind.cases)),
                                    count_bits(kind.drawbacks),
                                    count_bits(kind.hangs),
                                    (model->plan->wish.objectives >> TRADE_COST & 1) != 0};
    }
    qsort(sorted, n, sizeof *sorted, compare_sorted);
    *out = sorted;
    return BASE_OK;
}

/* A list of numbers. */
struct numbers {
    uint32_t *at;
    size_t n, room;
};

static bool add_number(struct numbers *to, uint32_t number, struct base_arena *arena) {
    uint32_t *at = base_arena_grow(arena, to->at, to->n, &to->room, to->n + 1, sizeof *at);
    if (at) {
        to->at = at;
        to->at[to->n++] = number;
    }
    return at != NULL;
}

/* One kind, as far as the front has grown. */
struct kept {
    struct numbers results; /* of this kind in the front: places in sorted */
    struct numbers
        as_good; /* kinds as good as this one with a result in the front, of the first so many that were met */
    size_t looked_at;
};

/* The front while it grows. */
struct growing {
    const struct plan_model *model;
    const struct plan_intern *kinds;
    struct sorted *sorted;
    struct kept *kept;  /* of each kind */
    struct numbers met; /* kinds with a result in the front */
    struct base_arena *arena;
};

/* Brings the list of kinds that are as good as this one up to date. False without memory. */
static bool look_on(struct growing *front, uint32_t kind) {
    struct kept *mine = &front->kept[kind];
    for (; mine->looked_at < front->met.n; mine->looked_at++) {
        uint32_t other = front->met.at[mine->looked_at];
        if (kind_as_good(front->model, plan_intern_at(front->kinds, other), plan_intern_at(front->kinds, kind)) &&
            !add_number(&mine->as_good, other, front->arena)) {
            return false;
        }
    }
    return true;
}

/* What has beaten one result is tried first on the next: neighbours in the order are mostly beaten by the same. */
static void move_up(struct numbers *list, size_t i) {
    uint32_t number = list->at[i];
    list->at[i] = list->at[i / 2];
    list->at[i / 2] = number;
}

static bool is_beaten(struct growing *front, const struct sorted *result) {
    struct numbers *kinds = &front->kept[result->kind].as_good;
    for (size_t k = 0; k < kinds->n; k++) {
        struct numbers *results = &front->kept[kinds->at[k]].results;
        for (size_t i = 0; i < results->n; i++) {
            if (found_as_good(front->sorted[results->at[i]].found, result->found)) {
                move_up(results, i);
                move_up(kinds, k);
                return true;
            }
        }
    }
    return false;
}

/* Puts the result at this place into the front. False without memory. */
static bool keep(struct growing *front, size_t place) {
    uint32_t kind = front->sorted[place].kind;
    bool first = front->kept[kind].results.n == 0;
    return add_number(&front->kept[kind].results, (uint32_t)place, front->arena) &&
           (!first || add_number(&front->met, kind, front->arena));
}

/* Of sorted results those that nothing beats, in place; *n is how many. Budget first: a bound is a cut. What comes later in
 * the order beats nothing that came before. */
static enum base_status keep_front(struct sorted *sorted, size_t *n, const struct plan_intern *kinds,
                                   const struct plan_model *model, struct base_arena *arena) {
    struct growing front = {.model = model, .kinds = kinds, .sorted = sorted, .arena = arena};
    int64_t budget = model->plan->wish.budget_minor;
    size_t left = 0;
    front.kept = base_arena_alloc(arena, kinds->n, sizeof *front.kept);
    for (size_t i = 0; i < *n; i++) {
        if (!front.kept || !look_on(&front, sorted[i].kind)) {
            return BASE_NO_MEMORY;
        }
        if ((budget >= 0 && sorted[i].found->label.cost > budget) || is_beaten(&front, &sorted[i])) {
            continue;
        }
        sorted[left] = sorted[i];
        if (!keep(&front, left++)) {
            return BASE_NO_MEMORY;
        }
    }
    *n = left;
    return BASE_OK;
}

static void fill_way(struct plan_way *out, const struct plan_model *model, const struct plan_found *found) {
    const struct plan *plan = model->plan;
    memset(out, 0, sizeof *out);
    memcpy(out->rank, found->rank, sizeof out->rank);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        out->build.at[s] = plan_choice(plan, s, out->rank[s]);
    }
    plan_values_of(&out->values, &plan->question, &out->build, plan->shelf->usual_mass_g, model->cap);
    memcpy(&out->cases, plan_intern_at(&model->cases, found->cases), sizeof out->cases);
    out->drawbacks = found->drawbacks;
    out->hangs = found->hangs;
    out->certain = found->hangs == 0 && fit_every_case(&out->cases, &plan->cases);
    out->equals = found->label.count - 1;
}

enum base_status plan_add_ways(struct plan *plan, size_t *room, const struct plan_model *model,
                               const struct plan_found *found, size_t n) {
    struct plan_intern kinds;
    struct sorted *sorted;
    if (n == 0) {
        return BASE_OK;
    }
    enum base_status status = sort_out(&kinds, &sorted, model, found, n, model->arena);
    if (status == BASE_OK) {
        status = keep_front(sorted, &n, &kinds, model, model->arena);
    }
    if (status != BASE_OK) {
        return status;
    }
    struct plan_way *ways =
        base_arena_grow(&plan->arena, plan->ways, plan->n_ways, room, plan->n_ways + n, sizeof *ways);
    if (!ways) {
        return BASE_NO_MEMORY;
    }
    plan->ways = ways;
    for (size_t i = 0; i < n; i++) {
        fill_way(&plan->ways[plan->n_ways++], model, sorted[i].found);
    }
    return BASE_OK;
}

/* Of two ways that are as good as each other one stands for both: the cheaper, else the first by its parts. */
static void put_together(struct plan_way *a, struct plan_way *b) {
    int by_cost = order(a->values.cost_minor, b->values.cost_minor);
    bool first = by_cost ? by_cost < 0 : compare_parts(a, b) < 0;
    struct plan_way *stands = first ? a : b, *falls = first ? b : a;
    if (by_cost == 0) {
        stands->equals = falls->equals >= UINT64_MAX - stands->equals ? UINT64_MAX : stands->equals + falls->equals + 1;
    }
    falls->beaten = true;
}

static void compare_two(const struct plan *plan, struct plan_way *way, struct plan_way *other) {
    bool worse = as_good(plan, other, way), better = as_good(plan, way, other);
    if (worse && better && !other->beaten) {
        put_together(way, other);
    } else if (worse != better) {
        way->beaten = way->beaten || worse;
        other->beaten = other->beaten || better;
    }
}

/* Drops the ways that one of another search beats, and puts together what is alike. */
static void merge_front(struct plan *plan) {
    size_t kept = 0;
    for (size_t i = 0; i < plan->n_ways; i++) {
        for (size_t k = 0; k < i && !plan->ways[i].beaten; k++) {
            compare_two(plan, &plan->ways[i], &plan->ways[k]);
        }
    }
    for (size_t i = 0; i < plan->n_ways; i++) {
        if (!plan->ways[i].beaten) {
            plan->ways[kept++] = plan->ways[i];
        }
    }
    plan->n_ways = kept;
}

/* --- drawbacks and what is hung on, in a fixed order ----------------------------------------------------------------- */

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

/* Something with its number from before it was sorted. */
struct placed {
    uint64_t place;
    size_t was;
};

static int compare_placed(const void *x, const void *y) {
    const struct placed *a = x, *b = y;
    return (a->place > b->place) - (a->place < b->place);
}

/* A set of bits after the things have moved. */
static uint64_t moved(uint64_t bits, const struct placed *list, size_t n) {
    uint64_t out = 0;
    for (size_t i = 0; i < n; i++) {
        out |= (bits >> list[i].was & 1) << i;
    }
    return out;
}

/* Which of the things are in some way's set, by place. used: the sets together. */
static size_t keep_used(struct placed *list, size_t n, uint64_t used) {
    size_t kept = 0;
    for (size_t i = 0; i < n; i++) {
        if (used >> list[i].was & 1) {
            list[kept++] = list[i];
        }
    }
    qsort(list, kept, sizeof *list, compare_placed);
    return kept;
}

static void order_drawbacks(struct plan *plan, uint64_t used) {
    struct placed list[PLAN_DRAWBACKS_MAX] = {{0, 0}};
    const char *met[PLAN_DRAWBACKS_MAX];
    memcpy(met, plan->drawbacks, sizeof met);
    for (size_t i = 0; i < plan->n_drawbacks; i++) {
        list[i] = (struct placed){registry_place(met[i]), i};
    }
    plan->n_drawbacks = keep_used(list, plan->n_drawbacks, used);
    for (size_t i = 0; i < plan->n_drawbacks; i++) {
        plan->drawbacks[i] = met[list[i].was];
    }
    for (size_t w = 0; w < plan->n_ways; w++) {
        plan->ways[w].drawbacks = moved(plan->ways[w].drawbacks, list, plan->n_drawbacks);
    }
}

static void order_hangs(struct plan *plan, uint64_t used) {
    struct placed list[PLAN_HANGS_MAX] = {{0, 0}};
    struct plan_hang met[PLAN_HANGS_MAX];
    memcpy(met, plan->hangs, sizeof met);
    for (size_t i = 0; i < plan->n_hangs; i++) {
        list[i] = (struct placed){(uint64_t)met[i].subject << 16 | met[i].property, i};
    }
    plan->n_hangs = keep_used(list, plan->n_hangs, used);
    for (size_t i = 0; i < plan->n_hangs; i++) {
        plan->hangs[i] = met[list[i].was];
    }
    for (size_t w = 0; w < plan->n_ways; w++) {
        plan->ways[w].hangs = moved(plan->ways[w].hangs, list, plan->n_hangs);
    }
}

/* Both in a fixed order, whatever the order in which the search met them, and only those that some way has. */
static void settle(struct plan *plan) {
    uint64_t drawbacks = 0, hangs = 0;
    for (size_t w = 0; w < plan->n_ways; w++) {
        drawbacks |= plan->ways[w].drawbacks;
        hangs |= plan->ways[w].hangs;
    }
    order_drawbacks(plan, drawbacks);
    order_hangs(plan, hangs);
}

/* The order in which ways are shown: cost, mass with the open last, lowest, highest, then parts in slot order. */
static int compare_shown(const void *x, const void *y) {
    const struct plan_way *a = x, *b = y;
    int by[] = {order(a->values.cost_minor, b->values.cost_minor),
                order(plan_compared_mass(&a->values), plan_compared_mass(&b->values)),
                order(a->values.lowest, b->values.lowest), order(b->values.highest, a->values.highest)};
    for (size_t i = 0; i < sizeof by / sizeof by[0]; i++) {
        if (by[i] != 0) {
            return by[i];
        }
    }
    return compare_parts(a, b);
}

void plan_settle_front(struct plan *plan, bool several) {
    if (several) {
        merge_front(plan);
    }
    settle(plan);
    if (plan->n_ways > 0) {
        qsort(plan->ways, plan->n_ways, sizeof *plan->ways, compare_shown);
    }
}
