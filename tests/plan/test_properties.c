/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What must hold of any plan, whatever the shop: no second way of finding the answer is needed to see that it does not.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "plan/brute.h"
#include "plan/mass.h"
#include "plan/values.h"
#include "plan/world.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST_BUILDS 20000 /* nobody tries them all here */

static struct plan *plan_of(const struct world *world) {
    struct plan_question question = world_question(world);
    struct plan *plan = NULL;
    assert_int_equal(plan_new(&plan, &question), BASE_OK);
    assert_true(plan->complete);
    return plan;
}

static const char *id_at(const struct plan_way *way, unsigned slot) {
    const struct fit_choice *choice = &way->build.at[slot];
    return choice->kind == FIT_NEW ? choice->part->id : choice->kind == FIT_KEEP ? "\1keep" : "\1none";
}

static bool same_parts(const struct plan_way *a, const struct plan_way *b) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (strcmp(id_at(a, s), id_at(b, s)) != 0) {
            return false;
        }
    }
    return true;
}

/* Fails the test unless the ways are the same, in the same order, by ids; equals too when counted. */
static void assert_same(const struct world *world, const struct plan *a, const struct plan *b, bool counted) {
    bool same = a->n_ways == b->n_ways;
    for (size_t i = 0; i < a->n_ways && same; i++) {
        struct brute_way x, y;
        brute_of_plan(&x, a, &a->ways[i]);
        brute_of_plan(&y, b, &b->ways[i]);
        same = same_parts(&a->ways[i], &b->ways[i]);
        memcpy(x.rank, y.rank, sizeof x.rank); /* ranks move when parts come and go */
        x.lists = counted ? x.lists : y.lists;
        same = same && !brute_difference(&x, &y);
    }
    if (!same) {
        world_tell(world);
        fail_msg("seed %llu: %zu ways and %zu", (unsigned long long)world->seed, a->n_ways, b->n_ways);
    }
}

/* Calls check on worlds of its own seeds, those with a way first of all; fails unless enough had one. */
static void on_worlds(uint64_t first, unsigned n,
                      void (*check)(struct world *, struct plan *, struct random_source *)) {
    unsigned with_ways = 0;
    for (uint64_t seed = first; with_ways < n; seed++) {
        struct world world;
        struct random_source random = {seed};
        world_make(&world, seed, MOST_BUILDS);
        struct plan *plan = plan_of(&world);
        if (plan->n_ways > 0) {
            with_ways++;
            check(&world, plan, &random);
        }
        plan_free(plan);
        world_clear(&world);
        assert_true(seed - first < 5 * n);
    }
}

/* --- bounds -------------------------------------------------------------------------------------------------------- */

/* Moves some bounds of the wish to what some way has, or a little beside it. */
static void tighten_some(struct trade_wish *wish, const struct plan *plan, struct random_source *random) {
    const struct plan_values *v = &plan->ways[random_bits(random) % plan->n_ways].values;
    uint32_t which = (uint32_t)random_int(random, 1, 7);
    double beside = random_int(random, -1, 1) / 10000.0;
    if (which & 1) {
        wish->budget_minor = v->cost_minor + random_int(random, -1, 1);
    }
    if (which & 2) {
        wish->lowest_m_max = v->lowest / 10000.0 + beside;
    }
    if (which & 4) {
        wish->highest_m_min = v->highest / 10000.0 + beside;
    }
}

static unsigned cuts, refused; /* of the wishes that were tried */

static void check_tighter(struct world *world, struct plan *plan, struct random_source *random) {
    for (unsigned i = 0; i < 4; i++) {
        struct plan *cut = NULL;
        struct trade_wish wish = plan->wish, was = world->wish;
        bool can;
        wish.given = true;
        tighten_some(&wish, plan, random);
        assert_int_equal(plan_tighten(&cut, &can, plan, &wish), BASE_OK);
        if (!can) {
            refused++;
            continue;
        }
        cuts++;
        world->wish = wish;
        struct plan *anew = plan_of(world);
        world->wish = was;
        assert_same(world, cut, anew, true);
        assert_int_equal(cut->n_picks, anew->n_picks);
        for (size_t k = 0; k < cut->n_picks; k++) {
            assert_int_equal(cut->picks[k], anew->picks[k]);
            assert_int_equal(cut->ways[cut->picks[k]].purposes, anew->ways[anew->picks[k]].purposes);
        }
        plan_free(anew);
        plan_free(cut);
    }
}

static void a_tighter_bound_is_a_cut_of_the_front(void **state) {
    (void)state;
    on_worlds(26001, 60, check_tighter);
    assert_true(cuts > 60 && refused > 10);
}

/* --- each way by itself -------------------------------------------------------------------------------------------- */

static void check_ways(struct world *world, struct plan *plan, struct random_source *random) {
    (void)random;
    double usual[TRADE_KINDS];
    struct base_arena scratch;
    struct plan_question question = world_question(world);
    question.wish = &plan->wish;
    base_arena_init(&scratch, 0);
    assert_int_equal(plan_usual_masses(usual, question.catalogue, &scratch), BASE_OK);
    for (size_t i = 0; i < plan->n_ways; i++) {
        const struct plan_way *way = &plan->ways[i];
        struct plan_values values;
        struct brute_way of_plan, again;
        plan_values_of(&values, &question, &way->build, usual, plan_cap(question.wish, question.bike));
        assert_memory_equal(&values, &way->values, sizeof values);
        brute_of_plan(&of_plan, plan, way);
        assert_true(brute_build(&again, &question, &plan->cases, way->rank)); /* no rule forbids it */
        again.lists = of_plan.lists;
        assert_null(brute_difference(&of_plan, &again));
        assert_int_equal(way->certain, way->hangs == 0 && fit_every_case(&way->cases, &plan->cases));
        assert_false(way->beaten);
    }
    base_arena_clear(&scratch);
}

static void every_way_fits_and_is_worth_what_it_says(void **state) {
    (void)state;
    on_worlds(20001, 60, check_ways);
}

static void check_beaten(struct world *world, struct plan *plan, struct random_source *random) {
    (void)world;
    (void)random;
    for (size_t i = 0; i < plan->n_ways; i++) {
        for (size_t k = 0; k < plan->n_ways; k++) {
            struct brute_way a, b;
            brute_of_plan(&a, plan, &plan->ways[i]);
            brute_of_plan(&b, plan, &plan->ways[k]);
            assert_false(brute_beats(&a, &b, plan->wish.objectives));
            assert_int_equal(plan_beats(plan, &plan->ways[i], &plan->ways[k]), false);
            assert_true(i == k || !same_parts(&plan->ways[i], &plan->ways[k]));
        }
    }
}

static void no_way_is_beaten_by_another(void **state) {
    (void)state;
    on_worlds(21001, 60, check_beaten);
}

/* Rising cost; ties by mass with the open last, lowest, highest, then parts in slot order, keep before none before ids by bytes. */
static void check_order(struct world *world, struct plan *plan, struct random_source *random) {
    (void)world;
    (void)random;
    for (size_t i = 1; i < plan->n_ways; i++) {
        const struct plan_values *a = &plan->ways[i - 1].values, *b = &plan->ways[i].values;
        const int64_t of_a[] = {a->cost_minor, a->mass_known == BASE_OPEN, a->mass_g, a->lowest, -(int64_t)a->highest};
        const int64_t of_b[] = {b->cost_minor, b->mass_known == BASE_OPEN, b->mass_g, b->lowest, -(int64_t)b->highest};
        int order = 0;
        for (size_t k = 0; k < sizeof of_a / sizeof *of_a && order == 0; k++) {
            order = (of_a[k] > of_b[k]) - (of_a[k] < of_b[k]);
        }
        for (unsigned s = 0; s < TRADE_SLOTS && order == 0; s++) {
            const struct fit_choice *x = &plan->ways[i - 1].build.at[s], *y = &plan->ways[i].build.at[s];
            order = (int)x->kind - (int)y->kind;
            if (order == 0 && x->kind == FIT_NEW) {
                order = strcmp(x->part->id, y->part->id);
            }
        }
        assert_true(order < 0);
    }
}

static void ways_are_in_their_order(void **state) {
    (void)state;
    on_worlds(22001, 60, check_order);
}

/* --- other shops --------------------------------------------------------------------------------------------------- */

#define TIMES 7

/* Whole minutes at a rate that makes each whole minor units, so that nothing is rounded. */
static void check_scaled(struct world *world, struct plan *plan, struct random_source *random) {
    (void)random;
    (void)plan;
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        world->shop.minutes[o] = floor(world->shop.minutes[o]);
    }
    world->shop.rate_minor = 60 * 11;
    trade_shop_settle(&world->shop);
    struct plan *before = plan_of(world);
    world->shop.rate_minor *= TIMES;
    trade_shop_settle(&world->shop);
    world->wish.budget_minor *= world->wish.budget_minor > 0 ? TIMES : 1;
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        for (size_t i = 0; i < world->catalogue.n[kind]; i++) {
            world->catalogue.parts[kind][i].price_minor *= TIMES;
        }
    }
    struct plan *after = plan_of(world);
    for (size_t i = 0; i < before->n_ways; i++) {
        before->ways[i].values.cost_minor *= TIMES;
        before->ways[i].values.price_minor *= TIMES;
        before->ways[i].values.labour_minor *= TIMES;
    }
    assert_same(world, before, after, true);
    plan_free(before);
    plan_free(after);
}

static void dearer_money_scales_the_front(void **state) {
    (void)state;
    on_worlds(23001, 60, check_scaled);
}

/* Is there a way in the plan that is at least as good as this one in all? */
static bool reaches(const struct plan *plan, const struct brute_way *way) {
    for (size_t i = 0; i < plan->n_ways; i++) {
        struct brute_way other;
        brute_of_plan(&other, plan, &plan->ways[i]);
        if (brute_as_good(&other, way, plan->wish.objectives)) {
            return true;
        }
    }
    return false;
}

static void check_grown(struct world *world, struct plan *plan, struct random_source *random) {
    (void)plan;
    world_weigh(world);
    struct plan *before = plan_of(world);
    const struct trade_part *part = world_grow(world, random);
    if (part) {
        enum trade_kind kind = part->kind;
        size_t index = (size_t)(part - world->catalogue.parts[kind]);
        struct plan *after = plan_of(world);
        for (size_t i = 0; i < before->n_ways; i++) {
            struct brute_way way;
            brute_of_plan(&way, before, &before->ways[i]);
            assert_true(reaches(after, &way));
        }
        plan_free(after);
        world_drop(world, kind, index);
        after = plan_of(world);
        assert_same(world, before, after, true);
        plan_free(after);
    }
    plan_free(before);
}

static void one_more_part_never_worsens_anything(void **state) {
    (void)state;
    on_worlds(24001, 60, check_grown);
}

/* A part that some way uses; its kind and index. False when no way uses one. */
static bool used_part(enum trade_kind *kind, size_t *index, const struct plan *plan, struct random_source *random) {
    unsigned n = 0;
    for (size_t i = 0; i < plan->n_ways; i++) {
        for (unsigned s = 0; s < TRADE_SLOTS; s++) {
            if (plan->ways[i].rank[s] >= 2 && random_int(random, 0, (int)n++) == 0) {
                *kind = trade_slot_rows[s].kind;
                *index = plan->ways[i].rank[s] - 2;
            }
        }
    }
    return n > 0;
}

static bool uses(const struct plan_way *way, enum trade_kind kind, size_t index) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (trade_slot_rows[s].kind == kind && way->rank[s] == index + 2) {
            return true;
        }
    }
    return false;
}

static unsigned twins;

static void check_twin(struct world *world, struct plan *plan, struct random_source *random) {
    (void)plan;
    enum trade_kind kind;
    size_t index;
    char id[64];
    world_weigh(world);
    struct plan *before = plan_of(world);
    if (used_part(&kind, &index, before, random)) {
        struct trade_part *like = &world->catalogue.parts[kind][index];
        snprintf(id, sizeof id, "%s~", like->id); /* just behind it */
        world_add(world, like, id);
        struct plan *after = plan_of(world);
        assert_same(world, before, after, false);
        for (size_t i = 0; i < before->n_ways; i++) {
            bool grows = uses(&before->ways[i], kind, index);
            assert_true(grows ? after->ways[i].equals > before->ways[i].equals
                              : after->ways[i].equals >= before->ways[i].equals);
            twins += grows;
        }
        plan_free(after);
    }
    plan_free(before);
}

static void a_twin_of_a_part_only_counts(void **state) {
    (void)state;
    on_worlds(25001, 80, check_twin);
    assert_true(twins > 40);
}

static void check_dominated(struct world *world, struct plan *plan, struct random_source *random) {
    (void)plan;
    enum trade_kind kind;
    size_t index;
    world_weigh(world);
    struct plan *before = plan_of(world);
    if (used_part(&kind, &index, before, random)) {
        struct trade_part *dearer = world_add(world, &world->catalogue.parts[kind][index], "!dear");
        double mass_g = trade_get_number(dearer, plan_mass_property(kind));
        dearer->price_minor++;
        trade_set(dearer, plan_mass_property(kind), trade_number(mass_g + random_int(random, 0, 1), BASE_MEASURED));
        struct plan *after = plan_of(world);
        assert_same(world, before, after, true);
        plan_free(after);
    }
    plan_free(before);
}

static void a_dearer_or_heavier_twin_changes_nothing(void **state) {
    (void)state;
    on_worlds(26001, 80, check_dominated);
}

/* The half of the shop whose parts were drawn so. */
static struct trade_catalogue half_of(struct world *world, bool *const drawn[TRADE_KINDS], bool half) {
    struct trade_catalogue out = world->catalogue;
    out.n_all = 0;
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        const struct trade_part *all = world->catalogue.parts[kind];
        out.parts[kind] = base_arena_alloc(&world->arena, world->catalogue.n[kind], sizeof *out.parts[kind]);
        assert_non_null(out.parts[kind]);
        out.n[kind] = 0;
        for (size_t i = 0; i < world->catalogue.n[kind]; i++) {
            if (drawn[kind][i] == half) {
                out.parts[kind][out.n[kind]++] = all[i];
                out.n_all++;
            }
        }
    }
    return out;
}

static unsigned of_halves;

/* Each half of the shop by itself: whatever it can do, the whole shop can do as well. */
static void check_halves(struct world *world, struct plan *plan, struct random_source *random) {
    (void)plan;
    bool *drawn[TRADE_KINDS];
    world_weigh(world);
    struct plan *whole = plan_of(world);
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        drawn[kind] = base_arena_alloc(&world->arena, world->catalogue.n[kind], sizeof *drawn[kind]);
        assert_non_null(drawn[kind]);
        for (size_t i = 0; i < world->catalogue.n[kind]; i++) {
            drawn[kind][i] = random_int(random, 0, 1);
        }
    }
    for (unsigned half = 0; half < 2; half++) {
        struct trade_catalogue shop = half_of(world, drawn, half);
        struct plan_question question = world_question(world);
        struct plan *part = NULL;
        question.catalogue = &shop;
        assert_int_equal(plan_new(&part, &question), BASE_OK);
        of_halves += part->n_ways > 0 && part->n_ways < whole->n_ways;
        for (size_t i = 0; i < part->n_ways; i++) {
            struct brute_way way;
            brute_of_plan(&way, part, &part->ways[i]);
            assert_true(reaches(whole, &way));
        }
        plan_free(part);
    }
    plan_free(whole);
}

static void two_shops_together_are_no_worse_than_either(void **state) {
    (void)state;
    on_worlds(28001, 80, check_halves);
    assert_true(of_halves > 10);
}

/* --- other wishes -------------------------------------------------------------------------------------------------- */

static unsigned cuts;

/* Plans with a bound at what one way has, and compares with the ways of before that keep to it. */
static void check_cut(struct world *world, struct plan *plan, struct random_source *random) {
    const struct plan_values at = plan->ways[random_int(random, 0, (int)plan->n_ways - 1)].values; /* ways move below */
    enum trade_objective bounds[] = {TRADE_COST, TRADE_LOWEST, TRADE_HIGHEST};
    enum trade_objective bound = bounds[random_int(random, 0, 2)];
    if (!(plan->wish.objectives >> bound & 1) || (bound == TRADE_HIGHEST && at.highest > at.counted)) {
        return; /* a bound on what is not compared is no cut; nor is one beyond what counts */
    }
    size_t kept = 0;
    for (size_t i = 0; i < plan->n_ways; i++) {
        const struct plan_values *v = &plan->ways[i].values;
        bool keeps = bound == TRADE_COST     ? v->cost_minor <= at.cost_minor
                     : bound == TRADE_LOWEST ? v->lowest <= at.lowest
                                             : v->highest >= at.highest;
        if (keeps) {
            plan->ways[kept++] = plan->ways[i];
        }
    }
    cuts += kept < plan->n_ways;
    plan->n_ways = kept;
    world->wish = plan->wish;
    world->wish.given = true;
    if (bound == TRADE_COST) {
        world->wish.budget_minor = at.cost_minor;
    } else if (bound == TRADE_LOWEST) {
        world->wish.lowest_m_max = at.lowest / 10000.0;
    } else {
        world->wish.highest_m_min = at.highest / 10000.0;
    }
    struct plan *after = plan_of(world);
    assert_same(world, plan, after, true);
    plan_free(after);
}

static void a_tighter_bound_is_a_cut(void **state) {
    (void)state;
    on_worlds(27001, 220, check_cut);
    print_message("# %u cuts\n", cuts);
    assert_true(cuts > 20);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tighter_bound_is_a_cut_of_the_front),
        cmocka_unit_test(every_way_fits_and_is_worth_what_it_says),
        cmocka_unit_test(no_way_is_beaten_by_another),
        cmocka_unit_test(ways_are_in_their_order),
        cmocka_unit_test(dearer_money_scales_the_front),
        cmocka_unit_test(one_more_part_never_worsens_anything),
        cmocka_unit_test(a_twin_of_a_part_only_counts),
        cmocka_unit_test(a_dearer_or_heavier_twin_changes_nothing),
        cmocka_unit_test(two_shops_together_are_no_worse_than_either),
        cmocka_unit_test(a_tighter_bound_is_a_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
