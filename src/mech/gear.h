/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Gears: how far one turn of the cranks goes.
 *
 * One idea: everything follows from the ratio, ring teeth over sprocket teeth, and from the rolling circumference of
 * the rear wheel. Teeth are whole numbers, so equal gears are found exactly, by multiplying across, never by comparing
 * two quotients. A table of gears is an array in rising ratio that the caller owns.
 *
 * The plain formulas ask for teeth of MECH_TEETH_MIN to MECH_TEETH_MAX and for lengths, ratios and speeds above zero;
 * the readers of bike and catalogue have seen to that. mech_gear_table checks its teeth itself.
 */
#ifndef MECH_GEAR_H
#define MECH_GEAR_H

#include "base/status.h"

#include <stddef.h>

struct mech_gear {
    int ring;     /* teeth */
    int sprocket; /* teeth */
    double ratio; /* turns of the wheel for one turn of the cranks */
};

/* ring / sprocket; no unit. By definition. */
double mech_gear_ratio(int ring, int sprocket);

/* Every pairing of a ring with a sprocket, in rising ratio, the smaller ring first where ratios are equal. out has room
 * for n_rings x n_sprockets gears and is the caller's. BASE_BAD_INPUT for teeth out of range or for no ring or no
 * sprocket at all; out is untouched then. */
enum base_status mech_gear_table(struct mech_gear *out, const int *rings, size_t n_rings, const int *sprockets,
                                 size_t n_sprockets) BASE_CHECKED;

/* Development: metres travelled for one turn of the cranks, ratio x circumference. rolling_mm: what the rear wheel
 * travels in one turn, 500..4000. By definition. */
double mech_gear_development_m(double ratio, double rolling_mm);

/* Gear inches: the diameter of the wheel, in inches, that would travel as far if the cranks drove it directly,
 * development / pi / 25.4 mm. By definition (the high wheel of the 1880s); common practice. */
double mech_gear_inches(double development_m);

/* The same from the wheel's name, as printed gear charts have it: ratio x nominal diameter in inches (26, 27, 29). It
 * differs from the one above by what the tyre really measures. Common practice. */
double mech_gear_inches_nominal(double ratio, double wheel_inches);

/* How far the bike goes for one unit of the pedal's path: wheel radius / crank length x ratio, both in mm; no unit.
 * crank_mm 100..220. Common practice. */
double mech_gear_crank_ratio(double ratio, double rolling_mm, double crank_mm);

/* Range: 100 x highest / lowest ratio, percent; 100 means one gear. Common practice. */
double mech_gear_range_percent(double lowest_ratio, double highest_ratio);

/* Step from one gear to the next higher: 100 x (higher / lower - 1), percent. By definition. */
double mech_gear_step_percent(double lower_ratio, double higher_ratio);

/* Repeated gears: how many neighbours in a table in rising ratio stand nearer than step_percent (above 0; some 4 is
 * felt as none). Of three gears in one place two are repeated. n may be 0. Common practice. */
size_t mech_gear_repeats(const struct mech_gear *gears, size_t n, double step_percent);

/* Road speed in km/h at a cadence in turns of the cranks per minute, and back. By definition. */
double mech_gear_speed_kmh(double development_m, double cadence_rpm);
double mech_gear_cadence_rpm(double development_m, double speed_kmh);

#endif
