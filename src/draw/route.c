/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Route: height over distance as one line, and below it a lane for each bike that says where its gears do not do.
 */
#include "draw/figures.h"

#include "explain/message.h"

#include <math.h>

#define LEFT 46.0
#define RIGHT 10.0
#define HEIGHT 130.0
#define HEIGHT_WIDE 180.0
#define LANE 24.0
#define BETWEEN_LANES 8.0
#define LEAST_STRETCH 4.0 /* units: shorter ones are drawn as wide */
#define LEAST_RISE_M 20.0 /* so that a flat road is not drawn as a mountain */
#define TICK 5.0
#define HATCH_APART 5.0
#define DOTS_APART 6.0

struct plot {
    struct draw_sheet sheet;
    const struct draw_route *of;
    double right, top, foot; /* of the profile */
    double low_m, high_m;
};

static double x_of(const struct plot *p, double m) { return LEFT + m * (p->right - LEFT) / p->of->length_m; }
static double y_of(const struct plot *p, double m) {
    return p->foot - (m - p->low_m) * (p->foot - p->top) / (p->high_m - p->low_m);
}

static void set_range(struct plot *p) {
    p->low_m = INFINITY;
    p->high_m = -INFINITY;
    for (size_t i = 0; i < p->of->n; i++) {
        p->low_m = fmin(p->low_m, p->of->points[i].height_m);
        p->high_m = fmax(p->high_m, p->of->points[i].height_m);
    }
    p->high_m = fmax(p->high_m, p->low_m + LEAST_RISE_M);
}

/* One point a unit at most: of several the first, and the last of all. */
static void draw_profile(struct plot *p) {
    struct base_buffer path;
    double last = -INFINITY;
    base_buffer_init(&path, 0);
    for (size_t i = 0; i < p->of->n; i++) {
        double x = x_of(p, p->of->points[i].at_m);
        if (x - last >= 1.0 || i + 1 == p->of->n) {
            draw_put_point(&path, path.n == 0 ? 'M' : 'L', (struct draw_point){x, y_of(p, p->of->points[i].height_m)});
            last = x;
        }
    }
    draw_open(&p->sheet, explain_message("draw.route.profile"));
    draw_path(&p->sheet, DRAW_RESULT, &path);
    draw_close(&p->sheet);
    base_buffer_clear(&path);
}

/* --- axes ---------------------------------------------------------------------------------------------------------- */

/* 1, 2 or 5 times a power of ten, so that some `parts` of them fill the range. */
static double step_of(double range, double parts) {
    double power = pow(10.0, floor(log10(range / parts))), share = range / parts / power;
    return power * (share < 2.0 ? 1.0 : share < 5.0 ? 2.0 : 5.0);
}

static void put_number(struct plot *p, double x, double y, struct draw_face face, double number, int decimals,
                       const char *unit) {
    const struct explain_arg arg = explain_number(number, decimals, unit);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &arg);
    const char *held = explain_held(&p->sheet.body, &text);
    double half = draw_width_of(held, false) / 2.0, most = p->sheet.width - 1.0 - half;
    (void)draw_text(&p->sheet, face.anchor == DRAW_MIDDLE_OF ? fmin(x, most) : x, y, face, held);
    base_buffer_clear(&text);
}

static void draw_heights(struct plot *p) {
    double step = step_of(p->high_m - p->low_m, 2.0);
    draw_line(&p->sheet, DRAW_THIN, LEFT, p->top, LEFT, p->foot);
    double x = LEFT - TICK - 2.0, highest = floor(p->high_m / step) * step;
    for (double m = highest; m >= p->low_m; m -= step) {
        draw_line(&p->sheet, DRAW_THIN, LEFT - TICK, y_of(p, m), LEFT, y_of(p, m));
        put_number(p, x, y_of(p, m) + TICK, draw_right, m, 0, "");
    }
    const struct draw_point places[2] = {{x, y_of(p, highest) + TICK + DRAW_LINE_HEIGHT}, {x, p->top - TICK}};
    (void)draw_text_near(&p->sheet, places, 2, draw_right, "m");
}

/* Below the lanes; the unit stands at the last number. */
static double draw_distances(struct plot *p, double y) {
    double km = p->of->length_m / 1000.0, step = step_of(km, 4.0);
    int decimals = step < 0.1 ? 2 : step < 1.0 ? 1 : 0;
    draw_line(&p->sheet, DRAW_MIDDLE, LEFT, y, p->right, y);
    for (double at = floor(km / step + 1e-9) * step; at > -step / 2.0; at -= step) {
        double x = x_of(p, at * 1000.0);
        draw_line(&p->sheet, DRAW_THIN, x, y, x, y + TICK);
        put_number(p, x, y + TICK + DRAW_TEXT_SIZE, draw_centred, at, decimals, at + step > km ? "km" : "");
    }
    return y + TICK;
}

/* --- pitches and lanes --------------------------------------------------------------------------------------------- */

/* Two dotted lines down through the lanes, the words above. */
static void draw_pitch(struct plot *p, const struct draw_route_pitch *pitch, double bottom) {
    double x1 = x_of(p, pitch->from_m), x2 = x_of(p, pitch->to_m), middle = (x1 + x2) / 2.0;
    double half = draw_width_of(pitch->label, false) / 2.0;
    middle = fmin(fmax(middle, DRAW_EDGE + half), p->sheet.width - DRAW_EDGE - half);
    const struct draw_point places[3] = {
        {middle, p->top - TICK}, {middle, p->top - TICK - DRAW_LINE_HEIGHT}, {middle, p->foot - TICK}};
    draw_open(&p->sheet, pitch->label);
    draw_line(&p->sheet, DRAW_TRAVEL, x1, p->top, x1, bottom);
    draw_line(&p->sheet, DRAW_TRAVEL, x2, p->top, x2, bottom);
    (void)draw_text_near(&p->sheet, places, 3, draw_centred, pitch->label);
    draw_close(&p->sheet);
}

static void draw_dots(struct plot *p, struct draw_box box) {
    for (double y = box.top + DOTS_APART / 2.0; y < box.bottom; y += DOTS_APART) {
        draw_line(&p->sheet, DRAW_DOTS, box.left, y, box.right, y);
    }
}

static void draw_stretch(struct plot *p, const struct draw_route_stretch *stretch, double top) {
    double x1 = x_of(p, stretch->from_m), x2 = x_of(p, stretch->to_m), short_by = LEAST_STRETCH - (x2 - x1);
    if (short_by > 0.0) {
        x1 = fmax(LEFT, x1 - short_by / 2.0);
        x2 = x1 + LEAST_STRETCH;
    }
    const struct draw_box box = {x1, top, fmin(x2, p->right), top + LANE};
    draw_open(&p->sheet, stretch->title);
    if (stretch->state == DRAW_ROUTE_FOOT) {
        draw_rectangle(&p->sheet, DRAW_NO_PEN, DRAW_INK, box);
    } else if (stretch->state == DRAW_ROUTE_BELOW) {
        draw_hatch(&p->sheet, box, HATCH_APART, false);
    } else {
        draw_dots(p, box);
    }
    draw_close(&p->sheet);
}

static void draw_lane(struct plot *p, const struct draw_route_lane *lane, double top) {
    for (size_t i = 0; i < lane->n; i++) {
        draw_stretch(p, &lane->stretches[i], top);
    }
    draw_rectangle(&p->sheet, lane->is_now ? DRAW_KEPT : DRAW_MIDDLE, -1,
                   (struct draw_box){LEFT, top, p->right, top + LANE});
    (void)draw_text(&p->sheet, LEFT - TICK, top + LANE / 2.0 + TICK, draw_right, lane->label);
}

void draw_route(struct base_buffer *out, const struct draw_style *style, const struct draw_route *route) {
    struct plot p = {.of = route};
    draw_sheet_begin(&p.sheet, style->ground, style->wide ? DRAW_WIDE_UNITS : DRAW_NARROW_UNITS);
    p.right = p.sheet.width - RIGHT;
    p.top = draw_head_of(&p.sheet, &route->head) + 2.0 * DRAW_LINE_HEIGHT + TICK;
    p.foot = p.top + (style->wide ? HEIGHT_WIDE : HEIGHT);
    set_range(&p);
    double lanes = p.foot + BETWEEN_LANES, bottom = lanes + (LANE + BETWEEN_LANES) * (double)route->n_lanes;
    draw_heights(&p);
    for (size_t i = 0; i < route->n_pitches; i++) {
        draw_pitch(&p, &route->pitches[i], bottom - BETWEEN_LANES);
    }
    draw_profile(&p);
    for (size_t i = 0; i < route->n_lanes; i++) {
        draw_lane(&p, &route->lanes[i], lanes + (LANE + BETWEEN_LANES) * (double)i);
    }
    bottom = draw_distances(&p, bottom);
    draw_sheet_end(out, &p.sheet, &route->head, bottom);
}
