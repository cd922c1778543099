/* SPDX-License-Identifier: Apache-2.0 */
/*
 * time-draw BIKE ROUNDS: how long each figure of a bike as it stands takes, the reading of its file included, warm; the bound
 * is 5 ms on one core. A line a figure: its name, the best time, the bytes of the SVG.
 */
#define _POSIX_C_SOURCE 200809L

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

/* One figure, drawn and thrown away; how many bytes it had. */
static size_t draw(const struct app_request *request) {
    struct app_reply reply;
    app_reply_init(&reply);
    app_draw(&reply, &cli_world, request);
    size_t n = reply.out.n;
    if (reply.status != APP_DONE || n == 0) {
        fputs(reply.err.at ? reply.err.at : "nothing was drawn\n", stderr);
        exit(1);
    }
    app_reply_clear(&reply);
    return n;
}

int main(int argc, char **argv) {
    static const char *const figures[] = {"hills", "above", "steps", "changes"};
    if (argc != 3) {
        fputs("use: time-draw BIKE ROUNDS\n", stderr);
        return 2;
    }
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
        const struct app_request request = {.command = "draw", .figure = figures[i], .bike = argv[1], .layout = "wide"};
        double best = INFINITY;
        size_t bytes = 0;
        for (int round = 0; round < atoi(argv[2]); round++) {
            double from = milliseconds();
            bytes = draw(&request);
            best = fmin(best, milliseconds() - from);
        }
        printf("%s best=%.3f bytes=%zu\n", figures[i], best, bytes);
    }
    return 0;
}
