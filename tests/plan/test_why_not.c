/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Why not this part, held against all builds: it fits when some build holds it; what stands against it is a conflict, and a
 * minimal one: no build meets all of its members, and without any one of them the cheapest that does costs what is said; the
 * part that would do is the first of the nearest that some build holds.
 */
#include "brute.h"
#include "world.h"

#include "plan/nearness.h"
#include "plan/why_not.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#define WORLDS 160
#define MOST_BUILDS 400.0
#define MOST_FREED 10000.0 /* builds that are tried when wishes and rules are dropped */

/* --- builds under some of the constraints -------------------------------------------------------------------------- */

/* One slot may hold these ranks only; some rules do not count. */
struct asked {
    const struct plan_why_not *why;
    const bool *only; /* by rank */
    bool rules;       /* only those rules count that are members */
    const struct plan_conflict *conflict;
    size_t dropped; /* of its members */
};

static bool may(const void *of, enum trade_slot slot, uint32_t rank) {
    const struct asked *asked = of;
    return slot != asked->why->slot[0] || asked->only[rank];
}

static bool waived(const void *of, const char *rule) {
    const struct asked *asked = of;
    for (size_t i = 0; asked->rules && i < asked->conflict->n; i++) {
        if (i != asked->dropped && strcmp(fit_rules[asked->conflict->stops[i].what]->id, rule) == 0) {
            return false;
        }
    }
    return asked->rules;
}

static bool is_member(const struct asked *asked, enum plan_stop_kind kind, unsigned what) {
    for (size_t i = 0; i < asked->conflict->n; i++) {
        const struct plan_stop *stop = &asked->conflict->stops[i];
        if (i != asked->dropped && stop->kind == kind && stop->what == what) {
            return true;
        }
    }
    return false;
}

/* The wish with its members only. */
static struct trade_wish members_of(const struct asked *asked, const struct plan *plan) {
    struct trade_wish wish = plan->wish;
    wish.given = true;
    wish.objectives = 1u << TRADE_COST;
    wish.rings = is_member(asked, PLAN_STOP_WISH, PLAN_WISH_RINGS) ? wish.rings : 0;
    wish.sprockets = is_member(asked, PLAN_STOP_WISH, PLAN_WISH_SPROCKETS) ? wish.sprockets : 0;
    wish.lowest_m_max = is_member(asked, PLAN_STOP_WISH, PLAN_WISH_LOWEST) ? wish.lowest_m_max : NAN;
    wish.highest_m_min = is_member(asked, PLAN_STOP_WISH, PLAN_WISH_HIGHEST) ? wish.highest_m_min : NAN;
    wish.budget_minor = is_member(asked, PLAN_STOP_WISH, PLAN_WISH_BUDGET) ? wish.budget_minor : -1;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        wish.keep &= is_member(asked, PLAN_STOP_KEEP, s) ? UINT32_MAX : ~(1u << s);
    }
    return wish;
}

/* Least cost of a build under the wish and what is asked beyond it; -1 when there is none, -2 when they are too many. */
static int64_t least_cost(const struct world *world, const struct trade_wish *wish, const struct brute_beyond *beyond) {
    struct plan_question question = world_question(world);
    struct world freed = *world;
    struct brute brute;
    int64_t least = -1;
    freed.wish = *wish;
    if (world_builds(&freed) > MOST_FREED) {
        return -2;
    }
    question.wish = wish;
    brute_front_beyond(&brute, &question, beyond);
    for (size_t i = 0; i < brute.n_ways; i++) {
        int64_t cost = brute.ways[i].values.cost_minor;
        least = least < 0 || cost < least ? cost : least;
    }
    brute_clear(&brute);
    return least;
}

static int64_t least_of_members(const struct world *world, const struct plan *plan, const struct asked *asked) {
    struct trade_wish wish = members_of(asked, plan);
    struct brute_beyond beyond = {.may = asked->only ? may : NULL, .of = asked, .waived = waived};
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        beyond.may_stay |= is_member(asked, PLAN_STOP_CONDITION, s) ? 0 : 1u << s;
    }
    return least_cost(world, &wish, &beyond);
}

/* --- what is checked ----------------------------------------------------------------------------------------------- */

struct seen {
    unsigned fits, unbeaten, of_wishes, of_rules, of_conditions, several, nearest, none, checked, plans;
};

static void check_conflict(struct seen *seen, const struct world *world, const struct plan *plan, struct asked *asked) {
    const struct plan_conflict *conflict = asked->conflict;
    assert_true(conflict->complete);
    if (conflict->n == 0) {
        return;
    }
    asked->rules = conflict->stops[0].kind == PLAN_STOP_RULE;
    seen->of_rules += asked->rules;
    seen->of_wishes += conflict->stops[0].kind == PLAN_STOP_WISH;
    seen->several += conflict->n > 1;
    asked->dropped = SIZE_MAX;
    assert_true(least_of_members(world, plan, asked) < 0); /* all of them: none, or more than can be tried */
    for (size_t i = 0; i < conflict->n; i++) {
        asked->dropped = i;
        int64_t least = least_of_members(world, plan, asked);
        seen->of_conditions += conflict->stops[i].kind == PLAN_STOP_CONDITION;
        if (least > -2) {
            assert_int_equal(conflict->stops[i].values.cost_minor, least);
            seen->checked++;
        }
    }
}

/* The nearest part that some build holds, by trying each of them alone. */
static void check_nearest(struct seen *seen, const struct world *world, const struct plan *plan, struct asked *asked,
                          bool *only, uint32_t n_ranks) {
    const struct trade_part **near;
    const struct trade_part *wanted = NULL;
    struct base_arena arena;
    size_t n;
    base_arena_init(&arena, 0);
    assert_int_equal(plan_nearest_parts(&near, &n, &arena, plan, asked->why->slot[0], asked->why->part[0]), BASE_OK);
    struct trade_wish wish = plan->wish;
    wish.given = true;
    asked->rules = false;
    for (size_t i = 0; i < n && !wanted; i++) {
        const struct brute_beyond beyond = {.may = may, .of = asked};
        memset(only, 0, n_ranks);
        only[2 + (near[i] - world->catalogue.parts[near[i]->kind])] = true;
        wanted = least_cost(world, &wish, &beyond) >= 0 ? near[i] : NULL;
        assert_true(i == 0 || plan_parts_apart(asked->why->part[0], near[i - 1]) <=
                                  plan_parts_apart(asked->why->part[0], near[i]));
    }
    assert_ptr_equal(asked->why->nearest, wanted);
    seen->nearest += wanted != NULL;
    seen->none += wanted == NULL;
    base_arena_clear(&arena);
}

/* Does a way of the plan beat the one that was told? By the definition, over what brute force found. */
static void check_beaten(struct seen *seen, const struct world *world, const struct plan *plan,
                         const struct plan_why_not *why) {
    struct plan_question question = world_question(world);
    struct brute all;
    struct brute_way way;
    bool beaten = false;
    brute_of_plan(&way, plan, &why->way);
    brute_front(&all, &question);
    for (size_t i = 0; i < all.n_ways; i++) {
        beaten = beaten || brute_beats(&all.ways[i], &way, plan->wish.objectives);
    }
    assert_int_equal(why->beaten_by != NULL, beaten);
    assert_true(!beaten || plan_beats(plan, why->beaten_by, &why->way));
    seen->unbeaten += !beaten;
    brute_clear(&all);
}

static void check_part(struct seen *seen, const struct world *world, struct plan *plan, const struct trade_part *part) {
    struct plan_why_not why;
    bool only[64] = {false};
    assert_int_equal(plan_why_not(&why, plan, &part, 1), BASE_OK);
    assert_true(why.complete);
    if (why.left_out) {
        assert_string_equal(why.left_out->id, part->id);
        return;
    }
    uint32_t rank = 2 + (uint32_t)(part - world->catalogue.parts[part->kind]);
    uint32_t n_ranks = 2 + (uint32_t)world->catalogue.n[part->kind];
    assert_true(n_ranks <= 64);
    struct asked asked = {.why = &why, .only = only, .conflict = &why.conflict, .dropped = SIZE_MAX};
    const struct brute_beyond beyond = {.may = may, .of = &asked};
    struct trade_wish wish = plan->wish;
    wish.given = true;
    only[rank] = true;
    assert_int_equal(why.fits, least_cost(world, &wish, &beyond) >= 0);
    if (why.fits) {
        assert_ptr_equal(why.way.build.at[why.slot[0]].part, part);
        check_beaten(seen, world, plan, &why);
        seen->fits++;
        return;
    }
    check_conflict(seen, world, plan, &asked);
    check_nearest(seen, world, plan, &asked, only, n_ranks);
}

/* A part for one of the free slots that has a single place on the bike, so that it is known where it is tried. */
static const struct trade_part *any_part(const struct world *world, struct random_source *random) {
    for (int tries = 0; tries < 20; tries++) {
        unsigned slot = (unsigned)random_int(random, 0, TRADE_SLOTS - 1);
        enum trade_kind kind = trade_slot_rows[slot].kind;
        bool single = kind != TRADE_KIND_RING && kind != TRADE_KIND_SHIFTER && kind != TRADE_KIND_BRAKE_LEVER &&
                      kind != TRADE_KIND_SPACER;
        bool chosen = (world->free_slots >> slot & 1) || tries % 5 == 4; /* a kept slot takes no other part at all */
        if (single && chosen && world->catalogue.n[kind] > 0) {
            return &world->catalogue.parts[kind][random_int(random, 0, (int)world->catalogue.n[kind] - 1)];
        }
    }
    return NULL;
}

/* One of its words is another: often it then fits nowhere, and the part that it was made after is near. */
static void spoil(struct trade_part *part, struct random_source *random) {
    const struct trade_kind_row *row = &trade_kind_rows[part->kind];
    for (int tries = 0; tries < 20; tries++) {
        enum trade_property property = (enum trade_property)((int)row->first + random_int(random, 0, (int)row->n - 1));
        const struct trade_property_row *p = &trade_property_rows[property];
        int word = p->type == TRADE_WORD ? trade_get_word(part, property) : -1;
        if (word >= 0) {
            unsigned n = (unsigned)trade_domain_rows[p->domain].n;
            trade_set(part, property, trade_word(((unsigned)word + 1) % n, BASE_MEASURED));
            return;
        }
    }
}

/* A spoilt copy of a part joins the shop. */
static void sell_spoilt(struct world *world, struct random_source *random) {
    const struct trade_part *like = any_part(world, random);
    struct trade_part *part = like ? world_add(world, like, "spoilt") : NULL;
    if (part) {
        spoil(part, random);
    }
}

/* Why there is no way at all. */
static void check_plan(struct seen *seen, const struct world *world, const struct plan *plan) {
    struct plan_conflict conflict;
    const struct plan_why_not nothing = {.n = 0};
    struct asked asked = {.why = &nothing, .conflict = &conflict, .dropped = SIZE_MAX};
    if (plan->n_ways == 0) {
        assert_int_equal(plan_conflict(&conflict, plan, NULL), BASE_OK);
        check_conflict(seen, world, plan, &asked);
        seen->plans++;
    }
}

static void parts_that_were_asked_for(void **state) {
    (void)state;
    struct seen seen = {0};
    for (uint64_t seed = 71001; seed < 71001 + WORLDS; seed++) {
        struct random_source random = {seed};
        struct world world;
        struct plan *plan;
        world_make(&world, seed, MOST_BUILDS);
        sell_spoilt(&world, &random);
        struct plan_question question = world_question(&world);
        assert_int_equal(plan_new(&plan, &question), BASE_OK);
        const struct trade_part *spoilt = trade_catalogue_find(&world.catalogue, "spoilt");
        if (spoilt && plan->n_ways > 0) {
            check_part(&seen, &world, plan, spoilt);
        }
        /* In most worlds without a way no part would do. */
        for (unsigned i = 0; i < (plan->n_ways > 0 ? 2u : seed % 8 == 0); i++) {
            const struct trade_part *part = any_part(&world, &random);
            if (part) {
                check_part(&seen, &world, plan, part);
            }
        }
        if (seed % 2 == 0) {
            check_plan(&seen, &world, plan);
        }
        plan_free(plan);
        world_clear(&world);
    }
    print_message(
        "# fit %u (unbeaten %u), nearest %u, none %u; conflicts: of wishes %u, of rules %u, with conditions %u, of "
        "several %u, of plans %u; members tried %u\n",
        seen.fits, seen.unbeaten, seen.nearest, seen.none, seen.of_wishes, seen.of_rules, seen.of_conditions,
        seen.several, seen.plans, seen.checked);
    assert_true(seen.fits > WORLDS / 10 && seen.unbeaten > 0 && seen.unbeaten < seen.fits);
    assert_true(seen.nearest > WORLDS / 30 && seen.none > WORLDS / 20);
    assert_true(seen.of_wishes > WORLDS / 20 && seen.of_rules > WORLDS / 20 && seen.several > WORLDS / 20);
    assert_true(seen.plans > WORLDS / 20 && seen.checked > WORLDS / 6);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(parts_that_were_asked_for)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
