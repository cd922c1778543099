/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/loop.h"

#include "mech/constants.h"
#include "mech/sprocket.h"

#include <math.h>
#include <stdbool.h>

#define FULL_TURN (2.0 * MECH_PI)
#define FARTHEST_MM 10000.0
#define LARGEST_RADIUS_MM 1000.0

/* Two headings nearer than this are one: what is left of a double after the turn is taken out of an angle. */
#define SAME_HEADING 1e-9

/* fabs(x) < limit is false for a value that is not a number. */
static bool centre_allowed(double x_mm, double y_mm) { return fabs(x_mm) < FARTHEST_MM && fabs(y_mm) < FARTHEST_MM; }

static bool sense_allowed(int sense) { return sense == 1 || sense == -1; }

static bool wheel_allowed(const struct mech_loop_wheel *w) {
    return centre_allowed(w->x_mm, w->y_mm) && w->radius_mm > MECH_PITCH_MM / 2.0 &&
           w->radius_mm <= LARGEST_RADIUS_MM && sense_allowed(w->sense);
}

enum base_status mech_loop_wheel_toothed(struct mech_loop_wheel *out, double x_mm, double y_mm, int teeth, int sense) {
    struct mech_loop_wheel wheel = {.x_mm = x_mm, .y_mm = y_mm, .sense = sense};
    if (!centre_allowed(x_mm, y_mm) || !sense_allowed(sense)) {
        return BASE_BAD_INPUT;
    }
    enum base_status status = mech_sprocket_pitch_radius_mm(&wheel.radius_mm, teeth);
    if (status == BASE_OK) {
        *out = wheel;
    }
    return status;
}

/* The straight run between two wheels. BASE_NO when there is no tangent of these senses. */
static enum base_status find_run(double *span_mm, double *heading_rad, const struct mech_loop_wheel *from,
                                 const struct mech_loop_wheel *to) {
    double dx = to->x_mm - from->x_mm;
    double dy = to->y_mm - from->y_mm;
    double distance = sqrt(dx * dx + dy * dy); /* within 10 000 mm: nothing overflows, and hypot is slow */
    double dq = to->sense * to->radius_mm - from->sense * from->radius_mm;
    if (!(fabs(dq) < distance)) {
        return BASE_NO;
    }
    *span_mm = sqrt((distance - dq) * (distance + dq));
    *heading_rad = atan2(dy, dx) - asin(dq / distance);
    return BASE_OK;
}

/* How far a chain turns, in the sense of the wheel, from one heading to the next: 0 to below a full turn. */
static double turn_between(double heading_in, double heading_out, int sense) {
    double turn = sense * (heading_out - heading_in);
    turn -= FULL_TURN * floor(turn / FULL_TURN);
    return turn > FULL_TURN - SAME_HEADING ? 0.0 : turn;
}

/* Pitches on an arc: each pitch of a polygon with its corners on the circle turns by 2 asin(p / 2R). */
static double pitches_on_arc(double wrap_rad, double radius_mm) {
    return wrap_rad / (2.0 * asin(MECH_PITCH_MM / (2.0 * radius_mm)));
}

/* Fills the wraps and sums. BASE_NO when a wheel does not touch, or the turns do not close to one loop. */
static enum base_status close_loop(struct mech_loop *loop, struct mech_loop_fault *fault,
                                   const struct mech_loop_wheel *wheels, size_t n) {
    double turned = 0.0;
    for (size_t i = 0; i < n; i++) {
        double wrap = turn_between(loop->heading_rad[(i + n - 1) % n], loop->heading_rad[i], wheels[i].sense);
        if (wrap > MECH_LOOP_WRAP_MAX) {
            *fault = (struct mech_loop_fault){MECH_LOOP_NOT_TOUCHED, i};
            return BASE_NO;
        }
        loop->wrap_rad[i] = wrap;
        loop->length_mm += loop->span_mm[i] + wheels[i].radius_mm * wrap;
        loop->links += loop->span_mm[i] / MECH_PITCH_MM + pitches_on_arc(wrap, wheels[i].radius_mm);
        turned += wheels[i].sense * wrap;
    }
    /* Headings return to where they began, so this is whole; more than one turn means a wheel that does not touch. */
    loop->turns = (int)lround(turned / FULL_TURN);
    if (loop->turns < -1 || loop->turns > 1) {
        *fault = (struct mech_loop_fault){MECH_LOOP_NOT_CLOSED, 0};
        return BASE_NO;
    }
    return BASE_OK;
}

enum base_status mech_loop_solve(struct mech_loop *out, const struct mech_loop_wheel *wheels, size_t n) {
    struct mech_loop_fault fault;
    return mech_loop_solve_or_tell(out, &fault, wheels, n);
}

enum base_status mech_loop_solve_or_tell(struct mech_loop *out, struct mech_loop_fault *fault,
                                         const struct mech_loop_wheel *wheels, size_t n) {
    if (n < MECH_LOOP_WHEELS_MIN || n > MECH_LOOP_WHEELS_MAX) {
        return BASE_BAD_INPUT;
    }
    for (size_t i = 0; i < n; i++) {
        if (!wheel_allowed(&wheels[i])) {
            return BASE_BAD_INPUT;
        }
    }
    struct mech_loop loop = {0};
    for (size_t i = 0; i < n; i++) {
        enum base_status run = find_run(&loop.span_mm[i], &loop.heading_rad[i], &wheels[i], &wheels[(i + 1) % n]);
        if (run != BASE_OK) {
            *fault = (struct mech_loop_fault){MECH_LOOP_NO_TANGENT, i};
            return run;
        }
    }
    enum base_status status = close_loop(&loop, fault, wheels, n);
    if (status == BASE_OK) {
        *out = loop;
    }
    return status;
}

enum base_status mech_loop_bare_links(double *out, int ring, int sprocket, double axle_mm) {
    struct mech_loop_wheel wheels[2];
    if (!(axle_mm > 0.0) || mech_loop_wheel_toothed(&wheels[0], 0.0, 0.0, ring, 1) != BASE_OK ||
        mech_loop_wheel_toothed(&wheels[1], axle_mm, 0.0, sprocket, 1) != BASE_OK) {
        return BASE_BAD_INPUT;
    }
    /* A tangent may still exist when the wheels cut into each other; a bicycle can't. */
    if (axle_mm <= wheels[0].radius_mm + wheels[1].radius_mm) {
        return BASE_NO;
    }
    struct mech_loop loop;
    enum base_status status = mech_loop_solve(&loop, wheels, 2);
    if (status == BASE_OK) {
        *out = loop.links;
    }
    return status;
}

#define AXLE_MOST_MM 5000.0
#define AXLE_WITHIN_MM 1e-9

enum base_status mech_loop_bare_axle_mm(double *out, int ring, int sprocket, double links) {
    double ring_mm, sprocket_mm, here;
    if (mech_sprocket_pitch_radius_mm(&ring_mm, ring) != BASE_OK ||
        mech_sprocket_pitch_radius_mm(&sprocket_mm, sprocket) != BASE_OK || !isfinite(links)) {
        return BASE_BAD_INPUT;
    }
    /* The loop grows with the distance. */
    double low_mm = nextafter(ring_mm + sprocket_mm, AXLE_MOST_MM), high_mm = AXLE_MOST_MM;
    if (mech_loop_bare_links(&here, ring, sprocket, low_mm) != BASE_OK || here > links ||
        mech_loop_bare_links(&here, ring, sprocket, high_mm) != BASE_OK || here < links) {
        return BASE_NO;
    }
    while (high_mm - low_mm > AXLE_WITHIN_MM) {
        double middle_mm = low_mm + (high_mm - low_mm) / 2.0;
        enum base_status status = mech_loop_bare_links(&here, ring, sprocket, middle_mm);
        if (status != BASE_OK) {
            return status;
        }
        *(here < links ? &low_mm : &high_mm) = middle_mm;
    }
    *out = high_mm;
    return BASE_OK;
}

#define POLYGON_MEAN_LINKS 0.003

double mech_loop_polygon_links(const int *teeth, size_t n) {
    double links = POLYGON_MEAN_LINKS;
    for (size_t i = 0; i < n; i++) {
        links += MECH_PI * MECH_PI / (9.0 * sqrt(3.0)) / ((double)teeth[i] * teeth[i]); /* both ends */
    }
    return links;
}
