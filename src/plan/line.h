/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The chain line of a bike or of a build: where it lies, where it should lie, how far off it is.
 */
#ifndef PLAN_LINE_H
#define PLAN_LINE_H

#include "fit/judge.h"

/* Where the window comes from, in the order in which it is looked for. */
enum plan_target {
    PLAN_TARGET_NEW = 0, /* what this frame had when new, from its maker */
    PLAN_TARGET_TABLE,   /* by hub width, use and number of rings */
    PLAN_TARGET_REAR,    /* the middle of the cassette */
    PLAN_TARGET_OPEN
};

struct plan_line {
    struct fit_sum ring[3]; /* planes of the outer, middle and inner ring, mm; known BASE_OPEN where there is none */
    bool present[3];        /* is there a ring in the outer, middle, inner place? */
    struct fit_sum front;   /* the ring; the middle between two; the middle one of three */
    struct fit_sum rear;    /* middle of the cassette */
    enum plan_target target;
    double low_mm, high_mm; /* the window; NAN when target is PLAN_TARGET_OPEN */
    double error_mm;        /* 0 inside, else signed distance to the nearer edge; NAN when open */
    int error_steps;        /* its size in steps of 0.5 mm; -1 when open */
    const char *source;     /* of the window; NULL when it is the rear centre or open */
    const char *disputed;   /* what other sources say of it; "" when nothing */
};

/* The chain line of a build. */
void plan_line_of(struct plan_line *out, const struct trade_bike *bike, const struct fit_build *build);

/* Fills front, window and error in from ring, present and rear, which the caller has set. */
void plan_line_close(struct plan_line *line, const struct trade_bike *bike);

/* Is there a window for this bike that does not lean on the cassette, whatever the number of rings? */
bool plan_line_has_window(const struct trade_bike *bike);

/* Middle plane of sprocket k (0 = smallest) of a build, mm; NAN when open. */
double plan_sprocket_plane_mm(const struct trade_bike *bike, const struct fit_build *build, size_t k);

/* Distance between the axles seen from above, mm; NAN when the chain stay is open. Without a drop: the chain stay. */
double plan_axles_mm(const struct trade_bike *bike);

#endif
