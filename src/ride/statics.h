/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The steepest road that can be ridden at all, whatever the gear: where the front wheel lifts and where the rear one slips.
 *
 * One idea: on a steep road nearly all the drive force lifts the weight, so the balance of moments about the rear wheel's
 * contact gives the load on both wheels. A rider pushes in strokes: the peak of the force over its mean is 1 on a motor,
 * about 1.8 on pedals. Air and rolling are left out, which matters little where anything lifts; a rider who leans
 * forward moves the centre of mass and with it every answer.
 *
 * Gradients are rise over run, lengths in mm, of rider and bicycle together. Source: statics; checked against the benchmark
 * bicycle of Meijaard, Papadopoulos, Ruina and Schwab, Proc R Soc A, 2007.
 */
#ifndef RIDE_STATICS_H
#define RIDE_STATICS_H

#include "base/status.h"

/* Where the weight stands. */
struct ride_stance {
    double forward_mm;   /* centre of mass before the rear wheel's contact: above 0, below the wheelbase */
    double height_mm;    /* and above the ground: above 0 */
    double wheelbase_mm; /* 600..2000 */
};

/* The gradient at which the front wheel lifts: forward / (peak x height). The wheelbase falls out and may be NAN. peak
 * 1..5. BASE_BAD_INPUT: a figure out of range or not finite; out is untouched then, as below. */
enum base_status ride_statics_lift(double *out, const struct ride_stance *stance, double peak) BASE_CHECKED;

/* The gradient at which the rear tyre slips with that grip (friction, above 0, up to 2): grip (L - x) / (peak (L - grip
 * h)), as long as the front wheel stands: where this is more than ride_statics_lift says, the front lifts first. BASE_NO:
 * no gradient makes it slip, since L <= grip h and the weight comes to the rear wheel faster than the force grows. */
enum base_status ride_statics_slip(double *out, const struct ride_stance *stance, double grip,
                                   double peak) BASE_CHECKED;

/* Forces across the road on front and rear wheel and along it at the rear one, N, for a mass on a gradient of 0..1. Below 0
 * at the front: it has lifted. */
struct ride_contact {
    double front_n;
    double rear_n;
    double drive_n;
};
enum base_status ride_statics_contact(struct ride_contact *out, const struct ride_stance *stance, double mass_kg,
                                      double gradient, double peak) BASE_CHECKED;

/* Torque at the cranks, N m: power over their turning. power_w 0 and more, cadence_rpm above 0. By definition. */
double ride_statics_crank_torque_nm(double power_w, double cadence_rpm);

/* Mean force along the pedals' path, N, both legs together: torque over the crank's length, above 0. By definition. */
double ride_statics_pedal_force_n(double power_w, double cadence_rpm, double crank_mm);

#endif
