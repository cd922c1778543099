/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the tests of rides share: a rider, roads of cells, a bicycle's gears.
 */
#ifndef TESTS_RIDE_ROAD_H
#define TESTS_RIDE_ROAD_H

#include "ride/simulate.h"
#include "support/random.h"

#define ROAD_CELLS 4000

/* m 85 kg, CdA 0.32 m2, Crr 0.005, rho 1.225: the rider of tests/reference/load_speed.csv. */
extern const struct ride_machine road_machine;

/* 200 W, 70 to 95 rpm, down to 40, drive 0.976; coasts from 45 km/h, brakes at 60. */
extern const struct ride_habits road_habits;

/* Rolling country: gradients that wander between -15 and 15 %, in cells of 10 m; at most ROAD_CELLS. */
void road_roll(struct ride_cell *out, size_t n, struct random_source *random);

/* The same road in twice as many cells. */
void road_halve(struct ride_cell *out, const struct ride_cell *cells, size_t n);

#define ROAD_GEARS 22
/* 46/30 rings with eleven sprockets 11 to 34, 2.1 m a turn; out has room for ROAD_GEARS. */
struct ride_gearing road_gears(struct ride_choice *out);

#endif
