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

static bool is_ring(enum trade_slot slot) {
    return slot == TRADE_SLOT_OUTER_RING || slot == TRADE_SLOT_MIDDLE_RING || slot == TRADE_SLOT_INNER_RING;
}

static double teeth_of(const struct trade_part *ring) { return trade_get_number(ring, TRADE_RING_TEETH); }

/* What having the rings of now means, from the first sense to the last. */
enum sense { SAME_SIZES, SAME_NUMBER, SENSES };
struct rings {
    const struct world *world;
    enum sense sense;
};

static bool ring_may(const void *of, enum trade_slot slot, uint32_t rank) {
    const struct rings *rings = of;
    const struct trade_bike *bike = &rings->world->bike;
    if (!is_ring(slot) || rings->sense == SAME_NUMBER) {
        return true;
    }
    if (rank < 2) { /* the bike's own, or nothing where it has nothing */
        return rank == (trade_bike_has(bike, slot) ? 0u : 1u);
    }
    const struct trade_part *old = &bike->fitted[slot].part;
    const struct trade_part *new = &rings->world->catalogue.parts[TRADE_KIND_RING][rank - 2];
    return trade_bike_has(bike, slot) && (isnan(teeth_of(old)) || teeth_of(new) == teeth_of(old));
}

/* The wish with some of its parts given up, as plan.h says what that means; of rings ring_may says the rest. */
static struct trade_wish without(const struct trade_wish *wish, uint32_t which, const struct trade_bike *bike) {
    struct trade_wish left = *wish;
    left.given = true;
    left.sprockets = which >> PLAN_WISH_SPROCKETS & 1 ? 0 : left.sprockets;
    left.lowest_m_max = which >> PLAN_WISH_LOWEST & 1 ? NAN : left.lowest_m_max;
    left.highest_m_min = which >> PLAN_WISH_HIGHEST & 1 ? NAN : left.highest_m_min;
    left.budget_minor = which >> PLAN_WISH_BUDGET & 1 ? -1 : left.budget_minor;
    left.keep = which >> PLAN_WISH_KEEP & 1 ? 0 : left.keep;
    if (which >> PLAN_WISH_RINGS & 1) {
        left.rings = trade_bike_rings(bike);
    }
    return left;
}

/* Least cost of a build under the wish, and of one without a drawback; -1 when there is none. sense: in which it has the rings
 * of now; SENSES: in none. */
static int64_t least_cost(int64_t *clean, const struct world *world, const struct trade_wish *wish, enum sense sense) {
    static const struct brute_codes none;
    struct rings rings = {world, sense};
    struct trade_wish by_cost = *wish;
    struct plan_question question = world_question(world);
    struct brute brute;
    int64_t least = -1;
    *clean = -1;
    by_cost.objectives = 1u << TRADE_COST;
    question.wish = &by_cost;
    const struct brute_beyond beyond = {.may = sense < SENSES ? ring_may : NULL, .of = &rings};
    brute_front_beyond(&brute, &question, &beyond);
    for (size_t i = 0; i < brute.n_ways; i++) {
        int64_t cost = brute.ways[i].values.cost_minor;
        bool is_clean = memcmp(&brute.ways[i].drawbacks, &none, sizeof none) == 0;
        least = least < 0 || cost < least ? cost : least;
        *clean = is_clean && (*clean < 0 || cost < *clean) ? cost : *clean;
    }
    brute_clear(&brute);
    return least;
}

/* How far a build lies beyond the bounds that are given up, as a sum of shares: by plan.h, over again. */
static double excess_of(const struct plan_values *values, const struct trade_wish *wish, uint32_t which) {
    double excess = 0;
    if ((which >> PLAN_WISH_BUDGET & 1) && values->cost_minor > wish->budget_minor) {
        excess += (double)(values->cost_minor - wish->budget_minor) / (double)(wish->budget_minor + 1);
    }
    if ((which >> PLAN_WISH_LOWEST & 1) && values->lowest > wish->lowest_m_max * 10000) {
        excess += values->lowest / (wish->lowest_m_max * 10000) - 1;
    }
    if ((which >> PLAN_WISH_HIGHEST & 1) && values->highest < wish->highest_m_min * 10000) {
        excess += 1 - values->highest / (wish->highest_m_min * 10000);
    }
    return excess;
}

/* The build under what is left of the wish that lies least beyond what is given up, and of several the cheapest: its cost, or
 * -1 when there is none. */
static int64_t cost_of_least_excess(const struct world *world, uint32_t which, enum sense sense) {
    struct rings rings = {world, sense};
    struct trade_wish left = without(&world->wish, which, &world->bike);
    struct plan_question question = world_question(world);
    const struct brute_beyond beyond = {.may = sense < SENSES ? ring_may : NULL, .of = &rings};
    struct brute brute;
    double least = INFINITY;
    int64_t cost = -1;
    left.objectives = 1u << TRADE_COST | 1u << TRADE_LOWEST | 1u << TRADE_HIGHEST;
    left.highest_m_cap = INFINITY;
    question.wish = &left;
    brute_front_beyond(&brute, &question, &beyond);
    for (size_t i = 0; i < brute.n_ways; i++) {
        double excess = excess_of(&brute.ways[i].values, &world->wish, which);
        bool same = !(excess > least) && !(excess < least);
        if (excess < least || (same && brute.ways[i].values.cost_minor < cost)) {
            least = excess;
            cost = brute.ways[i].values.cost_minor;
        }
    }
    brute_clear(&brute);
    return cost;
}

/* The first sense that gives a build under the wish at all; the last when none does. */
static enum sense sense_of(const struct world *world, const struct trade_wish *wish) {
    int64_t clean;
    return least_cost(&clean, world, wish, SAME_SIZES) >= 0 ? SAME_SIZES : SAME_NUMBER;
}

#define BOUNDS (1u << PLAN_WISH_LOWEST | 1u << PLAN_WISH_HIGHEST | 1u << PLAN_WISH_BUDGET)

/* The sense in which giving up these wishes means the rings of now: bounds do not count for it. SENSES when they are not
 * given up. */
static enum sense sense_without(const struct world *world, uint32_t which) {
    if (!(which >> PLAN_WISH_RINGS & 1)) {
        return SENSES;
    }
    struct trade_wish free_of_bounds = without(&world->wish, which | BOUNDS, &world->bike);
    return sense_of(world, &free_of_bounds);
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

/* Every set of this size either opens nothing, or is told with the way that lies least beyond what is given up. How many open. */
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
        int64_t least = cost_of_least_excess(world, which, sense_without(world, which));
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
    struct rings rings = {world, sense_without(world, relief->given_up)};
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        assert_true(rings.sense == SENSES || ring_may(&rings, s, rank[s]));
    }
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

/* Least cost of having the rings of now, no harder and no slower than now; -1 when there is none, -2 when nobody tries so
 * many builds. *sense: in which they are kept. */
static int64_t least_with_rings(enum sense *sense, int64_t *clean, const struct world *world, const struct plan *plan) {
    struct trade_wish wish;
    struct world freed = *world;
    trade_wish_init(&wish);
    wish = without(&wish, 1u << PLAN_WISH_RINGS, &world->bike);
    wish.keep = world->wish.keep;
    if (plan->now_values.lowest > 0) {
        wish.lowest_m_max = plan->now_values.lowest / 10000.0;
        wish.highest_m_min = plan->now_values.highest / 10000.0;
    }
    freed.wish = wish;
    if (world_builds(&freed) > 10 * MOST_BUILDS) {
        return -2;
    }
    *sense = sense_of(world, &wish);
    return least_cost(clean, world, &wish, *sense);
}

static unsigned count_rings(const struct fit_build *build) {
    unsigned n = 0;
    for (unsigned s = TRADE_SLOT_OUTER_RING; s <= TRADE_SLOT_INNER_RING; s++) {
        n += build->at[s].kind != FIT_NONE;
    }
    return n;
}

/* How often the rings of now could be had, and in which sense. */
struct rings_seen {
    unsigned found, in[SENSES], dearer; /* dearer: without a drawback */
};

static void check_rings(struct rings_seen *seen, const struct world *world) {
    struct plan_question question = world_question(world);
    struct plan *plan = NULL;
    struct plan_kept_rings kept;
    struct rings rings = {world, SAME_SIZES};
    int64_t clean = -1;
    assert_int_equal(plan_new(&plan, &question), BASE_OK);
    assert_int_equal(plan_keep_rings(&kept, plan), BASE_OK);
    int64_t least = least_with_rings(&rings.sense, &clean, world, plan);
    if (least > -2) {
        assert_int_equal(kept.found, least >= 0);
        assert_int_equal(kept.clean_found, clean >= 0);
    }
    if (least >= 0) {
        assert_int_equal(kept.way.values.cost_minor, least);
        assert_int_equal(count_rings(&kept.way.build), trade_bike_rings(&world->bike));
        for (unsigned s = TRADE_SLOT_OUTER_RING; s <= TRADE_SLOT_INNER_RING; s++) {
            assert_true(ring_may(&rings, s, kept.way.rank[s]));
        }
        seen->found++;
        seen->in[rings.sense]++;
    }
    if (clean >= 0) {
        assert_int_equal(kept.clean.values.cost_minor, clean);
        assert_int_equal(kept.clean.drawbacks, 0);
        seen->dearer += clean > least;
    }
    plan_free(plan);
}

static void keeping_the_rings_at_least_cost(void **state) {
    (void)state;
    struct rings_seen seen = {0};
    for (uint64_t seed = 61001; seed < 61001 + WORLDS; seed++) {
        struct world world;
        world_make(&world, seed, MOST_BUILDS);
        check_rings(&seen, &world);
        world_clear(&world);
    }
    assert_true(seen.found > WORLDS / 4);
}

/* A ring in the shop like the one on the bike, with so many teeth more. */
static struct trade_part *sell(struct world *world, const struct trade_part *ring, int more, const char *id) {
    struct trade_part *part = world_add(world, ring, id);
    trade_set(part, TRADE_RING_TEETH, trade_number(teeth_of(ring) + more, BASE_MEASURED));
    trade_set(part, TRADE_RING_CONDITION, trade_word(TRADE_CONDITION_AS_NEW, BASE_MEASURED));
    part->price_minor = 700;
    return part;
}

/* Rings for a worn one: its like; one of another size, that makes no gear harder; both, of which the like goes on no crank
 * here. */
static void sell_rings(struct world *world, const struct trade_part *ring, bool inner, int what) {
    if (what == 0) {
        sell(world, ring, 0, "like-it");
        return;
    }
    sell(world, ring, inner ? -2 : 2, "another-size");
    if (what == 2) {
        trade_set(sell(world, ring, 0, "like-it"), TRADE_RING_MOUNT,
                  trade_word(TRADE_RING_MOUNT_FIVE_ARM_94, BASE_MEASURED));
    }
}

/* One ring is worn. */
static void worn_rings_are_renewed_at_least_cost(void **state) {
    (void)state;
    struct rings_seen seen = {0};
    for (uint64_t seed = 62001; seed < 62001 + 4 * WORLDS; seed++) {
        struct random_source random = {seed};
        struct world world;
        world_make(&world, seed, MOST_BUILDS / 4);
        enum trade_slot slot = (enum trade_slot)random_int(&random, TRADE_SLOT_OUTER_RING, TRADE_SLOT_INNER_RING);
        struct trade_part *ring = &world.bike.fitted[slot].part;
        world.wish.keep &= ~(1u << slot);
        if (trade_bike_has(&world.bike, slot)) {
            trade_set(ring, TRADE_RING_CONDITION, trade_word(TRADE_CONDITION_WORN, BASE_MEASURED));
        }
        if (trade_bike_has(&world.bike, slot) && !isnan(teeth_of(ring))) {
            sell_rings(&world, ring, slot == TRADE_SLOT_INNER_RING, random_int(&random, 0, 2));
        }
        check_rings(&seen, &world);
        world_clear(&world);
    }
    print_message("# %u found: of their sizes %u, as many %u; dearer without a drawback %u\n", seen.found,
                  seen.in[SAME_SIZES], seen.in[SAME_NUMBER], seen.dearer);
    assert_true(seen.dearer > 0);
    assert_true(seen.in[SAME_SIZES] > WORLDS / 4 && seen.in[SAME_NUMBER] > WORLDS / 10);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wishes_that_open_a_way),
        cmocka_unit_test(keeping_the_rings_at_least_cost),
        cmocka_unit_test(worn_rings_are_renewed_at_least_cost),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
