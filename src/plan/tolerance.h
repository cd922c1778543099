/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How far a computed chain line can be trusted: what each value behind it adds, and whether the verdict stands.
 *
 * One idea: the line is a sum of lengths, so that a millimetre more of one value moves it by a fixed factor. The factor is
 * found by computing the sums again with that value a millimetre larger, and so needs no second copy of the formula. A
 * value's band is how far off it may be, either way: what such a reading is good to, half of what nominal widths differ
 * by, or, where it was assumed, the distance to the furthest of the values that occur. The sum of factor x band is the worst
 * case; the root of the sum of squares is what is likely where the readings err on their own (common practice in fits
 * and tolerances).
 */
#ifndef PLAN_TOLERANCE_H
#define PLAN_TOLERANCE_H

#include "plan/line.h"

#define PLAN_TOLERANCES_MAX 16

struct plan_tolerance {
    uint8_t subject; /* FIT_FRAME, or a slot of the bike */
    uint16_t property;
    enum base_known known;
    double band_mm; /* either way, above 0 */
    double front;   /* mm of the front line for a mm of it */
    double rear;    /* mm of the rear line */
    bool flips;     /* off by its band alone, it turns the verdict round: inside the window or not */
};

struct plan_tolerances {
    struct plan_tolerance at[PLAN_TOLERANCES_MAX]; /* largest share in the verdict first */
    size_t n;
    double front_worst_mm, front_likely_mm; /* either way; NAN when the front line is open */
    double rear_worst_mm, rear_likely_mm;   /* NAN when the rear line is open */
    /* Of what the verdict compares: the front line, or where the window hangs on the rear line, their difference. */
    double worst_mm, likely_mm;
    bool flips_at_worst, flips_when_likely; /* does the verdict turn round within these? */
};

/* Of the chain line of the bike as it stands; line: the same line. All NAN and no flips when the verdict is open. */
void plan_tolerances_of(struct plan_tolerances *out, const struct trade_bike *bike, const struct plan_line *line);

/* Does a line that is off by so much either way stay inside its window, or outside, as it is? */
bool plan_line_flips(const struct plan_line *line, double by_mm);

#endif
