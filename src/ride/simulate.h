/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A ride over a route, forward, with inertia: how fast, in which gear, and where the energy goes.
 *
 * One idea: cell by cell the energy is balanced. What the rider gives at the wheel, less what air, rolling, bearings and
 * the slope take over the cell's length, is the change of kinetic energy. What they take is reckoned at the speed whose
 * energy lies half way between both ends (implicit midpoint along the way); that speed is the one unknown, and there is
 * exactly one. On slopes so steep that the speed settles within a cell it is the speed at the end (implicit Euler). So the
 * balance closes by construction, and each term is added up by itself.
 *
 * How it is ridden. The rider begins rolling, at the speed that the power holds, and gives that power wherever the bicycle
 * is slower than coast_mps and no gear would be turned faster than spin_rpm; there they ease off, and coast where the
 * hill alone goes faster. Downhill they brake to brake_mps: straight roads, no corners, no traffic, no wind. Where the
 * cadence in the lowest gear has fallen under least_rpm and the power can't hold it, they get off and push at walk_mps,
 * until the slope lets them ride in that gear again.
 *
 * Sources: the terms of load.h; energy balance. The habits are judgements, and the caller's to show.
 */
#ifndef RIDE_SIMULATE_H
#define RIDE_SIMULATE_H

#include "base/arena.h"
#include "ride/load.h"
#include "ride/profile.h"
#include "ride/shifting.h"

struct ride_habits {
    double power_w;               /* at the cranks: 10..1000 */
    struct ride_band flat, climb; /* the cadence that is liked; climb from climb_gradient on */
    double least_rpm;             /* below it nobody turns the cranks */
    double spin_rpm;              /* above it nobody pedals on; at least the bands' upper ends */
    double efficiency;            /* of the drive where there are no gears, above 0, up to 1 */
    double climb_gradient;
    double coast_mps, brake_mps; /* coast_mps <= brake_mps */
    double walk_mps;
};

/* The usual ones, but for what the rider says: power, bands, least cadence. spin_rpm is 15 above the bands and 115 at
 * least; the rider coasts from 45 km/h, brakes at 60, walks at 3.6 and climbs from 3 %. Judgement, no source. The rider's
 * power and bands must not be open. */
struct ride_habits ride_habits_of(const struct ride_rider *rider);

enum ride_mode {
    RIDE_MODE_IN_BAND,  /* pedalled within the band, or with a gear at hand that is */
    RIDE_MODE_BELOW,    /* pedalled slower than the band, and no gear brings the cadence into it */
    RIDE_MODE_ABOVE,    /* pedalled faster than the band, likewise */
    RIDE_MODE_COASTING, /* not pedalled; braked too */
    RIDE_MODE_WALKED,
    RIDE_MODES
};

/* How one cell was ridden. */
struct ride_moment {
    float speed_mps; /* over the cell */
    float time_s;
    float rpm;    /* 0 unless pedalled in a gear */
    uint8_t gear; /* in use over the cell, from 0 */
    uint8_t mode; /* enum ride_mode */
};

/* J; rider = air + rolling + bearings + gravity + kinetic + drive + brakes. */
struct ride_energy {
    double rider;
    double air, rolling, bearings;
    double gravity; /* what is gained in height; below 0 for a route that ends lower */
    double kinetic; /* end less start */
    double drive;   /* lost in chain and derailleur */
    double brakes;
};

struct ride_run {
    double distance_m, time_s; /* along the road, uphill and down */
    double mode_s[RIDE_MODES], mode_m[RIDE_MODES];
    struct ride_energy energy;
    size_t rear_shifts, front_shifts; /* sprockets and rings that were moved */
    double widest_step;               /* largest ratio of two gears shifted between; 1 where nothing was */
    double *gear_s, *gear_m;          /* of each gear, pedalled; owned by the arena, NULL without gears */
    double *gear_climb_m;             /* of this, uphill from climb_gradient on */
    double fastest_mps;
    double slowest_rpm;          /* of all cells that were pedalled; 0 without gears */
    struct ride_moment *moments; /* of each cell; owned by the arena */
};

/* Rides these cells. gearing.n 0: no gears, the drive has habits->efficiency, nothing is walked, below or above. At most
 * 255 gears. BASE_NO_MEMORY; BASE_BAD_INPUT: no cells, or a figure that ride_load_speed_mps would not take. out is
 * untouched then. */
enum base_status ride_simulate(struct ride_run *out, struct base_arena *arena, const struct ride_machine *machine,
                               const struct ride_habits *habits, struct ride_gearing gearing,
                               const struct ride_cell *cells, size_t n) BASE_CHECKED;

/* The band that is liked on this gradient. */
const struct ride_band *ride_habits_band(const struct ride_habits *habits, double gradient);

#endif
