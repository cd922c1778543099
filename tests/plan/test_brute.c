/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The planner against brute force over whole builds, on small random worlds with many ties.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "plan/brute.h"
#include "plan/world.h"

#include <stdio.h>
#include <stdlib.h>

#ifndef FIRST_SEED
#define FIRST_SEED 1
#define WORLDS 400
#endif
#ifndef MOST_BUILDS
#define MOST_BUILDS 3000
#endif

/* What the worlds were like: a test that never saw a tie or a case proves little. */
struct seen {
    unsigned worlds, with_ways, ways, tied, conditional, hanging, with_drawback, any_rings, without_cost, open_mass,
        open_ties, overruled;
    uint64_t most_equals;
    double tried, fitted;
};

/* Does an overruling hold in this way, so that what would clash is a drawback? */
static bool holds_overruled(const struct plan *plan, const struct plan_way *way) {
    static struct fit_finding findings[128];
    size_t n;
    bool any = false;
    assert_true(fit_rules_n <= 128);
    fit_judge_build(findings, &n, plan->question.bike, &way->build, &plan->cases, false);
    for (size_t i = 0; i < n; i++) {
        any = any || findings[i].overruled;
    }
    return any;
}

static bool agrees(const struct world *world, bool quiet, struct seen *seen) {
    struct plan_question question = world_question(world);
    struct brute brute;
    struct plan *plan = NULL;
    assert_int_equal(plan_new(&plan, &question), BASE_OK);
    brute_front(&brute, &question);
    bool same = brute_agrees(&brute, plan, quiet);
    if (seen) {
        bool by_mass = (world->wish.objectives >> TRADE_MASS & 1) != 0;
        seen->worlds++;
        seen->with_ways += plan->n_ways > 0;
        seen->ways += (unsigned)plan->n_ways;
        seen->tried += brute.tried;
        seen->fitted += brute.fitted;
        seen->any_rings += world->wish.rings == 0 && plan->n_ways > 0;
        seen->without_cost += !(world->wish.objectives >> TRADE_COST & 1) && plan->n_ways > 0;
        for (size_t i = 0; i < plan->n_ways; i++) {
            seen->overruled += holds_overruled(plan, &plan->ways[i]);
            seen->tied += plan->ways[i].equals > 0;
            seen->open_mass += by_mass && plan->ways[i].values.mass_known == BASE_OPEN;
            seen->open_ties += by_mass && plan->ways[i].values.mass_known == BASE_OPEN && plan->ways[i].equals > 0;
            seen->conditional += !fit_every_case(&plan->ways[i].cases, &plan->cases);
            seen->hanging += plan->ways[i].hangs != 0;
            seen->with_drawback += plan->ways[i].drawbacks != 0;
            seen->most_equals = plan->ways[i].equals > seen->most_equals ? plan->ways[i].equals : seen->most_equals;
        }
    }
    plan_free(plan);
    brute_clear(&brute);
    return same;
}

/* Takes out what the difference does not need. */
static void shrink(struct world *world) {
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        for (size_t i = 0; i < world->catalogue.n[kind];) {
            struct trade_part part = world->catalogue.parts[kind][i];
            world_drop(world, kind, i);
            if (agrees(world, true, NULL)) {
                world_add(world, &part, part.id);
                i++;
            }
        }
    }
    for (unsigned o = 0; o < TRADE_OBJECTIVES; o++) {
        uint32_t all = world->wish.objectives;
        world->wish.objectives &= ~(1u << o);
        if (world->wish.objectives == 0 || agrees(world, true, NULL)) {
            world->wish.objectives = all;
        }
    }
    while (world->bike.n_overruled > 0) {
        world->bike.n_overruled--;
        if (agrees(world, true, NULL)) {
            world->bike.n_overruled++;
            break;
        }
    }
}

static void check_seen(const struct seen *seen) {
    print_message(
        "# %u worlds, %u with ways; %u ways: %u tied (%llu others at most), %u conditional, %u hanging, %u with "
        "a drawback, %u overruled, %u with any rings, %u without cost, %u of open mass where mass counts (%u tied); "
        "%.0f builds, "
        "%.0f "
        "fit\n",
        seen->worlds, seen->with_ways, seen->ways, seen->tied, (unsigned long long)seen->most_equals, seen->conditional,
        seen->hanging, seen->with_drawback, seen->overruled, seen->any_rings, seen->without_cost, seen->open_mass,
        seen->open_ties, seen->tried, seen->fitted);
    assert_true(seen->with_ways > seen->worlds / 3);
    assert_true(seen->tied > seen->worlds / 10 && seen->most_equals > 3);
    assert_true(seen->conditional > seen->worlds / 50 && seen->hanging > seen->worlds / 20);
    assert_true(seen->with_drawback > seen->worlds / 10 && seen->overruled > seen->worlds / 25);
    assert_true(seen->any_rings > seen->worlds / 20 && seen->without_cost > seen->worlds / 50);
}

/* Tells the world, as small as the difference needs it, and fails when plan and brute force differ. Clears it. */
static void check_world(struct world *world, struct seen *seen) {
    bool same = agrees(world, true, seen);
    if (!same) {
        shrink(world);
        world_tell(world);
        agrees(world, false, NULL);
    }
    world_clear(world);
    assert_true(same);
}

/* SEED=n in the environment tries this one alone, for a look at it. */
static void plan_equals_brute_force(void **state) {
    (void)state;
    struct seen seen = {0};
    const char *only = getenv("SEED");
    for (uint64_t n = 0; n < (only ? 1 : WORLDS); n++) {
        struct world world;
        world_make(&world, only ? strtoull(only, NULL, 10) : FIRST_SEED + n, MOST_BUILDS);
        check_world(&world, &seen);
    }
    if (!only) {
        check_seen(&seen);
    }
}

/* Weight counts, and what some of the parts weigh nobody knows. */
static void open_masses_pass_for_no_others(void **state) {
    (void)state;
    struct seen seen = {0};
    for (uint64_t seed = FIRST_SEED + 50000; seed < FIRST_SEED + 50000 + 2 * WORLDS / 3; seed++) {
        struct random_source random = {seed};
        struct world world;
        world_make(&world, seed, MOST_BUILDS / 4);
        world.wish.objectives |= 1u << TRADE_MASS;
        world_lose_scales(&world, &random);
        check_world(&world, &seen);
    }
    print_message("# %u ways, %u of open mass, %u of these tied\n", seen.ways, seen.open_mass, seen.open_ties);
    assert_true(seen.open_mass > WORLDS / 8 && seen.open_mass < seen.ways - WORLDS / 8 && seen.open_ties > WORLDS / 50);
}

/* What is cheaper lies further in, and is too near to the stay. */
static void planes_compete(void **state) {
    (void)state;
    struct seen seen = {0};
    for (uint64_t seed = FIRST_SEED + 90000; seed < FIRST_SEED + 90000 + WORLDS / 4; seed++) {
        struct world world;
        world_make_crowded(&world, seed, MOST_BUILDS);
        check_world(&world, &seen);
    }
    print_message("# %u worlds, %u with ways; %u ways; %.0f builds, %.0f fit\n", seen.worlds, seen.with_ways, seen.ways,
                  seen.tried, seen.fitted);
    assert_true(seen.with_ways > seen.worlds / 3 && seen.fitted > 10 * seen.ways && seen.fitted < seen.tried / 4);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(plan_equals_brute_force),
                                       cmocka_unit_test(open_masses_pass_for_no_others),
                                       cmocka_unit_test(planes_compete)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
