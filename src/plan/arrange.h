/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The chain line, solved: which parts and places at the front bring it nearest to where the frame wants it.
 *
 * One idea: every means is a choice for a slot (another crank, another spindle, the ring in another place or with
 * another offset, washers under its bolts, spacers moved across under the cups), so that an arrangement is a build, its
 * line is the sum over slots that the rules use too, and the rules themselves say what clears and fits. All combinations
 * are searched; one that a rule forbids is left as soon as the rule has all that it reads. Nothing is approximated.
 *
 * With a catalogue the parts are what the shop sells. Without one they are the sizes that occur: spindle lengths (on a
 * spindle with the overhang of the one that is there), offsets of direct-mount rings, washers and spacers in their usual
 * steps. The gearing stays: a new ring has the teeth of the one that goes.
 */
#ifndef PLAN_ARRANGE_H
#define PLAN_ARRANGE_H

#include "base/arena.h"
#include "plan/line.h"
#include "trade/shop.h"

#define PLAN_ARRANGEMENTS_MAX 8
#define PLAN_CHANGES_MAX 7

/* In the order in which the changes of an arrangement are listed. */
enum plan_means {
    PLAN_BY_CRANK,
    PLAN_BY_SPINDLE,    /* value: spindle length, mm; NAN where the crank has its own spindle */
    PLAN_BY_PLACE,      /* the ring in another place; the place is the slot's */
    PLAN_BY_OFFSET,     /* another ring in its place; value: its offset towards the frame, mm */
    PLAN_BY_WASHERS,    /* value: thickness, mm; 0: they come off */
    PLAN_BY_CUP_SPACERS /* value: thickness on the drive side, mm; 0: they come off */
};

struct plan_change {
    enum plan_means means;
    enum trade_slot slot;
    const struct trade_part *part; /* NULL: what is there comes off. Its id is NULL when it is not from the catalogue */
    double value_mm;
};

struct plan_arrangement {
    struct fit_build build;
    struct plan_change changes[PLAN_CHANGES_MAX];
    size_t n_changes;
    double by_mm;      /* how far the front line moves, positive outwards */
    double error_mm;   /* as plan_line.error_mm, with it */
    double crooked_mm; /* mean over the gears of |ring's plane - sprocket's|, by weight; NAN when the rear is open */
    bool
        drawback; /* a rule says so that does not of the bike as it stands, or the spacers under the cups change and both arms go off centre */
    bool asks;    /* a rule waits for a measurement, */
    uint8_t ask_subject; /* this one */
    uint16_t ask_property;
    bool priced; /* false without a shop, and where a part is not from its catalogue */
    int64_t cost_minor;
};

struct plan_arrange_question {
    const struct trade_bike *bike;
    const struct fit_cases *cases;           /* of this bike */
    const struct trade_catalogue *catalogue; /* NULL: sizes that occur */
    const struct trade_shop *shop;           /* NULL: nothing is priced */
    const double
        *weights; /* how long each gear is used, >= 0, not all 0: rings from outer to inner, for each of them the
                              sprockets from the smallest; NULL: all alike */
};

struct plan_arrangements {
    struct plan_line now;
    double crooked_mm; /* as the bike stands */
    struct plan_arrangement best[PLAN_ARRANGEMENTS_MAX];
    size_t n;
    uint64_t reached; /* combinations that no rule forbids */
};

/*
 * The best arrangements that are nearer than the bike as it stands: without a drawback first; then least |error| to the
 * micrometre (with weights: least crooked_mm, then |error|); then fewest parts changed; then least cost, known before
 * unknown; then those that wait for nothing; then by ids and sizes, slot by slot. For each set of slots that change the
 * first in this order, and none that changes all the slots of an earlier one and more. None when the line is open. arena
 * owns the parts that are made for it, and must outlive out. BASE_NO_MEMORY.
 */
enum base_status plan_arrange(struct plan_arrangements *out, const struct plan_arrange_question *question,
                              struct base_arena *arena) BASE_CHECKED;

/* That order: below 0 when a comes first, above 0 when b does. */
int plan_arrangement_order(const struct plan_arrangement *a, const struct plan_arrangement *b, bool weighted);

#endif
