/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A plan that is stopped: at the k-th time that it asks whether it is enough, for all k. What it has is a part of the whole
 * plan, and all of it that nothing of what was left open could beat.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "plan/brute.h"
#include "plan/world.h"

#include <string.h>

#define MOST_BUILDS 3000

/* How often it may be asked before it is enough, and how often it was. */
struct patience {
    unsigned left, asked;
};

static bool is_spent(void *self) {
    struct patience *patience = self;
    patience->asked++;
    return patience->left-- == 0;
}

static struct plan *plan_within(const struct world *world, struct patience *patience) {
    struct plan_question question = world_question(world);
    struct plan *plan = NULL;
    question.enough = patience ? is_spent : NULL;
    question.self = patience;
    assert_int_equal(plan_new(&plan, &question), BASE_OK);
    return plan;
}

/* The way of the plan with the same parts; NULL when it has none. */
static const struct plan_way *find(const struct plan *plan, const struct plan_way *like) {
    for (size_t i = 0; i < plan->n_ways; i++) {
        if (memcmp(plan->ways[i].rank, like->rank, sizeof like->rank) == 0) {
            return &plan->ways[i];
        }
    }
    return NULL;
}

/* Could a way with an open gearing be as good as this one in its gears? */
static bool is_final(const struct plan *plan, const struct plan_way *way) {
    bool by_lowest = (plan->wish.objectives >> TRADE_LOWEST & 1) != 0;
    bool by_highest = (plan->wish.objectives >> TRADE_HIGHEST & 1) != 0;
    for (size_t i = 0; i < plan->n_open_gears; i++) {
        bool easier = !by_lowest || plan->open_gears[i].lowest <= way->values.lowest;
        bool faster = !by_highest || plan->open_gears[i].counted >= way->values.counted;
        if (easier && faster) {
            return false;
        }
    }
    return !plan->all_open;
}

/* Is what was stopped what it says to be? */
static void check_part(const struct world *world, const struct plan *part, const struct plan *whole) {
    size_t final = 0;
    for (size_t i = 0; i < part->n_ways; i++) {
        struct brute_way x, y;
        const struct plan_way *same = find(whole, &part->ways[i]);
        if (!same) {
            world_tell(world);
            fail_msg("seed %llu: a way that the whole plan has not", (unsigned long long)world->seed);
        }
        brute_of_plan(&x, part, &part->ways[i]);
        brute_of_plan(&y, whole, same);
        assert_null(brute_difference(&x, &y));
    }
    for (size_t i = 0; i < whole->n_ways; i++) {
        bool is = is_final(part, &whole->ways[i]);
        final += is;
        assert_int_equal(find(part, &whole->ways[i]) != NULL, is);
    }
    assert_int_equal(part->n_ways, final);
}

/* What the worlds were like. */
struct seen {
    unsigned worlds, plans;
    unsigned some; /* plans with a part of the ways, neither none nor all */
};

/* Stops at every time that it is asked. */
static void stop_everywhere(const struct world *world, struct seen *seen) {
    struct plan *whole = plan_within(world, NULL);
    size_t before = 0;
    bool stopped = true;
    for (unsigned k = 0; stopped; k++) {
        struct patience patience = {k, 0};
        struct plan *part = plan_within(world, &patience);
        stopped = part->stopped;
        assert_int_equal(part->complete, !stopped);
        assert_int_equal(patience.asked,
                         stopped ? k + 1 : k); /* nobody is asked again who has said that it is enough */
        check_part(world, part, whole);
        assert_true(part->n_ways >= before);
        before = part->n_ways;
        seen->plans++;
        seen->some += before > 0 && before < whole->n_ways;
        plan_free(part);
    }
    assert_int_equal(before, whole->n_ways);
    seen->worlds++;
    plan_free(whole);
}

/* Have the ways several gearings, so that there is something to be stopped between? */
static bool is_worth_it(const struct world *world, unsigned gearings) {
    struct plan *plan = plan_within(world, NULL);
    unsigned n = 0;
    for (size_t i = 0; i < plan->n_ways; i++) {
        bool known = false;
        for (size_t k = 0; k < i; k++) {
            known = known || (plan->ways[k].values.lowest == plan->ways[i].values.lowest &&
                              plan->ways[k].values.counted == plan->ways[i].values.counted);
        }
        n += !known;
    }
    plan_free(plan);
    return n >= gearings;
}

/* Worlds from a first seed on, each changed. */
static void check_worlds(struct seen *seen, uint64_t first, unsigned n, unsigned gearings,
                         void (*change)(struct world *)) {
    for (uint64_t seed = first; seen->worlds < n; seed++) {
        struct world world;
        world_make(&world, seed, MOST_BUILDS);
        change(&world);
        if (is_worth_it(&world, gearings)) {
            stop_everywhere(&world, seen);
        }
        world_clear(&world);
    }
    print_message("# %u worlds, %u stopped plans, %u of them with some of the ways\n", seen->worlds, seen->plans,
                  seen->some);
}

static void as_it_is(struct world *world) { (void)world; }

static void a_stopped_plan_is_the_final_part(void **state) {
    (void)state;
    struct seen seen = {0};
    check_worlds(&seen, 60001, 5, 3, as_it_is);
    assert_true(seen.some > 2);
}

static void of_any_rings(struct world *world) {
    world->wish.rings = 0;
    world->wish.objectives |= 1u << TRADE_LOWEST | 1u << TRADE_HIGHEST;
}

static void with_any_number_of_rings(void **state) {
    (void)state;
    struct seen seen = {0};
    check_worlds(&seen, 61001, 3, 3, of_any_rings);
    assert_true(seen.some > 0);
}

static void of_open_mass(struct world *world) {
    struct random_source random = {world->seed};
    world->wish.objectives |= 1u << TRADE_MASS | 1u << TRADE_LOWEST;
    world_lose_scales(world, &random);
}

static void where_masses_are_open(void **state) {
    (void)state;
    struct seen seen = {0};
    check_worlds(&seen, 62001, 3, 3, of_open_mass);
    assert_true(seen.some > 0);
}

static void without_gears(struct world *world) {
    world->wish.objectives &= ~(1u << TRADE_LOWEST | 1u << TRADE_HIGHEST);
    world->wish.objectives |= 1u << TRADE_COST | (world->seed % 2 ? 1u << TRADE_MASS : 1u << TRADE_MINUTES);
}

/* Whatever was not looked at could be better, so that nothing is final before all is. */
static void where_gears_are_not_compared(void **state) {
    (void)state;
    struct seen seen = {0};
    check_worlds(&seen, 63001, 1, 1, without_gears);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_stopped_plan_is_the_final_part),
        cmocka_unit_test(with_any_number_of_rings),
        cmocka_unit_test(where_masses_are_open),
        cmocka_unit_test(where_gears_are_not_compared),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
