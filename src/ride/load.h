/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Road load: what it takes to drive a bicycle, term by term, and how fast a power drives it.
 *
 * One idea: the power at the wheel is a sum of five terms, each with its own cause: air (body, bike and turning wheels,
 * with the wind), rolling, wheel bearings, gravity, and the kinetic energy of a change of speed, wheels included. The
 * rider gives more, by what the drive loses; while coasting or braking the drive carries nothing and loses nothing.
 *
 * Source of the terms: Martin, Milliken, Cobb, McFadden and Coggan, Validation of a mathematical model for road cycling
 * power, J Appl Biomech 14, 1998. SI units. The plain formulas ask for figures in the stated ranges; a speed is along the
 * road, forward, 0..60 m/s. Power at the wheel is positive where the rider must drive, negative where the hill does.
 */
#ifndef RIDE_LOAD_H
#define RIDE_LOAD_H

#include "base/status.h"

/* Standard gravity, m/s2 (ISO 80000-3). */
#define RIDE_GRAVITY_MPS2 9.80665

/* Both wheels of a bicycle: moment of inertia, kg m2, and the radius at which they roll, m. Source: Martin et al. 1998, as
 * remembered; a tenth more of either changes the kinetic term by less than 0.4 %. */
#define RIDE_WHEEL_INERTIA_KG_M2 0.14
#define RIDE_WHEEL_RADIUS_M 0.311

/* The bearings of both wheels: what they resist with at a standstill, N, and what each m/s adds, N s/m. Source: Martin et
 * al. 1998, 91 + 8.7 v in mN; derived there from 0.015 N m + 50 uN m rpm a wheel. */
#define RIDE_BEARINGS_N 0.091
#define RIDE_BEARINGS_N_S_M 0.0087

/* What is driven, through what, on what. */
struct ride_machine {
    double mass_kg;             /* rider, bicycle and load: 10..400 */
    double drag_area_m2;        /* drag coefficient x frontal area: 0..2 */
    double wheel_drag_area_m2;  /* what turning the wheels through the air adds: 0..0.1 */
    double crr;                 /* rolling resistance, of the force on the road: 0..0.3 */
    double air_density_kg_m3;   /* 0.3..2 */
    double bearings_n;          /* both wheels, at a standstill: 0..10 */
    double bearings_n_s_m;      /* and what each m/s adds: 0..1 */
    double wheel_inertia_kg_m2; /* both wheels: 0..1 */
    double wheel_radius_m;      /* 0.1..0.5 */
};

/* The road and the wind at a place. */
struct ride_road {
    double gradient;     /* rise over horizontal run, uphill positive: -1..1 */
    double headwind_mps; /* along the road, against the rider positive: -40..40 */
};

/* Power at the wheel, W, by its causes. At a steady speed the last one is 0. */
struct ride_load {
    double air_w;
    double rolling_w;
    double bearings_w;
    double gravity_w;
    double kinetic_w;
};

/* The part of a wind that blows along the road, m/s, against the rider positive. Degrees of the compass: from where it
 * blows, and where to the rider heads; any finite value. By definition. */
double ride_load_headwind_mps(double wind_mps, double from_deg, double heading_deg);

/* The terms at a steady speed: air 1/2 rho (CdA + Fw) va |va| v with va = v + headwind (a tail wind faster than the rider
 * pushes), rolling Crr m g cos a v, bearings (b0 + b1 v) v, gravity m g sin a v; kinetic 0. */
struct ride_load ride_load_steady(const struct ride_machine *machine, const struct ride_road *road, double speed_mps);

/* Their sum as a force at the wheel, N, against the rider positive: the steady power divided by the speed, and what it
 * tends to where the bicycle stands. */
double ride_load_force_n(const struct ride_machine *machine, const struct ride_road *road, double speed_mps);

/* The mass that a change of speed feels: m + I / r2, kg. */
double ride_load_inert_mass_kg(const struct ride_machine *machine);

/* Power of a change of speed from one to another in duration_s (above 0): 1/2 (m + I / r2) (v2^2 - v1^2) / t, W. */
double ride_load_kinetic_w(const struct ride_machine *machine, double from_mps, double to_mps, double duration_s);

/* All five together, W. */
double ride_load_total_w(const struct ride_load *load);

/* What the rider gives for a power at the wheel: divided by the drive's efficiency (above 0, up to 1) where the rider
 * drives, 0 where the hill or the brakes do: a negative power divided by an efficiency would make energy of nothing. */
double ride_load_rider_w(double wheel_w, double drive_efficiency);

/* The steady speed that a power at the wheel (0..5000 W) drives, m/s; unique, since all that resists grows with the speed.
 * With no power it is the speed of coasting downhill, or 0 where nothing pulls. BASE_BAD_INPUT: power or a figure of
 * machine or road out of its range or not finite, or a speed past 128 m/s, where next to nothing resists; out is untouched
 * then. */
enum base_status ride_load_speed_mps(double *out, const struct ride_machine *machine, const struct ride_road *road,
                                     double wheel_w) BASE_CHECKED;

#endif
