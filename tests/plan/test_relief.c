/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What opens a way when nothing fits, and what keeping the rings takes, against brute force.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "plan/brute.h"
#include "plan/world.h"

#include <math.h>
#include <string.h>

#define MOST_BUILDS 800
#define MOST_RELIEFS 20 /* sets of three of six wishes: more than there can be of one size */
#define WORLDS 100

/* The wish with some of its parts given up, as plan.h says what that means. */
static struct trade_wish without(const struct trade_wish *wish, uint32_t which, const struct trade_bike *bike) {
    struct trade_wish left = *wish;
    left.given = true;
    left.sprockets = which >> PLAN_WISH_SPROCKETS & 1 ? 0 : left.sprockets;
    left.lowest_m_max = which >> PLAN_WISH_LOWEST & 1 ? NAN : left.lowest_m_max;
    left.highest_m_min = which >> PLAN_WISH_HIGHEST & 1 ? NAN : left.highest_m_min;
    left.budget_minor = which >> PLAN_WISH_BUDGET & 1 ? -1 : left.budget_minor;
    left.keep = which >> PLAN_WISH_KEEP & 1 ? 0 : left.keep;
    if (which >> PLAN_WISH_RINGS & 1) { /* the rings of now stay */
        left.rings = trade_bike_rings(bike);
        for (unsigned s = TRADE_SLOT_OUTER_RING; s <= TRADE_SLOT_INNER_RING; s++) {
            left.keep |= trade_bike_has(bike, s) ? 1u << s : 0;
        }
    }
    return left;
}

/* Least cost of a build under the wish; -1 when there is none. */
static int64_t least_cost(const struct world *world, const struct trade_wish *wish) {
    struct trade_wish by_cost = *wish;
    struct plan_question question = world_question(world);
    struct brute brute;
    int64_t least = -1;
    by_cost.objectives = 1u << TRADE_COST;
    question.wish = &by_cost;
    brute_front(&brute, &question);
    for (size_t i = 0; i < brute.n_ways; i++) {
        int64_t cost = brute.ways[i].values.cost_minor;
        least = least < 0 || cost < least ? cost : least;
    }
    brute_clear(&brute);
    return least;
}

/* Which wishes there are to give up. */
static uint32_t wishes_of(const struct world *world) {
    const struct trade_wish *wish = &world->wish;
    unsigned now = trade_bike_rings(&world->bike);
    return (uint32_t)(wish->rings && now && wish->rings != now) << PLAN_WISH_RINGS |
           (uint32_t)(wish->sprockets != 0) << PLAN_WISH_SPROCKETS |
           (uint32_t)!isnan(wish->lowest_m_max) << PLAN_WISH_LOWEST |
           (uint32_t)!isnan(wish->highest_m_min) << PLAN_WISH_HIGHEST |
           (uint32_t)(wish->budget_minor >= 0) << PLAN_WISH_BUDGET | (uint32_t)(wish->keep != 0) << PLAN_WISH_KEEP;
}

static const struct plan_relief *relief_of(const struct plan_relief *reliefs, size_t n, uint32_t which) {
    for (size_t i = 0; i < n; i++) {
        if (reliefs[i].given_up == which) {
            return &reliefs[i];
        }
    }
    return NULL;
}

/* Every set of this size either opens nothing, or is told with the least cost. How many open. */
static size_t check_size(const struct world *world, const struct plan_relief *reliefs, size_t n, int size) {
    uint32_t all = wishes_of(world);
    size_t opens = 0;
    for (uint32_t which = 1; which <= all; which++) {
        if ((which & ~all) || __builtin_popcount(which) != size) {
            continue;
        }
        struct trade_wish left = without(&world->wish, which, &world->bike);
        struct world freed = *world;
        freed.wish = left;
        if (world_builds(&freed) > 10 * MOST_BUILDS) {
            continue; /* nobody tries so many */
        }
        int64_t least = least_cost(world, &left);
        const struct plan_relief *relief = relief_of(reliefs, n, which);
        assert_int_equal(relief != NULL, least >= 0);
        if (relief) {
            assert_int_equal(relief->values.cost_minor, least);
            opens++;
        }
    }
    return opens;
}

static void check_order(const struct plan_relief *reliefs, size_t n) {
    for (size_t i = 1; i < n; i++) {
        assert_true(reliefs[i - 1].values.cost_minor <= reliefs[i].values.cost_minor);
        assert_int_equal(__builtin_popcount(reliefs[i].given_up), __builtin_popcount(reliefs[0].given_up));
    }
}

/* The build that is told is one: by no rule forbidden, and within what is left of the wish. */
static void check_build(const struct world *world, const struct plan *plan, const struct plan_relief *relief) {
    struct trade_wish left = without(&world->wish, relief->given_up, &world->bike);
    struct plan_question question = world_question(world);
    struct brute_way way;
    uint32_t rank[TRADE_SLOTS];
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        const struct fit_choice *choice = &relief->build.at[s];
        const struct trade_part *parts = world->catalogue.parts[trade_slot_rows[s].kind];
        rank[s] = choice->kind == FIT_NEW ? 2 + (uint32_t)(choice->part - parts) : choice->kind == FIT_NONE;
    }
    question.wish = &left;
    assert_true(brute_build(&way, &question, &plan->cases, rank));
    assert_int_equal(way.values.cost_minor, relief->values.cost_minor);
}

static void wishes_that_open_a_way(void **state) {
    (void)state;
    unsigned worlds = 0, opened = 0, several = 0;
    for (uint64_t seed = 60001; worlds < WORLDS; seed++) {
        struct world world;
        struct plan *plan = NULL;
        world_make(&world, seed, MOST_BUILDS);
        world.wish.given = true;
        if (seed % 3 == 0) { /* more than one wish that can't be met */
            world.wish.lowest_m_max = 0.9;
            world.wish.highest_m_min = seed % 2 ? 12 : NAN;
            world.wish.budget_minor = 0;
        }
        struct plan_question question = world_question(&world);
        assert_int_equal(plan_new(&plan, &question), BASE_OK);
        if (plan->n_ways == 0) {
            struct plan_relief reliefs[MOST_RELIEFS], few[MOST_RELIEFS];
            size_t n = 0, n_few = 0;
            assert_int_equal(plan_reliefs(reliefs, &n, MOST_RELIEFS, plan), BASE_OK);
            int size = n > 0 ? __builtin_popcount(reliefs[0].given_up) : PLAN_WISHES;
            check_order(reliefs, n);
            for (int smaller = 1; smaller < size; smaller++) {
                assert_int_equal(check_size(&world, NULL, 0, smaller), 0);
            }
            if (n > 0) {
                check_size(&world, reliefs, n, size);
                check_build(&world, plan, &reliefs[0]);
                /* one alone is the one of least money */
                assert_int_equal(plan_reliefs(few, &n_few, 1, plan), BASE_OK);
                assert_int_equal(n_few, 1);
                assert_int_equal(few[0].values.cost_minor, reliefs[0].values.cost_minor);
            }
            worlds++;
            opened += n > 0;
            several += n > 0 && size > 1;
        }
        plan_free(plan);
        world_clear(&world);
    }
    print_message("# %u worlds, %u opened, %u by several wishes\n", worlds, opened, several);
    assert_true(opened > WORLDS / 4 && several > WORLDS / 10);
}

static void keeping_the_rings_at_least_cost(void **state) {
    (void)state;
    unsigned kept = 0;
    for (uint64_t seed = 61001; seed < 61001 + WORLDS; seed++) {
        struct world world;
        struct plan *plan = NULL;
        struct plan_way way;
        bool found = false;
        world_make(&world, seed, MOST_BUILDS);
        struct plan_question question = world_question(&world);
        assert_int_equal(plan_new(&plan, &question), BASE_OK);
        assert_int_equal(plan_keep_rings(&found, &way, plan), BASE_OK);
        struct trade_wish wish;
        trade_wish_init(&wish);
        wish = without(&wish, 1u << PLAN_WISH_RINGS, &world.bike);
        if (plan->now_values.lowest > 0) { /* no harder and no slower than now */
            wish.lowest_m_max = plan->now_values.lowest / 10000.0;
            wish.highest_m_min = plan->now_values.highest / 10000.0;
        }
        struct world freed = world;
        freed.wish = wish;
        if (world_builds(&freed) <= 10 * MOST_BUILDS) {
            int64_t least = least_cost(&world, &wish);
            assert_int_equal(found, least >= 0);
            if (found) {
                assert_int_equal(way.values.cost_minor, least);
            }
            kept += found;
        }
        plan_free(plan);
        world_clear(&world);
    }
    assert_true(kept > WORLDS / 4);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wishes_that_open_a_way),
        cmocka_unit_test(keeping_the_rings_at_least_cost),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
