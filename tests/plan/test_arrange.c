/* SPDX-License-Identifier: Apache-2.0 */
/* The chain line, solved: cases worked on paper, and every combination tried one by one on random small shops. */
#include "trade/made.h"

#include "plan/arrange.h"
#include "plan/tolerance.h"
#include "support/random.h"

#include <math.h>
#include <stdio.h>

static struct trade_bike bike;
static struct trade_catalogue shop;
static struct trade_shop money;
static struct fit_cases cases;

static int setup(void **state) {
    made_setup(state);
    trade_catalogue_init(&shop);
    trade_shop_init(&money);
    trade_shop_settle(&money);
    return trade_bike_init(&bike) == BASE_OK ? 0 : -1;
}

static int teardown(void **state) {
    trade_bike_clear(&bike);
    trade_catalogue_clear(&shop);
    return made_clear(state);
}

static void give_ring(struct trade_part *ring, unsigned mount) {
    give(ring, TRADE_RING_TEETH, 32);
    give_word(ring, TRADE_RING_MOUNT, mount);
    give(ring, TRADE_RING_THICKNESS_MM, 2);
    give(ring, TRADE_RING_OFFSET_MM, 0);
    give_words(ring, TRADE_RING_CHAINS, UINT64_C(1) << TRADE_CHAIN_FAMILY_NINE);
    give_word(ring, TRADE_RING_PROFILE, TRADE_PROFILE_WIDE_NARROW);
    give_word(ring, TRADE_RING_TAKES_WASHERS, TRADE_YES_NO_YES);
}

static void give_bracket(struct trade_part *bracket, double spindle_mm, double overhang_mm) {
    give_word(bracket, TRADE_BOTTOM_BRACKET_SHELL, TRADE_SHELL_ENGLISH);
    give(bracket, TRADE_BOTTOM_BRACKET_LEAST_SHELL_MM, 68);
    give(bracket, TRADE_BOTTOM_BRACKET_WIDEST_SHELL_MM, 68);
    give_word(bracket, TRADE_BOTTOM_BRACKET_SPINDLE, TRADE_SPINDLE_SQUARE_JIS);
    give(bracket, TRADE_BOTTOM_BRACKET_SPINDLE_MM, spindle_mm);
    give(bracket, TRADE_BOTTOM_BRACKET_RIGHT_OVERHANG_MM, overhang_mm);
}

static void leave_empty(enum trade_slot slot) { bike.fitted[slot].state = TRADE_EMPTY; }

/* One 32 T ring in the outer place, 53.0 mm out, of a crank that had three; a square-taper spindle of 118 mm; the frame
 * wanted 48 to 50 mm when new. The line lies 3.0 mm too far out. Clear stays all round. */
static void make_bike(void) {
    give_word(&bike.self, TRADE_BIKE_USE, TRADE_USE_OFF_ROAD);
    give_word(&bike.frame, TRADE_FRAME_SHELL, TRADE_SHELL_ENGLISH);
    give(&bike.frame, TRADE_FRAME_SHELL_WIDTH_MM, 68);
    give(&bike.frame, TRADE_FRAME_NEW_LINE_LOW_MM, 48);
    give(&bike.frame, TRADE_FRAME_NEW_LINE_HIGH_MM, 50);
    give(&bike.frame, TRADE_FRAME_STAY_60_MM, 30);
    give(&bike.frame, TRADE_FRAME_STAY_70_MM, 30);
    give(&bike.frame, TRADE_FRAME_STAY_80_MM, 30);
    struct trade_part *crank = made_in(&bike, TRADE_SLOT_CRANK);
    give_word(crank, TRADE_CRANK_SPINDLE, TRADE_SPINDLE_SQUARE_JIS);
    give(crank, TRADE_CRANK_ARM_MM, 175);
    give_words(crank, TRADE_CRANK_PLACES, 1u << TRADE_PLACE_OUTER | 1u << TRADE_PLACE_MIDDLE | 1u << TRADE_PLACE_INNER);
    give_word(crank, TRADE_CRANK_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_104);
    give_word(crank, TRADE_CRANK_INNER_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_64);
    give_word(crank, TRADE_CRANK_RINGS_FIXED, TRADE_YES_NO_NO);
    give(crank, TRADE_CRANK_OUTER_PLANE_MM, 53);
    give(crank, TRADE_CRANK_MIDDLE_PLANE_MM, 46.2);
    give(crank, TRADE_CRANK_INNER_PLANE_MM, 39);
    give_ring(made_in(&bike, TRADE_SLOT_OUTER_RING), TRADE_RING_MOUNT_FOUR_ARM_104);
    give_bracket(made_in(&bike, TRADE_SLOT_BOTTOM_BRACKET), 118, 0);
    give_word(made_in(&bike, TRADE_SLOT_CHAIN), TRADE_CHAIN_FAMILY, TRADE_CHAIN_FAMILY_NINE);
    leave_empty(TRADE_SLOT_MIDDLE_RING);
    leave_empty(TRADE_SLOT_INNER_RING);
    leave_empty(TRADE_SLOT_RING_WASHERS);
    leave_empty(TRADE_SLOT_CUP_SPACERS);
    leave_empty(TRADE_SLOT_FRONT_DERAILLEUR);
    leave_empty(TRADE_SLOT_LEFT_SHIFTER);
}

static void solve(struct plan_arrangements *out, const struct trade_catalogue *catalogue) {
    fit_cases_of(&cases, &bike);
    const struct plan_arrange_question question = {&bike, &cases, catalogue, catalogue ? &money : NULL, NULL};
    assert_int_equal(plan_arrange(out, &question, &made), BASE_OK);
}

/* The means of an arrangement as a bit set. */
static unsigned means_of(const struct plan_arrangement *a) {
    unsigned means = 0;
    for (size_t i = 0; i < a->n_changes; i++) {
        means |= 1u << a->changes[i].means;
    }
    return means;
}

static const struct plan_arrangement *find(const struct plan_arrangements *all, unsigned means) {
    for (size_t i = 0; i < all->n; i++) {
        if (means_of(&all->best[i]) == means) {
            return &all->best[i];
        }
    }
    return NULL;
}

/* By hand: a spindle moves the ring by half the change of its length. Of the lengths that occur, 113 moves it 2.5 in (50.5,
 * 0.5 left), 110.5 moves it 3.75 in: 49.25, inside; 115: 1.5. The middle place: 46.2, 1.8 left; with 1.5 mm of washers the
 * outer one only goes out, and the middle one takes none. */
static void the_spindle_is_found_first(void **state) {
    (void)state;
    struct plan_arrangements all;
    make_bike();
    solve(&all, NULL);
    assert_near(all.now.error_mm, 3, 1e-9);
    assert_true(all.n > 0);
    assert_int_equal(means_of(&all.best[0]), 1u << PLAN_BY_SPINDLE);
    assert_near(all.best[0].changes[0].value_mm, 110.5, 1e-9);
    assert_near(all.best[0].by_mm, -3.75, 1e-9);
    assert_near(all.best[0].error_mm, 0, 1e-9);
    assert_false(all.best[0].drawback);
    const struct plan_arrangement *place = find(&all, 1u << PLAN_BY_PLACE);
    assert_non_null(place);
    assert_int_equal(place->changes[0].slot, TRADE_SLOT_MIDDLE_RING);
    assert_near(place->error_mm, -1.8, 1e-9);
}

/* A ring in the inner place of a crank with two, 44 mm out, and a spindle of 127.5 mm, the longest that occurs: nothing
 * goes further out but the outer place (52: 2 too far) and, of the spindles there are, none. Washers move an inner ring
 * in. Spacers under the cup: 2.5 to 46.5 (1.5 left), 5.0 to 49.0, inside, but the arms go off centre: never first. */
static void spacers_under_the_cups_are_never_first(void **state) {
    (void)state;
    struct plan_arrangements all;
    make_bike();
    struct trade_part *crank = made_in(&bike, TRADE_SLOT_CRANK);
    give_words(crank, TRADE_CRANK_PLACES, 1u << TRADE_PLACE_OUTER | 1u << TRADE_PLACE_INNER);
    give(crank, TRADE_CRANK_OUTER_PLANE_MM, 52);
    give(crank, TRADE_CRANK_INNER_PLANE_MM, 44);
    give_word(crank, TRADE_CRANK_INNER_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_104);
    leave_empty(TRADE_SLOT_OUTER_RING);
    give_ring(made_in(&bike, TRADE_SLOT_INNER_RING), TRADE_RING_MOUNT_FOUR_ARM_104);
    give_bracket(made_in(&bike, TRADE_SLOT_BOTTOM_BRACKET), 127.5, 0);
    solve(&all, NULL);
    assert_near(all.now.error_mm, -4, 1e-9);
    const struct plan_arrangement *cups = find(&all, 1u << PLAN_BY_CUP_SPACERS);
    assert_non_null(cups);
    assert_true(cups->drawback);
    assert_near(cups->error_mm, 0, 1e-9);
    assert_near(cups->changes[0].value_mm, 5, 1e-9);
    assert_false(all.best[0].drawback);
    /* 52 less half of what the spindle is shorter: 122.5 gives 49.5, inside. */
    assert_int_equal(means_of(&all.best[0]), 1u << PLAN_BY_SPINDLE | 1u << PLAN_BY_PLACE);
    assert_near(all.best[0].by_mm, 5.5, 1e-9);
    bool drawback = false;
    for (size_t i = 0; i < all.n; i++) {
        assert_false(drawback && !all.best[i].drawback);
        drawback = all.best[i].drawback;
    }
}

/* 47.2 mm in the outer place, 0.8 mm too far in: 1.0 mm of washers is the least change; a ring that takes none takes none. */
static void washers_where_the_place_and_the_ring_allow(void **state) {
    (void)state;
    struct plan_arrangements all;
    make_bike();
    struct trade_part *crank = made_in(&bike, TRADE_SLOT_CRANK);
    give(crank, TRADE_CRANK_OUTER_PLANE_MM, 47.2);
    give(crank, TRADE_CRANK_MIDDLE_PLANE_MM, 40);
    solve(&all, NULL);
    const struct plan_arrangement *washers = find(&all, 1u << PLAN_BY_WASHERS);
    assert_non_null(washers);
    assert_near(washers->error_mm, 0, 1e-9);
    assert_near(washers->changes[0].value_mm, 1, 1e-9);
    give_word(made_in(&bike, TRADE_SLOT_OUTER_RING), TRADE_RING_TAKES_WASHERS, TRADE_YES_NO_NO);
    solve(&all, NULL);
    for (size_t i = 0; i < all.n; i++) {
        assert_false(means_of(&all.best[i]) >> PLAN_BY_WASHERS & 1);
    }
}

/* As in the first case, but with a stay that reaches out to 46 mm where the ring runs: 3 mm beside the ring's inner face
 * (half of 2 mm inboard of its plane) is 50 mm at least. 110.5 puts it at 49.25 and clashes; 113 at 50.5 clears. */
static void the_stay_keeps_the_ring_out(void **state) {
    (void)state;
    struct plan_arrangements all;
    make_bike();
    give(&bike.frame, TRADE_FRAME_STAY_60_MM, 46);
    give(&bike.frame, TRADE_FRAME_STAY_70_MM, 46);
    give(&bike.frame, TRADE_FRAME_STAY_80_MM, 46);
    solve(&all, NULL);
    const struct plan_arrangement *spindle = find(&all, 1u << PLAN_BY_SPINDLE);
    assert_non_null(spindle);
    assert_near(spindle->changes[0].value_mm, 113, 1e-9);
    assert_near(spindle->error_mm, 0.5, 1e-9);
    assert_null(find(&all, 1u << PLAN_BY_PLACE));
}

/* A direct-mount ring at 52 mm with 3 mm of offset where 48 to 50 is wanted: the offsets that occur are 6, 3 and 0; 6 puts
 * the teeth 3 mm further in. */
static void an_offset_that_occurs(void **state) {
    (void)state;
    struct plan_arrangements all;
    make_bike();
    struct trade_part *crank = made_in(&bike, TRADE_SLOT_CRANK), *ring = made_in(&bike, TRADE_SLOT_OUTER_RING);
    give_words(crank, TRADE_CRANK_PLACES, 1u << TRADE_PLACE_OUTER);
    give_word(crank, TRADE_CRANK_MOUNT, TRADE_RING_MOUNT_DIRECT_3_BOLT);
    give_word(ring, TRADE_RING_MOUNT, TRADE_RING_MOUNT_DIRECT_3_BOLT);
    give(ring, TRADE_RING_OFFSET_MM, 3);
    give(crank, TRADE_CRANK_OUTER_PLANE_MM, 52);
    solve(&all, NULL);
    assert_near(all.now.error_mm, 2, 1e-9);
    const struct plan_arrangement *offset = find(&all, 1u << PLAN_BY_OFFSET);
    assert_non_null(offset);
    assert_near(offset->changes[0].value_mm, 6, 1e-9);
    assert_near(offset->by_mm, -3, 1e-9);
    assert_near(offset->error_mm, 0, 1e-9);
}

static void inside_the_window_nothing_is_nearer(void **state) {
    (void)state;
    struct plan_arrangements all;
    make_bike();
    give(made_in(&bike, TRADE_SLOT_CRANK), TRADE_CRANK_OUTER_PLANE_MM, 49);
    solve(&all, NULL);
    assert_int_equal(all.n, 0);
    trade_set(made_in(&bike, TRADE_SLOT_CRANK), TRADE_CRANK_OUTER_PLANE_MM, trade_open());
    solve(&all, NULL);
    assert_int_equal(all.n, 0);
}

/* Sprockets at 50, 45, 40, 35: 15.2 mm of stack whose outer face lies 50.9 out (hub 142 wide, no recess: 71 - gap). */
static void make_rear(void) {
    struct trade_part *cassette = made_in(&bike, TRADE_SLOT_CASSETTE);
    give(&bike.frame, TRADE_FRAME_HUB_WIDTH_MM, 142);
    give(&bike.frame, TRADE_FRAME_RECESS_MM, 0);
    give(&bike.frame, TRADE_FRAME_GAP_MM, 20.1);
    give(&bike.frame, TRADE_FRAME_REAR_OFFSET_MM, 0);
    give_sprockets(cassette, 4, 11, 32);
    give(cassette, TRADE_CASSETTE_PITCH_MM, 5);
    give(cassette, TRADE_CASSETTE_SPROCKET_MM, 1.8);
    give(cassette, TRADE_CASSETTE_STACK_MM, 16.8);
    give(cassette, TRADE_CASSETTE_OVERHANG_MM, 0);
    made_in(&bike, TRADE_SLOT_REAR_WHEEL);
    leave_empty(TRADE_SLOT_CASSETTE_SPACER);
}

/* All gears alike, the ring at 53 stands (3 + 8 + 13 + 18) / 4 = 10.5 mm from the sprockets on average. If the largest one at
 * 35 is used all the time, only that distance counts: 18, and the arrangement furthest in is the best, window or not: of the
 * spindles 103 (7.5 in), 45.5 and 10.5 left over; from the middle place 38.7 and 3.7. */
static void gears_count_by_their_use(void **state) {
    (void)state;
    struct plan_arrangements all;
    const double weights[4] = {0, 0, 0, 1};
    make_bike();
    make_rear();
    solve(&all, NULL);
    assert_near(all.crooked_mm, 10.5, 1e-9);
    const struct plan_arrange_question question = {&bike, &cases, NULL, NULL, weights};
    assert_int_equal(plan_arrange(&all, &question, &made), BASE_OK);
    assert_near(all.crooked_mm, 18, 1e-9);
    assert_near(all.best[0].crooked_mm, 3.7, 1e-9);
    assert_int_equal(means_of(&all.best[0]), 1u << PLAN_BY_SPINDLE | 1u << PLAN_BY_PLACE);
}

/* --- every combination, one by one --------------------------------------------------------------------------------- */

enum { CRANKS = 2, BRACKETS = 3, RINGS = 3, WASHERS = 2, CUPS = 2 };

static struct trade_part cranks[CRANKS], brackets[BRACKETS], rings[RINGS], spacers[WASHERS + CUPS];

static const char *const ids[] = {"a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "l"};

static void name(struct trade_part *part, int *n, struct random_source *random) {
    part->id = ids[(*n)++];
    part->price_minor = random_int(random, 1, 9) * 100;
}

static double quarter(struct random_source *random, int low, int high) {
    return random_int(random, low * 4, high * 4) / 4.0;
}

static void make_shop(struct random_source *random) {
    int n = 0;
    for (int i = 0; i < CRANKS; i++) {
        cranks[i] = made_part(TRADE_KIND_CRANK);
        name(&cranks[i], &n, random);
        memcpy(cranks[i].values, bike.fitted[TRADE_SLOT_CRANK].part.values,
               trade_kind_rows[TRADE_KIND_CRANK].n * sizeof *cranks[i].values);
        give(&cranks[i], TRADE_CRANK_SPINDLE_MM, 113);
        give(&cranks[i], TRADE_CRANK_ARM_MM, random_int(random, 0, 1) ? 175 : 172.5);
        give(&cranks[i], TRADE_CRANK_OUTER_PLANE_MM, quarter(random, 46, 56));
        give(&cranks[i], TRADE_CRANK_MIDDLE_PLANE_MM, quarter(random, 42, 50));
    }
    for (int i = 0; i < BRACKETS; i++) {
        brackets[i] = made_part(TRADE_KIND_BOTTOM_BRACKET);
        name(&brackets[i], &n, random);
        give_bracket(&brackets[i], 103 + quarter(random, 0, 24), random_int(random, 0, 2));
    }
    for (int i = 0; i < RINGS; i++) {
        rings[i] = made_part(TRADE_KIND_RING);
        name(&rings[i], &n, random);
        give_ring(&rings[i], TRADE_RING_MOUNT_FOUR_ARM_104);
        give(&rings[i], TRADE_RING_OFFSET_MM, random_int(random, -2, 2));
        give(&rings[i], TRADE_RING_TEETH, random_int(random, 0, 3) ? 32 : 34);
        give_word(&rings[i], TRADE_RING_TAKES_WASHERS, random_int(random, 0, 1) ? TRADE_YES_NO_YES : TRADE_YES_NO_NO);
    }
    for (int i = 0; i < WASHERS + CUPS; i++) {
        spacers[i] = made_part(TRADE_KIND_SPACER);
        name(&spacers[i], &n, random);
        give_word(&spacers[i], TRADE_SPACER_PLACE,
                  i < WASHERS ? TRADE_SPACER_PLACE_RING_BOLTS : TRADE_SPACER_PLACE_CUPS);
        give(&spacers[i], TRADE_SPACER_THICKNESS_MM, i < WASHERS ? random_int(random, 1, 4) * 0.5 : 2.5);
    }
    shop.parts[TRADE_KIND_CRANK] = cranks;
    shop.n[TRADE_KIND_CRANK] = CRANKS;
    shop.parts[TRADE_KIND_BOTTOM_BRACKET] = brackets;
    shop.n[TRADE_KIND_BOTTOM_BRACKET] = BRACKETS;
    shop.parts[TRADE_KIND_RING] = rings;
    shop.n[TRADE_KIND_RING] = RINGS;
    shop.parts[TRADE_KIND_SPACER] = spacers;
    shop.n[TRADE_KIND_SPACER] = WASHERS + CUPS;
}

static struct fit_choice chosen(const struct trade_part *list, int i) {
    return i == 0 ? (struct fit_choice){FIT_NONE, NULL} : (struct fit_choice){FIT_NEW, &list[i - 1]};
}

static struct fit_choice kept_or(enum trade_slot slot, const struct trade_part *list, int i) {
    return i == 0 ? (struct fit_choice){FIT_KEEP, &bike.fitted[slot].part} : (struct fit_choice){FIT_NEW, &list[i - 1]};
}

/* What a combination comes to, in the order of the header: drawback, |error| in 0.001 mm, parts, cost. */
struct worth {
    long long drawback, error, parts, cost;
    uint32_t slots;
};

static struct fit_build now_build;

/* Is the operation done when these slots change? Spacers under the cups are placed where some go there, or lie there while
 * the bracket changes; all that comes with a new bracket is the bracket's own work (common practice). */
static bool called_for(unsigned o, uint32_t changed) {
    if (o == TRADE_OPERATION_CUP_SPACERS) {
        return (changed >> TRADE_SLOT_CUP_SPACERS & 1) ||
               ((changed >> TRADE_SLOT_BOTTOM_BRACKET & 1) && bike.fitted[TRADE_SLOT_CUP_SPACERS].state == TRADE_THERE);
    }
    return (trade_operation_rows[o].slots & changed) != 0;
}

/* False when any rule says no. */
static bool worth_of(struct worth *out, const struct fit_build *build) {
    static struct fit_finding findings[128];
    size_t n = 0;
    struct plan_line line;
    fit_judge_build(findings, &n, &bike, build, &cases, false);
    *out = (struct worth){0};
    for (size_t i = 0; i < n; i++) {
        if (fit_no_case(&findings[i].cases)) {
            return false;
        }
        static struct fit_finding stands;
        fit_judge_rule(&stands, findings[i].rule, &bike, &now_build, &cases, true);
        out->drawback |= (findings[i].drawbacks & ~stands.drawbacks) != 0; /* not what the bike has anyway */
    }
    plan_line_of(&line, &bike, build);
    out->error = llround(fabs(line.error_mm) * 1000);
    uint32_t changed = fit_changed(build, &bike);
    out->drawback |= changed >> TRADE_SLOT_CUP_SPACERS & 1;
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        if (build->at[slot].kind == FIT_NEW) {
            out->parts++;
            out->slots |= 1u << slot;
            out->cost += build->at[slot].part->price_minor;
        }
    }
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        out->cost += called_for(o, changed) ? money.labour_minor[o] : 0;
    }
    return true;
}

static long long compare(const struct worth *a, const struct worth *b) {
    return a->drawback != b->drawback ? a->drawback - b->drawback
           : a->error != b->error     ? a->error - b->error
           : a->parts != b->parts     ? a->parts - b->parts
                                      : a->cost - b->cost;
}

static struct worth tried[1 << TRADE_SLOT_CHAIN];
static bool seen[1 << TRADE_SLOT_CHAIN];

static void try_build(const struct fit_build *build, long long now) {
    struct worth w;
    if (!worth_of(&w, build) || w.error >= now) {
        return;
    }
    if (!seen[w.slots] || compare(&w, &tried[w.slots]) < 0) {
        tried[w.slots] = w;
        seen[w.slots] = true;
    }
}

/* place 0 outer, 1 middle, 2 inner; ring 0 is the bike's own. */
static void try_rings(struct fit_build *build, long long now) {
    for (int place = 0; place < 3; place++) {
        for (int ring = 0; ring <= RINGS; ring++) {
            for (int i = 0; i < 3; i++) {
                build->at[TRADE_SLOT_OUTER_RING + i] = (struct fit_choice){FIT_NONE, NULL};
            }
            struct fit_choice choice = kept_or(TRADE_SLOT_OUTER_RING, rings, ring);
            if (ring > 0 && trade_get_number(choice.part, TRADE_RING_TEETH) > 33) {
                continue;
            }
            choice.kind = ring == 0 && place == 0 ? FIT_KEEP : FIT_NEW;
            build->at[TRADE_SLOT_OUTER_RING + place] = choice;
            for (int washer = 0; washer <= WASHERS; washer++) {
                for (int cup = 0; cup <= CUPS; cup++) {
                    build->at[TRADE_SLOT_RING_WASHERS] = chosen(spacers, washer);
                    build->at[TRADE_SLOT_CUP_SPACERS] = chosen(spacers + WASHERS, cup);
                    try_build(build, now);
                }
            }
        }
    }
}

static void assert_same(const struct plan_arrangements *all, const struct worth *w, size_t at) {
    const struct plan_arrangement *a = &all->best[at];
    assert_int_equal(a->drawback, w->drawback);
    assert_int_equal(llround(fabs(a->error_mm) * 1000), w->error);
    assert_int_equal(a->n_changes, w->parts);
    assert_true(a->priced);
    assert_int_equal(a->cost_minor, w->cost);
}

/* Takes the best of what was tried, one by one, leaving out what changes all the slots of a better one and more. */
static void compare_with_tried(const struct plan_arrangements *all) {
    uint32_t before[1 << TRADE_SLOT_CHAIN];
    size_t n = 0, shown = 0;
    for (;;) {
        const struct worth *best = NULL;
        size_t ties = 0;
        for (size_t i = 0; i < sizeof seen / sizeof seen[0]; i++) {
            long long order = !seen[i] ? 1 : !best ? -1 : compare(&tried[i], best);
            ties = order < 0 ? 0 : ties + (seen[i] && order == 0);
            best = order < 0 ? &tried[i] : best;
        }
        if (!best || ties > 0 || shown == PLAN_ARRANGEMENTS_MAX) { /* ties go on by ids, which this does not know */
            break;
        }
        bool needless = false;
        for (size_t k = 0; k < n; k++) {
            needless = needless || !(before[k] & ~best->slots);
        }
        if (!needless) {
            assert_true(shown < all->n);
            assert_same(all, best, shown++);
        }
        before[n++] = best->slots;
        seen[best->slots] = false;
    }
}

static void the_search_equals_trying_everything(void **state) {
    (void)state;
    size_t with = 0, without_drawback = 0;
    for (uint64_t seed = 1; seed <= 30; seed++) {
        struct random_source random = {seed};
        struct plan_arrangements all;
        make_bike();
        give(made_in(&bike, TRADE_SLOT_CRANK), TRADE_CRANK_OUTER_PLANE_MM, quarter(&random, 44, 56));
        give(made_in(&bike, TRADE_SLOT_CRANK), TRADE_CRANK_MIDDLE_PLANE_MM, quarter(&random, 38, 44));
        for (unsigned i = 0; i < 3; i++) {
            give(&bike.frame, TRADE_FRAME_STAY_60_MM + i, 40 + random_int(&random, 0, 5));
        }
        make_shop(&random);
        solve(&all, &shop);
        memset(seen, 0, sizeof seen);
        struct fit_build build;
        fit_build_now(&build, &bike);
        now_build = build;
        for (int crank = 0; crank <= CRANKS; crank++) {
            for (int bracket = 0; bracket <= BRACKETS; bracket++) {
                build.at[TRADE_SLOT_CRANK] = kept_or(TRADE_SLOT_CRANK, cranks, crank);
                build.at[TRADE_SLOT_BOTTOM_BRACKET] = kept_or(TRADE_SLOT_BOTTOM_BRACKET, brackets, bracket);
                try_rings(&build, llround(fabs(all.now.error_mm) * 1000));
            }
        }
        compare_with_tried(&all);
        with += all.n > 0;
        without_drawback += all.n > 0 && !all.best[0].drawback;
    }
    assert_true(with > 15 && without_drawback > 10); /* the shops were worth trying */
}

/* --- tolerances ---------------------------------------------------------------------------------------------------- */

static const struct plan_tolerance *value_of(const struct plan_tolerances *t, unsigned subject, unsigned property) {
    for (size_t i = 0; i < t->n; i++) {
        if (t->at[i].subject == subject && t->at[i].property == property) {
            return &t->at[i];
        }
    }
    return NULL;
}

/* By hand. Front: the plane alone, good to 1 mm; the spindle that stays cancels. Rear: half the hub's width (0.5 mm: 0.25),
 * recess, gap and rear offset (0.5 each), half the stack (0.5: the shoulder holds the whole of it, the middle half of it
 * back: 0.25). At worst 0.25 + 3 x 0.5 + 0.25 = 2.0; likely sqrt(2 x 0.0625 + 3 x 0.25) = 0.935. The overhang cancels. */
static void each_value_adds_its_share(void **state) {
    (void)state;
    struct plan_tolerances t;
    struct plan_line line;
    struct fit_build now;
    make_bike();
    make_rear();
    give(made_in(&bike, TRADE_SLOT_CRANK), TRADE_CRANK_OUTER_PLANE_MM, 49.3);
    trade_set(made_in(&bike, TRADE_SLOT_OUTER_RING), TRADE_RING_OFFSET_MM, trade_number(0, BASE_TABLE));
    fit_build_now(&now, &bike);
    plan_line_of(&line, &bike, &now);
    plan_tolerances_of(&t, &bike, &line);
    const struct plan_tolerance *plane = value_of(&t, TRADE_SLOT_CRANK, TRADE_CRANK_OUTER_PLANE_MM);
    assert_non_null(plane);
    assert_near(plane->front, 1, 1e-9);
    assert_near(plane->rear, 0, 1e-9);
    assert_true(plane->flips); /* 49.3 + 1 is outside 48 to 50 */
    assert_near(t.front_worst_mm, 1, 1e-9);
    assert_near(t.front_likely_mm, 1, 1e-9);
    assert_near(t.rear_worst_mm, 2, 1e-9);
    assert_near(t.rear_likely_mm, sqrt(2 * 0.0625 + 3 * 0.25), 1e-9);
    assert_near(t.worst_mm, 1, 1e-9);
    assert_true(t.flips_at_worst);
    assert_null(value_of(&t, TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE_MM));
    assert_near(value_of(&t, FIT_FRAME, TRADE_FRAME_HUB_WIDTH_MM)->rear, 0.5, 1e-9);
    assert_false(value_of(&t, FIT_FRAME, TRADE_FRAME_HUB_WIDTH_MM)->flips);
}

/* The window from the rear line: 3 mm assumed of a gap that occurs from 2 to 5 may be 2 mm off. */
static void an_assumed_gap_is_as_wide_as_what_occurs(void **state) {
    (void)state;
    struct plan_tolerances t;
    struct plan_line line;
    struct fit_build now;
    make_bike();
    make_rear();
    trade_set(&bike.frame, TRADE_FRAME_GAP_MM, trade_number(3, BASE_ASSUMED));
    fit_build_now(&now, &bike);
    plan_line_of(&line, &bike, &now);
    plan_tolerances_of(&t, &bike, &line);
    const struct plan_tolerance *gap = value_of(&t, FIT_FRAME, TRADE_FRAME_GAP_MM);
    assert_non_null(gap);
    assert_near(gap->band_mm, 2, 1e-9);
    assert_near(gap->rear, -1, 1e-9);
}

/* Window 48 to 50. On the edges themselves the line is inside. */
static void when_the_verdict_turns(void **state) {
    (void)state;
    struct plan_line line = {.low_mm = 48, .high_mm = 50, .front.mm = 49, .error_mm = 0};
    assert_false(plan_line_flips(&line, 1));
    assert_true(plan_line_flips(&line, 1.01));
    line.front.mm = 51;
    line.error_mm = 1;
    assert_false(plan_line_flips(&line, 0.99));
    assert_true(plan_line_flips(&line, 1));
    assert_true(plan_line_flips(&line, 4)); /* it may lie anywhere between 47 and 55 */
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(the_spindle_is_found_first, setup, teardown),
        cmocka_unit_test_setup_teardown(spacers_under_the_cups_are_never_first, setup, teardown),
        cmocka_unit_test_setup_teardown(washers_where_the_place_and_the_ring_allow, setup, teardown),
        cmocka_unit_test_setup_teardown(the_stay_keeps_the_ring_out, setup, teardown),
        cmocka_unit_test_setup_teardown(an_offset_that_occurs, setup, teardown),
        cmocka_unit_test_setup_teardown(inside_the_window_nothing_is_nearer, setup, teardown),
        cmocka_unit_test_setup_teardown(gears_count_by_their_use, setup, teardown),
        cmocka_unit_test_setup_teardown(the_search_equals_trying_everything, setup, teardown),
        cmocka_unit_test_setup_teardown(each_value_adds_its_share, setup, teardown),
        cmocka_unit_test_setup_teardown(an_assumed_gap_is_as_wide_as_what_occurs, setup, teardown),
        cmocka_unit_test(when_the_verdict_turns),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
