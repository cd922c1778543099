/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The path of a closed chain round wheels in one plane, with any mix of the senses in which it goes round them.
 *
 * One idea: give each wheel a signed radius, q = sense x radius. A straight run along the unit vector u, with n to the
 * left of u, touches a wheel of centre c at c - q n. Both ends of a run share u and n, so the vector d between the two
 * centres less (q2 - q1) n lies along u. Across u that says d . n = q2 - q1, which gives the direction of the run;
 * along u it gives its length. At a wheel the direction turns from one run's to the next one's, in the wheel's sense.
 *
 * Representation: x to the front, y up, mm, seen from the drive side; wheels in the order in which the chain meets them
 * as it travels. sense +1: the chain goes round it counter-clockwise, -1: clockwise. So forward pedalling is
 * sprocket -1, ring -1, tension wheel -1, guide wheel +1: the guide wheel alone is passed the other way round.
 *
 * Source: plane geometry, as derived above; the link count by the rule that one tooth is one pitch.
 */
#ifndef MECH_LOOP_H
#define MECH_LOOP_H

#include "base/status.h"

#include <stddef.h>

#define MECH_LOOP_WHEELS_MIN 2
#define MECH_LOOP_WHEELS_MAX 8

/* A wheel that the chain turns round by more than this does not touch it: a presser that hangs free comes out as just
 * below a whole turn. Radians, 300 degrees. */
#define MECH_LOOP_WRAP_MAX 5.235987755982988731

struct mech_loop_wheel {
    double x_mm, y_mm; /* the centre; within +-10 000 */
    double radius_mm;  /* of the circle through the pins; more than half a pitch, up to 1000 */
    int sense;         /* +1 or -1 */
};

struct mech_loop {
    double span_mm[MECH_LOOP_WHEELS_MAX];     /* straight run i, from wheel i to the next */
    double heading_rad[MECH_LOOP_WHEELS_MAX]; /* its direction, counter-clockwise from the x axis */
    double wrap_rad[MECH_LOOP_WHEELS_MAX];    /* how far the chain turns on wheel i, 0 to MECH_LOOP_WRAP_MAX */
    double length_mm;                         /* runs and arcs */
    double links;                             /* pitches, not rounded: runs / p + sum of teeth x wrap / 2 pi */
    int turns; /* +1 or -1: the loop does not cross itself, as every bicycle's; 0: a figure of eight */
};

/* A wheel with teeth: radius_mm becomes its pitch radius. BASE_BAD_INPUT for teeth that sprocket.h does not allow, for a
 * sense that is neither +1 nor -1, and for a centre out of range; out is untouched then. */
enum base_status mech_loop_wheel_toothed(struct mech_loop_wheel *out, double x_mm, double y_mm, int teeth,
                                         int sense) BASE_CHECKED;

/* The loop round n wheels. Entries of the arrays from n on are zero.
 *
 * links counts a wheel of radius R as one pitch for each turn by 2 asin(p / 2R), which is 2 pi / teeth on a toothed
 * wheel: pins stand on a polygon, and length_mm / p would be too many by up to a tenth of a pitch.
 *
 * BASE_BAD_INPUT: n, a sense, a radius or a centre out of range, or not finite.
 * BASE_NO: a run has no tangent (|q2 - q1| is not less than the distance of the centres), a wheel does not touch the
 * chain (wrap above MECH_LOOP_WRAP_MAX), or the headings do not add up to a loop that turns once or is a figure of
 * eight. out is untouched in both cases. */
enum base_status mech_loop_solve(struct mech_loop *out, const struct mech_loop_wheel *wheels, size_t n) BASE_CHECKED;

/* Which wheel a loop fails at, and why; goes with BASE_NO. */
enum mech_loop_why {
    MECH_LOOP_NO_TANGENT, /* from this wheel to the next: one lies within the other, or they overlap */
    MECH_LOOP_NOT_TOUCHED,
    MECH_LOOP_NOT_CLOSED /* the turns do not add up; the wheel is the first one */
};
struct mech_loop_fault {
    enum mech_loop_why why;
    size_t wheel;
};

/* mech_loop_solve, and what it fails at: fault is set with BASE_NO, and untouched otherwise. */
enum base_status mech_loop_solve_or_tell(struct mech_loop *out, struct mech_loop_fault *fault,
                                         const struct mech_loop_wheel *wheels, size_t n) BASE_CHECKED;

/* How many pitches a real chain may need more or less than `links`, as the teeth of these wheels happen to stand: it is made of
 * straight pitches, not of arcs. A run that leaves a wheel somewhere within a tooth gains or loses the part of the arc's rise
 * over its chord that is cut off there, up to p pi^2 / (18 sqrt 3 z^2) at each of its ends; wheels of opposite sense add up to
 * 0.003 on average. teeth: of n wheels, each above 0. Source: derived here; held against polygons in the tests. */
double mech_loop_polygon_links(const int *teeth, size_t n);

/* The bare loop: pitches, not rounded, of a chain round ring and sprocket alone, past the derailleur. axle_mm: the
 * distance of bottom bracket axle and rear axle in the plane of the chain, up to 10 000. BASE_BAD_INPUT for teeth or
 * distance out of range; BASE_NO where the two pitch circles would overlap. */
enum base_status mech_loop_bare_links(double *out, int ring, int sprocket, double axle_mm) BASE_CHECKED;

/* The other way round: how far the rear axle stands from the bottom bracket when a bare loop of so many pitches is taut, mm, to
 * 1e-9. BASE_NO: it is too short for wheels that stand clear of each other, or longer than one on 5 000 mm. Errors as above. */
enum base_status mech_loop_bare_axle_mm(double *out, int ring, int sprocket, double links) BASE_CHECKED;

#endif
