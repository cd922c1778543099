/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The circles of a chain wheel, ring or sprocket, by its number of teeth.
 *
 * One idea: the pins of a seated chain stand on a regular polygon whose side is the pitch, so that the circle through
 * them follows from the tooth count alone. Real bicycle teeth are shortened and shaped: the outside diameter is for
 * clearances, on the safe side. All lengths are in mm; teeth are MECH_TEETH_MIN to MECH_TEETH_MAX.
 *
 * Each circle gives BASE_BAD_INPUT for teeth out of range, and leaves its output untouched then.
 */
#ifndef MECH_SPROCKET_H
#define MECH_SPROCKET_H

#include "base/status.h"

#include <stdbool.h>

/* The pitch of every bicycle chain for derailleurs, half an inch (ISO 9633). */
#define MECH_PITCH_MM 12.7

/* The largest roller of a bicycle chain, 1/2 x 1/8 and 1/2 x 3/32 in (DIN 8187, sizes 081 and 082). */
#define MECH_ROLLER_MM 7.75

#define MECH_TEETH_MIN 6
#define MECH_TEETH_MAX 130

/* Whether a wheel can have so many teeth: MECH_TEETH_MIN to MECH_TEETH_MAX, both included. */
bool mech_sprocket_teeth_allowed(int teeth);

/* Diameter of the circle through the pins: p / sin(pi / N). Source: ASME B29.1; Mott, Machine Elements in Mechanical
 * Design, 4th ed., Example 7-3. */
enum base_status mech_sprocket_pitch_diameter_mm(double *out, int teeth) BASE_CHECKED;

/* Half of it: p / (2 sin(pi / N)). */
enum base_status mech_sprocket_pitch_radius_mm(double *out, int teeth) BASE_CHECKED;

/* Diameter over the tooth tips, as turned before the teeth are cut: p (0.6 + cot(pi / N)). Source: ASME B29.1. */
enum base_status mech_sprocket_outside_diameter_mm(double *out, int teeth) BASE_CHECKED;

/* Diameter of the circle that touches the tooth gaps: pitch diameter less the roller. Source: ISO 606. */
enum base_status mech_sprocket_root_diameter_mm(double *out, int teeth) BASE_CHECKED;

/* What a caliper reads between opposite tooth gaps: the root diameter for an even count; for an odd one, where no gap
 * stands opposite, pitch diameter x cos(pi / 2N) less the roller. Source: ISO 606. */
enum base_status mech_sprocket_caliper_diameter_mm(double *out, int teeth) BASE_CHECKED;

#endif
