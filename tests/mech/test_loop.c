/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The path of the chain, against values that were derived by two methods, and against methods that share nothing with the
 * code: the integral of the support function for wheels of one sense, a walk along the path for mixed senses, and the
 * real chain of straight pitches for the number of links.
 */
#include "mech/constants.h"
#include "mech/loop.h"
#include "mech/sprocket.h"
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

/* What tables with six decimals can tell. */
#define TABLE 1e-6

#define LOOPS_MAX 16

struct case_of_table {
    char name[32];
    struct mech_loop_wheel wheels[MECH_LOOP_WHEELS_MAX];
    size_t n;
    struct mech_loop loop;
};

static void read_wheel(struct reference *r, struct mech_loop_wheel *wheel) {
    double x_mm = reference_number(r, "x_mm"), y_mm = reference_number(r, "y_mm");
    int sense = reference_count(r, "sense");
    if (reference_has(r, "teeth")) {
        assert_int_equal(mech_loop_wheel_toothed(wheel, x_mm, y_mm, reference_count(r, "teeth"), sense), BASE_OK);
    } else {
        *wheel = (struct mech_loop_wheel){x_mm, y_mm, reference_number(r, "radius_mm"), sense};
    }
}

/* Rows of one loop follow each other. */
static size_t read_cases(struct reference *r, struct case_of_table *cases) {
    size_t n = 0;
    while (reference_next(r)) {
        const char *name = reference_word(r, "loop");
        if (n == 0 || strcmp(cases[n - 1].name, name) != 0) {
            assert_true(n < LOOPS_MAX && strlen(name) < sizeof cases[n].name);
            strcpy(cases[n++].name, name);
        }
        struct case_of_table *c = &cases[n - 1];
        read_wheel(r, &c->wheels[c->n++]);
    }
    return n;
}

static void test_runs_and_wraps_of_the_examples(void **state) {
    (void)state;
    static struct case_of_table cases[LOOPS_MAX];
    struct reference *r = reference_open("loop_wheels");
    size_t n = read_cases(r, cases);
    reference_rewind(r);
    for (size_t i = 0; i < n; i++) {
        assert_int_equal(mech_loop_solve(&cases[i].loop, cases[i].wheels, cases[i].n), BASE_OK);
        for (size_t w = 0; w < cases[i].n; w++) {
            assert_true(reference_next(r));
            reference_check(r, "span_mm", cases[i].loop.span_mm[w], TABLE);
            reference_check(r, "wrap_deg", mech_degrees(cases[i].loop.wrap_rad[w]), TABLE);
        }
    }
    reference_close(r, 29);

    r = reference_open("loop_totals");
    for (size_t i = 0; i < n; i++) {
        assert_true(reference_next(r));
        assert_string_equal(reference_word(r, "loop"), cases[i].name);
        assert_int_equal(reference_count(r, "wheels"), cases[i].n);
        reference_check(r, "length_mm", cases[i].loop.length_mm, TABLE);
        if (reference_has(r, "links")) {
            reference_check(r, "links", cases[i].loop.links, TABLE);
        }
        assert_int_equal(abs(cases[i].loop.turns), strcmp(cases[i].name, "crossed") == 0 ? 0 : 1);
    }
    reference_close(r, 10);
}

struct point {
    double x, y;
};

static int by_x_then_y(const void *a, const void *b) {
    const struct point *p = a, *q = b;
    int x = (p->x > q->x) - (p->x < q->x);
    return x != 0 ? x : (p->y > q->y) - (p->y < q->y);
}

/* One side of the convex hull of sorted points, as the length of its edges (monotone chain). */
static double half_hull(const struct point *points, size_t n, double side) {
    struct point hull[2 * MECH_TEETH_MAX];
    size_t h = 0;
    for (size_t i = 0; i < n; i++) {
        while (h >= 2 && side * ((hull[h - 1].x - hull[h - 2].x) * (points[i].y - hull[h - 2].y) -
                                 (hull[h - 1].y - hull[h - 2].y) * (points[i].x - hull[h - 2].x)) <=
                             0.0) {
            h--;
        }
        hull[h++] = points[i];
    }
    double length = 0.0;
    for (size_t i = 1; i < h; i++) {
        length += hypot(hull[i].x - hull[i - 1].x, hull[i].y - hull[i - 1].y);
    }
    return length;
}

/* Length in pitches of a taut chain of straight pitches round two wheels whose teeth stand at these phases (0..1 of a
 * tooth): seated pins are a pitch apart, so it is the hull of all the places where a pin can sit. */
static double polygon_links(int ring, int sprocket, double centres_mm, double ring_phase, double sprocket_phase) {
    struct point pins[2 * MECH_TEETH_MAX];
    size_t n = 0;
    for (int wheel = 0; wheel < 2; wheel++) {
        int teeth = wheel == 0 ? ring : sprocket;
        double radius_mm = 12.7 / (2.0 * sin(MECH_PI / teeth));
        for (int i = 0; i < teeth; i++) {
            double angle = 2.0 * MECH_PI * (i + (wheel == 0 ? ring_phase : sprocket_phase)) / teeth;
            pins[n++] = (struct point){wheel * centres_mm + radius_mm * cos(angle), radius_mm * sin(angle)};
        }
    }
    qsort(pins, n, sizeof pins[0], by_x_then_y);
    return (half_hull(pins, n, 1.0) + half_hull(pins, n, -1.0)) / 12.7;
}

struct spread {
    double mean, least, most;
};

/* Over a grid of tooth positions of both wheels. */
static struct spread polygon_spread(int ring, int sprocket, double centres_mm, int grid) {
    struct spread s = {0.0, INFINITY, -INFINITY};
    for (int i = 0; i < grid; i++) {
        for (int j = 0; j < grid; j++) {
            double links = polygon_links(ring, sprocket, centres_mm, (double)i / grid, (double)j / grid);
            s.mean += links / ((double)grid * grid);
            s.least = fmin(s.least, links);
            s.most = fmax(s.most, links);
        }
    }
    return s;
}

/* The table was made on another grid: means agree to 1e-6 pitch, extremes to what a step of the grid can hide. */
static void test_links_are_those_of_the_real_chain(void **state) {
    (void)state;
    struct reference *r = reference_open("link_count");
    while (reference_next(r)) {
        int ring = reference_count(r, "ring"), sprocket = reference_count(r, "sprocket");
        double centres_mm = reference_number(r, "centres_mm"), links = 0.0;
        struct mech_loop_wheel wheels[2];
        struct mech_loop loop;
        assert_int_equal(mech_loop_bare_links(&links, ring, sprocket, centres_mm), BASE_OK);
        assert_int_equal(mech_loop_wheel_toothed(&wheels[0], 0.0, 0.0, ring, 1), BASE_OK);
        assert_int_equal(mech_loop_wheel_toothed(&wheels[1], centres_mm, 0.0, sprocket, 1), BASE_OK);
        assert_int_equal(mech_loop_solve(&loop, wheels, 2), BASE_OK);
        reference_check(r, "links", links, TABLE);
        reference_check(r, "length_over_pitch", loop.length_mm / MECH_PITCH_MM, TABLE);
        struct spread real = polygon_spread(ring, sprocket, centres_mm, 48);
        reference_check(r, "polygon_mean", real.mean, 2e-6);
        reference_check(r, "polygon_min", real.least, 2e-5);
        reference_check(r, "polygon_max", real.most, 2e-5);
        assert_near(links, real.mean, 3e-5);
        const int teeth[2] = {ring, sprocket};
        double band = mech_loop_polygon_links(teeth, 2);
        assert_true(real.least > links - band && real.most < links + band);
        assert_true(real.most - real.least > band / 10.0); /* and it is no loose bound */
    }
    reference_close(r, 4);
}

/* The same on random drives. A grid of 24 leaves up to some 1e-5 pitch in the mean. */
static void test_bare_loop_of_random_drives_is_the_real_chain(void **state) {
    (void)state;
    struct random_source random = {2};
    for (int round = 0; round < 40; round++) {
        int ring = random_int(&random, 22, 56), sprocket = random_int(&random, 9, 52);
        double centres_mm = random_between(&random, 320.0, 480.0), links = 0.0;
        assert_int_equal(mech_loop_bare_links(&links, ring, sprocket, centres_mm), BASE_OK);
        struct spread real = polygon_spread(ring, sprocket, centres_mm, 24);
        assert_near(links, real.mean, 6e-5);
        assert_true(real.least - 1e-5 <= links && links <= real.most + 1e-5);
    }
}

/* Two wheels have a closed form; and the loop grows by 2 cos(asin((R - r) / C)) for a millimetre between the axles:
 * 1.995789 mm for 32/18 at 435 (derived, two methods). */
static void test_two_wheels_have_a_closed_form(void **state) {
    (void)state;
    struct random_source random = {3};
    for (int round = 0; round < 500; round++) {
        double big = random_between(&random, 20.0, 120.0), small = random_between(&random, 20.0, 120.0);
        /* From 1.2 times the sum on, a crossed loop wraps less than 300 degrees. */
        double c = random_between(&random, 1.2 * (big + small), 600.0);
        double direction = random_between(&random, -MECH_PI, MECH_PI);
        struct mech_loop_wheel wheels[2] = {{10.0, -20.0, big, 1},
                                            {10.0 + c * cos(direction), -20.0 + c * sin(direction), small, 1}};
        struct mech_loop loop;
        assert_int_equal(mech_loop_solve(&loop, wheels, 2), BASE_OK);
        double open = 2.0 * sqrt(c * c - (big - small) * (big - small)) + MECH_PI * (big + small) +
                      2.0 * (big - small) * asin((big - small) / c);
        assert_near(loop.length_mm, open, 1e-9);
        wheels[1].sense = -1;
        assert_int_equal(mech_loop_solve(&loop, wheels, 2), BASE_OK);
        double crossed = 2.0 * sqrt(c * c - (big + small) * (big + small)) +
                         (big + small) * (MECH_PI + 2.0 * asin((big + small) / c));
        assert_int_equal(loop.turns, 0);
        assert_near(loop.length_mm, crossed, 1e-9);
    }
    struct mech_loop_wheel wheels[2];
    struct mech_loop near, far;
    assert_int_equal(mech_loop_wheel_toothed(&wheels[0], 0.0, 0.0, 32, 1), BASE_OK);
    assert_int_equal(mech_loop_wheel_toothed(&wheels[1], 434.5, 0.0, 18, 1), BASE_OK);
    assert_int_equal(mech_loop_solve(&near, wheels, 2), BASE_OK);
    wheels[1].x_mm = 435.5;
    assert_int_equal(mech_loop_solve(&far, wheels, 2), BASE_OK);
    assert_near(far.length_mm - near.length_mm, 1.995789, TABLE);
}

#define DIRECTIONS 20000

/* From links to the axle's distance and back; what can't be has a status. */
static void test_axle_of_a_taut_loop(void **state) {
    (void)state;
    struct random_source random = {7};
    for (int round = 0; round < 2000; round++) {
        int ring = random_int(&random, 22, 58), sprocket = random_int(&random, 9, 26);
        double axle_mm = random_between(&random, 300.0, 700.0), links, again_mm;
        assert_int_equal(mech_loop_bare_links(&links, ring, sprocket, axle_mm), BASE_OK);
        assert_int_equal(mech_loop_bare_axle_mm(&again_mm, ring, sprocket, links), BASE_OK);
        assert_near(again_mm, axle_mm, 1e-8);
    }
    double out = 7.0;
    assert_int_equal(mech_loop_bare_axle_mm(&out, 42, 16, 40.0), BASE_NO);
    assert_int_equal(mech_loop_bare_axle_mm(&out, 42, 16, 5000.0), BASE_NO);
    assert_int_equal(mech_loop_bare_axle_mm(&out, 42, 2, 98.0), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_bare_axle_mm(&out, 42, 16, (double)NAN), BASE_BAD_INPUT);
    assert_near(out, 7.0, 0.0);
}

/* Wheel that reaches farthest in a direction, and how far. */
static size_t farthest(double *reach_mm, const struct mech_loop_wheel *wheels, size_t n, double direction) {
    size_t best = 0;
    for (size_t i = 0; i < n; i++) {
        double reach = wheels[i].x_mm * cos(direction) + wheels[i].y_mm * sin(direction) + wheels[i].radius_mm;
        if (i == 0 || reach > *reach_mm) {
            *reach_mm = reach;
            best = i;
        }
    }
    return best;
}

struct hull {
    double perimeter_mm;
    size_t order[DIRECTIONS]; /* wheels as the hull meets them; n visits, 0 when one wheel holds all others */
    size_t n;
    int fewest, most; /* directions that a wheel owns at one visit */
};

/* The hull of discs. Its perimeter is the integral of the support function over all directions (Cauchy's formula). */
static void find_hull(struct hull *hull, const struct mech_loop_wheel *wheels, size_t n) {
    static size_t owner[DIRECTIONS];
    int first_change = -1, began = 0;
    *hull = (struct hull){.fewest = DIRECTIONS};
    for (int i = 0; i < DIRECTIONS; i++) {
        double reach_mm = 0.0;
        owner[i] = farthest(&reach_mm, wheels, n, 2.0 * MECH_PI * (i + 0.5) / DIRECTIONS);
        hull->perimeter_mm += reach_mm * 2.0 * MECH_PI / DIRECTIONS;
        if (first_change < 0 && i > 0 && owner[i] != owner[i - 1]) {
            first_change = i;
        }
    }
    for (int k = 1; first_change >= 0 && k <= DIRECTIONS; k++) {
        size_t before = owner[(first_change + k - 1) % DIRECTIONS];
        if (owner[(first_change + k) % DIRECTIONS] != before) {
            hull->order[hull->n++] = before;
            hull->fewest = k - began < hull->fewest ? k - began : hull->fewest;
            hull->most = k - began > hull->most ? k - began : hull->most;
            began = k;
        }
    }
}

static void random_wheels(struct mech_loop_wheel *wheels, size_t n, struct random_source *random) {
    for (size_t i = 0; i < n; i++) {
        wheels[i] =
            (struct mech_loop_wheel){random_between(random, -400.0, 400.0), random_between(random, -300.0, 300.0),
                                     random_between(random, 15.0, 110.0), 1};
    }
}

/* Whether a wheel is among those that the hull meets. */
static int on_hull(const size_t *order, size_t n, size_t wheel) {
    for (size_t i = 0; i < n; i++) {
        if (order[i] == wheel) {
            return 1;
        }
    }
    return 0;
}

/* Wheels of one sense: the taut loop is the hull. A wheel that the hull leaves inside can't be threaded anywhere, and one
 * that would be wrapped by more than 300 degrees is refused, whatever the hull says. The sum over directions is off by
 * 3e-5 mm at most: a kink of 800 mm a radian, times the square of a step, over 8, at each wheel. */
static void test_same_sense_loop_is_the_convex_hull(void **state) {
    (void)state;
    static struct hull hull;
    struct random_source random = {4};
    const int limit = DIRECTIONS * 300 / 360;
    int threaded = 0, inside = 0, held = 0;
    for (int round = 0; round < 400; round++) {
        struct mech_loop_wheel wheels[5], path[MECH_LOOP_WHEELS_MAX];
        struct mech_loop loop;
        size_t n = (size_t)random_int(&random, 2, 5);
        random_wheels(wheels, n, &random);
        find_hull(&hull, wheels, n);
        if (hull.n == 0 || hull.n >= MECH_LOOP_WHEELS_MAX || hull.fewest < 3 || abs(hull.most - limit) < 3) {
            continue; /* one wheel holds all others, or the answer hangs on a hair */
        }
        for (size_t i = 0; i < hull.n; i++) {
            path[i] = wheels[hull.order[i]];
        }
        if (hull.most > limit) {
            assert_int_equal(mech_loop_solve(&loop, path, hull.n), BASE_NO);
            held++;
            continue;
        }
        assert_int_equal(mech_loop_solve(&loop, path, hull.n), BASE_OK);
        assert_int_equal(loop.turns, 1);
        assert_near(loop.length_mm, hull.perimeter_mm, 1e-4);
        threaded++;
        for (size_t extra = 0; extra < n; extra++) {
            if (!on_hull(hull.order, hull.n, extra)) {
                path[hull.n] = wheels[extra];
                assert_int_equal(mech_loop_solve(&loop, path, hull.n + 1), BASE_NO);
                inside++;
            }
        }
    }
    assert_true(threaded > 200 && inside > 20 && held > 0);
}

static struct point contact(const struct mech_loop_wheel *wheel, double heading_rad) {
    double q = wheel->sense * wheel->radius_mm;
    return (struct point){wheel->x_mm + q * sin(heading_rad), wheel->y_mm - q * cos(heading_rad)};
}

/* Walks the whole path as a chain would: along each run, then round the wheel in its sense. Each run has to end on the
 * wheel's circle at a right angle to the radius, with the wheel on the side of its sense, and each turn in the next
 * run's heading. */
static void walk(const struct mech_loop *loop, const struct mech_loop_wheel *wheels, size_t n) {
    double heading = loop->heading_rad[0], travelled_mm = 0.0;
    struct point p = contact(&wheels[0], heading);
    for (size_t i = 0; i < n; i++) {
        const struct mech_loop_wheel *next = &wheels[(i + 1) % n];
        p.x += loop->span_mm[i] * cos(heading);
        p.y += loop->span_mm[i] * sin(heading);
        double along = (p.x - next->x_mm) * cos(heading) + (p.y - next->y_mm) * sin(heading);
        double left = (p.x - next->x_mm) * -sin(heading) + (p.y - next->y_mm) * cos(heading);
        assert_near(along, 0.0, 1e-8);
        assert_near(left, -next->sense * next->radius_mm, 1e-8);
        double wrap = loop->wrap_rad[(i + 1) % n];
        heading += next->sense * wrap;
        p = contact(next, heading);
        travelled_mm += loop->span_mm[i] + next->radius_mm * wrap;
        assert_near(remainder(heading - loop->heading_rad[(i + 1) % n], 2.0 * MECH_PI), 0.0, 1e-11);
        assert_true(wrap >= 0.0 && wrap <= MECH_LOOP_WRAP_MAX && loop->span_mm[i] > 0.0);
    }
    struct point start = contact(&wheels[0], loop->heading_rad[0]);
    assert_near(hypot(p.x - start.x, p.y - start.y), 0.0, 1e-8);
    assert_near(travelled_mm, loop->length_mm, 1e-8);
    assert_near((heading - loop->heading_rad[0]) / (2.0 * MECH_PI), loop->turns, 1e-11);
}

static void random_mixed(struct mech_loop_wheel *wheels, size_t n, struct random_source *random) {
    random_wheels(wheels, n, random);
    for (size_t i = 0; i < n; i++) {
        wheels[i].radius_mm = random_between(random, 15.0, 60.0);
        wheels[i].sense = random_int(random, 0, 2) == 0 ? -1 : 1;
    }
}

static void test_mixed_senses_close_when_walked(void **state) {
    (void)state;
    struct random_source random = {5};
    int closed = 0, refused = 0;
    for (int round = 0; round < 20000; round++) {
        struct mech_loop_wheel wheels[MECH_LOOP_WHEELS_MAX];
        struct mech_loop loop;
        size_t n = (size_t)random_int(&random, 2, MECH_LOOP_WHEELS_MAX);
        random_mixed(wheels, n, &random);
        enum base_status status = mech_loop_solve(&loop, wheels, n);
        assert_true(status == BASE_OK || status == BASE_NO);
        if (status == BASE_OK) {
            walk(&loop, wheels, n);
            closed++;
        } else {
            refused++;
        }
    }
    assert_true(closed > 500 && refused > 500);
}

/* The loop does not depend on where one begins, on the direction of travel, or on the side from which one looks. */
static void test_start_direction_and_mirror_do_not_matter(void **state) {
    (void)state;
    struct random_source random = {6};
    int compared = 0;
    for (int round = 0; round < 3000; round++) {
        struct mech_loop_wheel wheels[MECH_LOOP_WHEELS_MAX], turned[MECH_LOOP_WHEELS_MAX], back[MECH_LOOP_WHEELS_MAX],
            mirror[MECH_LOOP_WHEELS_MAX];
        struct mech_loop loop, other;
        size_t n = (size_t)random_int(&random, 2, 5);
        random_mixed(wheels, n, &random);
        for (size_t i = 0; i < n; i++) {
            turned[i] = wheels[(i + 1) % n];
            back[i] = wheels[n - 1 - i];
            back[i].sense = -back[i].sense;
            mirror[i] = wheels[i];
            mirror[i].x_mm = -mirror[i].x_mm;
            mirror[i].sense = -mirror[i].sense;
        }
        if (mech_loop_solve(&loop, wheels, n) != BASE_OK) {
            continue;
        }
        compared++;
        const struct mech_loop_wheel *const same[] = {turned, back, mirror};
        for (size_t k = 0; k < 3; k++) {
            assert_int_equal(mech_loop_solve(&other, same[k], n), BASE_OK);
            assert_near(other.length_mm, loop.length_mm, 1e-8);
            assert_near(other.links, loop.links, 1e-9);
            assert_int_equal(other.turns, k == 0 ? loop.turns : -loop.turns);
        }
    }
    assert_true(compared > 100);
}

/* A presser of 25 on wheels of 80 and 40, 400 apart: at 75 it presses (6.05 degrees), at 95 it hangs free and would come
 * out with 354.56 degrees and a path 157.53 mm too long (derived, two methods). */
static void test_a_wheel_that_does_not_touch_is_refused(void **state) {
    (void)state;
    struct mech_loop_wheel wheels[3] = {{0.0, 0.0, 80.0, 1}, {400.0, 0.0, 40.0, 1}, {200.0, 75.0, 25.0, -1}};
    struct mech_loop loop;
    assert_int_equal(mech_loop_solve(&loop, wheels, 3), BASE_OK);
    wheels[2].y_mm = 95.0;
    assert_int_equal(mech_loop_solve(&loop, wheels, 3), BASE_NO);
}

/* Guide wheel and sprocket turn opposite ways: nearer than the sum of their radii there is no run between them. */
static void test_guide_wheel_that_cuts_into_the_sprocket_is_refused(void **state) {
    (void)state;
    struct mech_loop_wheel wheels[4];
    struct mech_loop loop;
    double touch_mm = 0.0, guide_mm = 0.0;
    assert_int_equal(mech_sprocket_pitch_radius_mm(&touch_mm, 51), BASE_OK);
    assert_int_equal(mech_sprocket_pitch_radius_mm(&guide_mm, 12), BASE_OK);
    touch_mm += guide_mm;
    for (int apart = 0; apart < 2; apart++) {
        double down_mm = apart == 1 ? touch_mm + 1.0 : touch_mm - 1.0;
        assert_int_equal(mech_loop_wheel_toothed(&wheels[0], -434.0, 35.0, 51, -1), BASE_OK);
        assert_int_equal(mech_loop_wheel_toothed(&wheels[1], 0.0, 0.0, 32, -1), BASE_OK);
        assert_int_equal(mech_loop_wheel_toothed(&wheels[2], -374.0, 35.0 - down_mm - 60.0, 12, -1), BASE_OK);
        assert_int_equal(mech_loop_wheel_toothed(&wheels[3], -434.0, 35.0 - down_mm, 12, 1), BASE_OK);
        assert_int_equal(mech_loop_solve(&loop, wheels, 4), apart == 1 ? BASE_OK : BASE_NO);
    }
    assert_int_equal(loop.turns, -1);
}

static void test_degenerate_wheels_give_a_status_and_touch_nothing(void **state) {
    (void)state;
    const struct mech_loop_wheel good[2] = {{0.0, 0.0, 50.0, 1}, {300.0, 0.0, 40.0, 1}};
    const struct {
        struct mech_loop_wheel second;
        enum base_status status;
    } cases[] = {
        {{0.0, 0.0, 50.0, 1}, BASE_NO},   /* the same wheel */
        {{0.0, 0.0, 40.0, 1}, BASE_NO},   /* on one axle */
        {{9.0, 0.0, 40.0, 1}, BASE_NO},   /* one inside the other */
        {{10.0, 0.0, 40.0, 1}, BASE_NO},  /* touching from inside */
        {{90.0, 0.0, 40.0, -1}, BASE_NO}, /* touching, opposite ways */
        {{300.0, 0.0, 40.0, 0}, BASE_BAD_INPUT},
        {{300.0, 0.0, 40.0, 2}, BASE_BAD_INPUT},
        {{300.0, 0.0, 0.0, 1}, BASE_BAD_INPUT},
        {{300.0, 0.0, -40.0, 1}, BASE_BAD_INPUT},
        {{300.0, 0.0, 6.35, 1}, BASE_BAD_INPUT},
        {{300.0, 0.0, 1e9, 1}, BASE_BAD_INPUT},
        {{300.0, 0.0, (double)NAN, 1}, BASE_BAD_INPUT},
        {{(double)NAN, 0.0, 40.0, 1}, BASE_BAD_INPUT},
        {{300.0, INFINITY, 40.0, 1}, BASE_BAD_INPUT},
        {{-1e308, 0.0, 40.0, 1}, BASE_BAD_INPUT},
    };
    struct mech_loop loop, before;
    memset(&before, 0x5a, sizeof before);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct mech_loop_wheel wheels[2] = {good[0], cases[i].second};
        memcpy(&loop, &before, sizeof loop);
        assert_int_equal(mech_loop_solve(&loop, wheels, 2), cases[i].status);
        assert_memory_equal(&loop, &before, sizeof loop);
    }
    const struct mech_loop_wheel many[MECH_LOOP_WHEELS_MAX + 1] = {good[0], good[1]};
    assert_int_equal(mech_loop_solve(&loop, good, 0), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_solve(&loop, good, 1), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_solve(&loop, many, MECH_LOOP_WHEELS_MAX + 1), BASE_BAD_INPUT);
    assert_memory_equal(&loop, &before, sizeof loop);
}

/* What a loop fails at is told with its wheel, and only then. */
static void test_the_wheel_that_fails_is_told(void **state) {
    (void)state;
    const struct mech_loop_wheel free_presser[3] = {
        {0.0, 0.0, 80.0, 1}, {400.0, 0.0, 40.0, 1}, {200.0, 95.0, 25.0, -1}};
    const struct mech_loop_wheel inside[3] = {{0.0, 0.0, 80.0, 1}, {400.0, 0.0, 90.0, 1}, {405.0, 0.0, 40.0, 1}};
    const struct mech_loop_fault untouched = {MECH_LOOP_NOT_CLOSED, 77};
    struct mech_loop_fault fault = untouched;
    struct mech_loop loop;
    assert_int_equal(mech_loop_solve_or_tell(&loop, &fault, free_presser, 3), BASE_NO);
    assert_int_equal(fault.why, MECH_LOOP_NOT_TOUCHED);
    assert_int_equal(fault.wheel, 2);
    assert_int_equal(mech_loop_solve_or_tell(&loop, &fault, inside, 3), BASE_NO);
    assert_int_equal(fault.why, MECH_LOOP_NO_TANGENT);
    assert_int_equal(fault.wheel, 1);
    fault = untouched;
    assert_int_equal(mech_loop_solve_or_tell(&loop, &fault, inside, 2), BASE_OK);
    assert_int_equal(mech_loop_solve_or_tell(&loop, &fault, inside, 1), BASE_BAD_INPUT);
    assert_memory_equal(&fault, &untouched, sizeof fault);
}

static void test_degenerate_bare_loops_give_a_status(void **state) {
    (void)state;
    double links = -1.0;
    assert_int_equal(mech_loop_bare_links(&links, 5, 18, 435.0), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_bare_links(&links, 32, 131, 435.0), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_bare_links(&links, 32, 18, 0.0), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_bare_links(&links, 32, 18, -435.0), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_bare_links(&links, 32, 18, (double)NAN), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_bare_links(&links, 32, 18, INFINITY), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_bare_links(&links, 32, 18, 101.0), BASE_NO);
    assert_near(links, -1.0, 0.0);
    /* Radii 64.784587 and 36.568193 (derived, two methods): clear of each other from 101.353 mm on. */
    assert_int_equal(mech_loop_bare_links(&links, 32, 18, 102.0), BASE_OK);
    assert_true(links > 40.0 && links < 43.0);
}

static void test_toothed_wheels_that_cannot_be_are_refused(void **state) {
    (void)state;
    struct mech_loop_wheel wheel = {-1.0, -1.0, -1.0, 7};
    assert_int_equal(mech_loop_wheel_toothed(&wheel, 0.0, 0.0, 3, 1), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_wheel_toothed(&wheel, 0.0, 0.0, 32, 0), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_wheel_toothed(&wheel, (double)NAN, 0.0, 32, 1), BASE_BAD_INPUT);
    assert_int_equal(mech_loop_wheel_toothed(&wheel, 0.0, 1e5, 32, 1), BASE_BAD_INPUT);
    assert_int_equal(wheel.sense, 7);
    assert_near(wheel.radius_mm, -1.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_runs_and_wraps_of_the_examples),
        cmocka_unit_test(test_links_are_those_of_the_real_chain),
        cmocka_unit_test(test_bare_loop_of_random_drives_is_the_real_chain),
        cmocka_unit_test(test_axle_of_a_taut_loop),
        cmocka_unit_test(test_two_wheels_have_a_closed_form),
        cmocka_unit_test(test_same_sense_loop_is_the_convex_hull),
        cmocka_unit_test(test_mixed_senses_close_when_walked),
        cmocka_unit_test(test_start_direction_and_mirror_do_not_matter),
        cmocka_unit_test(test_a_wheel_that_does_not_touch_is_refused),
        cmocka_unit_test(test_guide_wheel_that_cuts_into_the_sprocket_is_refused),
        cmocka_unit_test(test_degenerate_wheels_give_a_status_and_touch_nothing),
        cmocka_unit_test(test_the_wheel_that_fails_is_told),
        cmocka_unit_test(test_degenerate_bare_loops_give_a_status),
        cmocka_unit_test(test_toothed_wheels_that_cannot_be_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
