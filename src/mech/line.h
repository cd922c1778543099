/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The chain line: where ring and sprockets stand across the bike, and how crooked the chain runs between them.
 *
 * One idea: a line is the distance of a plane of teeth from the bike's centre plane, positive towards the drive side. At
 * the rear the fixed point is the shoulder of the freehub body, on which the cassette's large end rests: it stays when
 * the cassette changes, and the gap to the frame follows.
 *
 * All lengths are in mm. The plain formulas take any finite value; what a mechanic can measure is noted beside each.
 */
#ifndef MECH_LINE_H
#define MECH_LINE_H

#include "base/status.h"

/* The hub as it stands in the frame. */
struct mech_line_hub {
    double width_mm;  /* over locknuts or end caps, nominal: 100..200 (142 although 135 is read between the dropouts) */
    double recess_mm; /* how far each end stands inside the frame: 0 in a slotted dropout, 3.5 on thru-axles; 0..8 */
    double offset_mm; /* the middle of the hub from the bike's centre plane, positive to the drive side; -10..10 */
};

/* A cassette. Sprocket 1 is the smallest, and outermost. */
struct mech_line_cassette {
    double stack_mm;     /* outer face of the smallest sprocket to inner face of the largest; 0..60 */
    double pitch_mm;     /* from sprocket to sprocket, centre to centre; 2..8 */
    double thickness_mm; /* of a sprocket; 1..4 */
    double spacers_mm;   /* between the shoulder and the cassette; 0..6 */
    double overhang_mm; /* the largest sprocket's inner face inboard of the cassette's seat; 0 for plain stacks; 0..8 */
};

/* Stack of a cassette of evenly spaced sprockets: (sprockets - 1) x pitch + thickness. sprockets 1..14. By definition. */
double mech_line_stack_mm(int sprockets, double pitch_mm, double thickness_mm);

/* Middle of the stack: width / 2 - recess - gap - stack / 2 + offset. gap_mm: inner face of the dropout to the outer face
 * of the smallest sprocket, 0..15. Source: De Fietssite, 'The chain line'. */
double mech_line_rear_mm(const struct mech_line_hub *hub, double stack_mm, double gap_mm);

/* Shoulder of the freehub body: width / 2 - recess - gap - stack - spacers + overhang + offset, from the gap and the
 * cassette that were measured together. Source: addition of the parts along the axle. */
double mech_line_shoulder_mm(const struct mech_line_hub *hub, const struct mech_line_cassette *cassette, double gap_mm);

/* The gap that a cassette leaves on a shoulder; turns mech_line_shoulder_mm round. Below 0 it strikes the frame. */
double mech_line_gap_mm(const struct mech_line_hub *hub, const struct mech_line_cassette *cassette, double shoulder_mm);

/* Plane of sprocket i (1 = smallest) of a cassette on a shoulder: its outer face less half a thickness and i - 1
 * pitches. Source: addition along the axle; checked against a series published in 'Chainline', ti10x blog, 2012. */
double mech_line_sprocket_mm(const struct mech_line_cassette *cassette, double shoulder_mm, int i);

/* Middle of the stack of a cassette on a shoulder. */
double mech_line_middle_mm(const struct mech_line_cassette *cassette, double shoulder_mm);

/* The least gap in which a chain on the smallest sprocket runs clear of the frame: (chain width - sprocket) / 2 + 0.5.
 * chain_width_mm: over the pins, 4..10. Source: geometry; the half millimetre is common practice. */
double mech_line_gap_least_mm(double chain_width_mm, double thickness_mm);

/* A plane from what is read at a tube or a shell that stands in the middle: width / 2 + distance. width_mm: diameter of
 * the tube, or width of the shell; distance_mm: from its side to the plane of the teeth (for two rings, to the middle
 * between them). Only for round tubes; otherwise from the shell. Source: LFGSS forum, comment 9866291; common practice. */
double mech_line_front_mm(double width_mm, double distance_mm);

/* A plane from two readings at a tube: (outer face to the tube's left side + inner face to its right side) / 2. The
 * tube's diameter and the ring's thickness fall out. Source: De Fietssite, 'The chain line'. */
double mech_line_front_two_mm(double outer_to_left_mm, double inner_to_right_mm);

/* A plane from what is read at a locknut, or at the inner face of a dropout: width / 2 - distance. Source: LFGSS forum,
 * comment 9866291. */
double mech_line_from_locknut_mm(double width_mm, double distance_mm);

/* Distance between the axles seen from above: sqrt(stay^2 - drop^2). stay_mm above 0; drop_mm: bottom bracket below the
 * axles, of either sign. BASE_NO: the drop is not less than the stay; BASE_BAD_INPUT: not finite, or no stay. */
enum base_status mech_line_axle_distance_mm(double *out, double stay_mm, double drop_mm) BASE_CHECKED;

/* Angle of the chain, degrees: atan(offset / distance), of the offset's sign. offset_mm: ring's line less sprocket's;
 * distance_mm: of the axles from above, above 0. Source: Bike Forums, post on chain line tolerance, 2007.
 * BASE_BAD_INPUT: not finite, or no distance. */
enum base_status mech_line_angle_deg(double *out, double offset_mm, double distance_mm) BASE_CHECKED;

/* Error of a line against the window low..high (low at most high): 0 inside, both ends included; else the distance to the
 * nearer edge, positive when the line is too far outboard. By definition. */
double mech_line_error_mm(double line_mm, double low_mm, double high_mm);

/* Size of an error in whole steps of 0.5 mm, nearest, halves up; never below 0. |error_mm| up to 1000. What is computed
 * from a gap that is known to a millimetre is compared no finer. */
int mech_line_error_steps(double error_mm);

#endif
