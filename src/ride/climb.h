/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A hill of one gradient, climbed at one power: how fast, and what each gear makes of it.
 *
 * One idea: the power that arrives at the wheel sets the speed, the gear turns the speed into a cadence, and what the drive
 * loses hangs on the gear and on the cadence in its turn. So every gear has a speed of its own, which differs from gear to
 * gear by what the chain loses. A rider is taken to choose the gear that comes nearest to the middle of the band.
 */
#ifndef RIDE_CLIMB_H
#define RIDE_CLIMB_H

#include "mech/drive.h"
#include "ride/load.h"
#include "ride/rider.h"

#include <stddef.h>

/* What drives the wheel. */
struct ride_drive {
    double efficiency; /* a fixed share, 0.5..1; NAN: by the losses of the chain */
    struct mech_drive chain;
};

/* A gear as the bicycle has it. */
struct ride_gear {
    int ring, sprocket;   /* teeth */
    double development_m; /* 0.1..30 */
    double angle_deg;     /* of the chain; NAN: not known, taken as straight */
};

enum ride_state {
    RIDE_BELOW,   /* under the band: a gear too high */
    RIDE_IN_BAND, /* ends included */
    RIDE_ABOVE    /* over the band: a gear too low */
};

/* What a gear makes of a hill. */
struct ride_in_gear {
    double efficiency; /* of the drive */
    double speed_mps;
    double cadence_rpm;
    struct mech_drive_loss loss; /* shares of the power; all 0 where the efficiency is fixed */
    enum ride_state state;
};

/* Steady speed and cadence in one gear at a power at the cranks, W (1..2000). BASE_BAD_INPUT as ride_load_speed_mps. */
enum base_status ride_climb_in_gear(struct ride_in_gear *out, const struct ride_machine *machine,
                                    const struct ride_road *road, double power_w, const struct ride_drive *drive,
                                    const struct ride_gear *gear, const struct ride_band *band) BASE_CHECKED;

/* The other way round: the gradient on which a gear turns just this cadence (above 0) at a power at the cranks. At that
 * cadence speed and losses are known, so what air and bearings leave of the force lifts and rolls:
 * m g (sin a + Crr cos a) = F. Source: the terms of load.h, solved for the angle. BASE_NO: steeper than upright, up or down.
 * out is untouched then. */
enum base_status ride_climb_gradient(double *out, const struct ride_machine *machine, double power_w,
                                     const struct ride_drive *drive, const struct ride_gear *gear,
                                     double cadence_rpm) BASE_CHECKED;

/* Which of n gears (1 and more) a rider takes: one in the band before one that is not, of those in the band the one
 * nearest to its middle, else the one nearest to the band, both as ratio, so that half and double are as far. What is
 * within a twentieth of the middle, or as near, is equal: then the one that loses less, then the first. */
size_t ride_climb_choose(const struct ride_in_gear *gears, size_t n, const struct ride_band *band);

/* The gear, as metres for a turn of the cranks, that turns a cadence (above 0) at a speed; and back. By definition. */
double ride_climb_development_m(double speed_mps, double cadence_rpm);
double ride_climb_cadence_rpm(double speed_mps, double development_m);

/* The power at the cranks, W, of someone who rode a climb of a length along the road in a time, both above 0, at a steady
 * speed and a drive efficiency of 0.5..1. The inverse of the speed; 0 where the hill does the work. */
double ride_climb_power_w(const struct ride_machine *machine, double gradient, double length_m, double time_s,
                          double efficiency);

#endif
