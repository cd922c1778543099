/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The figures with numbers of no bike: the least that they may be told, and memory that runs out at every allocation.
 */
#include "draw/figures.h"

#include "support/failing.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#define HEAD                                                                                                           \
    { "x", "TITLE", "question", "answer", "subject", "foot", NULL }

typedef void figure(struct base_buffer *out, const struct draw_style *style);

static void hills(struct base_buffer *out, const struct draw_style *style) {
    static const struct draw_hills_gear gears[] = {{32, 40, 5.0, 12.0}, {32, 11, -3.0, 1.0}};
    const struct draw_hills hills = {.head = HEAD,
                                     .gears = gears,
                                     .n = 2,
                                     .rings = 1,
                                     .now = &gears[0],
                                     .now_label = "now",
                                     .high_rpm = 90.0,
                                     .least_rpm = 50.0,
                                     .pitches = {{14.0, 600.0}, {14.0, (double)NAN}},
                                     .n_pitches = 2};
    draw_hills(out, style, &hills);
}

static void one_gear(struct base_buffer *out, const struct draw_style *style) {
    static const struct draw_stair_gear gear = {.ring = 40, .sprocket = 16, .metres = 5.3, .step_percent = (double)NAN};
    const struct draw_steps steps = {.head = HEAD, .shown = {&gear, 1, 1}, .shown_is_now = true};
    draw_steps(out, style, &steps);
}

static void above(struct base_buffer *out, const struct draw_style *style) {
    static const struct draw_above_ring ring = {32, 49.0, BASE_ASSUMED, 64.8, 2.0, true};
    static const struct draw_above_sprocket sprocket = {11, 50.0, 22.5};
    const struct draw_above above = {.head = HEAD,
                                     .axles_mm = 430.0,
                                     .rings = &ring,
                                     .n_rings = 1,
                                     .sprockets = &sprocket,
                                     .n_sprockets = 1,
                                     .hub_face_mm = (double)NAN,
                                     .front_mm = 49.0,
                                     .low_mm = (double)NAN,
                                     .high_mm = (double)NAN,
                                     .wants = "",
                                     .stay_mm = (double)NAN,
                                     .stay_behind_mm = 66.0,
                                     .room_mm = (double)NAN};
    draw_above(out, style, &above);
}

/* Planes open, and all that a ring may be held by. */
static void above_open(struct base_buffer *out, const struct draw_style *style) {
    static const struct draw_above_ring rings[] = {{48, (double)NAN, BASE_OPEN, 97.0, 2.0, true},
                                                   {32, (double)NAN, BASE_OPEN, 64.8, 2.0, false}};
    static const struct draw_above_sprocket sprockets[] = {{11, 60.0, 22.5}, {30, 30.0, 60.8}};
    const struct draw_above above = {.head = HEAD,
                                     .axles_mm = 430.0,
                                     .rings = rings,
                                     .n_rings = 2,
                                     .sprockets = sprockets,
                                     .n_sprockets = 2,
                                     .hub_face_mm = 67.5,
                                     .front_mm = (double)NAN,
                                     .front_known = BASE_OPEN,
                                     .low_mm = 47.0,
                                     .high_mm = 50.0,
                                     .wants = "wants",
                                     .stay_mm = 40.0,
                                     .stay_behind_mm = 66.0,
                                     .room_mm = (double)NAN,
                                     .room_known = BASE_OPEN,
                                     .offset_mm = -3.0,
                                     .washers_mm = 1.0};
    draw_above(out, style, &above);
}

static void changes(struct base_buffer *out, const struct draw_style *style) {
    static const struct draw_changes_row row = {"a", "b", EXPLAIN_NEW, EXPLAIN_DRAWBACK, "t"};
    const struct draw_changes changes = {.head = HEAD, .columns = {{.rows = &row, .n = 1}, {.rows = &row, .n = 1}}};
    draw_changes(out, style, &changes);
}

static void choices(struct base_buffer *out, const struct draw_style *style) {
    static const struct draw_choices_way way = {'A', 100.0, 1.5, true, "A"};
    const struct draw_choices choices = {.head = HEAD,
                                         .ways = &way,
                                         .n = 1,
                                         .now_lowest = 1.5,
                                         .budget = (double)NAN,
                                         .lowest_max = (double)NAN,
                                         .now_title = "now",
                                         .gear_label = "g",
                                         .cost_label = "c"};
    draw_choices(out, style, &choices);
}

static void route(struct base_buffer *out, const struct draw_style *style) {
    static const struct draw_route_point points[] = {{0.0, 5.0}, {20.0, 5.0}};
    static const struct draw_route_stretch stretch = {DRAW_ROUTE_ABOVE, 0.0, 20.0, "t"};
    const struct draw_route route = {
        .head = HEAD, .length_m = 20.0, .points = points, .n = 2, .lanes = {{"now", &stretch, 1, true}}, .n_lanes = 1};
    draw_route(out, style, &route);
}

static figure *const figures[] = {hills, one_gear, above, above_open, changes, choices, route};
#define FIGURES (sizeof figures / sizeof figures[0])

static void the_least_is_drawn(void **state) {
    (void)state;
    for (size_t i = 0; i < 2 * FIGURES; i++) {
        const struct draw_style style = {.wide = i % 2 == 1, .ground = DRAW_PRINT};
        struct base_buffer out;
        base_buffer_init(&out, 0);
        figures[i / 2](&out, &style);
        assert_int_equal(out.status, BASE_OK);
        assert_non_null(strstr(out.at, "</svg>"));
        assert_null(strstr(out.at, "?\"")); /* how a number that is none would be written */
        base_buffer_clear(&out);
    }
}

static void memory_runs_out(void **state) {
    const struct draw_style style = {.ground = DRAW_DARK};
    (void)state;
    for (size_t i = 0; i < FIGURES; i++) {
        for (long n = 0;; n++) {
            struct base_buffer out;
            base_buffer_init(&out, 0);
            support_fail_after(n);
            figures[i](&out, &style);
            bool failed = support_failed();
            support_fail_after(-1);
            assert_int_equal(out.status, failed ? BASE_NO_MEMORY : BASE_OK);
            base_buffer_clear(&out);
            if (!failed) {
                break;
            }
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_least_is_drawn),
        cmocka_unit_test(memory_runs_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
