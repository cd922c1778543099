/* SPDX-License-Identifier: Apache-2.0 */
/*
 * time-paper BIKE CATALOGUE WISH ROUNDS: how much time of one core a bench sheet and a quote take as PDF beyond working
 * out what stands on them, warm; the bound is 60 ms. A line a paper: its name, the best time, the best of working it out,
 * the bytes of the PDF.
 */
#define _POSIX_C_SOURCE 200809L

#include "cli/command.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static size_t written;

/* Nothing is to be kept. */
static enum base_status forget(void *self, const char *path, struct base_slice bytes) {
    (void)self;
    (void)path;
    written = bytes.n;
    return BASE_OK;
}

/* Of this process: what else the machine does falls out. */
static double milliseconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec * 1e3 + (double)now.tv_nsec / 1e6;
}

typedef void answer(struct app_reply *reply, const struct app_world *world, const struct app_request *request);

static double best_of(answer *ask, const struct app_request *request, int rounds) {
    struct app_world world = cli_world;
    double best = INFINITY;
    world.write = forget;
    while (rounds-- > 0) {
        struct app_reply reply;
        double from = milliseconds();
        app_reply_init(&reply);
        ask(&reply, &world, request);
        best = fmin(best, milliseconds() - from);
        if (reply.status != APP_DONE) {
            fputs(reply.err.at ? reply.err.at : "no answer\n", stderr);
            exit(1);
        }
        app_reply_clear(&reply);
    }
    return best;
}

int main(int argc, char **argv) {
    static const struct {
        const char *name;
        answer *as_text;
    } papers[] = {{"sheet", app_work}, {"quote", app_quote}};
    if (argc != 5) {
        fputs("use: time-paper BIKE CATALOGUE WISH ROUNDS\n", stderr);
        return 2;
    }
    for (size_t i = 0; i < sizeof papers / sizeof papers[0]; i++) {
        struct app_request request = {
            .command = papers[i].name, .bike = argv[1], .catalogue = argv[2], .wish = argv[3], .date = "2026-05-01"};
        double worked_out = best_of(papers[i].as_text, &request, atoi(argv[4]));
        request.paper = papers[i].name;
        request.out = "paper.pdf";
        double printed = best_of(app_paper, &request, atoi(argv[4]));
        printf("%s best=%.3f worked_out=%.3f bytes=%zu\n", papers[i].name, printed - worked_out, worked_out, written);
    }
    return 0;
}
