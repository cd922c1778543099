/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The bolt circle of a chainring.
 *
 * One idea: evenly spaced holes are the corners of a regular polygon, so that the distance of two neighbours, which a
 * caliper reads, gives the circle. On an asymmetric spider it does not: there the arms have to be told apart first.
 * Lengths in mm; arms 3..12. Outputs are untouched on failure.
 */
#ifndef MECH_BOLT_CIRCLE_H
#define MECH_BOLT_CIRCLE_H

#include "base/status.h"

/* Diameter from the distance of neighbouring holes, centre to centre: d / sin(pi / arms). d above 0, up to 300.
 * BASE_BAD_INPUT: out of range. Source: regular polygon; sheldonbrown.com, crib sheet of bolt circles. */
enum base_status mech_bolt_circle_mm(double *out, double hole_distance_mm, int arms) BASE_CHECKED;

/* The other way: diameter x sin(pi / arms). Diameter above 0, up to 300. BASE_BAD_INPUT: out of range. */
enum base_status mech_bolt_circle_hole_distance_mm(double *out, double bolt_circle_mm, int arms) BASE_CHECKED;

/* Room between the circle through the bolts and the bottoms of the tooth gaps of a ring, root radius - circle / 2. A
 * plainly bolted ring wants some 7 to 8 mm; below that its holes are threaded or raised. Below 0 the ring can't be.
 * BASE_BAD_INPUT: circle or teeth (sprocket.h) out of range. Source: ISO 606 root diameter; common practice. */
enum base_status mech_bolt_circle_room_mm(double *out, double bolt_circle_mm, int teeth) BASE_CHECKED;

#endif
