/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How many gearings do on one route, without riding it with each.
 *
 * One idea: how fast a rider is hangs on power and road, hardly on the gears. So the route is ridden once without gears,
 * the time that was pedalled is sorted by speed, and what a gearing makes of it is read off at the speeds where its
 * gears end: a few look-ups a gear. What this leaves out is what the full ride has: walking is slower than riding, a
 * rider who spins out eases off, and a blip is not shifted for.
 */
#ifndef RIDE_SCORE_H
#define RIDE_SCORE_H

#include "ride/simulate.h"

struct ride_speeds;

/* The speeds of a ride without gears over these cells, which it was made from. Freed by ride_speeds_free. BASE_NO_MEMORY. */
enum base_status ride_speeds_new(struct ride_speeds **out, const struct ride_run *run, const struct ride_habits *habits,
                                 const struct ride_cell *cells, size_t n) BASE_CHECKED;
void ride_speeds_free(struct ride_speeds *speeds);

/* Shares of the whole time, 0..1, which add up to 1; and a distance. */
struct ride_score {
    double in_band;
    double below;   /* slower than the band in the lowest gear */
    double above;   /* faster than the band in the highest gear */
    double between; /* no gear is in the band, though there are lower and higher ones */
    double coasting;
    double walked;   /* of what would be below: slower than the least cadence */
    double walked_m; /* how far that is, m along the road */
};

/* A gearing by its developments, m, rising, n at least 1. */
struct ride_score ride_score_of(const struct ride_speeds *speeds, const double *developments_m, size_t n);

/* Of the time that is not coasted, the share in the band, 0..1; 1 where all is coasted. */
double ride_score_in_band(const struct ride_score *score);

/* The speed that the rider keeps up for `share` of the time that they climb (0..1), m/s; 0 where nothing is climbed. */
double ride_speeds_climbing_mps(const struct ride_speeds *speeds, double share);

/* The speed that they are not past for `share` of the time that they pedal, m/s; 0 where nothing is pedalled. */
double ride_speeds_pedalled_mps(const struct ride_speeds *speeds, double share);

#endif
