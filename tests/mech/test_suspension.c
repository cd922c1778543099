/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rear suspension, against values that were derived by two methods, and against methods that share nothing with the code:
 * a scan of the lower link with circles cut for the linkage, the string round two wheels as a hull of points and small steps
 * along the run for the kick, and the drawn lines for the anti-squat; 10 000 random geometries each for linkage and gears.
 */
#include "mech/constants.h"
#include "mech/loop.h"
#include "mech/sprocket.h"
#include "mech/suspension.h"
#include "support/near.h"
#include "support/random.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* What the tables tell: lengths and angles to six decimals, shares to four. */
#define LENGTH_MM 1e-5
#define ANGLE_DEG 1e-5
#define SHARE_PERCENT 1e-3
#define CENTRE_MM 1e-3 /* the centres have four decimals and lie far away */

#define WHEEL_MM 370.0
#define WHEELBASE_MM 1200.0
#define HEIGHT_MM 1100.0

static const struct mech_suspension single_pivot = {
    .kind = MECH_SUSPENSION_PIVOT, .axle = {-434.0, 30.0}, .pivot = {30.0, 60.0}};
static const struct mech_suspension on_bracket = {
    .kind = MECH_SUSPENSION_PIVOT, .axle = {-434.0, 30.0}, .pivot = {0.0, 0.0}};
static const struct mech_suspension four_bar = {.kind = MECH_SUSPENSION_FOUR_BAR,
                                                .axle = {-435.0, 28.0},
                                                .lower = {{-5.0, 45.0}, {-395.0, 18.0}},
                                                .upper = {{-20.0, 260.0}, {-90.0, 285.0}}};

static const struct mech_suspension *layout_of(const char *name) {
    if (strcmp(name, "single pivot") == 0) {
        return &single_pivot;
    }
    return strcmp(name, "four-bar") == 0 ? &four_bar : &on_bracket;
}

static struct mech_suspension_drive drive_of(int ring, int sprocket) {
    return (struct mech_suspension_drive){.ring = ring,
                                          .sprocket = sprocket,
                                          .wheel_radius_mm = WHEEL_MM,
                                          .wheelbase_mm = WHEELBASE_MM,
                                          .mass_height_mm = HEIGHT_MM};
}

/* The state at a travel, from rest; the test fails when there is none. */
static struct mech_suspension_state state_at(const struct mech_suspension *s, double travel_mm) {
    struct mech_suspension_state state;
    enum mech_suspension_why why;
    assert_int_equal(mech_suspension_rest(&state, &why, s), BASE_OK);
    assert_int_equal(mech_suspension_move(&state, &why, s, travel_mm), BASE_OK);
    return state;
}

static struct mech_suspension_chain chain_at(const struct mech_suspension *s, int ring, int sprocket,
                                             double travel_mm) {
    struct mech_suspension_state rest = state_at(s, 0.0), state = state_at(s, travel_mm);
    struct mech_suspension_drive drive = drive_of(ring, sprocket);
    struct mech_suspension_chain chain;
    enum mech_suspension_why why;
    assert_int_equal(mech_suspension_chain(&chain, &why, &drive, &rest, &state), BASE_OK);
    return chain;
}

/* --- the tables ---------------------------------------------------------------------------------------------------- */

static void check_if(struct reference *r, const char *column, double actual, double tolerance) {
    if (reference_has(r, column)) {
        reference_check(r, column, actual, tolerance);
    }
}

static void test_travel_of_the_examples(void **state) {
    (void)state;
    struct reference *r = reference_open("suspension_travel");
    while (reference_next(r)) {
        const struct mech_suspension *layout = layout_of(reference_word(r, "layout"));
        int ring = reference_count(r, "ring"), sprocket = reference_count(r, "sprocket");
        double travel_mm = reference_number(r, "travel_mm");
        struct mech_suspension_state at = state_at(layout, travel_mm);
        struct mech_suspension_chain chain = chain_at(layout, ring, sprocket, travel_mm);
        struct mech_suspension_chain rest = chain_at(layout, ring, sprocket, 0.0);
        assert_near(at.axle.y_mm, layout->axle.y_mm + travel_mm, 1e-9);
        check_if(r, "axle_x_mm", at.axle.x_mm, LENGTH_MM);
        check_if(r, "stay_mm", chain.stay_mm, LENGTH_MM);
        check_if(r, "stay_growth_mm", chain.stay_mm - rest.stay_mm, LENGTH_MM);
        check_if(r, "span_growth_mm", chain.span_mm - rest.span_mm, LENGTH_MM);
        check_if(r, "kick_held_deg", mech_degrees(chain.kick_held_rad), ANGLE_DEG);
        check_if(r, "kick_rolling_deg", mech_degrees(chain.kick_rolling_rad), ANGLE_DEG);
        check_if(r, "anti_squat_percent", chain.anti_squat_percent, SHARE_PERCENT);
        check_if(r, "centre_x_mm", at.centre.x_mm, CENTRE_MM);
        check_if(r, "centre_y_mm", at.centre.y_mm, CENTRE_MM);
        check_if(r, "turn_deg", mech_degrees(at.turn_rad), ANGLE_DEG);
        assert_true(at.has_centre && at.has_turn);
    }
    reference_close(r, 19);
}

static void test_anti_squat_by_ring_and_sprocket(void **state) {
    (void)state;
    struct reference *r = reference_open("suspension_gears");
    while (reference_next(r)) {
        int ring = reference_count(r, "ring"), sprocket = reference_count(r, "sprocket");
        reference_check(r, "anti_squat_percent", chain_at(&single_pivot, ring, sprocket, 40.0).anti_squat_percent,
                        SHARE_PERCENT);
    }
    reference_close(r, 13);
}

static void test_slope_of_the_kick(void **state) {
    (void)state;
    struct reference *r = reference_open("suspension_slope");
    while (reference_next(r)) {
        double at_mm = reference_number(r, "travel_mm"), h = 0.01;
        double slope = (chain_at(&single_pivot, 32, 21, at_mm + h).kick_held_rad -
                        chain_at(&single_pivot, 32, 21, at_mm - h).kick_held_rad) /
                       (2.0 * h);
        reference_check(r, "kick_held_deg_per_mm", mech_degrees(slope), 1e-8);
    }
    reference_close(r, 2);
}

/* The loop round ring and sprocket as a chain counts it, over the whole travel of the single pivot. */
static void test_loop_over_the_travel(void **state) {
    (void)state;
    struct reference *r = reference_open("suspension_loop");
    while (reference_next(r)) {
        int ring = reference_count(r, "ring"), sprocket = reference_count(r, "sprocket");
        double rest_mm = state_at(&single_pivot, 0.0).axle.x_mm;
        struct mech_suspension_state longest;
        enum mech_suspension_why why;
        assert_int_equal(mech_suspension_longest(&longest, &why, &single_pivot, 0.0, 150.0), BASE_OK);
        assert_near(longest.travel_mm, 150.0, 0.0);
        const struct mech_point axles[2] = {{rest_mm, 30.0}, longest.axle};
        struct mech_loop loops[2];
        for (int i = 0; i < 2; i++) {
            struct mech_loop_wheel wheels[2];
            assert_int_equal(mech_loop_wheel_toothed(&wheels[0], 0.0, 0.0, ring, -1), BASE_OK);
            assert_int_equal(mech_loop_wheel_toothed(&wheels[1], axles[i].x_mm, axles[i].y_mm, sprocket, -1), BASE_OK);
            assert_int_equal(mech_loop_solve(&loops[i], wheels, 2), BASE_OK);
        }
        reference_check(r, "rest_mm", loops[0].length_mm, LENGTH_MM);
        reference_check(r, "longest_mm", loops[1].length_mm, LENGTH_MM);
        reference_check(r, "growth_links", loops[1].links - loops[0].links, 1e-6);
    }
    reference_close(r, 2);
}

/* --- what must hold of any suspension ------------------------------------------------------------------------------ */

/* A pivot on the bottom bracket: no chain growth, and still a kick (forward). */
static void test_pivot_on_the_bottom_bracket(void **state) {
    (void)state;
    double rest_mm = chain_at(&on_bracket, 32, 21, 0.0).stay_mm;
    double rest_span_mm = chain_at(&on_bracket, 32, 21, 0.0).span_mm;
    for (double travel_mm = -60.0; travel_mm <= 200.0; travel_mm += 4.0) {
        struct mech_suspension_chain chain = chain_at(&on_bracket, 32, 21, travel_mm);
        assert_near(chain.stay_mm, rest_mm, 1e-9);
        assert_near(chain.span_mm, rest_span_mm, 1e-9);
        assert_true(travel_mm <= 0.0 || chain.kick_held_rad < 0.0);
    }
}

/* Smaller with a bigger ring and a smaller sprocket; and so is the anti-squat with a bigger ring. */
static void test_signs_of_ring_and_sprocket(void **state) {
    (void)state;
    const struct mech_suspension *layouts[] = {&single_pivot, &four_bar};
    for (int l = 0; l < 2; l++) {
        for (int ring = 24; ring < 44; ring++) {
            struct mech_suspension_chain chain = chain_at(layouts[l], ring, 21, 120.0);
            struct mech_suspension_chain bigger = chain_at(layouts[l], ring + 1, 21, 120.0);
            struct mech_suspension_chain smaller = chain_at(layouts[l], ring, 20, 120.0);
            assert_true(bigger.kick_held_rad < chain.kick_held_rad);
            assert_true(smaller.kick_held_rad < chain.kick_held_rad);
            assert_true(bigger.anti_squat_percent < chain.anti_squat_percent);
        }
    }
}

/* Ring and sprocket alike: the run keeps its way and the kick is what the span grows by. */
static void test_equal_wheels_kick_by_the_span(void **state) {
    (void)state;
    double radius_mm = 0.0;
    assert_int_equal(mech_sprocket_pitch_radius_mm(&radius_mm, 28), BASE_OK);
    struct mech_suspension_chain rest = chain_at(&four_bar, 28, 28, 0.0);
    for (double travel_mm = 10.0; travel_mm <= 150.0; travel_mm += 10.0) {
        struct mech_suspension_chain chain = chain_at(&four_bar, 28, 28, travel_mm);
        assert_near(chain.kick_held_rad, (chain.span_mm - rest.span_mm) / radius_mm, 1e-12);
    }
}

/* --- random linkages ----------------------------------------------------------------------------------------------- */

static double between(struct random_source *random, double low, double high) {
    return random_between(random, low, high);
}

/* Links about as bikes have them: the axle behind, the member upright or lying. */
static struct mech_suspension random_linkage(struct random_source *random) {
    struct mech_suspension s = {.kind = MECH_SUSPENSION_FOUR_BAR,
                                .axle = {between(random, -460.0, -410.0), between(random, -20.0, 60.0)},
                                .lower.frame = {between(random, -60.0, 40.0), between(random, -40.0, 80.0)},
                                .upper.frame = {between(random, -120.0, 40.0), between(random, 150.0, 320.0)}};
    bool short_links = random_int(random, 0, 1) == 1;
    double reach = short_links ? between(random, -140.0, -60.0) : between(random, -400.0, -300.0);
    s.lower.joint = (struct mech_point){s.lower.frame.x_mm + reach, s.lower.frame.y_mm + between(random, -30.0, 30.0)};
    s.upper.joint = (struct mech_point){s.upper.frame.x_mm + between(random, -160.0, -60.0),
                                        s.upper.frame.y_mm + between(random, -40.0, 40.0)};
    return s;
}

static double distance(struct mech_point a, struct mech_point b) { return hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm); }

/* The axle for a turn of the lower link, by cutting the circles of the member and of the upper link on the side on which
 * they meet at rest. False where they do not. */
static bool cut_circles(struct mech_point *axle, const struct mech_suspension *s, double link_rad) {
    double lx = s->lower.joint.x_mm - s->lower.frame.x_mm, ly = s->lower.joint.y_mm - s->lower.frame.y_mm;
    struct mech_point j1 = {s->lower.frame.x_mm + cos(link_rad) * lx - sin(link_rad) * ly,
                            s->lower.frame.y_mm + sin(link_rad) * lx + cos(link_rad) * ly};
    double member = distance(s->lower.joint, s->upper.joint), upper = distance(s->upper.frame, s->upper.joint);
    double d = distance(j1, s->upper.frame);
    double along = (member * member - upper * upper + d * d) / (2.0 * d);
    double square = member * member - along * along;
    if (!(square > 0.0)) {
        return false;
    }
    double rest_side = (s->upper.frame.x_mm - s->lower.joint.x_mm) * (s->upper.joint.y_mm - s->lower.joint.y_mm) -
                       (s->upper.frame.y_mm - s->lower.joint.y_mm) * (s->upper.joint.x_mm - s->lower.joint.x_mm);
    double beside = copysign(sqrt(square), rest_side);
    double ux = (s->upper.frame.x_mm - j1.x_mm) / d, uy = (s->upper.frame.y_mm - j1.y_mm) / d;
    struct mech_point j2 = {j1.x_mm + along * ux - beside * uy, j1.y_mm + along * uy + beside * ux};
    double mx = s->upper.joint.x_mm - s->lower.joint.x_mm, my = s->upper.joint.y_mm - s->lower.joint.y_mm;
    double ax = s->axle.x_mm - s->lower.joint.x_mm, ay = s->axle.y_mm - s->lower.joint.y_mm;
    double c = ((j2.x_mm - j1.x_mm) * mx + (j2.y_mm - j1.y_mm) * my) / (member * member);
    double k = ((j2.y_mm - j1.y_mm) * mx - (j2.x_mm - j1.x_mm) * my) / (member * member);
    *axle = (struct mech_point){j1.x_mm + c * ax - k * ay, j1.y_mm + k * ax + c * ay};
    return true;
}

/* Turns the lower link by small steps until the axle stands at the height, then halves. False where it never does, or
 * where the axle turns back before. */
static bool scan_linkage(struct mech_point *axle, const struct mech_suspension *s, double travel_mm) {
    const double step = 1e-3;
    struct mech_point at, next;
    double way = 1.0;
    if (!cut_circles(&at, s, -step) || !cut_circles(&next, s, step)) {
        return false;
    }
    way = next.y_mm > at.y_mm ? 1.0 : -1.0;
    double low = 0.0, high = 0.0, want = s->axle.y_mm + travel_mm, last = s->axle.y_mm;
    do {
        low = high;
        high += way * step;
        if (!cut_circles(&at, s, high) || at.y_mm <= last || fabs(high) > 3.0) {
            return false;
        }
        last = at.y_mm;
    } while (last < want);
    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2.0;
        if (!cut_circles(&at, s, middle)) {
            return false;
        }
        *(at.y_mm < want ? &low : &high) = middle;
    }
    *axle = at;
    return true;
}

static void test_random_linkages_close_as_their_circles_do(void **state) {
    (void)state;
    struct random_source random = {11};
    int compared = 0, stopped = 0;
    for (int round = 0; round < 10000; round++) {
        struct mech_suspension s = random_linkage(&random);
        double travel_mm = between(&random, 10.0, 180.0);
        struct mech_suspension_state at;
        struct mech_point scanned;
        enum mech_suspension_why why;
        if (mech_suspension_rest(&at, &why, &s) != BASE_OK) {
            continue;
        }
        enum base_status status = mech_suspension_move(&at, &why, &s, travel_mm);
        bool scan = scan_linkage(&scanned, &s, travel_mm);
        if (status == BASE_NO) {
            assert_int_equal(why, MECH_SUSPENSION_OUT_OF_REACH);
            assert_false(scan);
            stopped++;
        } else if (scan) { /* else the lower link turns back on the way, which the scan can't follow */
            assert_near(at.axle.x_mm, scanned.x_mm, 1e-7);
            assert_near(at.axle.y_mm, scanned.y_mm, 1e-7);
            compared++;
        }
    }
    assert_true(compared > 5000);
    assert_true(stopped > 30);
}

/* The axle moves at right angles to the line to the instant centre, and along the path that the next state shows. */
static void test_velocity_and_instant_centre(void **state) {
    (void)state;
    struct random_source random = {12};
    int seen = 0;
    for (int round = 0; round < 500; round++) {
        struct mech_suspension s = random_linkage(&random);
        double travel_mm = between(&random, 5.0, 140.0), h = 0.01;
        struct mech_suspension_state at, before, after;
        enum mech_suspension_why why;
        if (mech_suspension_rest(&at, &why, &s) != BASE_OK ||
            mech_suspension_move(&at, &why, &s, travel_mm + 2.0) != BASE_OK) {
            continue;
        }
        at = state_at(&s, travel_mm);
        before = at;
        after = at;
        assert_int_equal(mech_suspension_move(&before, &why, &s, travel_mm - h), BASE_OK);
        assert_int_equal(mech_suspension_move(&after, &why, &s, travel_mm + h), BASE_OK);
        if (fabs(at.slope) > 5.0 || !at.has_centre) {
            continue;
        }
        assert_near((after.axle.x_mm - before.axle.x_mm) / (2.0 * h), at.slope, 1e-4);
        double rx = at.axle.x_mm - at.centre.x_mm, ry = at.axle.y_mm - at.centre.y_mm;
        double size = hypot(rx, ry) * hypot(at.slope, 1.0);
        assert_near((rx * at.slope + ry) / size, 0.0, 1e-9);
        /* Carried by the member, the joint keeps its distance from the upper pivot. */
        double c = cos(at.turn_rad), k = sin(at.turn_rad);
        double jx = s.upper.joint.x_mm - s.axle.x_mm, jy = s.upper.joint.y_mm - s.axle.y_mm;
        struct mech_point joint = {at.axle.x_mm + c * jx - k * jy, at.axle.y_mm + k * jx + c * jy};
        assert_near(distance(joint, s.upper.frame), distance(s.upper.joint, s.upper.frame), 1e-9);
        seen++;
    }
    assert_true(seen > 250);
}

/* The heading of the top run by halving: turned from a quarter before to a quarter behind the line between the centres, the
 * run that touches the sprocket comes down to the front wheel from above. */
static double halved_heading(struct mech_point axle, double sprocket_mm, struct mech_point front, double front_mm) {
    double dx = front.x_mm - axle.x_mm, dy = front.y_mm - axle.y_mm;
    double low = atan2(dy, dx) - MECH_PI / 2.0, high = low + MECH_PI;
    for (int i = 0; i < 60; i++) {
        double heading = (low + high) / 2.0;
        double beside = dy * cos(heading) - dx * sin(heading) + front_mm - sprocket_mm;
        *(beside > 0.0 ? &low : &high) = heading;
    }
    return low;
}

/* The drawn lines: from where the line from axle to centre meets the top run, seen from the contact of the tyre, as high
 * as it stands above the front axle. False where they are too near to parallel to be drawn. */
static bool draw_anti_squat(double *percent, const struct mech_suspension_state *at, double heading,
                            struct mech_point front, double front_mm) {
    /* The run passes over the wheels: its points lie a radius to the left of the way to the front. */
    double ux = cos(heading), uy = sin(heading);
    double px = front.x_mm - front_mm * uy, py = front.y_mm + front_mm * ux;
    double vx = at->centre.x_mm - at->axle.x_mm, vy = at->centre.y_mm - at->axle.y_mm;
    double across = vx * uy - vy * ux;
    if (fabs(across) < 1e-3 * hypot(vx, vy)) {
        return false;
    }
    double k = ((px - at->axle.x_mm) * uy - (py - at->axle.y_mm) * ux) / across;
    double fx = at->axle.x_mm + k * vx, fy = at->axle.y_mm + k * vy;
    if (fabs(fx - at->axle.x_mm) < 1.0) {
        return false;
    }
    *percent = (fy - (at->axle.y_mm - WHEEL_MM)) / (fx - at->axle.x_mm) * WHEELBASE_MM / HEIGHT_MM * 100.0;
    return true;
}

/* A gear of a random bike, with or without an idler above the ring, and the wheel at which its top run ends. */
struct random_gear {
    struct mech_suspension suspension;
    struct mech_suspension_drive drive;
    struct mech_point front;
    double front_mm, ring_mm, sprocket_mm;
};

static struct random_gear random_gear_of(struct random_source *random) {
    struct random_gear g = {.suspension = random_linkage(random)};
    if (random_int(random, 0, 1) == 1) {
        g.suspension.kind = MECH_SUSPENSION_PIVOT;
        g.suspension.pivot = (struct mech_point){between(random, -60.0, 60.0), between(random, -20.0, 160.0)};
    }
    g.drive = drive_of(random_int(random, 22, 44), random_int(random, 9, 52));
    assert_int_equal(mech_sprocket_pitch_radius_mm(&g.ring_mm, g.drive.ring), BASE_OK);
    assert_int_equal(mech_sprocket_pitch_radius_mm(&g.sprocket_mm, g.drive.sprocket), BASE_OK);
    g.front_mm = g.ring_mm;
    if (random_int(random, 0, 2) == 0) {
        g.drive.idler_teeth = random_int(random, 10, 20);
        g.drive.idler = (struct mech_point){between(random, -60.0, 20.0), between(random, 125.0, 170.0)};
        g.front = g.drive.idler;
        assert_int_equal(mech_sprocket_pitch_radius_mm(&g.front_mm, g.drive.idler_teeth), BASE_OK);
    }
    return g;
}

/* What the chain pays out over the travel, mm: the axle's way against the run, added up in `steps` (even) small steps of
 * Simpson's rule, since a taut chain moves alike at both ends of a run. False where the suspension stops before. */
static bool paid_in_steps(double *paid_mm, const struct random_gear *g, double travel_mm, int steps) {
    struct mech_suspension_state at = state_at(&g->suspension, 0.0);
    enum mech_suspension_why why;
    *paid_mm = 0.0;
    for (int i = 0; i <= steps; i++) {
        if (mech_suspension_move(&at, &why, &g->suspension, travel_mm * i / steps) != BASE_OK) {
            return false;
        }
        double heading = halved_heading(at.axle, g->sprocket_mm, g->front, g->front_mm);
        double weight = i == 0 || i == steps ? 1.0 : i % 2 == 1 ? 4.0 : 2.0;
        *paid_mm -= weight * (at.slope * cos(heading) + sin(heading)) * travel_mm / steps / 3.0;
    }
    return true;
}

/* On 10 000 random geometries: the kick is what the axle's small steps along the run add up to, and the anti-squat is the
 * one that is drawn. */
static void test_random_gears_by_small_steps_and_drawn_lines(void **state) {
    (void)state;
    struct random_source random = {13};
    int answered = 0, drawn = 0, idlers = 0;
    for (int round = 0; round < 10000; round++) {
        struct random_gear g = random_gear_of(&random);
        double travel_mm = between(&random, 5.0, 150.0), coarse_mm, fine_mm, percent;
        struct mech_suspension_state rest, at;
        struct mech_suspension_chain chain;
        enum mech_suspension_why why;
        if (mech_suspension_rest(&rest, &why, &g.suspension) != BASE_OK ||
            !paid_in_steps(&coarse_mm, &g, travel_mm, 32) || !paid_in_steps(&fine_mm, &g, travel_mm, 64) ||
            fabs(fine_mm - coarse_mm) > 1e-5) {
            continue; /* at its end, or so near to it that the axle goes level: steps of height can't be added up */
        }
        at = state_at(&g.suspension, travel_mm);
        enum base_status status = mech_suspension_chain(&chain, &why, &g.drive, &rest, &at);
        if (status == BASE_NO) {
            assert_true(g.drive.idler_teeth > 0 &&
                        (why == MECH_SUSPENSION_IDLER_FREE || why == MECH_SUSPENSION_WHEELS_OVERLAP));
            continue;
        }
        assert_int_equal(status, BASE_OK);
        /* Simpson's rule errs by less than the step from 32 to 64 told. */
        double steps_mm = fabs(fine_mm - coarse_mm) + 1e-6;
        assert_near(chain.kick_held_rad * g.ring_mm, fine_mm, steps_mm);
        double rolled_mm = -(at.axle.x_mm - rest.axle.x_mm) / WHEEL_MM * g.sprocket_mm;
        assert_near(chain.kick_rolling_rad * g.ring_mm, fine_mm + rolled_mm, steps_mm);
        double heading = halved_heading(at.axle, g.sprocket_mm, g.front, g.front_mm);
        if (at.has_centre && draw_anti_squat(&percent, &at, heading, g.front, g.front_mm)) {
            assert_near(chain.anti_squat_percent, percent, 1e-6 * fmax(fabs(percent), 100.0));
            drawn++;
        }
        answered++;
        idlers += g.drive.idler_teeth > 0;
    }
    assert_true(answered > 7000 && drawn > 6000 && idlers > 1000);
}

/* The linkage of the tables, as drawn. */
static void test_anti_squat_as_it_is_drawn(void **state) {
    (void)state;
    struct random_source random = {15};
    for (int round = 0; round < 40; round++) {
        const struct mech_suspension *s = round % 2 ? &single_pivot : &four_bar;
        int ring = random_int(&random, 22, 52), sprocket = random_int(&random, 9, 52);
        double travel_mm = between(&random, 0.0, 120.0), ring_mm, sprocket_mm, percent;
        struct mech_suspension_state at = state_at(s, travel_mm);
        assert_int_equal(mech_sprocket_pitch_radius_mm(&ring_mm, ring), BASE_OK);
        assert_int_equal(mech_sprocket_pitch_radius_mm(&sprocket_mm, sprocket), BASE_OK);
        const struct mech_point bracket = {0.0, 0.0};
        double heading = halved_heading(at.axle, sprocket_mm, bracket, ring_mm);
        if (at.has_centre && draw_anti_squat(&percent, &at, heading, bracket, ring_mm)) {
            assert_near(chain_at(s, ring, sprocket, travel_mm).anti_squat_percent, percent,
                        1e-6 * fmax(fabs(percent), 100.0));
        }
    }
}

/* A string from the back of the sprocket over both wheels to the front of the ring, as the upper hull of many points:
 * sprocket and ring are cut into so many sides that the hull is right to some 1e-6 mm. */
#define SIDES 20000

static double hull_over(struct mech_point axle, double ring_mm, double sprocket_mm) {
    static struct mech_point points[2 * SIDES + 2], hull[2 * SIDES + 2];
    size_t n = 0, h = 0;
    for (int wheel = 0; wheel < 2; wheel++) {
        for (int i = 0; i <= SIDES; i++) {
            double angle = MECH_PI - MECH_PI * i / SIDES, r = wheel ? ring_mm : sprocket_mm;
            points[n++] = (struct mech_point){(wheel ? 0.0 : axle.x_mm) + r * cos(angle),
                                              (wheel ? 0.0 : axle.y_mm) + r * sin(angle)};
        }
    }
    for (size_t i = 0; i < n; i++) { /* x rises: the wheels stand clear of each other */
        while (h >= 2 && (hull[h - 1].x_mm - hull[h - 2].x_mm) * (points[i].y_mm - hull[h - 2].y_mm) -
                                 (hull[h - 1].y_mm - hull[h - 2].y_mm) * (points[i].x_mm - hull[h - 2].x_mm) >=
                             0.0) {
            h--;
        }
        hull[h++] = points[i];
    }
    double length_mm = 0.0;
    for (size_t i = 1; i < h; i++) {
        length_mm += distance(hull[i], hull[i - 1]);
    }
    return length_mm;
}

static void test_kick_is_what_a_string_pulls(void **state) {
    (void)state;
    struct random_source random = {14};
    for (int round = 0; round < 12; round++) {
        const struct mech_suspension *layout = round % 2 ? &single_pivot : &four_bar;
        int ring = random_int(&random, 22, 52), sprocket = random_int(&random, 9, 52);
        double travel_mm = between(&random, 20.0, 150.0), ring_mm, sprocket_mm;
        assert_int_equal(mech_sprocket_pitch_radius_mm(&ring_mm, ring), BASE_OK);
        assert_int_equal(mech_sprocket_pitch_radius_mm(&sprocket_mm, sprocket), BASE_OK);
        struct mech_suspension_state at = state_at(layout, travel_mm);
        struct mech_suspension_chain chain = chain_at(layout, ring, sprocket, travel_mm);
        double pulled_mm = hull_over(at.axle, ring_mm, sprocket_mm) - hull_over(layout->axle, ring_mm, sprocket_mm);
        assert_near(chain.kick_held_rad * ring_mm, pulled_mm, 1e-5);
        /* The wheel rolls back as the axle goes back, and gives chain of a sprocket's radius. */
        double rolled_mm = -(at.axle.x_mm - layout->axle.x_mm) / WHEEL_MM * sprocket_mm;
        assert_near(chain.kick_rolling_rad * ring_mm, pulled_mm + rolled_mm, 1e-5);
    }
}

/* --- measured points ----------------------------------------------------------------------------------------------- */

static struct mech_suspension points_of(const struct mech_suspension *s, const double *travels_mm, size_t n) {
    struct mech_suspension points = {.kind = MECH_SUSPENSION_POINTS, .axle = s->axle, .n = n};
    for (size_t i = 0; i < n; i++) {
        points.points[i] = state_at(s, travels_mm[i]).axle;
    }
    return points;
}

/* What interpolation leaves open, from the bend of a circle of 465 mm: three points 0, 45 and 150 mm up are right to 0.1
 * mm between them, the slope at the end to 0.011, and with it the anti-squat to 12 percent points; eight points to 0.002
 * mm and 0.3 points. */
static void test_few_points_stand_for_a_linkage(void **state) {
    (void)state;
    const double few[] = {0.0, 45.0, 150.0}, many[] = {-20.0, 0.0, 25.0, 50.0, 75.0, 100.0, 125.0, 150.0};
    const struct mech_suspension *layouts[] = {&single_pivot, &four_bar};
    for (int l = 0; l < 2; l++) {
        struct mech_suspension three = points_of(layouts[l], few, 3), eight = points_of(layouts[l], many, 8);
        for (double travel_mm = 0.0; travel_mm <= 150.0; travel_mm += 2.5) {
            struct mech_suspension_state real = state_at(layouts[l], travel_mm);
            struct mech_suspension_chain chain = chain_at(layouts[l], 32, 21, travel_mm);
            assert_near(state_at(&three, travel_mm).axle.x_mm, real.axle.x_mm, 0.1);
            assert_near(chain_at(&three, 32, 21, travel_mm).anti_squat_percent, chain.anti_squat_percent, 12.0);
            assert_near(state_at(&eight, travel_mm).axle.x_mm, real.axle.x_mm, 0.002);
            assert_near(chain_at(&eight, 32, 21, travel_mm).anti_squat_percent, chain.anti_squat_percent, 0.3);
        }
    }
}

/* A cubic comes back exactly from four points or more, a parabola from three, a line from two. */
static void test_polynomials_come_back(void **state) {
    (void)state;
    struct random_source random = {15};
    for (int round = 0; round < 200; round++) {
        size_t n = (size_t)random_int(&random, 2, 12);
        double c[4] = {-430.0, between(&random, -0.4, 0.4), between(&random, -2e-3, 2e-3),
                       between(&random, -5e-6, 5e-6)};
        for (size_t i = n; i < 4; i++) {
            c[i] = 0.0;
        }
        struct mech_suspension s = {.kind = MECH_SUSPENSION_POINTS, .axle = {c[0], 0.0}, .n = n};
        double y = 0.0;
        for (size_t i = 0; i < n; i++) {
            s.points[i] = (struct mech_point){c[0] + y * (c[1] + y * (c[2] + y * c[3])), y};
            y += between(&random, 5.0, 40.0);
        }
        for (int k = 0; k <= 20; k++) {
            double t = s.points[n - 1].y_mm * k / 20.0;
            struct mech_suspension_state at = state_at(&s, t);
            assert_near(at.axle.x_mm, c[0] + t * (c[1] + t * (c[2] + t * c[3])), 1e-8);
            assert_near(at.slope, c[1] + t * (2.0 * c[2] + t * 3.0 * c[3]), 1e-9);
            assert_false(at.has_centre || at.has_turn);
        }
    }
}

/* --- the longest stay ---------------------------------------------------------------------------------------------- */

/* A pivot behind the bottom bracket: seen from there the axle goes away first and then comes back. The stay is longest
 * where the pivot lies on the line from bottom bracket to axle. */
static void test_longest_stay_is_not_at_the_end(void **state) {
    (void)state;
    const struct mech_suspension low = {.kind = MECH_SUSPENSION_PIVOT, .axle = {-430.0, -60.0}, .pivot = {-40.0, -2.0}};
    struct mech_suspension_state longest;
    enum mech_suspension_why why;
    assert_int_equal(mech_suspension_longest(&longest, &why, &low, 0.0, 160.0), BASE_OK);
    double radius_mm = hypot(390.0, 58.0), out_mm = hypot(40.0, 2.0);
    assert_true(longest.travel_mm > 20.0 && longest.travel_mm < 140.0);
    assert_near(hypot(longest.axle.x_mm, longest.axle.y_mm), radius_mm + out_mm, 1e-9);
    for (double travel_mm = 0.0; travel_mm <= 160.0; travel_mm += 1.0) {
        assert_true(chain_at(&low, 32, 21, travel_mm).stay_mm <= radius_mm + out_mm + 1e-9);
    }
    assert_int_equal(mech_suspension_longest(&longest, &why, &four_bar, 0.0, 150.0), BASE_OK);
    assert_near(longest.travel_mm, 150.0, 0.0);
    assert_int_equal(mech_suspension_longest(&longest, &why, &low, 160.0, 0.0), BASE_BAD_INPUT);
    assert_int_equal(mech_suspension_longest(&longest, &why, &low, 0.0, (double)NAN), BASE_BAD_INPUT);
}

/* The loop round sprocket, idler and ring as a chain would lie: the path of loop.h at each of many travels. */
static double longest_by_scan(double *at_mm, const struct mech_suspension *s, const struct mech_suspension_drive *drive,
                              double to_mm) {
    double most = 0.0;
    for (double travel_mm = 0.0; travel_mm <= to_mm; travel_mm += 0.25) {
        struct mech_suspension_state at = state_at(s, travel_mm);
        struct mech_loop_wheel wheels[3];
        struct mech_loop loop;
        size_t n = 0;
        assert_int_equal(mech_loop_wheel_toothed(&wheels[n++], at.axle.x_mm, at.axle.y_mm, drive->sprocket, -1),
                         BASE_OK);
        if (drive->idler_teeth > 0) {
            assert_int_equal(
                mech_loop_wheel_toothed(&wheels[n++], drive->idler.x_mm, drive->idler.y_mm, drive->idler_teeth, -1),
                BASE_OK);
        }
        assert_int_equal(mech_loop_wheel_toothed(&wheels[n++], 0.0, 0.0, drive->ring, -1), BASE_OK);
        assert_int_equal(mech_loop_solve(&loop, wheels, n), BASE_OK);
        if (loop.links > most) {
            most = loop.links;
            *at_mm = travel_mm;
        }
    }
    return most;
}

/* Without an idler it is longest where the stay is; with one it need not be. */
static void test_longest_loop(void **state) {
    (void)state;
    const struct mech_suspension low = {.kind = MECH_SUSPENSION_PIVOT, .axle = {-430.0, -60.0}, .pivot = {-40.0, -2.0}};
    const struct mech_suspension high = {
        .kind = MECH_SUSPENSION_PIVOT, .axle = {-434.0, -18.0}, .pivot = {-20.0, 130.0}};
    struct mech_suspension_drive drives[4] = {drive_of(32, 21), drive_of(32, 51), drive_of(32, 10), drive_of(30, 21)};
    for (size_t i = 0; i < 4; i++) {
        for (int idler = 0; idler < 2; idler++) {
            const struct mech_suspension *s = idler ? &high : &low;
            struct mech_suspension_state longest, stay;
            enum mech_suspension_why why;
            double links, at_mm = 0.0;
            drives[i].idler_teeth = idler ? 16 : 0;
            drives[i].idler = (struct mech_point){-25.0, 115.0};
            double most = longest_by_scan(&at_mm, s, &drives[i], 160.0);
            assert_int_equal(mech_suspension_longest_loop(&longest, &links, &why, s, &drives[i], 0.0, 160.0), BASE_OK);
            assert_near(longest.travel_mm, at_mm, 0.25);
            assert_true(links >= most - 1e-12 && links < most + 1e-4);
            if (!idler) {
                assert_int_equal(mech_suspension_longest(&stay, &why, s, 0.0, 160.0), BASE_OK);
                assert_near(longest.travel_mm, stay.travel_mm, 0.05); /* so flat is the top of a loop told to 1e-12 */
            }
        }
    }
    struct mech_suspension_state unused;
    enum mech_suspension_why why;
    double links;
    assert_int_equal(mech_suspension_longest_loop(&unused, &links, &why, &low, &drives[0], 10.0, 10.0), BASE_BAD_INPUT);
}

/* Seen from the idler, the top run is that of a bike whose bottom bracket lies there, with the idler as its ring; only the
 * kick is smaller, as the ring is larger. */
static void test_an_idler_is_the_ring_of_the_top_run(void **state) {
    (void)state;
    struct mech_suspension_drive drive = drive_of(34, 21);
    drive.idler_teeth = 16;
    drive.idler = (struct mech_point){-25.0, 125.0};
    struct mech_suspension moved = single_pivot;
    moved.axle = (struct mech_point){single_pivot.axle.x_mm + 25.0, single_pivot.axle.y_mm - 125.0};
    moved.pivot = (struct mech_point){single_pivot.pivot.x_mm + 25.0, single_pivot.pivot.y_mm - 125.0};
    for (double travel_mm = 0.0; travel_mm <= 150.0; travel_mm += 30.0) {
        struct mech_suspension_state rest = state_at(&single_pivot, 0.0), at = state_at(&single_pivot, travel_mm);
        struct mech_suspension_chain chain, plain = chain_at(&moved, 16, 21, travel_mm);
        enum mech_suspension_why why;
        assert_int_equal(mech_suspension_chain(&chain, &why, &drive, &rest, &at), BASE_OK);
        double idler_mm, ring_mm;
        assert_int_equal(mech_sprocket_pitch_radius_mm(&idler_mm, 16), BASE_OK);
        assert_int_equal(mech_sprocket_pitch_radius_mm(&ring_mm, 34), BASE_OK);
        assert_near(chain.span_mm, plain.span_mm, 1e-9);
        assert_near(chain.anti_squat_percent, plain.anti_squat_percent, 1e-9);
        assert_near(chain.kick_held_rad * ring_mm, plain.kick_held_rad * idler_mm, 1e-9);
        assert_near(chain.kick_rolling_rad * ring_mm, plain.kick_rolling_rad * idler_mm, 1e-9);
    }
}

/* An idler under the run, in the ring, or out of range. */
static void test_idlers_that_cannot_be(void **state) {
    (void)state;
    struct mech_suspension_state rest = state_at(&single_pivot, 0.0);
    struct mech_suspension_drive drive = drive_of(32, 21);
    struct mech_suspension_chain chain;
    enum mech_suspension_why why;
    double links;
    drive.idler_teeth = 16;
    drive.idler = (struct mech_point){-200.0, 0.0};
    assert_int_equal(mech_suspension_chain(&chain, &why, &drive, &rest, &rest), BASE_NO);
    assert_int_equal(why, MECH_SUSPENSION_IDLER_FREE);
    drive.idler = (struct mech_point){-20.0, 60.0};
    assert_int_equal(mech_suspension_loop_links(&links, &why, &drive, &rest), BASE_NO);
    assert_int_equal(why, MECH_SUSPENSION_WHEELS_OVERLAP);
    drive.idler_teeth = 3;
    assert_int_equal(mech_suspension_chain(&chain, &why, &drive, &rest, &rest), BASE_BAD_INPUT);
    drive.idler_teeth = 16;
    drive.idler.x_mm = (double)NAN;
    assert_int_equal(mech_suspension_loop_links(&links, &why, &drive, &rest), BASE_BAD_INPUT);
}

/* --- what can't be ------------------------------------------------------------------------------------------------- */

static void expect_no(const struct mech_suspension *s, double travel_mm, enum mech_suspension_why expected) {
    struct mech_suspension_state at, before;
    enum mech_suspension_why why = MECH_SUSPENSION_WHY_NONE;
    memset(&at, 0x5a, sizeof at);
    memcpy(&before, &at, sizeof at);
    enum base_status status = mech_suspension_rest(&at, &why, s);
    if (status == BASE_OK) {
        before = at;
        status = mech_suspension_move(&at, &why, s, travel_mm);
    }
    assert_int_equal(status, BASE_NO);
    assert_int_equal(why, expected);
    assert_memory_equal(&at, &before, sizeof at);
}

static void test_degenerate_suspensions_give_a_reason(void **state) {
    (void)state;
    struct mech_suspension s = single_pivot;
    expect_no(&s, 500.0, MECH_SUSPENSION_OUT_OF_REACH); /* the arm is 465 mm long, and begins 30 below its pivot */
    s.pivot = s.axle;
    expect_no(&s, 0.0, MECH_SUSPENSION_PIVOT_ON_AXLE);
    s.pivot = (struct mech_point){s.axle.x_mm, 200.0};
    expect_no(&s, 0.0, MECH_SUSPENSION_OUT_OF_REACH); /* hangs straight under it: can only go level */
    s = four_bar;
    expect_no(&s, 500.0, MECH_SUSPENSION_OUT_OF_REACH);
    expect_no(&s, -500.0, MECH_SUSPENSION_OUT_OF_REACH);
    s.lower.joint = s.lower.frame;
    expect_no(&s, 10.0, MECH_SUSPENSION_NO_LINK);
    s = four_bar;
    s.upper.joint = s.upper.frame;
    expect_no(&s, 10.0, MECH_SUSPENSION_NO_LINK);
    s = four_bar;
    s.upper.joint = s.lower.joint;
    expect_no(&s, 10.0, MECH_SUSPENSION_NO_LINK);
    const double travels_mm[] = {0.0, 45.0, 150.0};
    s = points_of(&single_pivot, travels_mm, 3);
    expect_no(&s, 151.0, MECH_SUSPENSION_BEYOND_POINTS);
    expect_no(&s, -1.0, MECH_SUSPENSION_BEYOND_POINTS);
}

static void expect_bad(const struct mech_suspension *s) {
    struct mech_suspension_state at;
    enum mech_suspension_why why;
    assert_int_equal(mech_suspension_rest(&at, &why, s), BASE_BAD_INPUT);
}

static void test_bad_input_is_refused(void **state) {
    (void)state;
    struct mech_suspension s = single_pivot;
    s.axle.x_mm = (double)NAN;
    expect_bad(&s);
    s = single_pivot;
    s.pivot.y_mm = INFINITY;
    expect_bad(&s);
    s = four_bar;
    s.upper.frame.x_mm = 1e9;
    expect_bad(&s);
    const double travels_mm[] = {0.0, 45.0, 150.0};
    const struct mech_suspension good = points_of(&single_pivot, travels_mm, 3);
    s = good;
    s.n = 1;
    expect_bad(&s);
    s.n = MECH_SUSPENSION_POINTS_MAX + 1;
    expect_bad(&s);
    s = good;
    s.points[2].y_mm = s.points[1].y_mm;
    expect_bad(&s);
    s = good;
    s.axle.x_mm += 1.0;
    expect_bad(&s);
    struct mech_suspension_state at = state_at(&good, 0.0), rest = at;
    enum mech_suspension_why why = MECH_SUSPENSION_WHY_NONE;
    assert_int_equal(mech_suspension_move(&at, &why, &good, (double)NAN), BASE_BAD_INPUT);
    assert_int_equal(mech_suspension_move(&at, &why, &good, 501.0), BASE_BAD_INPUT);
    struct mech_suspension_chain chain;
    struct mech_suspension_drive drive = drive_of(5, 21);
    assert_int_equal(mech_suspension_chain(&chain, &why, &drive, &rest, &at), BASE_BAD_INPUT);
    drive = drive_of(32, 21);
    drive.mass_height_mm = 0.0;
    assert_int_equal(mech_suspension_chain(&chain, &why, &drive, &rest, &at), BASE_BAD_INPUT);
    drive = drive_of(130, 130);
    assert_int_equal(mech_suspension_chain(&chain, &why, &drive, &rest, &at), BASE_NO);
    assert_int_equal(why, MECH_SUSPENSION_WHEELS_OVERLAP);
}

/* Whatever the points, an answer is finite or there is none. */
static void test_never_not_a_number(void **state) {
    (void)state;
    struct random_source random = {16};
    int answered = 0;
    for (int round = 0; round < 3000; round++) {
        struct mech_suspension s = {.kind = round % 2 ? MECH_SUSPENSION_FOUR_BAR : MECH_SUSPENSION_PIVOT};
        /* On a coarse grid, so that points coincide and links lie in line. */
        struct mech_point *points[] = {&s.axle,        &s.pivot,       &s.lower.frame,
                                       &s.lower.joint, &s.upper.frame, &s.upper.joint};
        for (size_t i = 0; i < sizeof points / sizeof points[0]; i++) {
            *points[i] = (struct mech_point){50.0 * random_int(&random, -4, 4), 50.0 * random_int(&random, -2, 2)};
        }
        struct mech_suspension_state at, rest;
        struct mech_suspension_chain chain;
        struct mech_suspension_drive drive = drive_of(8, 8);
        enum mech_suspension_why why;
        if (mech_suspension_rest(&rest, &why, &s) != BASE_OK) {
            continue;
        }
        at = rest;
        if (mech_suspension_move(&at, &why, &s, between(&random, -150.0, 150.0)) != BASE_OK) {
            continue;
        }
        assert_true(isfinite(at.axle.x_mm) && isfinite(at.slope) && isfinite(at.turn_rad));
        assert_true(isfinite(at.centre.x_mm) && isfinite(at.centre.y_mm));
        if (mech_suspension_chain(&chain, &why, &drive, &rest, &at) == BASE_OK) {
            assert_true(isfinite(chain.kick_held_rad) && isfinite(chain.kick_rolling_rad));
            assert_true(isfinite(chain.anti_squat_percent) && isfinite(chain.span_mm));
            answered++;
        }
    }
    assert_true(answered > 500);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_travel_of_the_examples),
        cmocka_unit_test(test_anti_squat_by_ring_and_sprocket),
        cmocka_unit_test(test_slope_of_the_kick),
        cmocka_unit_test(test_loop_over_the_travel),
        cmocka_unit_test(test_pivot_on_the_bottom_bracket),
        cmocka_unit_test(test_signs_of_ring_and_sprocket),
        cmocka_unit_test(test_equal_wheels_kick_by_the_span),
        cmocka_unit_test(test_random_linkages_close_as_their_circles_do),
        cmocka_unit_test(test_velocity_and_instant_centre),
        cmocka_unit_test(test_random_gears_by_small_steps_and_drawn_lines),
        cmocka_unit_test(test_anti_squat_as_it_is_drawn),
        cmocka_unit_test(test_kick_is_what_a_string_pulls),
        cmocka_unit_test(test_few_points_stand_for_a_linkage),
        cmocka_unit_test(test_polynomials_come_back),
        cmocka_unit_test(test_longest_stay_is_not_at_the_end),
        cmocka_unit_test(test_longest_loop),
        cmocka_unit_test(test_an_idler_is_the_ring_of_the_top_run),
        cmocka_unit_test(test_idlers_that_cannot_be),
        cmocka_unit_test(test_degenerate_suspensions_give_a_reason),
        cmocka_unit_test(test_bad_input_is_refused),
        cmocka_unit_test(test_never_not_a_number),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
