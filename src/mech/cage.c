/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/cage.h"

#include "mech/chain.h"
#include "mech/constants.h"
#include "mech/loop.h"
#include "mech/sprocket.h"

#include <math.h>

#define NEWTON_MAX 12
#define CLOSE_LINKS 5e-7
/* The path of a real cage grows by some 100 mm a radian; under this it stands at its end. */
#define LEAST_GROWTH_MM 0.5

#define SCAN_STEPS 190 /* one a degree */
#define HALVINGS 60
/* An end is found to this, far below what the links are told to. */
#define END_RAD 1e-9
#define END_MM 1e-6
#define DEGREE (MECH_PI / 180.0)

enum { SPROCKET, RING, TENSION, GUIDE, WHEELS };

/* The loop of a gear, whose last two wheels move with the cage. */
struct drive {
    struct mech_loop_wheel wheels[WHEELS];
    double tips_mm; /* radii of sprocket and guide wheel over their tips */
};

/* How the drive stands at an angle. */
struct stand {
    double angle_rad;
    struct mech_loop loop;
    double growth_mm; /* of the path, for a radian that the cage turns back */
    double margin_mm; /* to rubbing, or to growing no more, whichever is less; it stands where this is above 0 */
    struct mech_point guide, tension;
};

static bool within(double value, double low, double high) { return value >= low && value <= high; }

static bool wheel_teeth_allowed(int teeth) { return teeth >= MECH_TEETH_MIN && teeth <= 20; }

static bool cage_allowed(const struct mech_cage *c) {
    return within(c->apart_mm, 20.0, 200.0) && within(c->offset_mm, 0.0, c->apart_mm) &&
           within(c->spring_nmm, 0.0, 10000.0) && wheel_teeth_allowed(c->guide_teeth) &&
           wheel_teeth_allowed(c->tension_teeth);
}

static enum base_status set_up(struct drive *out, const struct mech_cage *cage, const struct mech_cage_gear *gear) {
    struct mech_point axle = gear->axle, pivot = gear->pivot;
    double guide_mm, sprocket_mm;
    if (!cage_allowed(cage) || !within(pivot.x_mm, -5000.0, 5000.0) || !within(pivot.y_mm, -5000.0, 5000.0) ||
        mech_loop_wheel_toothed(&out->wheels[SPROCKET], axle.x_mm, axle.y_mm, gear->sprocket, -1) != BASE_OK ||
        mech_loop_wheel_toothed(&out->wheels[RING], 0.0, 0.0, gear->ring, -1) != BASE_OK ||
        mech_loop_wheel_toothed(&out->wheels[TENSION], 0.0, 0.0, cage->tension_teeth, -1) != BASE_OK ||
        mech_loop_wheel_toothed(&out->wheels[GUIDE], 0.0, 0.0, cage->guide_teeth, 1) != BASE_OK ||
        mech_sprocket_outside_diameter_mm(&sprocket_mm, gear->sprocket) != BASE_OK ||
        mech_sprocket_outside_diameter_mm(&guide_mm, cage->guide_teeth) != BASE_OK) {
        return BASE_BAD_INPUT;
    }
    out->tips_mm = (sprocket_mm + guide_mm) / 2.0;
    return BASE_OK;
}

/* The way of the run behind a wheel, of length 1. */
static struct mech_point way_of(const struct stand *s, int wheel) {
    return (struct mech_point){cos(s->loop.heading_rad[wheel]), sin(s->loop.heading_rad[wheel])};
}

/* How far the guide wheel's centre lies above the lower run, which comes from the ring to the tension wheel. */
static double above_lower_run(const struct drive *d, const struct stand *s, struct mech_point way) {
    double ux = way.x_mm, uy = way.y_mm;
    /* The run touches the tension wheel a radius to the left of its way, which is below. */
    double px = s->tension.x_mm - d->wheels[TENSION].radius_mm * uy;
    double py = s->tension.y_mm + d->wheels[TENSION].radius_mm * ux;
    return uy * (s->guide.x_mm - px) - ux * (s->guide.y_mm - py);
}

/* Turns the cage. False where there is no path, or where the chain would rub on itself. */
static bool stand_at(struct stand *out, struct drive *d, const struct mech_cage *cage,
                     const struct mech_cage_gear *gear, double angle_rad) {
    double down_x = sin(angle_rad), down_y = -cos(angle_rad), below = cage->apart_mm - cage->offset_mm;
    out->angle_rad = angle_rad;
    out->guide =
        (struct mech_point){gear->pivot.x_mm - cage->offset_mm * down_x, gear->pivot.y_mm - cage->offset_mm * down_y};
    out->tension = (struct mech_point){gear->pivot.x_mm + below * down_x, gear->pivot.y_mm + below * down_y};
    d->wheels[GUIDE].x_mm = out->guide.x_mm;
    d->wheels[GUIDE].y_mm = out->guide.y_mm;
    d->wheels[TENSION].x_mm = out->tension.x_mm;
    d->wheels[TENSION].y_mm = out->tension.y_mm;
    out->margin_mm = -INFINITY;
    if (mech_loop_solve(&out->loop, d->wheels, WHEELS) != BASE_OK || out->loop.turns != -1) {
        return false;
    }
    /* A centre that moves takes the end of one run and the beginning of the next along; a run is as long as it is, and
     * grows by what its ends move along it. Turning back moves the tension wheel to the rear, the guide wheel forward. */
    struct mech_point lower = way_of(out, RING), between = way_of(out, TENSION), upper = {0.0, 0.0};
    if (cage->offset_mm > 0.0) {
        upper = way_of(out, GUIDE);
    }
    out->growth_mm = cage->apart_mm * (between.y_mm * down_x - between.x_mm * down_y) -
                     below * (lower.y_mm * down_x - lower.x_mm * down_y) -
                     cage->offset_mm * (upper.y_mm * down_x - upper.x_mm * down_y);
    out->margin_mm = fmin(above_lower_run(d, out, lower) - d->wheels[GUIDE].radius_mm - MECH_CAGE_PLATE_MM,
                          out->growth_mm - LEAST_GROWTH_MM);
    return out->margin_mm > 0.0;
}

/* The angles at which the cage can stand: from `forward` back to `back`. */
struct reach {
    struct stand forward, back;
};

/* Between an angle where the cage can stand, and one where it can't: the last one where it can. By false position where
 * both have a margin (the Illinois way: an end that stays counts half), else by halving. */
static void find_end(struct stand *good, struct drive *d, const struct mech_cage *cage,
                     const struct mech_cage_gear *gear, double bad_rad) {
    struct stand bad, middle;
    double kept = good->margin_mm;
    if (stand_at(&bad, d, cage, gear, bad_rad)) {
        *good = bad; /* the end of what is looked at */
        return;
    }
    double lost = bad.margin_mm;
    for (int i = 0; i < HALVINGS && fabs(good->angle_rad - bad_rad) > END_RAD && good->margin_mm > END_MM; i++) {
        double share = isinf(lost) ? 0.5 : kept / (kept - lost);
        if (stand_at(&middle, d, cage, gear, good->angle_rad + share * (bad_rad - good->angle_rad))) {
            *good = middle;
            kept = middle.margin_mm;
            lost /= 2.0;
        } else {
            bad_rad = middle.angle_rad;
            lost = middle.margin_mm;
            kept /= 2.0;
        }
    }
}

static double scanned(int step) {
    return MECH_CAGE_FORWARD_MAX + (MECH_CAGE_BACK_MAX - MECH_CAGE_FORWARD_MAX) * step / SCAN_STEPS;
}

/* Looks at every degree; of several stretches where the cage can stand the longest is taken. BASE_NO: there is none. */
static enum base_status find_reach(struct reach *out, struct drive *d, const struct mech_cage *cage,
                                   const struct mech_cage_gear *gear) {
    int longest = 0, n = 0;
    struct stand now, first = {0};
    for (int step = 0; step <= SCAN_STEPS; step++) {
        if (!stand_at(&now, d, cage, gear, scanned(step))) {
            n = 0;
            continue;
        }
        first = n++ == 0 ? now : first;
        if (n > longest) {
            longest = n;
            out->forward = first;
            out->back = now;
        }
    }
    if (longest == 0) {
        return BASE_NO;
    }
    find_end(&out->forward, d, cage, gear, fmin(out->forward.angle_rad + DEGREE, MECH_CAGE_FORWARD_MAX));
    find_end(&out->back, d, cage, gear, fmax(out->back.angle_rad - DEGREE, MECH_CAGE_BACK_MAX));
    return BASE_OK;
}

/* --- settling ------------------------------------------------------------------------------------------------------ */

/* From an angle where the cage stands, degree by degree toward the links, to the end. False when they are passed. */
static bool walk_to_end(struct stand *out, double *slack, struct drive *d, const struct mech_cage *cage,
                        const struct mech_cage_gear *gear, double links) {
    double step_rad = links > out->loop.links ? -DEGREE : DEGREE;
    for (;;) {
        struct stand next;
        double angle_rad = fmin(fmax(out->angle_rad + step_rad, MECH_CAGE_BACK_MAX), MECH_CAGE_FORWARD_MAX);
        bool stands = fabs(angle_rad - out->angle_rad) > END_RAD && stand_at(&next, d, cage, gear, angle_rad);
        if (!stands) {
            find_end(out, d, cage, gear, angle_rad);
            *slack = links - out->loop.links;
            return *slack * step_rad < 0.0;
        }
        *out = next;
        if ((links - next.loop.links) * step_rad >= 0.0) {
            return false;
        }
    }
}

/* From an angle that is near: by secants, or to the end where these lead out of what the cage can do. False where it
 * can't be told from there. */
static bool settle_near(struct stand *out, double *slack, struct drive *d, const struct mech_cage *cage,
                        const struct mech_cage_gear *gear, double links, double angle_rad) {
    struct stand now;
    double growth = 0.0;
    bool stood = false;
    for (int i = 0; i < NEWTON_MAX && within(angle_rad, MECH_CAGE_BACK_MAX, MECH_CAGE_FORWARD_MAX) &&
                    stand_at(&now, d, cage, gear, angle_rad);
         i++) {
        double off = now.loop.links - links;
        /* The first step by the path's growth, the next by what it was: links and millimetres differ by a hundredth. */
        growth = stood ? (now.loop.links - out->loop.links) / (out->angle_rad - now.angle_rad)
                       : now.growth_mm / MECH_PITCH_MM;
        *out = now;
        stood = true;
        if (fabs(off) < CLOSE_LINKS) {
            *slack = 0.0;
            return true;
        }
        angle_rad += off / growth; /* too long: forward */
    }
    double tries[] = {angle_rad + DEGREE, angle_rad - DEGREE};
    for (int i = 0; i < 2 && !stood; i++) {
        stood = within(tries[i], MECH_CAGE_BACK_MAX, MECH_CAGE_FORWARD_MAX) && stand_at(out, d, cage, gear, tries[i]);
    }
    return stood && walk_to_end(out, slack, d, cage, gear, links);
}

/* Within its reach, or at its end. */
static enum base_status settle_within(struct stand *out, double *slack, struct drive *d, const struct mech_cage *cage,
                                      const struct mech_cage_gear *gear, double links) {
    struct reach reach;
    enum base_status status = find_reach(&reach, d, cage, gear);
    if (status != BASE_OK) {
        return status;
    }
    *slack = 0.0;
    if (links <= reach.forward.loop.links || links >= reach.back.loop.links) {
        *out = links <= reach.forward.loop.links ? reach.forward : reach.back;
        *slack = links - out->loop.links;
        return BASE_OK;
    }
    double forward_rad = reach.forward.angle_rad, back_rad = reach.back.angle_rad;
    for (int i = 0; i < HALVINGS; i++) {
        double angle_rad = (forward_rad + back_rad) / 2.0;
        if (!stand_at(out, d, cage, gear, angle_rad)) {
            return BASE_NO; /* the stretch has a hole narrower than a degree */
        }
        *(out->loop.links < links ? &forward_rad : &back_rad) = angle_rad;
    }
    return BASE_OK;
}

static bool links_allowed(double links) { return within(links, MECH_CHAIN_BARE_MIN, MECH_CHAIN_BARE_MAX); }

enum base_status mech_cage_settle(struct mech_cage_fit *out, const struct mech_cage *cage,
                                  const struct mech_cage_gear *gear, double links, double near_rad) {
    struct drive d;
    struct stand s;
    double slack = 0.0;
    if (!links_allowed(links) || set_up(&d, cage, gear) != BASE_OK) {
        return BASE_BAD_INPUT;
    }
    if (!settle_near(&s, &slack, &d, cage, gear, links, near_rad)) {
        enum base_status status = settle_within(&s, &slack, &d, cage, gear, links);
        if (status != BASE_OK) {
            return status;
        }
    }
    *out = (struct mech_cage_fit){.state = slack > 0.0   ? MECH_CAGE_SLACK
                                           : slack < 0.0 ? MECH_CAGE_SHORT
                                                         : MECH_CAGE_FITS,
                                  .angle_rad = s.angle_rad,
                                  .slack_links = slack,
                                  .gap_mm =
                                      hypot(s.guide.x_mm - gear->axle.x_mm, s.guide.y_mm - gear->axle.y_mm) - d.tips_mm,
                                  .low_mm = gear->axle.y_mm - s.tension.y_mm + d.wheels[TENSION].radius_mm,
                                  .ring_wrap_rad = s.loop.wrap_rad[RING],
                                  .sprocket_wrap_rad = s.loop.wrap_rad[SPROCKET],
                                  .tension_n = slack > 0.0 || slack < 0.0 ? 0.0 : cage->spring_nmm / s.growth_mm};
    return BASE_OK;
}

enum base_status mech_cage_range(double *least_links, double *most_links, const struct mech_cage *cage,
                                 const struct mech_cage_gear *gear) {
    struct drive d;
    struct reach reach;
    enum base_status status = set_up(&d, cage, gear);
    if (status == BASE_OK) {
        status = find_reach(&reach, &d, cage, gear);
    }
    if (status == BASE_OK) {
        *least_links = reach.forward.loop.links;
        *most_links = reach.back.loop.links;
    }
    return status;
}

enum base_status mech_cage_pivot(struct mech_point *out, struct mech_point axle, int sprocket, int guide_teeth,
                                 double gap_mm, double toward_rad) {
    double sprocket_mm, guide_mm;
    if (!within(axle.x_mm, -5000.0, 5000.0) || !within(axle.y_mm, -5000.0, 5000.0) || !within(gap_mm, -50.0, 200.0) ||
        !within(toward_rad, -MECH_PI, MECH_PI) || !wheel_teeth_allowed(guide_teeth) ||
        mech_sprocket_outside_diameter_mm(&sprocket_mm, sprocket) != BASE_OK ||
        mech_sprocket_outside_diameter_mm(&guide_mm, guide_teeth) != BASE_OK) {
        return BASE_BAD_INPUT;
    }
    double apart_mm = (sprocket_mm + guide_mm) / 2.0 + gap_mm;
    *out = (struct mech_point){axle.x_mm + apart_mm * sin(toward_rad), axle.y_mm - apart_mm * cos(toward_rad)};
    return BASE_OK;
}
