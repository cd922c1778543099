/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What shifts the rings: with one ring nothing does and both parts come off; with two or three the derailleur must span them.
 *
 * A left shifter that is one piece with its brake lever stays with the brake, idle. One that nobody has looked at is taken
 * to come off (lever-shifter says so).
 */
#include "fit/rings.h"
#include "fit/rules.h"

enum { OUTER, MIDDLE, INNER, DERAILLEUR, STEP, SHIFTER, SEAT, READS };
enum { SHIFTS, NOTHING_LEFT, IDLE, NOTHING_TO_SHIFT, SHIFTER_LEFT, WIDE, TOO_WIDE };

static bool in_lever(const struct fit_values *v, unsigned seat) {
    return fit_known(v, seat) && fit_word(v, seat) == TRADE_SEAT_IN_LEVER;
}

static struct fit_verdict judge_single(const struct fit_values *v) {
    if (fit_there(v, DERAILLEUR)) {
        return fit_say(FIT_CLASH, NOTHING_TO_SHIFT);
    }
    if (!fit_there(v, SHIFTER)) {
        return fit_say(FIT_FITS, NOTHING_LEFT);
    }
    return in_lever(v, SEAT) ? fit_say(FIT_FITS, IDLE) : fit_say(FIT_CLASH, SHIFTER_LEFT);
}

static struct fit_verdict judge_step(const struct fit_values *v, int step) {
    if (!fit_known(v, STEP) || step <= fit_count(v, STEP)) {
        return fit_say(FIT_FITS, SHIFTS);
    }
    bool tolerable = step <= fit_count(v, STEP) + (int)fit_limit(TRADE_LIMIT_FRONT_STEP_OVER_TEETH);
    struct fit_verdict out = fit_say(tolerable ? FIT_DRAWBACK : FIT_CLASH, tolerable ? WIDE : TOO_WIDE);
    fit_add_number(&out, step, 0, "T");
    fit_add_number(&out, fit_number(v, STEP), 0, "T");
    return out;
}

static struct fit_verdict judge(const struct fit_values *v) {
    struct fit_rings rings = fit_rings_of(v, OUTER);
    if (rings.n == 0) {
        return fit_silent();
    }
    if (rings.n == 1) {
        return judge_single(v);
    }
    bool both = fit_there(v, DERAILLEUR) && fit_there(v, SHIFTER); /* else front-parts says what is missing */
    return both ? judge_step(v, rings.largest - rings.smallest) : fit_silent();
}

const struct fit_rule fit_front_shifting = {
    .id = "front-shifting",
    .reads = {FIT_RING_TEETH(OUTER, MIDDLE, INNER, FIT_MAYBE),
              [DERAILLEUR] = FIT_READ(TRADE_SLOT_FRONT_DERAILLEUR, FIT_PRESENT, FIT_EMPTY_OK),
              [STEP] = FIT_READ(TRADE_SLOT_FRONT_DERAILLEUR, TRADE_FRONT_DERAILLEUR_STEP_TEETH, FIT_MAYBE),
              [SHIFTER] = FIT_READ(TRADE_SLOT_LEFT_SHIFTER, FIT_PRESENT, FIT_EMPTY_OK),
              [SEAT] = FIT_READ(TRADE_SLOT_LEFT_SHIFTER, TRADE_SHIFTER_SEAT, FIT_MAYBE)},
    .n_reads = READS,
    .reasons = {[SHIFTS] = "front-shifting.shifts",
                [NOTHING_LEFT] = "front-shifting.nothing-left",
                [IDLE] = "front-shifting.idle",
                [NOTHING_TO_SHIFT] = "front-shifting.nothing-to-shift",
                [SHIFTER_LEFT] = "front-shifting.shifter-left",
                [WIDE] = "front-shifting.wide",
                [TOO_WIDE] = "front-shifting.too-wide"},
    .judge = judge,
    .source = "common practice; differences of rings: Capacity of the rear derailleur, De Fietssite",
};
