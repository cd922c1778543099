/* SPDX-License-Identifier: Apache-2.0 */
/*
 * time-draw ROUNDS BIKE CATALOGUE WISH ROUTE: how long each figure takes, warm; the bound is 5 ms on one core. First of the bike as it
 * stands, the reading of its file included; then of the first way of a plan that is made and a route that is ridden, as
 * papers draw them. A line a figure: 'read' or 'planned', its name, the best time, the bytes of the SVG.
 */
#define _POSIX_C_SOURCE 200809L

#include "app/asking.h"
#include "app/figure.h"
#include "cli/command.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static double milliseconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec * 1e3 + (double)now.tv_nsec / 1e6;
}

static void check(bool done, const char *what) {
    if (!done) {
        fprintf(stderr, "time-draw: %s\n", what);
        exit(1);
    }
}

/* --- of a bike that is read ---------------------------------------------------------------------------------------- */

/* One figure, drawn and thrown away; how many bytes it had. */
static size_t read_and_draw(const struct app_request *request) {
    struct app_reply reply;
    app_reply_init(&reply);
    app_draw(&reply, &cli_world, request);
    size_t n = reply.out.n;
    check(reply.status == APP_DONE && n > 0, reply.err.at ? reply.err.at : "nothing was drawn");
    app_reply_clear(&reply);
    return n;
}

static void time_read(const char *bike, int rounds) {
    static const char *const figures[] = {"hills", "above", "steps", "changes", "side"};
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
        const struct app_request request = {.command = "draw", .figure = figures[i], .bike = bike, .layout = "wide"};
        double best = INFINITY;
        size_t bytes = 0;
        for (int round = 0; round < rounds; round++) {
            double from = milliseconds();
            bytes = read_and_draw(&request);
            best = fmin(best, milliseconds() - from);
        }
        printf("read %s best=%.3f bytes=%zu\n", figures[i], best, bytes);
    }
}

/* --- of a plan that is made ---------------------------------------------------------------------------------------- */

static size_t draw(const char *name, const struct app_figure *of) {
    struct app_figure figure = *of;
    struct base_arena arena;
    struct base_buffer out;
    base_arena_init(&arena, 0);
    base_buffer_init(&out, 0);
    figure.arena = &arena;
    check(app_draw_figure(&out, name, &figure) == BASE_OK, name);
    size_t n = out.n;
    base_buffer_clear(&out);
    base_arena_clear(&arena);
    return n;
}

static void time_figures(const struct app_figure *figure, int rounds) {
    static const char *const figures[] = {"hills", "above", "side", "steps", "changes", "choices", "route"};
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
        double best = INFINITY;
        size_t bytes = 0;
        for (int round = 0; round < rounds; round++) {
            double from = milliseconds();
            bytes = draw(figures[i], figure);
            best = fmin(best, milliseconds() - from);
        }
        printf("planned %s best=%.3f bytes=%zu\n", figures[i], best, bytes);
    }
}

static void time_planned(const struct app_request *request, int rounds) {
    struct app_loaded loaded;
    struct base_arena arena;
    struct plan *plan = NULL;
    struct app_ride ride;
    app_load_init(&loaded, &cli_world, request);
    base_arena_init(&arena, 0);
    check(app_load_ride(&loaded) == BASE_OK, "a file can't be read");
    check(app_plan_for(&plan, &loaded) == BASE_OK && plan && plan->n_picks > 0, "there is no plan");
    check(app_ride_of(&ride, &arena, &loaded.bike, &loaded.way, &loaded.road, plan) == BASE_OK, "there is no ride");
    struct app_figure figure = {.bike = &loaded.bike,
                                .wish = &loaded.wish,
                                .plan = plan,
                                .way = &plan->ways[plan->picks[0]],
                                .letter = 'A',
                                .ride = &ride,
                                .mode = APP_MODE_BOTH,
                                .style = {.wide = true, .ground = DRAW_PRINT}};
    figure.shown = &figure.way->build;
    fit_build_now(&figure.now, &loaded.bike);
    time_figures(&figure, rounds);
    plan_free(plan);
    base_arena_clear(&arena);
    app_load_clear(&loaded);
}

int main(int argc, char **argv) {
    if (argc != 6) {
        fputs("use: time-draw ROUNDS BIKE CATALOGUE WISH ROUTE\n", stderr);
        return 2;
    }
    const struct app_request request = {
        .command = "draw", .bike = argv[2], .catalogue = argv[3], .wish = argv[4], .route = argv[5]};
    time_read(argv[2], atoi(argv[1]));
    time_planned(&request, atoi(argv[1]));
    return 0;
}
