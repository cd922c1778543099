/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How long the bare geometry of a bike takes: three rings and twelve sprockets over 50 steps of travel, each gear with
 * its cage settled, kick and anti-squat. The bound is 2 ms for all of it, on one core.
 */
#define _POSIX_C_SOURCE 200809L

#include "mech/cage.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#define RINGS 3
#define SPROCKETS 12
#define STEPS 50
#define ROUNDS 200

static const int rings[RINGS] = {44, 32, 22};
static const int sprockets[SPROCKETS] = {11, 12, 13, 15, 17, 19, 21, 24, 27, 30, 33, 36};
static const struct mech_suspension four_bar = {.kind = MECH_SUSPENSION_FOUR_BAR,
                                                .axle = {-435.0, 28.0},
                                                .lower = {{-5.0, 45.0}, {-395.0, 18.0}},
                                                .upper = {{-20.0, 260.0}, {-90.0, 285.0}}};
static const struct mech_cage cage = {93.0, 0.0, 11, 11, 600.0};

/* What a caller would keep of a gear at a travel; summed up, so that nothing can be left out. */
static double one_gear(const struct mech_suspension_state *rest, const struct mech_suspension_state *state, int ring,
                       int sprocket, double angle_rad[2], int *fits) {
    struct mech_suspension_drive drive = {
        .ring = ring, .sprocket = sprocket, .wheel_radius_mm = 370.0, .wheelbase_mm = 1200.0, .mass_height_mm = 1100.0};
    struct mech_suspension_chain chain;
    struct mech_cage_gear gear = {.ring = ring, .sprocket = sprocket, .axle = state->axle};
    struct mech_cage_fit fit;
    enum mech_suspension_why why;
    if (mech_suspension_chain(&chain, &why, &drive, rest, state) != BASE_OK ||
        mech_cage_pivot(&gear.pivot, gear.axle, sprocket, cage.guide_teeth, 12.0, 0.2) != BASE_OK ||
        mech_cage_settle(&fit, &cage, &gear, 116.0, angle_rad[0]) != BASE_OK) {
        exit(1);
    }
    angle_rad[1] = angle_rad[0]; /* the next travel is looked for where the last two point */
    angle_rad[0] = fit.angle_rad;
    *fits += fit.state == MECH_CAGE_FITS;
    return chain.kick_held_rad + chain.anti_squat_percent + fit.angle_rad + fit.gap_mm;
}

static double whole_bike(int *fits) {
    double angle_rad[RINGS][SPROCKETS][2] = {{{0}}}, sum = 0.0;
    struct mech_suspension_state rest, state;
    enum mech_suspension_why why;
    if (mech_suspension_rest(&rest, &why, &four_bar) != BASE_OK) {
        exit(1);
    }
    state = rest;
    for (int step = 0; step < STEPS; step++) {
        if (mech_suspension_move(&state, &why, &four_bar, 150.0 * step / (STEPS - 1)) != BASE_OK) {
            exit(1);
        }
        for (int r = 0; r < RINGS; r++) {
            for (int s = 0; s < SPROCKETS; s++) {
                sum += one_gear(&rest, &state, rings[r], sprockets[s], angle_rad[r][s], fits);
            }
        }
    }
    return sum;
}

int main(void) {
    double best = 1e9, total = 0.0, sum = 0.0;
    int fits = 0;
    for (int round = 0; round < ROUNDS; round++) {
        struct timespec from, to;
        fits = 0;
        clock_gettime(CLOCK_MONOTONIC, &from);
        sum += whole_bike(&fits);
        clock_gettime(CLOCK_MONOTONIC, &to);
        double ms = (double)(to.tv_sec - from.tv_sec) * 1e3 + (double)(to.tv_nsec - from.tv_nsec) / 1e6;
        best = ms < best ? ms : best;
        total += ms;
    }
    printf("%d gears over %d steps, %d cages fit: best %.3f ms, mean %.3f ms (%g)\n", RINGS * SPROCKETS, STEPS, fits,
           best, total / ROUNDS, sum);
    return 0;
}
