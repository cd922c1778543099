/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Small made-up shops, bikes and wishes, from a seed: the instances on which the planner is held against its oracles.
 *
 * Each starts from one of a few sound bikes and a pool of parts, some of them meant for it, and is then disturbed: values
 * are taken away, conditions, overruled findings and wishes are thrown in. A handful of slots is free, the others are
 * kept. Prices and masses take few values, so that ties are common.
 */
#ifndef PLAN_WORLD_H
#define PLAN_WORLD_H

#include "plan/plan.h"
#include "support/random.h"
#include "trade/names.h"

#include <stdbool.h>

struct world {
    uint64_t seed;
    struct base_arena arena; /* ids, lists of counts, overruled findings */
    struct trade_names names;
    struct trade_bike bike;
    struct trade_wish wish;
    struct trade_shop shop;
    struct trade_catalogue catalogue;
    struct ride_speeds *speeds; /* of a road that some of them have; NULL: none */
    uint32_t free_slots;        /* bit set: neither kept by the wish nor without choice */
};

/* The world of a seed, with at most so many combinations of choices. Fails the test without memory. */
void world_make(struct world *out, uint64_t seed, double most_builds);
/* One ring close to the chain stay, and a shop of cranks, brackets, rings and spacers that lie a little further in or out at
 * other prices. */
void world_make_crowded(struct world *out, uint64_t seed, double most_builds);
void world_clear(struct world *world);
/* What is asked; borrows the world. */
struct plan_question world_question(const struct world *world);
/* The product of the choices that its slots have before any rule is asked. */
double world_builds(const struct world *world);

/* One more part of the pool, of a kind that some free slot takes; NULL when there is none. */
struct trade_part *world_grow(struct world *world, struct random_source *random);
/* Every mass that is open, on the bike and in the shop, becomes known, so that no part's mass hangs on the others'. */
void world_weigh(struct world *world);

/* The shop states no mass of some of the free slots' kinds, and some of these parts of the bike were not weighed either. */
void world_lose_scales(struct world *world, struct random_source *random);

/* A part like another under an id of its own, put where it belongs among its kind; its values are its own copies. */
struct trade_part *world_add(struct world *world, const struct trade_part *like, const char *id);
/* Takes a part out. */
void world_drop(struct world *world, enum trade_kind kind, size_t index);

/* Writes the world in words to standard error: seed, bike, wish, parts. */
void world_tell(const struct world *world);

#endif
