/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A rear suspension: where the axle goes, and what that does to chain and pedals.
 *
 * One idea: the axle's path and its direction are all that the chain feels. Pivot, linkage or measured points only say
 * how to find them at a vertical travel; everything behind that is the same for all three.
 *
 * Representation: origin at the bottom bracket, x to the front, y up, mm, seen from the drive side; angles
 * counter-clockwise, in radians. Forward pedalling is clockwise, so that a positive kick turns the cranks backward.
 * Travel is vertical, from rest, up positive. Neglected: tyre and frame pitch, fork, inertia of the wheels, a rider
 * that moves.
 *
 * Sources: plane kinematics, derived here; anti-squat as the share of the rise of the centre of mass's load that the
 * chain carries, derived by virtual work with the ring held.
 */
#ifndef MECH_SUSPENSION_H
#define MECH_SUSPENSION_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>

#define MECH_SUSPENSION_POINTS_MIN 2
#define MECH_SUSPENSION_POINTS_MAX 32
#define MECH_SUSPENSION_FARTHEST_MM 5000.0 /* a coordinate is within +- this */
#define MECH_SUSPENSION_TRAVEL_MAX_MM 500.0

struct mech_point {
    double x_mm, y_mm;
};

enum mech_suspension_kind {
    MECH_SUSPENSION_PIVOT,    /* the axle turns about one point of the frame */
    MECH_SUSPENSION_FOUR_BAR, /* the axle sits on the member between the joints of two links */
    MECH_SUSPENSION_POINTS    /* the axle was measured at some travels */
};

/* A link of a four-bar: where it hangs on the frame, and where it holds the member with the axle; both at rest. */
struct mech_link {
    struct mech_point frame, joint;
};

/* Fill in by hand, and pass to mech_suspension_rest. */
struct mech_suspension {
    enum mech_suspension_kind kind;
    struct mech_point axle;        /* at rest */
    struct mech_point pivot;       /* MECH_SUSPENSION_PIVOT */
    struct mech_link lower, upper; /* MECH_SUSPENSION_FOUR_BAR */
    /* MECH_SUSPENSION_POINTS: by rising y, no two at one height, the axle at rest among them. Between them the path is
     * a cubic spline of x over y whose first and last two pieces are one cubic each (not-a-knot): twice smooth, three
     * points give the parabola and four the cubic through them, two the straight line. */
    size_t n;
    struct mech_point points[MECH_SUSPENSION_POINTS_MAX];
};

/* Why there is no answer; goes with BASE_NO. */
enum mech_suspension_why {
    MECH_SUSPENSION_WHY_NONE,
    MECH_SUSPENSION_PIVOT_ON_AXLE,
    MECH_SUSPENSION_NO_LINK,        /* a link, or the member between the joints, has no length */
    MECH_SUSPENSION_OUT_OF_REACH,   /* the axle does not come so high or so low: the linkage stops before */
    MECH_SUSPENSION_BEYOND_POINTS,  /* nothing was measured there */
    MECH_SUSPENSION_WHEELS_OVERLAP, /* ring, sprocket or idler cut into each other */
    MECH_SUSPENSION_IDLER_FREE      /* the chain does not press on the idler */
};

/* The rear suspension of one bike. */
struct mech_suspension_frame {
    struct mech_suspension suspension;
    double travel_mm; /* the most that the rear end goes up, above 0 */
    double sag_mm;    /* what the rider's weight takes of it; NAN: nobody read it */
    int idler_teeth;  /* as in struct mech_suspension_drive */
    struct mech_point idler;
};

/* The suspension at one travel. */
struct mech_suspension_state {
    double travel_mm;
    struct mech_point axle;
    double slope;             /* of the axle's path: mm forward for a mm up */
    bool has_turn;            /* false for points: the member that holds the axle is not known */
    double turn_rad;          /* of that member since rest; 0 without */
    bool has_centre;          /* false for points, and for links that are parallel just here */
    struct mech_point centre; /* the instant centre of that member */
    double link_rad;          /* MECH_SUSPENSION_FOUR_BAR: turn of the lower link since rest */
};

/* The suspension at rest; every state is followed from here. BASE_BAD_INPUT: a coordinate out of range or not finite,
 * points too few, too many, not rising, or without the axle among them. BASE_NO with *why: it can't move from where it
 * is. out is untouched but for BASE_OK, *why but for BASE_NO; so below. */
enum base_status mech_suspension_rest(struct mech_suspension_state *out, enum mech_suspension_why *why,
                                      const struct mech_suspension *suspension) BASE_CHECKED;

/* Moves a state, which came from the two functions here, to another travel (within +-MECH_SUSPENSION_TRAVEL_MAX_MM). A
 * linkage is followed in small steps from where it is, so that it can't jump to another way of closing; travels in
 * rising order are quickest. BASE_BAD_INPUT: travel out of range. BASE_NO with *why. The state is untouched on failure. */
enum base_status mech_suspension_move(struct mech_suspension_state *state, enum mech_suspension_why *why,
                                      const struct mech_suspension *suspension, double travel_mm) BASE_CHECKED;

/* The travel between `from_mm` and `to_mm` (from < to) at which the axle is farthest from the bottom bracket, as a state.
 * The loop round ring and sprocket grows with that distance, whichever gear: there it is longest, not always at the end.
 * Looked for every MECH_SUSPENSION_STEP_MM, then to 1e-6 mm of travel. Errors as above. */
#define MECH_SUSPENSION_STEP_MM 2.0
enum base_status mech_suspension_longest(struct mech_suspension_state *out, enum mech_suspension_why *why,
                                         const struct mech_suspension *suspension, double from_mm,
                                         double to_mm) BASE_CHECKED;

/* One gear, and the bike that it drives. */
struct mech_suspension_drive {
    int ring, sprocket;      /* teeth, sprocket.h's range */
    int idler_teeth;         /* of a wheel on the frame that the top run passes over before the ring; 0: none */
    struct mech_point idler; /* its centre */
    double wheel_radius_mm, wheelbase_mm, mass_height_mm; /* above 0, up to MECH_SUSPENSION_FARTHEST_MM; the last is the
                                                             height of the centre of mass above the ground */
};

/* What the chain does at a travel. */
struct mech_suspension_chain {
    double stay_mm;            /* from the bottom bracket to the axle */
    double span_mm;            /* the top run */
    double kick_held_rad;      /* turn of the cranks since rest, chain taut on top, the wheel kept from turning */
    double kick_rolling_rad;   /* the same with the wheel rolling on the ground while the frame stays where it is */
    double anti_squat_percent; /* at this travel */
};

/* With an idler the top run ends there: what it pays out comes off the ring at the same length, since the run from idler to
 * ring stays as it is. kick = (change of the span + (R - r) x turn of the span + r x turn of the sprocket) / R, the turn of the sprocket
 * being 0 for a wheel that is held and -dx / wheel radius for one that rolls. rest: the state at travel 0.
 * anti-squat = -(dx + wheel radius x dphi) / dy x wheelbase / height, where r dphi is what the axle moves along the top
 * run, since both ends of a run share its direction; R is the radius of ring or idler at the front end of the run, and that
 * of the ring under the fraction of the kick. BASE_BAD_INPUT: teeth or lengths out of range. BASE_NO with *why: the wheels
 * overlap at rest or here, or the chain runs free of the idler. */
enum base_status mech_suspension_chain(struct mech_suspension_chain *out, enum mech_suspension_why *why,
                                       const struct mech_suspension_drive *drive,
                                       const struct mech_suspension_state *rest,
                                       const struct mech_suspension_state *state) BASE_CHECKED;

/* Pitches of the bare loop round sprocket, idler and ring at a state, not rounded (loop.h). Errors as above. */
enum base_status mech_suspension_loop_links(double *out, enum mech_suspension_why *why,
                                            const struct mech_suspension_drive *drive,
                                            const struct mech_suspension_state *state) BASE_CHECKED;

/* The travel between `from_mm` and `to_mm` (from < to) at which that loop is longest, as a state, and its pitches. Without an
 * idler it is where the axle is farthest away, in every gear; with one it differs by gear. Looked for every
 * MECH_SUSPENSION_STEP_MM, then to 1e-4 mm of travel. Errors as above. */
enum base_status mech_suspension_longest_loop(struct mech_suspension_state *out, double *links,
                                              enum mech_suspension_why *why, const struct mech_suspension *suspension,
                                              const struct mech_suspension_drive *drive, double from_mm,
                                              double to_mm) BASE_CHECKED;

#endif
