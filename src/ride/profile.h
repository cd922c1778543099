/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How steep the way is: a row of cells, each with a length and one gradient.
 *
 * One idea: recorded heights are noisy, and a gradient is their derivative, so it is never taken between two points. The
 * heights are rid of spikes, filled where they are missing, and set out evenly along the way, about every 10 m; the
 * gradient of a cell is the slope of the straight line that fits the heights around it best. The line is 100 m long, or
 * longer where the heights are noisier, so that its slope is good to 1.5 points. The heights behind it follow from the
 * gradients: what a rider climbs is what they add up to.
 *
 * A straight slope comes out as it is, ends included; a hill is neither moved nor made steeper. Sources: order of the
 * work after Duran and Earleywine, SAE 2012-01-0743 (outliers, gaps, standstill, smoothing); standard error of a slope
 * by least squares, any textbook of statistics; the lengths are a judgement.
 */
#ifndef RIDE_PROFILE_H
#define RIDE_PROFILE_H

#include "base/arena.h"
#include "ride/route.h"

#define RIDE_CELL_M 10.0         /* about so long is a cell */
#define RIDE_SLOPE_LEAST_M 100.0 /* the line that is fitted */
#define RIDE_SLOPE_MOST_M 500.0
#define RIDE_GRADIENT_MOST 0.35   /* nothing is ridden that is steeper, up or down */
#define RIDE_REVERSAL_LEAST_M 3.0 /* the way up counts from reversals of so much */

struct ride_cell {
    double length_m; /* along the road, above 0 */
    double gradient; /* rise over the same seen from above, -RIDE_GRADIENT_MOST..RIDE_GRADIENT_MOST */
};

/* What a cell rises, m: length x sin atan gradient. By definition. */
double ride_cell_rise_m(const struct ride_cell *cell);

struct ride_profile {
    struct ride_cell *cells; /* owned by the arena */
    size_t n;
    double *heights_m; /* n + 1: where each cell begins, and the end of the last; across a break they go on as if there
                          were none */
    double length_m;   /* seen from above, as maps have it */
    double climb_m, descent_m; /* by reversals of reversal_m at least */
    double slope_m;            /* how long the fitted line is; 0 where gradients were stated */
    double reversal_m;
    double noise_m;   /* scatter of a height about its neighbours, estimated */
    size_t spikes;    /* heights that were left out */
    double bridged_m; /* length over which heights were missing, where they were for more than 100 m */
    double unknown_m; /* pieces without any height: left out */
    size_t clamped;   /* cells that came out steeper than anything that is ridden */
};

/* The profile of a route that was read to its end. BASE_NO: nothing is left that has a length and heights.
 * BASE_NO_MEMORY. out is untouched then. */
enum base_status ride_profile_of(struct ride_profile *out, struct base_arena *arena,
                                 const struct ride_route *route) BASE_CHECKED;

/* The profile of climbs that were stated: each cut into cells of RIDE_CELL_M at most, beginning at height 0; nothing to be
 * cleaned, every rise counts. n at least 1. BASE_NO_MEMORY. */
enum base_status ride_profile_of_climbs(struct ride_profile *out, struct base_arena *arena,
                                        const struct ride_cell *climbs, size_t n) BASE_CHECKED;

/* The way up in a row of n heights, and the way down: rises and falls between turning points, where a turn counts when
 * it goes back by reversal_m at least (0: each does). No unit is asked for but the same one. Common practice. */
void ride_climb_of(double *up, double *down, const double *heights_m, size_t n, double reversal_m);

/* Slope of the straight line that fits n heights at a spacing best (least squares): rise over length. n at least 2.
 * Source: any textbook of statistics. */
double ride_slope_of(const double *heights_m, size_t n, double spacing_m);

#endif
