/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The steepest pitches of a route: stretches that a rider remembers.
 *
 * One idea: steep is what comes near the steepest that there is. A pitch is a stretch of RIDE_PITCH_LEAST_M and more on
 * which the gradient keeps above a share of the steepest cell's, and above 4 %; where it eases for less than that length
 * it is still one pitch. Judgement, no source.
 */
#ifndef RIDE_PITCH_H
#define RIDE_PITCH_H

#include "ride/simulate.h"

#define RIDE_PITCH_LEAST_M 50.0
#define RIDE_PITCHES_MAX 8

struct ride_pitch {
    size_t first, n; /* cells */
    double from_m;   /* along the road */
    double length_m;
    double gradient; /* mean: rise over the length seen from above */
};

/* The `most` (up to RIDE_PITCHES_MAX) steepest pitches of these cells, by mean gradient, in the order of the way; how many
 * there are. */
size_t ride_pitches_of(struct ride_pitch *out, size_t most, const struct ride_cell *cells, size_t n);

/* How a stretch was ridden. */
struct ride_stretch {
    double time_s;
    double rpm;    /* mean over the time that was pedalled; 0 where nothing was */
    double foot_m; /* walked */
};
struct ride_stretch ride_stretch_of(const struct ride_run *run, const struct ride_cell *cells, size_t first, size_t n);

#endif
