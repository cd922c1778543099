/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The cage of a derailleur, against wheels whose loop was derived by two methods, against a scan over all angles with a
 * path that is found by halving instead of by formula, and against the real chain of straight pitches.
 */
#include "mech/cage.h"
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
#include <string.h>

#include <cmocka.h>

/* --- the examples -------------------------------------------------------------------------------------------------- */

/* Guide and tension wheel of an example, from its rows: sprocket, ring, tension wheel, guide wheel. */
struct example {
    struct mech_cage cage;
    struct mech_cage_gear gear;
    double angle_rad, links;
};

static struct example read_example(const char *name) {
    struct example e = {.cage = {.spring_nmm = 500.0}};
    struct mech_point tension = {0, 0};
    struct reference *r = reference_open("loop_wheels");
    int row = 0;
    while (reference_next(r)) {
        if (strcmp(reference_word(r, "loop"), name) != 0) {
            continue;
        }
        struct mech_point at = {reference_number(r, "x_mm"), reference_number(r, "y_mm")};
        int teeth = reference_count(r, "teeth");
        switch (row++) {
        case 0:
            e.gear.axle = at;
            e.gear.sprocket = teeth;
            break;
        case 1:
            e.gear.ring = teeth;
            break;
        case 2:
            tension = at;
            e.cage.tension_teeth = teeth;
            break;
        default:
            e.gear.pivot = at; /* the cage turns about the guide wheel */
            e.cage.guide_teeth = teeth;
        }
    }
    reference_free(r);
    assert_int_equal(row, 4);
    e.cage.apart_mm = hypot(tension.x_mm - e.gear.pivot.x_mm, tension.y_mm - e.gear.pivot.y_mm);
    e.angle_rad = atan2(tension.x_mm - e.gear.pivot.x_mm, e.gear.pivot.y_mm - tension.y_mm);
    return e;
}

/* With the links that the example's loop has, the cage stands where the example's wheels do: to the digits of the table, a
 * millionth of a link being some 1e-7 of a radian. */
static void test_cage_stands_where_the_examples_have_it(void **state) {
    (void)state;
    struct reference *totals = reference_open("loop_totals");
    int seen = 0;
    while (reference_next(totals)) {
        const char *name = reference_word(totals, "loop");
        if (strncmp(name, "derailleur", 10) != 0) {
            continue;
        }
        struct example e = read_example(name);
        struct mech_cage_fit fit;
        double near_rad[] = {e.angle_rad, 0.0, 1.5, -1.4};
        for (int i = 0; i < 4; i++) {
            double links = reference_number(totals, "links");
            assert_int_equal(mech_cage_settle(&fit, &e.cage, &e.gear, links, near_rad[i]), BASE_OK);
            assert_int_equal(fit.state, MECH_CAGE_FITS);
            assert_near(fit.angle_rad, e.angle_rad, 1e-6);
            assert_near(fit.slack_links, 0.0, 0.0);
        }
        seen++;
    }
    assert_int_equal(seen, 3);
    reference_free(totals);
}

/* --- random derailleurs -------------------------------------------------------------------------------------------- */

struct derailleur {
    struct mech_cage cage;
    struct mech_cage_gear gear;
};

static struct derailleur random_derailleur(struct random_source *random) {
    struct derailleur d = {
        .cage = {.apart_mm = random_between(random, 48.0, 105.0),
                 .offset_mm = random_int(random, 0, 1) ? random_between(random, 0.0, 20.0) : 0.0,
                 .guide_teeth = random_int(random, 10, 14),
                 .tension_teeth = random_int(random, 10, 14),
                 .spring_nmm = random_between(random, 100.0, 1000.0)},
        .gear = {.ring = random_int(random, 22, 53),
                 .sprocket = random_int(random, 10, 52),
                 .axle = {random_between(random, -470.0, -400.0), random_between(random, -10.0, 80.0)}}};
    double gap_mm = d.cage.offset_mm + random_between(random, 4.0, 30.0);
    assert_int_equal(mech_cage_pivot(&d.gear.pivot, d.gear.axle, d.gear.sprocket, d.cage.guide_teeth, gap_mm,
                                     random_between(random, -0.1, 0.5)),
                     BASE_OK);
    return d;
}

/* The four wheels at an angle, in the order of the chain. */
static bool place_wheels(struct mech_loop_wheel wheels[4], const struct derailleur *d, double angle_rad) {
    double dx = sin(angle_rad), dy = -cos(angle_rad), below = d->cage.apart_mm - d->cage.offset_mm;
    struct mech_point p = d->gear.pivot;
    return mech_loop_wheel_toothed(&wheels[0], d->gear.axle.x_mm, d->gear.axle.y_mm, d->gear.sprocket, -1) == BASE_OK &&
           mech_loop_wheel_toothed(&wheels[1], 0.0, 0.0, d->gear.ring, -1) == BASE_OK &&
           mech_loop_wheel_toothed(&wheels[2], p.x_mm + below * dx, p.y_mm + below * dy, d->cage.tension_teeth, -1) ==
               BASE_OK &&
           mech_loop_wheel_toothed(&wheels[3], p.x_mm - d->cage.offset_mm * dx, p.y_mm - d->cage.offset_mm * dy,
                                   d->cage.guide_teeth, 1) == BASE_OK;
}

/* The heading of a run by halving: turning from across to across, the distance of the second wheel from the line that
 * touches the first falls from too far on one side to too far on the other. */
static double halved_heading(const struct mech_loop_wheel *a, const struct mech_loop_wheel *b) {
    double dx = b->x_mm - a->x_mm, dy = b->y_mm - a->y_mm, straight = atan2(dy, dx);
    double low = straight - MECH_PI / 2.0, high = straight + MECH_PI / 2.0;
    double apart = b->sense * b->radius_mm - a->sense * a->radius_mm;
    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2.0;
        double left = -sin(middle) * dx + cos(middle) * dy; /* of the run's way */
        *(left > apart ? &low : &high) = middle;
    }
    return (low + high) / 2.0;
}

static struct mech_point touch(const struct mech_loop_wheel *w, double heading) {
    double q = w->sense * w->radius_mm;
    return (struct mech_point){w->x_mm + q * sin(heading), w->y_mm - q * cos(heading)};
}

/* Length and links of the loop from the points where the runs touch, arcs between these. */
static void halved_loop(double *length_mm, double *links, const struct mech_loop_wheel wheels[4]) {
    struct mech_point from[4], to[4]; /* of the run from wheel i to the next */
    *length_mm = 0.0;
    *links = 0.0;
    for (int i = 0; i < 4; i++) {
        const struct mech_loop_wheel *a = &wheels[i], *b = &wheels[(i + 1) % 4];
        double heading = halved_heading(a, b);
        from[i] = touch(a, heading);
        to[i] = touch(b, heading);
        double run = hypot(to[i].x_mm - from[i].x_mm, to[i].y_mm - from[i].y_mm);
        *length_mm += run;
        *links += run / 12.7;
    }
    for (int i = 0; i < 4; i++) {
        struct mech_point in = to[(i + 3) % 4], out = from[i];
        double turn = wheels[i].sense * (atan2(out.y_mm - wheels[i].y_mm, out.x_mm - wheels[i].x_mm) -
                                         atan2(in.y_mm - wheels[i].y_mm, in.x_mm - wheels[i].x_mm));
        turn -= 2.0 * MECH_PI * floor(turn / (2.0 * MECH_PI));
        turn = turn > 2.0 * MECH_PI - 1e-6 ? 0.0 : turn; /* just touched */
        *length_mm += turn * wheels[i].radius_mm;
        *links += turn / (2.0 * asin(12.7 / (2.0 * wheels[i].radius_mm)));
    }
}

/* On 10 000 random geometries: where the cage settles, the path by halving has the links; turned a little, too many or too
 * few; and the spring's pull is its moment over what the path grows by. */
static void test_settled_cages_have_the_links(void **state) {
    (void)state;
    struct random_source random = {21};
    int settled = 0, slack = 0, hangs_short = 0, none = 0;
    for (int round = 0; round < 10000; round++) {
        struct derailleur d = random_derailleur(&random);
        double links = random_between(&random, 96.0, 126.0), length_mm, at, back, forward, length_back, length_forward;
        struct mech_cage_fit fit;
        struct mech_loop_wheel wheels[4];
        enum base_status status = mech_cage_settle(&fit, &d.cage, &d.gear, links, random_between(&random, -1.0, 1.5));
        if (status == BASE_NO) {
            none++;
            continue;
        }
        assert_int_equal(status, BASE_OK);
        assert_true(place_wheels(wheels, &d, fit.angle_rad));
        halved_loop(&length_mm, &at, wheels);
        assert_near(at, links - fit.slack_links, 1e-6);
        if (fit.state != MECH_CAGE_FITS) {
            assert_true(fit.state == MECH_CAGE_SLACK ? fit.slack_links > 0.0 : fit.slack_links < 0.0);
            assert_near(fit.tension_n, 0.0, 0.0);
            slack += fit.state == MECH_CAGE_SLACK;
            hangs_short += fit.state == MECH_CAGE_SHORT;
            continue;
        }
        const double h = 1e-5;
        assert_true(place_wheels(wheels, &d, fit.angle_rad - h));
        halved_loop(&length_back, &back, wheels);
        assert_true(place_wheels(wheels, &d, fit.angle_rad + h));
        halved_loop(&length_forward, &forward, wheels);
        double growth_mm = (length_back - length_forward) / (2.0 * h);
        assert_true(back > at && at > forward);
        assert_near(fit.tension_n * growth_mm, d.cage.spring_nmm, 1e-4 * d.cage.spring_nmm + 1e-5 * fit.tension_n);
        double gap = hypot(wheels[3].x_mm - wheels[0].x_mm, wheels[3].y_mm - wheels[0].y_mm);
        assert_true(fit.gap_mm < gap - wheels[0].radius_mm - wheels[3].radius_mm);
        settled++;
    }
    assert_true(settled > 4000);
    assert_true(slack > 200 && hangs_short > 50 && none < 2000);
}

/* A scan over all angles finds no other place where the chain fits, whatever the cage is told to look near. */
static void test_a_scan_finds_the_same_angle(void **state) {
    (void)state;
    struct random_source random = {22};
    int compared = 0;
    for (int round = 0; round < 400; round++) {
        struct derailleur d = random_derailleur(&random);
        double links = random_between(&random, 100.0, 122.0), least, most;
        struct mech_cage_fit fit, again;
        if (mech_cage_settle(&fit, &d.cage, &d.gear, links, 0.0) != BASE_OK || fit.state != MECH_CAGE_FITS) {
            continue;
        }
        for (int i = 0; i < 4; i++) {
            assert_int_equal(mech_cage_settle(&again, &d.cage, &d.gear, links, random_between(&random, -1.5, 1.7)),
                             BASE_OK);
            assert_near(again.angle_rad, fit.angle_rad, 1e-6);
        }
        assert_int_equal(mech_cage_range(&least, &most, &d.cage, &d.gear), BASE_OK);
        assert_true(least <= links && links <= most);
        assert_int_equal(mech_cage_settle(&again, &d.cage, &d.gear, most + 1.5, 0.0), BASE_OK);
        assert_int_equal(again.state, MECH_CAGE_SLACK);
        assert_near(again.slack_links, 1.5, 1e-6);
        assert_true(again.angle_rad < fit.angle_rad + 1e-9);
        assert_int_equal(mech_cage_settle(&again, &d.cage, &d.gear, least - 0.5, 0.0), BASE_OK);
        assert_int_equal(again.state, MECH_CAGE_SHORT);
        assert_near(again.slack_links, -0.5, 1e-6);
        assert_true(again.angle_rad > fit.angle_rad - 1e-9);
        double away = random_int(&random, 0, 1) ? most + 1.5 : least - 0.5;
        struct mech_cage_fit looked; /* at its end, too, it is found from wherever it is looked for */
        assert_int_equal(mech_cage_settle(&fit, &d.cage, &d.gear, away, (double)NAN), BASE_OK);
        for (int i = 0; i < 4; i++) {
            double near_rad =
                i < 2 ? fit.angle_rad + random_between(&random, -0.02, 0.02) : random_between(&random, -1.5, 1.7);
            assert_int_equal(mech_cage_settle(&looked, &d.cage, &d.gear, away, near_rad), BASE_OK);
            assert_int_equal(looked.state, fit.state);
            assert_near(looked.slack_links, fit.slack_links, 1e-6);
        }
        compared++;
    }
    assert_true(compared > 150);
}

/* --- the real chain ------------------------------------------------------------------------------------------------ */

/* The pin of a wheel whose teeth stand at a phase (0..1 of a tooth), the k-th counter-clockwise. */
static struct mech_point pin(const struct mech_loop_wheel *w, int teeth, double phase, int k) {
    double angle = 2.0 * MECH_PI * (k + phase) / teeth;
    return (struct mech_point){w->x_mm + w->radius_mm * cos(angle), w->y_mm + w->radius_mm * sin(angle)};
}

/* Whether all pins of the wheel lie on its side of the line from a to b, or on it. */
static bool pins_beside(const struct mech_loop_wheel *w, int teeth, double phase, struct mech_point a,
                        struct mech_point b) {
    for (int k = 0; k < teeth; k++) {
        struct mech_point p = pin(w, teeth, phase, k);
        double left = (b.x_mm - a.x_mm) * (p.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (p.x_mm - a.x_mm);
        if (w->sense * left < -1e-7) {
            return false;
        }
    }
    return true;
}

static int nearest_pin(const struct mech_loop_wheel *w, int teeth, double phase, struct mech_point p) {
    return (int)lround(atan2(p.y_mm - w->y_mm, p.x_mm - w->x_mm) * teeth / (2.0 * MECH_PI) - phase);
}

/* Pitches of a taut chain of straight pitches: each run goes from the last pin of a wheel to the first of the next, such
 * that no pin of either lies beyond it; looked for among the pins near to where the circles are touched. */
static double polygon_links(const struct mech_loop_wheel wheels[4], const int teeth[4], const double phase[4]) {
    int leaves[4] = {0}, meets[4] = {0};
    double links = 0.0;
    for (int i = 0; i < 4; i++) {
        int j = (i + 1) % 4;
        double heading = halved_heading(&wheels[i], &wheels[j]);
        int a0 = nearest_pin(&wheels[i], teeth[i], phase[i], touch(&wheels[i], heading));
        int b0 = nearest_pin(&wheels[j], teeth[j], phase[j], touch(&wheels[j], heading));
        bool found = false;
        for (int a = a0 - 2; a <= a0 + 2 && !found; a++) {
            for (int b = b0 - 2; b <= b0 + 2 && !found; b++) {
                struct mech_point p = pin(&wheels[i], teeth[i], phase[i], a),
                                  q = pin(&wheels[j], teeth[j], phase[j], b);
                found = pins_beside(&wheels[i], teeth[i], phase[i], p, q) &&
                        pins_beside(&wheels[j], teeth[j], phase[j], p, q);
                if (found) {
                    leaves[i] = a;
                    meets[j] = b;
                    links += hypot(q.x_mm - p.x_mm, q.y_mm - p.y_mm) / 12.7;
                }
            }
        }
        assert_true(found);
    }
    for (int i = 0; i < 4; i++) {
        int seated = (((leaves[i] - meets[i]) * wheels[i].sense) % teeth[i] + teeth[i]) % teeth[i];
        links += seated == teeth[i] - 1 ? -1 : seated; /* a wheel that is just touched: between two pins */
    }
    return links;
}

/* What the headers state: 0.003 pitches on average; at worst what follows from the teeth, 0.02 for usual ones. */
static void test_the_real_chain_needs_as_many_pitches(void **state) {
    (void)state;
    struct random_source random = {23};
    int compared = 0;
    for (int round = 0; round < 60; round++) {
        struct derailleur d = random_derailleur(&random);
        double links = random_between(&random, 104.0, 120.0), mean = 0.0;
        struct mech_cage_fit fit;
        struct mech_loop_wheel wheels[4];
        const int teeth[4] = {d.gear.sprocket, d.gear.ring, d.cage.tension_teeth, d.cage.guide_teeth}, rounds = 500;
        if (mech_cage_settle(&fit, &d.cage, &d.gear, links, 0.0) != BASE_OK || fit.state != MECH_CAGE_FITS) {
            continue;
        }
        assert_true(place_wheels(wheels, &d, fit.angle_rad));
        for (int i = 0; i < rounds; i++) {
            double phase[4];
            for (int w = 0; w < 4; w++) {
                phase[w] = random_between(&random, 0.0, 1.0);
            }
            double real = polygon_links(wheels, teeth, phase);
            assert_near(real, links, mech_loop_polygon_links(teeth, 4));
            mean += real / rounds;
        }
        assert_near(mean, links, 0.003);
        compared++;
    }
    assert_true(compared > 20);
}

/* --- what must hold ------------------------------------------------------------------------------------------------ */

static const struct mech_cage long_cage = {93.0, 0.0, 11, 11, 600.0};

static struct mech_cage_gear gear_of(int ring, int sprocket, double gap_mm) {
    struct mech_cage_gear gear = {.ring = ring, .sprocket = sprocket, .axle = {-433.6, 35.0}};
    assert_int_equal(mech_cage_pivot(&gear.pivot, gear.axle, sprocket, 11, gap_mm, 0.17), BASE_OK);
    return gear;
}

/* With the guide wheel about its pivot the gap is the one that was asked for, whatever the chain. */
static void test_gap_is_kept_by_a_cage_that_turns_about_its_guide_wheel(void **state) {
    (void)state;
    for (int sprocket = 11; sprocket <= 51; sprocket += 8) {
        struct mech_cage_gear gear = gear_of(32, sprocket, 7.5);
        struct mech_cage_fit fit;
        assert_int_equal(mech_cage_settle(&fit, &long_cage, &gear, 114.0, 0.0), BASE_OK);
        assert_near(fit.gap_mm, 7.5, 1e-9);
    }
}

/* Longer chain: further back and lower pull of the path; larger sprocket or ring: further forward. */
static void test_which_way_the_cage_goes(void **state) {
    (void)state;
    struct mech_cage_fit fit, longer, ring;
    struct mech_cage_gear gear = gear_of(32, 28, 8.0), larger = gear_of(36, 28, 8.0);
    assert_int_equal(mech_cage_settle(&fit, &long_cage, &gear, 112.0, 0.0), BASE_OK);
    assert_int_equal(mech_cage_settle(&longer, &long_cage, &gear, 114.0, 0.0), BASE_OK);
    assert_int_equal(mech_cage_settle(&ring, &long_cage, &larger, 112.0, 0.0), BASE_OK);
    assert_true(longer.angle_rad < fit.angle_rad);
    assert_true(ring.angle_rad > fit.angle_rad);
    assert_true(ring.ring_wrap_rad > 0.0 && ring.sprocket_wrap_rad > 0.0);
    /* Straight down, the lowest point lies a cage and the two radii below the pivot. */
    assert_near(fit.low_mm, gear.axle.y_mm - gear.pivot.y_mm + 93.0 * cos(fit.angle_rad) + 22.539106, 1e-5);
}

static void test_what_cannot_be_has_a_status(void **state) {
    (void)state;
    struct mech_cage_fit fit, before;
    struct mech_cage_gear good = gear_of(32, 28, 8.0), gear = good;
    double least = -1.0, most = -1.0;
    memset(&fit, 0x5a, sizeof fit);
    memcpy(&before, &fit, sizeof fit);
    gear = gear_of(32, 28, -20.0); /* the guide wheel in the sprocket */
    assert_int_equal(mech_cage_settle(&fit, &long_cage, &gear, 112.0, 0.0), BASE_NO);
    assert_int_equal(mech_cage_range(&least, &most, &long_cage, &gear), BASE_NO);
    assert_int_equal(mech_cage_settle(&fit, &long_cage, &good, 19.0, 0.0), BASE_BAD_INPUT);
    assert_int_equal(mech_cage_settle(&fit, &long_cage, &good, (double)NAN, 0.0), BASE_BAD_INPUT);
    gear = good;
    gear.pivot.x_mm = (double)NAN;
    assert_int_equal(mech_cage_settle(&fit, &long_cage, &gear, 112.0, 0.0), BASE_BAD_INPUT);
    gear = good;
    gear.ring = 0;
    assert_int_equal(mech_cage_settle(&fit, &long_cage, &gear, 112.0, 0.0), BASE_BAD_INPUT);
    struct mech_cage cage = long_cage;
    cage.offset_mm = 94.0;
    assert_int_equal(mech_cage_settle(&fit, &cage, &good, 112.0, 0.0), BASE_BAD_INPUT);
    cage = long_cage;
    cage.guide_teeth = 40;
    assert_int_equal(mech_cage_range(&least, &most, &cage, &good), BASE_BAD_INPUT);
    assert_memory_equal(&fit, &before, sizeof fit);
    assert_near(least, -1.0, 0.0);
    /* Where to look first may be nonsense. */
    assert_int_equal(mech_cage_settle(&fit, &long_cage, &good, 112.0, (double)NAN), BASE_OK);
    assert_int_equal(fit.state, MECH_CAGE_FITS);
    struct mech_point pivot;
    assert_int_equal(mech_cage_pivot(&pivot, good.axle, 28, 11, (double)NAN, 0.0), BASE_BAD_INPUT);
    assert_int_equal(mech_cage_pivot(&pivot, good.axle, 3, 11, 8.0, 0.0), BASE_BAD_INPUT);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_cage_stands_where_the_examples_have_it),
        cmocka_unit_test(test_settled_cages_have_the_links),
        cmocka_unit_test(test_a_scan_finds_the_same_angle),
        cmocka_unit_test(test_the_real_chain_needs_as_many_pitches),
        cmocka_unit_test(test_gap_is_kept_by_a_cage_that_turns_about_its_guide_wheel),
        cmocka_unit_test(test_which_way_the_cage_goes),
        cmocka_unit_test(test_what_cannot_be_has_a_status),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
