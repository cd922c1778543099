/* SPDX-License-Identifier: Apache-2.0 */
/*
 * time-core PARTS OBJECTIVES SEED ROUNDS: the planner, on an instance without any trade in it (instance.h).
 *
 * The planner goes by a table of rules and a table of sums, whatever these say. This program brings its own in the stead of
 * the trade's: for each interface a rule that reads one value of either slot and clashes where they differ. The slots are
 * eight of a bike on which nothing is fitted. The first objective is the price in minor units, the second the weight in
 * grams. The third is added up like a length, and is the error of the chain line in its steps of half a millimetre.
 *
 * The front is printed, a point a line, then `core points= ms=`, the best of the rounds.
 */
#define _POSIX_C_SOURCE 200809L

#include "instance.h"

#include "cli/heap.h"
#include "fit/fit.h"
#include "plan/plan.h"
#include "plan/shelf.h"
#include "trade/vocabulary.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* A value at an interface, or the third objective, stands in some property of the part's kind as a bare number. */
/* clang-format off */
enum { /* the slots of the instance */
    SLOT_0 = TRADE_SLOT_BOTTOM_BRACKET, SLOT_1 = TRADE_SLOT_CRANK,
    SLOT_2 = TRADE_SLOT_OUTER_RING,     SLOT_3 = TRADE_SLOT_CHAIN_GUIDE,
    SLOT_4 = TRADE_SLOT_REAR_WHEEL,     SLOT_5 = TRADE_SLOT_FREEHUB_BODY,
    SLOT_6 = TRADE_SLOT_REAR_ROTOR,     SLOT_7 = TRADE_SLOT_CASSETTE
};
static const unsigned slots[INSTANCE_SLOTS] = {SLOT_0, SLOT_1, SLOT_2, SLOT_3, SLOT_4, SLOT_5, SLOT_6, SLOT_7};

#define INTERFACES(X) \
    X(0, 0, BOTTOM_BRACKET_SPINDLE_MM,        1, CRANK_ARM_MM) \
    X(1, 1, CRANK_Q_MM,                       2, RING_OFFSET_MM) \
    X(2, 2, RING_THICKNESS_MM,                3, CHAIN_GUIDE_LEAST_TEETH) \
    X(3, 3, CHAIN_GUIDE_MOST_TEETH,           4, REAR_WHEEL_HUB_WIDTH_MM) \
    X(4, 4, REAR_WHEEL_BEAD_SEAT_MM,          5, FREEHUB_BODY_LENGTH_MM) \
    X(5, 5, FREEHUB_BODY_SMALLEST_TEETH,      6, ROTOR_SIZE_MM) \
    X(6, 6, ROTOR_THICKNESS_MM,               7, CASSETTE_CLASS_MM) \
    X(7, 0, BOTTOM_BRACKET_RIGHT_OVERHANG_MM, 2, RING_PLANE_MM) \
    X(8, 2, RING_PROFILE,                     4, REAR_WHEEL_KIND) \
    X(9, 4, REAR_WHEEL_ROTOR_MOUNT,           6, ROTOR_MOUNT) \
    X(10, 5, FREEHUB_BODY_SPLINE,             7, CASSETTE_SPLINE)

static const enum trade_property carriers[INSTANCE_INTERFACES][2] = {
#define CARRIERS(I, A, OF_A, B, OF_B) {TRADE_##OF_A, TRADE_##OF_B},
    INTERFACES(CARRIERS)
};
/* clang-format on */

/* --- the tables that the planner goes by --------------------------------------------------------------------------- */

static struct fit_verdict meet(const struct fit_values *v) {
    bool same = fit_has(v, 0) && fit_has(v, 1) && (int)fit_number(v, 0) == (int)fit_number(v, 1);
    return fit_say(same ? FIT_FITS : FIT_CLASH, !same);
}

#define RULE(I, A, OF_A, B, OF_B)                                                                                      \
    static const struct fit_rule rule_##I = {                                                                          \
        .id = "interface-" #I,                                                                                         \
        .reads = {{SLOT_##A, FIT_EMPTY_OK, TRADE_##OF_A}, {SLOT_##B, FIT_EMPTY_OK, TRADE_##OF_B}},                     \
        .n_reads = 2,                                                                                                  \
        .as_it_stands = true,                                                                                          \
        .reasons = {"interface.fits", "interface.differs"},                                                            \
        .judge = meet};
INTERFACES(RULE)

#define RULE_OF(I, A, OF_A, B, OF_B) &rule_##I,
const struct fit_rule *const fit_rules[] = {INTERFACES(RULE_OF)};
const size_t fit_rules_n = INSTANCE_INTERFACES;

#define BEYOND_WINDOW_MM 10 /* each length is that much longer, so that no sum of them comes to the window */

static struct fit_sum length(const struct fit_values *v) {
    return (struct fit_sum){.mm = BEYOND_WINDOW_MM + fit_number(v, 0) / 2, .known = BASE_MEASURED};
}

#define TERM(SLOT, KIND)                                                                                               \
    { SLOT, {{SLOT, FIT_NEEDED, TRADE_##KIND##_CONDITION}}, 1, length }
static const struct fit_term terms[] = {
    TERM(SLOT_0, BOTTOM_BRACKET), TERM(SLOT_1, CRANK),        TERM(SLOT_2, RING),  TERM(SLOT_3, CHAIN_GUIDE),
    TERM(SLOT_4, REAR_WHEEL),     TERM(SLOT_5, FREEHUB_BODY), TERM(SLOT_6, ROTOR), TERM(SLOT_7, CASSETTE)};
static const struct fit_term middle[] = {TERM(TRADE_SLOT_MIDDLE_RING, RING)};
static const struct fit_term inner[] = {TERM(TRADE_SLOT_INNER_RING, RING)};
const struct fit_measure fit_measures[FIT_MEASURES] = {
    [FIT_OUTER_PLANE] = {"outer-plane", terms, INSTANCE_SLOTS, {{.property = FIT_VALUE}}},
    [FIT_MIDDLE_PLANE] = {"middle-plane", middle, 1, {{.property = FIT_VALUE}}},
    [FIT_INNER_PLANE] = {"inner-plane", inner, 1, {{.property = FIT_VALUE}}}};

/* --- the instance as a bike, a wish and a shop --------------------------------------------------------------------- */

static void give_up(const char *why) {
    fprintf(stderr, "time-core: %s\n", why);
    exit(1);
}

static void need(bool done) {
    if (!done) {
        give_up("no memory");
    }
}

struct question {
    struct trade_bike bike;
    struct trade_wish wish;
    struct trade_shop shop;
    struct trade_catalogue catalogue;
};

/* Without these no part is planned with. Gears are not compared: every ring and cassette has the same. */
static void set_common(struct trade_part *part, struct base_arena *arena) {
    if (part->kind == TRADE_KIND_RING) {
        trade_set(part, TRADE_RING_TEETH, trade_number(32, BASE_MEASURED));
    } else if (part->kind == TRADE_KIND_CRANK) {
        trade_set(part, TRADE_CRANK_PLACES, (struct trade_value){.words = 0, .known = BASE_MEASURED});
    } else if (part->kind == TRADE_KIND_CASSETTE) {
        struct trade_counts *counts = base_arena_alloc(arena, 1, sizeof *counts + sizeof counts->at[0]);
        need(counts != NULL);
        counts->n = 1;
        counts->at[0] = 16;
        trade_set(part, TRADE_CASSETTE_STACK_MM, trade_number(40, BASE_MEASURED));
        trade_set(part, TRADE_CASSETTE_SPROCKETS, (struct trade_value){.counts = counts, .known = BASE_MEASURED});
    }
}

static void set_named(struct trade_part *part, const char *name, double number) {
    int property = trade_find_property(part->kind, base_slice_of(name));
    trade_set(part, (enum trade_property)property, trade_number(number, BASE_MEASURED));
}

static void make_part(struct trade_part *out, struct base_arena *arena, int slot, int number,
                      const struct instance_part *from) {
    char id[16];
    int n = snprintf(id, sizeof id, "%04d", number);
    need(trade_part_init(out, arena, trade_slot_rows[slots[slot]].kind) == BASE_OK);
    out->id = base_arena_copy(arena, id, (size_t)n);
    need(out->id != NULL);
    out->price_minor = from->worth[0];
    set_named(out, "mass_g", from->worth[1]);
    set_named(out, "condition", from->worth[2]);
    set_common(out, arena);
    for (int i = 0; i < INSTANCE_INTERFACES; i++) {
        if (from->value[i] >= 0) {
            trade_set(out, carriers[i][instance_ends[i][1] == slot], trade_number(from->value[i], BASE_MEASURED));
        }
    }
}

static void make_shop(struct question *out, const struct instance *in) {
    trade_shop_init(&out->shop);
    out->shop.rate_minor = 0;
    trade_shop_settle(&out->shop);
    trade_catalogue_init(&out->catalogue);
    for (int slot = 0; slot < INSTANCE_SLOTS; slot++) {
        enum trade_kind kind = trade_slot_rows[slots[slot]].kind;
        struct trade_part *parts = base_arena_alloc(&out->catalogue.arena, (size_t)in->parts, sizeof *parts);
        need(parts != NULL);
        for (int p = 0; p < in->parts; p++) {
            make_part(&parts[p], &out->catalogue.arena, slot, p, &in->part[slot][p]);
        }
        out->catalogue.parts[kind] = parts;
        out->catalogue.n[kind] = (size_t)in->parts;
        out->catalogue.n_all += (size_t)in->parts;
    }
}

static void make_question(struct question *out, const struct instance *in) {
    memset(out, 0, sizeof *out);
    need(trade_bike_init(&out->bike) == BASE_OK);
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        out->bike.fitted[slot].state = TRADE_EMPTY;
    }
    trade_set(&out->bike.frame, TRADE_FRAME_NEW_LINE_LOW_MM, trade_number(0, BASE_MEASURED));
    trade_set(&out->bike.frame, TRADE_FRAME_NEW_LINE_HIGH_MM,
              trade_number(BEYOND_WINDOW_MM * INSTANCE_SLOTS, BASE_MEASURED));
    trade_wish_init(&out->wish);
    out->wish.given = true;
    out->wish.objectives = 1u << TRADE_COST | 1u << TRADE_MASS | (in->objectives > 2 ? 1u << TRADE_LINE_ERROR : 0);
    out->wish.keep = (1u << TRADE_SLOTS) - 1;
    for (int slot = 0; slot < INSTANCE_SLOTS; slot++) {
        out->wish.keep &= ~(1u << slots[slot]);
    }
    make_shop(out, in);
}

/* --- a plan -------------------------------------------------------------------------------------------------------- */

static double now_ms(void) {
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec * 1e3 + (double)time.tv_nsec / 1e6;
}

static void print_front(const struct plan *plan, int objectives) {
    for (size_t i = 0; i < plan->n_ways; i++) {
        const struct plan_values *values = &plan->ways[i].values;
        printf("%lld %d", (long long)values->cost_minor, (int)values->mass_g);
        if (objectives > 2) {
            printf(" %d", (int)values->line_steps);
        }
        printf("\n");
    }
}

int main(int argc, char **argv) {
    static struct instance in;
    struct question made;
    struct plan_shelf *shelf = NULL;
    double best_ms = 0;
    if (argc != 5 || atoi(argv[1]) < 1 || atoi(argv[1]) > INSTANCE_PARTS_MAX || atoi(argv[2]) < 2 ||
        atoi(argv[2]) > INSTANCE_OBJECTIVES_MAX) {
        give_up("usage: time-core PARTS OBJECTIVES SEED ROUNDS");
    }
    cli_keep_large_blocks();
    instance_make(&in, atoi(argv[1]), atoi(argv[2]), strtoull(argv[3], NULL, 10));
    make_question(&made, &in);
    need(plan_shelf_new(&shelf, &made.catalogue) == BASE_OK);
    const struct plan_question question = {
        .bike = &made.bike, .wish = &made.wish, .shop = &made.shop, .catalogue = &made.catalogue, .shelf = shelf};
    for (int round = 0; round < atoi(argv[4]); round++) {
        struct plan *plan = NULL;
        double start = now_ms();
        need(plan_new(&plan, &question) == BASE_OK);
        double ms = now_ms() - start;
        best_ms = round == 0 || ms < best_ms ? ms : best_ms;
        if (round == 0) {
            print_front(plan, in.objectives);
            printf("core points=%zu%s ", plan->n_ways, plan->complete ? "" : " incomplete");
        }
        plan_free(plan);
    }
    printf("ms=%.3f\n", best_ms);
    plan_shelf_free(shelf);
    trade_catalogue_clear(&made.catalogue);
    trade_bike_clear(&made.bike);
    return 0;
}
