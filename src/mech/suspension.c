/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/suspension.h"

#include "mech/constants.h"
#include "mech/loop.h"
#include "mech/sprocket.h"

#include <math.h>

/* Shorter than this is no length, mm: below what any drawing of a frame tells, above what is left of a double. */
#define NO_LENGTH_MM 1e-6

/* A path this near to level does not lift the axle. Of the axle's way, the share that goes up. */
#define LEVEL 1e-9

#define STEPS_MAX 1000
#define NEWTON_MAX 30
/* A linkage that can't be followed by this much of travel has come to its end, mm. */
#define LEAST_STEP_MM 1e-4
/* A linkage that is followed turns less than this in one small step of travel; more is a jump to another closing. */
#define TURN_MAX_RAD 0.5
/* Links this near to parallel have no centre: the crossing would lie over a million times a link's length away. */
#define PARALLEL 1e-6

static enum base_status no(enum mech_suspension_why *why, enum mech_suspension_why reason) {
    *why = reason;
    return BASE_NO;
}

static struct mech_point minus(struct mech_point a, struct mech_point b) {
    return (struct mech_point){a.x_mm - b.x_mm, a.y_mm - b.y_mm};
}

static double dot(struct mech_point a, struct mech_point b) { return a.x_mm * b.x_mm + a.y_mm * b.y_mm; }

static double cross(struct mech_point a, struct mech_point b) { return a.x_mm * b.y_mm - a.y_mm * b.x_mm; }

static double length(struct mech_point a) { return hypot(a.x_mm, a.y_mm); }

/* A quarter turn counter-clockwise: how the end of a moves when it turns about its beginning. */
static struct mech_point quarter(struct mech_point a) { return (struct mech_point){-a.y_mm, a.x_mm}; }

static struct mech_point turned(struct mech_point a, double angle_rad) {
    double c = cos(angle_rad), s = sin(angle_rad);
    return (struct mech_point){c * a.x_mm - s * a.y_mm, s * a.x_mm + c * a.y_mm};
}

static struct mech_point plus(struct mech_point a, struct mech_point b) {
    return (struct mech_point){a.x_mm + b.x_mm, a.y_mm + b.y_mm};
}

/* --- one pivot ----------------------------------------------------------------------------------------------------- */

static enum base_status move_pivot(struct mech_suspension_state *out, enum mech_suspension_why *why,
                                   const struct mech_suspension *s, double travel_mm) {
    struct mech_point arm = minus(s->axle, s->pivot);
    double radius = length(arm);
    if (radius < NO_LENGTH_MM) {
        return no(why, MECH_SUSPENSION_PIVOT_ON_AXLE);
    }
    double up = arm.y_mm + travel_mm;
    double level_squared = (radius - up) * (radius + up);
    /* The axle stays on its side of the pivot; straight over or under it, it moves level. */
    if (!(level_squared > LEVEL * LEVEL * radius * radius) || fabs(arm.x_mm) < LEVEL * radius) {
        return no(why, MECH_SUSPENSION_OUT_OF_REACH);
    }
    struct mech_point now = {copysign(sqrt(level_squared), arm.x_mm), up};
    *out = (struct mech_suspension_state){.travel_mm = travel_mm,
                                          .axle = plus(s->pivot, now),
                                          .slope = -now.y_mm / now.x_mm,
                                          .has_turn = true,
                                          .turn_rad = atan2(cross(arm, now), dot(arm, now)),
                                          .has_centre = true,
                                          .centre = s->pivot};
    return BASE_OK;
}

/* --- four-bar ------------------------------------------------------------------------------------------------------ */

/* The links at a turn of the lower link and of the member between the joints, as vectors. */
struct linkage {
    struct mech_point lower, upper; /* from frame to joint */
    struct mech_point member;       /* from the lower joint to the upper one */
    struct mech_point axle;         /* from the lower joint to the axle */
};

static struct linkage linkage_at(const struct mech_suspension *s, double link_rad, double turn_rad) {
    struct linkage l = {.lower = turned(minus(s->lower.joint, s->lower.frame), link_rad),
                        .member = turned(minus(s->upper.joint, s->lower.joint), turn_rad),
                        .axle = turned(minus(s->axle, s->lower.joint), turn_rad)};
    l.upper = minus(plus(plus(s->lower.frame, l.lower), l.member), s->upper.frame);
    return l;
}

/* How the axle moves, for rates of turn of link and member that keep the upper link's length. The rates go together as
 * two numbers of which neither need be 1: each link may stand still just here. */
static struct mech_point axle_rate(const struct linkage *l) {
    double link_rate = dot(quarter(l->member), l->upper);
    double turn_rate = -dot(quarter(l->lower), l->upper);
    struct mech_point by_link = quarter(l->lower), by_turn = quarter(l->axle);
    return (struct mech_point){link_rate * by_link.x_mm + turn_rate * by_turn.x_mm,
                               link_rate * by_link.y_mm + turn_rate * by_turn.y_mm};
}

/* Turns link and member so that the upper link keeps its length and the axle stands at the height. False: no way. */
static bool close_linkage(double *link_rad, double *turn_rad, const struct mech_suspension *s, double travel_mm) {
    struct mech_point upper_rest = minus(s->upper.joint, s->upper.frame);
    double upper_squared = dot(upper_rest, upper_rest);
    double a = *link_rad, b = *turn_rad;
    for (int i = 0; i < NEWTON_MAX; i++) {
        struct linkage l = linkage_at(s, a, b);
        struct mech_point da = quarter(l.lower), db_upper = quarter(l.member), db_axle = quarter(l.axle);
        double off_length = (dot(l.upper, l.upper) - upper_squared) / 2.0;
        double off_height = s->lower.frame.y_mm + l.lower.y_mm + l.axle.y_mm - (s->axle.y_mm + travel_mm);
        double la = dot(l.upper, da), lb = dot(l.upper, db_upper), ha = da.y_mm, hb = db_axle.y_mm;
        double det = la * hb - lb * ha;
        double step_a = (lb * off_height - hb * off_length) / det;
        double step_b = (ha * off_length - la * off_height) / det;
        if (!(fabs(step_a) < 1.0 && fabs(step_b) < 1.0)) { /* also when det is 0 */
            return false;
        }
        a += step_a;
        b += step_b;
        if (fabs(step_a) < 1e-13 && fabs(step_b) < 1e-13) {
            bool jumped = fabs(a - *link_rad) > TURN_MAX_RAD || fabs(b - *turn_rad) > TURN_MAX_RAD;
            *link_rad = a;
            *turn_rad = b;
            return !jumped;
        }
    }
    return false;
}

/* Where the lines of the two links cross. */
static void find_centre(struct mech_suspension_state *out, const struct mech_suspension *s, const struct linkage *l) {
    double across = cross(l->lower, l->upper);
    if (fabs(across) < PARALLEL * length(l->lower) * length(l->upper)) {
        return;
    }
    double along = cross(minus(s->upper.frame, s->lower.frame), l->upper) / across;
    out->has_centre = true;
    out->centre =
        (struct mech_point){s->lower.frame.x_mm + along * l->lower.x_mm, s->lower.frame.y_mm + along * l->lower.y_mm};
}

/* The state of a linkage that closes. False where the axle moves level. */
static bool linkage_state(struct mech_suspension_state *out, const struct mech_suspension *s, double link_rad,
                          double turn_rad, double travel_mm) {
    struct linkage l = linkage_at(s, link_rad, turn_rad);
    struct mech_point rate = axle_rate(&l);
    if (!(fabs(rate.y_mm) > LEVEL * length(rate))) {
        return false;
    }
    *out = (struct mech_suspension_state){.travel_mm = travel_mm,
                                          .axle = plus(plus(s->lower.frame, l.lower), l.axle),
                                          .slope = rate.x_mm / rate.y_mm,
                                          .has_turn = true,
                                          .turn_rad = turn_rad,
                                          .link_rad = link_rad};
    find_centre(out, s, &l);
    return true;
}

static bool has_length(struct mech_point from, struct mech_point to) { return length(minus(to, from)) >= NO_LENGTH_MM; }

static enum base_status rest_linkage(struct mech_suspension_state *out, enum mech_suspension_why *why,
                                     const struct mech_suspension *s) {
    if (!has_length(s->lower.frame, s->lower.joint) || !has_length(s->upper.frame, s->upper.joint) ||
        !has_length(s->lower.joint, s->upper.joint)) {
        return no(why, MECH_SUSPENSION_NO_LINK);
    }
    return linkage_state(out, s, 0.0, 0.0, 0.0) ? BASE_OK : no(why, MECH_SUSPENSION_OUT_OF_REACH);
}

/* Whether the links still pass the axle upward in the sense in which they did: past a dead point they would not. */
static double sense_of(const struct mech_suspension *s, double link_rad, double turn_rad) {
    struct linkage l = linkage_at(s, link_rad, turn_rad);
    return axle_rate(&l).y_mm;
}

/* Goes by full steps, and by ever smaller ones where the linkage turns too fast to be followed: near a dead point. */
static enum base_status move_linkage(struct mech_suspension_state *out, enum mech_suspension_why *why,
                                     const struct mech_suspension *s, const struct mech_suspension_state *from,
                                     double travel_mm) {
    double link_rad = from->link_rad, turn_rad = from->turn_rad, at_mm = from->travel_mm;
    double sense = sense_of(s, link_rad, turn_rad);
    double step_mm = MECH_SUSPENSION_STEP_MM;
    while (at_mm != travel_mm) {
        double left_mm = travel_mm - at_mm, link = link_rad, turn = turn_rad;
        double there_mm = fabs(left_mm) <= step_mm ? travel_mm : at_mm + copysign(step_mm, left_mm);
        if (close_linkage(&link, &turn, s, there_mm) && sense_of(s, link, turn) * sense > 0.0) {
            link_rad = link;
            turn_rad = turn;
            at_mm = there_mm;
            step_mm = fmin(2.0 * step_mm, MECH_SUSPENSION_STEP_MM);
        } else if ((step_mm /= 4.0) < LEAST_STEP_MM) {
            return no(why, MECH_SUSPENSION_OUT_OF_REACH);
        }
    }
    return linkage_state(out, s, link_rad, turn_rad, travel_mm) ? BASE_OK : no(why, MECH_SUSPENSION_OUT_OF_REACH);
}

/* --- measured points ----------------------------------------------------------------------------------------------- */

/* The slopes dx / dy of a not-a-knot spline at its n points: a tridiagonal system for n >= 4, whose first and last rows
 * say that the third derivative does not jump at the second and the last but one point (de Boor, A Practical Guide to
 * Splines, chapter IV). */
static void spline_slopes(double *slope, const struct mech_point *p, size_t n) {
    double h[MECH_SUSPENSION_POINTS_MAX], d[MECH_SUSPENSION_POINTS_MAX]; /* steps in y, and slopes of the chords */
    double diagonal[MECH_SUSPENSION_POINTS_MAX], upper[MECH_SUSPENSION_POINTS_MAX];
    for (size_t i = 0; i + 1 < n; i++) {
        h[i] = p[i + 1].y_mm - p[i].y_mm;
        d[i] = (p[i + 1].x_mm - p[i].x_mm) / h[i];
    }
    if (n == 2) {
        slope[0] = slope[1] = d[0];
        return;
    }
    if (n == 3) { /* the parabola */
        double bend = (d[1] - d[0]) / (h[0] + h[1]);
        slope[0] = d[0] - bend * h[0];
        slope[1] = d[0] + bend * h[0];
        slope[2] = d[1] + bend * h[1];
        return;
    }
    double two = h[0] + h[1];
    diagonal[0] = h[1];
    upper[0] = two;
    slope[0] = ((h[0] + 2.0 * two) * h[1] * d[0] + h[0] * h[0] * d[1]) / two;
    for (size_t i = 1; i + 1 < n; i++) {
        double share = h[i] / diagonal[i - 1];
        slope[i] = 3.0 * (h[i] * d[i - 1] + h[i - 1] * d[i]) - share * slope[i - 1];
        diagonal[i] = 2.0 * (h[i - 1] + h[i]) - share * upper[i - 1];
        upper[i] = h[i - 1];
    }
    size_t last = n - 1;
    two = h[last - 1] + h[last - 2];
    double end =
        ((h[last - 1] + 2.0 * two) * h[last - 2] * d[last - 1] + h[last - 1] * h[last - 1] * d[last - 2]) / two;
    double share = two / diagonal[last - 1];
    slope[last] = (end - share * slope[last - 1]) / (h[last - 2] - share * upper[last - 1]);
    for (size_t i = last; i-- > 0;) {
        slope[i] = (slope[i] - upper[i] * slope[i + 1]) / diagonal[i];
    }
}

static enum base_status move_points(struct mech_suspension_state *out, enum mech_suspension_why *why,
                                    const struct mech_suspension *s, double travel_mm) {
    double slope[MECH_SUSPENSION_POINTS_MAX];
    double y_mm = s->axle.y_mm + travel_mm;
    if (y_mm < s->points[0].y_mm - NO_LENGTH_MM || y_mm > s->points[s->n - 1].y_mm + NO_LENGTH_MM) {
        return no(why, MECH_SUSPENSION_BEYOND_POINTS);
    }
    spline_slopes(slope, s->points, s->n);
    size_t i = 0;
    while (i + 2 < s->n && y_mm >= s->points[i + 1].y_mm) {
        i++;
    }
    double h = s->points[i + 1].y_mm - s->points[i].y_mm, u = (y_mm - s->points[i].y_mm) / h;
    double chord = (s->points[i + 1].x_mm - s->points[i].x_mm) / h;
    double a = slope[i] - chord, b = slope[i + 1] - chord; /* the cubic, beside its chord */
    double beside = h * u * (1.0 - u) * (a * (1.0 - u) - b * u);
    double lean = a * (1.0 - u) * (1.0 - 3.0 * u) + b * u * (3.0 * u - 2.0);
    *out = (struct mech_suspension_state){
        .travel_mm = travel_mm, .axle = {s->points[i].x_mm + chord * h * u + beside, y_mm}, .slope = chord + lean};
    return BASE_OK;
}

/* --- any of them --------------------------------------------------------------------------------------------------- */

/* False for what is not a number, too. */
static bool point_allowed(struct mech_point p) {
    return fabs(p.x_mm) <= MECH_SUSPENSION_FARTHEST_MM && fabs(p.y_mm) <= MECH_SUSPENSION_FARTHEST_MM;
}

static bool points_allowed(const struct mech_suspension *s) {
    if (s->n < MECH_SUSPENSION_POINTS_MIN || s->n > MECH_SUSPENSION_POINTS_MAX) {
        return false;
    }
    bool has_axle = false;
    for (size_t i = 0; i < s->n; i++) {
        if (!point_allowed(s->points[i]) || (i > 0 && !(s->points[i].y_mm - s->points[i - 1].y_mm >= NO_LENGTH_MM))) {
            return false;
        }
        has_axle = has_axle || length(minus(s->points[i], s->axle)) < NO_LENGTH_MM;
    }
    return has_axle;
}

enum base_status mech_suspension_rest(struct mech_suspension_state *out, enum mech_suspension_why *why,
                                      const struct mech_suspension *suspension) {
    const struct mech_suspension *s = suspension;
    if (!point_allowed(s->axle)) {
        return BASE_BAD_INPUT;
    }
    switch (s->kind) {
    case MECH_SUSPENSION_PIVOT:
        return point_allowed(s->pivot) ? move_pivot(out, why, s, 0.0) : BASE_BAD_INPUT;
    case MECH_SUSPENSION_FOUR_BAR:
        if (!point_allowed(s->lower.frame) || !point_allowed(s->lower.joint) || !point_allowed(s->upper.frame) ||
            !point_allowed(s->upper.joint)) {
            return BASE_BAD_INPUT;
        }
        return rest_linkage(out, why, s);
    case MECH_SUSPENSION_POINTS:
        return points_allowed(s) ? move_points(out, why, s, 0.0) : BASE_BAD_INPUT;
    }
    return BASE_BAD_INPUT;
}

enum base_status mech_suspension_move(struct mech_suspension_state *state, enum mech_suspension_why *why,
                                      const struct mech_suspension *suspension, double travel_mm) {
    if (!(fabs(travel_mm) <= MECH_SUSPENSION_TRAVEL_MAX_MM)) {
        return BASE_BAD_INPUT;
    }
    switch (suspension->kind) {
    case MECH_SUSPENSION_PIVOT:
        return move_pivot(state, why, suspension, travel_mm);
    case MECH_SUSPENSION_FOUR_BAR:
        return move_linkage(state, why, suspension, state, travel_mm);
    case MECH_SUSPENSION_POINTS:
        return move_points(state, why, suspension, travel_mm);
    }
    return BASE_BAD_INPUT;
}

/* How the distance from the bottom bracket changes with travel, times that distance. */
static double lengthens(const struct mech_suspension_state *state) {
    return state->axle.x_mm * state->slope + state->axle.y_mm;
}

/* Between a travel where the distance grows and one where it shrinks: where it does neither. */
static enum base_status find_turning(struct mech_suspension_state *out, enum mech_suspension_why *why,
                                     const struct mech_suspension *s, struct mech_suspension_state grows,
                                     double shrinks_mm) {
    double low_mm = grows.travel_mm, high_mm = shrinks_mm;
    while (high_mm - low_mm > 1e-6) {
        enum base_status status = mech_suspension_move(&grows, why, s, low_mm + (high_mm - low_mm) / 2.0);
        if (status != BASE_OK) {
            return status;
        }
        *(lengthens(&grows) > 0.0 ? &low_mm : &high_mm) = grows.travel_mm;
    }
    *out = grows;
    return BASE_OK;
}

enum base_status mech_suspension_longest(struct mech_suspension_state *out, enum mech_suspension_why *why,
                                         const struct mech_suspension *suspension, double from_mm, double to_mm) {
    struct mech_suspension_state state, before, longest;
    enum base_status status = mech_suspension_rest(&state, why, suspension);
    if (status == BASE_OK) {
        status = from_mm < to_mm ? mech_suspension_move(&state, why, suspension, from_mm) : BASE_BAD_INPUT;
    }
    if (status != BASE_OK) {
        return status;
    }
    longest = state;
    int steps = (int)fmin(ceil((to_mm - from_mm) / MECH_SUSPENSION_STEP_MM), STEPS_MAX);
    for (int i = 1; i <= steps; i++) {
        before = state;
        status = mech_suspension_move(&state, why, suspension, from_mm + (to_mm - from_mm) * i / steps);
        struct mech_suspension_state most = state;
        if (status == BASE_OK && lengthens(&before) > 0.0 && lengthens(&state) < 0.0) {
            status = find_turning(&most, why, suspension, before, state.travel_mm);
        }
        if (status != BASE_OK) {
            return status;
        }
        if (length(most.axle) > length(longest.axle)) {
            longest = most;
        }
    }
    *out = longest;
    return BASE_OK;
}

/* --- the chain ----------------------------------------------------------------------------------------------------- */

/* The top run, from the sprocket to the ring or to the idler before it. */
struct run {
    double span_mm, heading_rad;
};

/* The wheel at which the top run ends. */
struct front {
    struct mech_point centre;
    double radius_mm;
};

static bool top_run(struct run *out, struct mech_point axle, const struct front *front, double sprocket_mm) {
    struct mech_point way = minus(front->centre, axle);
    double distance = length(way), difference = front->radius_mm - sprocket_mm;
    if (!(distance > front->radius_mm + sprocket_mm)) {
        return false;
    }
    out->span_mm = sqrt((distance - difference) * (distance + difference));
    out->heading_rad = atan2(way.y_mm, way.x_mm) + asin(difference / distance);
    return true;
}

static bool length_allowed(double mm) { return mm > 0.0 && mm <= MECH_SUSPENSION_FARTHEST_MM; }

/* The loop as a chain meets it: sprocket, idler, ring. BASE_BAD_INPUT: out of range. */
static enum base_status loop_of(struct mech_loop_wheel wheels[3], size_t *n, const struct mech_suspension_drive *drive,
                                struct mech_point axle) {
    enum base_status status = mech_loop_wheel_toothed(&wheels[0], axle.x_mm, axle.y_mm, drive->sprocket, -1);
    *n = 1;
    if (status == BASE_OK && drive->idler_teeth != 0) {
        status = point_allowed(drive->idler) ? mech_loop_wheel_toothed(&wheels[(*n)++], drive->idler.x_mm,
                                                                       drive->idler.y_mm, drive->idler_teeth, -1)
                                             : BASE_BAD_INPUT;
    }
    return status == BASE_OK ? mech_loop_wheel_toothed(&wheels[(*n)++], 0.0, 0.0, drive->ring, -1) : status;
}

/* Does each wheel stand clear of the next? */
static bool stand_clear(const struct mech_loop_wheel *wheels, size_t n) {
    for (size_t i = 0; i < n; i++) {
        const struct mech_loop_wheel *a = &wheels[i], *b = &wheels[(i + 1) % n];
        if (!(hypot(b->x_mm - a->x_mm, b->y_mm - a->y_mm) > a->radius_mm + b->radius_mm)) {
            return false;
        }
    }
    return true;
}

enum base_status mech_suspension_loop_links(double *out, enum mech_suspension_why *why,
                                            const struct mech_suspension_drive *drive,
                                            const struct mech_suspension_state *state) {
    struct mech_loop_wheel wheels[3];
    struct mech_loop loop;
    size_t n;
    if (loop_of(wheels, &n, drive, state->axle) != BASE_OK) {
        return BASE_BAD_INPUT;
    }
    if (!stand_clear(wheels, n)) {
        return no(why, MECH_SUSPENSION_WHEELS_OVERLAP);
    }
    enum base_status status = mech_loop_solve(&loop, wheels, n);
    if (status == BASE_NO || (status == BASE_OK && loop.turns != -1)) {
        return no(why, MECH_SUSPENSION_IDLER_FREE); /* wheels that stand clear have their tangents */
    }
    if (status == BASE_OK) {
        *out = loop.links;
    }
    return status;
}

/* Where the top run ends; BASE_NO when the chain is not held there. */
static enum base_status find_front(struct front *out, enum mech_suspension_why *why,
                                   const struct mech_suspension_drive *drive, const struct mech_suspension_state *rest,
                                   const struct mech_suspension_state *state) {
    double links;
    if (drive->idler_teeth == 0) {
        *out = (struct front){.centre = {0.0, 0.0}};
        return mech_sprocket_pitch_radius_mm(&out->radius_mm, drive->ring);
    }
    enum base_status status = mech_suspension_loop_links(&links, why, drive, rest);
    if (status == BASE_OK) {
        status = mech_suspension_loop_links(&links, why, drive, state);
    }
    out->centre = drive->idler;
    return status == BASE_OK ? mech_sprocket_pitch_radius_mm(&out->radius_mm, drive->idler_teeth) : status;
}

enum base_status mech_suspension_chain(struct mech_suspension_chain *out, enum mech_suspension_why *why,
                                       const struct mech_suspension_drive *drive,
                                       const struct mech_suspension_state *rest,
                                       const struct mech_suspension_state *state) {
    double ring, sprocket;
    struct front front;
    struct run before, now;
    if (!length_allowed(drive->wheel_radius_mm) || !length_allowed(drive->wheelbase_mm) ||
        !length_allowed(drive->mass_height_mm) || mech_sprocket_pitch_radius_mm(&ring, drive->ring) != BASE_OK ||
        mech_sprocket_pitch_radius_mm(&sprocket, drive->sprocket) != BASE_OK) {
        return BASE_BAD_INPUT;
    }
    enum base_status status = find_front(&front, why, drive, rest, state);
    if (status != BASE_OK) {
        return status;
    }
    if (!top_run(&before, rest->axle, &front, sprocket) || !top_run(&now, state->axle, &front, sprocket)) {
        return no(why, MECH_SUSPENSION_WHEELS_OVERLAP);
    }
    double turned_rad = remainder(now.heading_rad - before.heading_rad, 2.0 * MECH_PI);
    double paid_mm = now.span_mm - before.span_mm + (front.radius_mm - sprocket) * turned_rad;
    double rolled_rad = -(state->axle.x_mm - rest->axle.x_mm) / drive->wheel_radius_mm;
    /* For a mm up: what the axle moves along the run, and so the turn of the sprocket with the ring held. */
    double along = state->slope * cos(now.heading_rad) + sin(now.heading_rad);
    double forward = state->slope + drive->wheel_radius_mm * along / sprocket;
    *out = (struct mech_suspension_chain){.stay_mm = length(state->axle),
                                          .span_mm = now.span_mm,
                                          .kick_held_rad = paid_mm / ring,
                                          .kick_rolling_rad = (paid_mm + sprocket * rolled_rad) / ring,
                                          .anti_squat_percent =
                                              -forward * drive->wheelbase_mm / drive->mass_height_mm * 100.0};
    return BASE_OK;
}

/* Moves a copy of a state and counts the loop there. */
static enum base_status loop_at(struct mech_suspension_state *state, double *links, enum mech_suspension_why *why,
                                const struct mech_suspension *s, const struct mech_suspension_drive *drive,
                                double travel_mm) {
    enum base_status status = mech_suspension_move(state, why, s, travel_mm);
    return status == BASE_OK ? mech_suspension_loop_links(links, why, drive, state) : status;
}

/* Closes in on the longest of neighbouring travels from both sides. */
static enum base_status close_in(struct mech_suspension_state *best, double *links, enum mech_suspension_why *why,
                                 const struct mech_suspension *s, const struct mech_suspension_drive *drive,
                                 double low_mm, double high_mm) {
    while (high_mm - low_mm > 1e-4) {
        double third_mm = (high_mm - low_mm) / 3.0, low_links, high_links;
        struct mech_suspension_state low = *best, high = *best;
        enum base_status status = loop_at(&low, &low_links, why, s, drive, low_mm + third_mm);
        if (status == BASE_OK) {
            status = loop_at(&high, &high_links, why, s, drive, high_mm - third_mm);
        }
        if (status != BASE_OK) {
            return status;
        }
        bool lower = low_links > high_links;
        if ((lower ? low_links : high_links) > *links) {
            *best = lower ? low : high;
            *links = lower ? low_links : high_links;
        }
        *(lower ? &high_mm : &low_mm) = lower ? high.travel_mm : low.travel_mm;
    }
    return BASE_OK;
}

enum base_status mech_suspension_longest_loop(struct mech_suspension_state *out, double *links,
                                              enum mech_suspension_why *why, const struct mech_suspension *suspension,
                                              const struct mech_suspension_drive *drive, double from_mm, double to_mm) {
    struct mech_suspension_state state, best;
    double here, most;
    enum base_status status = mech_suspension_rest(&state, why, suspension);
    if (status == BASE_OK) {
        status = from_mm < to_mm ? loop_at(&state, &most, why, suspension, drive, from_mm) : BASE_BAD_INPUT;
    }
    if (status != BASE_OK) {
        return status;
    }
    best = state;
    int steps = (int)fmin(ceil((to_mm - from_mm) / MECH_SUSPENSION_STEP_MM), STEPS_MAX);
    double step_mm = (to_mm - from_mm) / steps;
    for (int i = 1; i <= steps && status == BASE_OK; i++) {
        status = loop_at(&state, &here, why, suspension, drive, i < steps ? from_mm + step_mm * i : to_mm);
        if (status == BASE_OK && here > most) {
            best = state;
            most = here;
        }
    }
    if (status == BASE_OK) {
        status = close_in(&best, &most, why, suspension, drive, fmax(best.travel_mm - step_mm, from_mm),
                          fmin(best.travel_mm + step_mm, to_mm));
    }
    if (status == BASE_OK) {
        *out = best;
        *links = most;
    }
    return status;
}
