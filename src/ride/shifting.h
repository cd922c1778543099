/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Which gear a rider takes, and when they shift.
 *
 * One idea: a gear is kept as long as the cadence stays in the rider's band, so that the band itself keeps them from
 * shifting to and fro. Outside it for RIDE_BLIP_S, or far outside it, they look for the sprocket on this ring that brings
 * the cadence nearest the middle of the band; only when the ring has none within the band do they change rings. Where no
 * gear at all is within it they take the one that comes nearest, and change rings for that only when it gains 5 %.
 *
 * A judgement of how people ride, not a measurement.
 */
#ifndef RIDE_SHIFTING_H
#define RIDE_SHIFTING_H

#include "ride/rider.h"

#include <stdbool.h>
#include <stddef.h>

#define RIDE_BLIP_S 2.0

struct ride_choice {
    double development_m; /* above 0 */
    double efficiency;    /* of the drive in this gear, above 0, up to 1 */
    unsigned ring;        /* which, from 0 */
    unsigned sprocket;    /* which, from 0 */
};

/* All gears of a bicycle in rising development; borrowed. */
struct ride_gearing {
    const struct ride_choice *gears;
    size_t n; /* at least 1 */
};

struct ride_shifter {
    struct ride_gearing gearing;
    size_t gear;      /* in use */
    double outside_s; /* how long the cadence has been outside the band */
    size_t rear;      /* sprockets moved so far */
    size_t front;     /* rings moved so far */
    double widest;    /* largest ratio of two gears that were shifted between, at least 1 */
};

/* Cadence in a gear, turns of the cranks a minute. By definition. */
double ride_gear_rpm(const struct ride_choice *gear, double speed_mps);

/* A rider in the gear that suits this speed best. */
void ride_shifter_init(struct ride_shifter *out, struct ride_gearing gearing, const struct ride_band *band,
                       double speed_mps);

/* The rider has pedalled at this speed for so long, and shifts if it asks for it. */
void ride_shifter_pedal(struct ride_shifter *shifter, const struct ride_band *band, double speed_mps,
                        double duration_s);

/* Whether some gear has its cadence in the band at this speed. */
bool ride_gearing_serves(struct ride_gearing gearing, const struct ride_band *band, double speed_mps);

#endif
