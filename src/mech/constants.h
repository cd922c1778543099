/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The few numbers that every family of formulas needs.
 *
 * One idea: a number that is fixed by definition stands here once. Angles are in radians unless a name says degrees.
 */
#ifndef MECH_CONSTANTS_H
#define MECH_CONSTANTS_H

#define MECH_PI 3.14159265358979323846

/* mm in an inch, exactly (the international yard and pound agreement of 1959). */
#define MECH_INCH_MM 25.4

/* Degrees in radians and back; any finite angle. */
static inline double mech_radians(double degrees) { return degrees * (MECH_PI / 180.0); }
static inline double mech_degrees(double radians) { return radians * (180.0 / MECH_PI); }

#endif
