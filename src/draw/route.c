/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Route: height over distance as one line, and below it a lane for each bike that says where its gears do not do; wide, a lane
 * for each ring that says which sprocket is in use.
 */
#include "draw/figures.h"

#include "explain/message.h"

#include <math.h>

#define LEFT 46.0 /* at least */
#define RIGHT 10.0
#define HEIGHT 130.0
#define HEIGHT_WIDE 180.0
#define LANE 24.0
#define GEAR_LANE 48.0
#define BETWEEN_GEARS 12.0 /* above each: numbers stand at both ends */
#define GEAR_LANES_MAX 3
#define SPROCKETS_MAX 16
#define BETWEEN_LANES 8.0
#define LEAST_STRETCH 4.0 /* units: shorter ones are drawn as wide */
#define LEAST_RISE_M 20.0 /* so that a flat road is not drawn as a mountain */
#define TICK 5.0
#define HATCH_APART 5.0
#define DOTS_APART 6.0

struct plot {
    struct draw_sheet sheet;
    const struct draw_route *of;
    double left, right, top, foot; /* of the profile */
    double low_m, high_m;
};

static double x_of(const struct plot *p, double m) { return p->left + m * (p->right - p->left) / p->of->length_m; }
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

static double height_step(const struct plot *p) { return step_of(p->high_m - p->low_m, 2.0); }
static double highest_tick(const struct plot *p) { return floor(p->high_m / height_step(p)) * height_step(p); }

/* The highest number bears the unit: the axis stands where that has room. */
static void set_left(struct plot *p) {
    const struct explain_arg arg = explain_number(highest_tick(p), 0, "m");
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &arg);
    double width = draw_width_of(explain_held(&p->sheet.body, &text), false);
    p->left = fmax(LEFT, ceil(DRAW_EDGE / 2.0 + width + 2.0 + TICK));
    base_buffer_clear(&text);
}

static void draw_heights(struct plot *p) {
    double step = height_step(p), highest = highest_tick(p);
    draw_line(&p->sheet, DRAW_THIN, p->left, p->top, p->left, p->foot);
    for (double m = highest; m >= p->low_m; m -= step) {
        draw_line(&p->sheet, DRAW_THIN, p->left - TICK, y_of(p, m), p->left, y_of(p, m));
        put_number(p, p->left - TICK - 2.0, y_of(p, m) + TICK, draw_right, m, 0, m < highest ? "" : "m");
    }
}

/* Below the lanes; the unit stands at the last number. */
static double draw_distances(struct plot *p, double y) {
    double km = p->of->length_m / 1000.0, step = step_of(km, 4.0);
    int decimals = step < 0.1 ? 2 : step < 1.0 ? 1 : 0;
    draw_line(&p->sheet, DRAW_MIDDLE, p->left, y, p->right, y);
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
        x1 = fmax(p->left, x1 - short_by / 2.0);
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
                   (struct draw_box){p->left, top, p->right, top + LANE});
    (void)draw_text(&p->sheet, p->left - TICK, top + LANE / 2.0 + TICK, draw_right, lane->label);
}

/* --- the sprocket in use ------------------------------------------------------------------------------------------- */

/* The rings and sprockets that are used, each once. */
struct used {
    int rings[GEAR_LANES_MAX]; /* falling */
    size_t n_rings;
    int sprockets[SPROCKETS_MAX]; /* rising */
    size_t n_sprockets;
};

/* Puts a count among others that rise, or fall; once, and while there is room. */
static void add_count(int *counts, size_t *n, size_t most, int count, bool falling) {
    size_t at = 0;
    while (at < *n && (falling ? counts[at] > count : counts[at] < count)) {
        at++;
    }
    if ((at < *n && counts[at] == count) || *n == most) {
        return;
    }
    for (size_t i = (*n)++; i > at; i--) {
        counts[i] = counts[i - 1];
    }
    counts[at] = count;
}

static void find_used(struct used *out, const struct draw_route *of) {
    *out = (struct used){0};
    for (size_t i = 0; i < of->n_gears; i++) {
        add_count(out->rings, &out->n_rings, GEAR_LANES_MAX, of->gears[i].ring, true);
        add_count(out->sprockets, &out->n_sprockets, SPROCKETS_MAX, of->gears[i].sprocket, false);
    }
}

/* The height of a sprocket in a lane: the larger the higher, as the road is steeper. */
static double level_of(const struct used *used, int sprocket, double top) {
    size_t i = 0;
    while (i + 1 < used->n_sprockets && used->sprockets[i] < sprocket) {
        i++;
    }
    double last = used->n_sprockets > 1 ? (double)used->n_sprockets - 1.0 : 1.0;
    return top + GEAR_LANE - GEAR_LANE * (double)i / last;
}

/* One line in steps, broken where another ring is in use or nothing is pedalled. What is shorter than a unit is left out. */
static void draw_steps_of(struct plot *p, const struct used *used, int ring, double top) {
    struct base_buffer path;
    double end_m = -1.0, drawn = -INFINITY;
    base_buffer_init(&path, 0);
    for (size_t i = 0; i < p->of->n_gears; i++) {
        const struct draw_route_gear *gear = &p->of->gears[i];
        double x1 = x_of(p, gear->from_m), x2 = x_of(p, gear->to_m), y = level_of(used, gear->sprocket, top);
        if (gear->ring != ring || x2 - fmax(x1, drawn) < 1.0) {
            continue;
        }
        bool goes_on = path.n > 0 && x1 - x_of(p, end_m) < 1.0;
        draw_put_point(&path, goes_on ? 'L' : 'M', (struct draw_point){goes_on ? drawn : x1, y});
        draw_put_point(&path, 'L', (struct draw_point){x2, y});
        end_m = gear->to_m;
        drawn = x2;
    }
    draw_path(&p->sheet, DRAW_THIN, &path);
    base_buffer_clear(&path);
}

/* 'ring/sprocket' at the two ends of a lane; without the ring where there is one. */
static void label_level(struct plot *p, const struct used *used, int ring, int sprocket, double top) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (used->n_rings > 1) {
        base_buffer_int(&text, ring);
        base_buffer_char(&text, '/');
    }
    base_buffer_int(&text, sprocket);
    (void)draw_text(&p->sheet, p->left - TICK, level_of(used, sprocket, top) + TICK, draw_right,
                    explain_held(&p->sheet.body, &text));
    base_buffer_clear(&text);
}

/* A lane for each ring; the lowest that they take. */
static double draw_gears(struct plot *p, const struct used *used, double top) {
    double y = top;
    for (size_t i = 0; i < used->n_rings; i++) {
        const struct explain_arg ring = explain_count(used->rings[i]);
        struct base_buffer title;
        y += BETWEEN_GEARS;
        base_buffer_init(&title, 0);
        explain_put(&title, "draw.route.gears", &ring, 1);
        draw_open(&p->sheet, explain_held(&p->sheet.body, &title));
        base_buffer_clear(&title);
        draw_steps_of(p, used, used->rings[i], y);
        label_level(p, used, used->rings[i], used->sprockets[used->n_sprockets - 1], y);
        if (used->n_sprockets > 1) {
            label_level(p, used, used->rings[i], used->sprockets[0], y);
        }
        draw_close(&p->sheet);
        y += GEAR_LANE + BETWEEN_LANES;
    }
    return y;
}

void draw_route(struct base_buffer *out, const struct draw_style *style, const struct draw_route *route) {
    struct plot p = {.of = route};
    struct used used;
    draw_sheet_begin(&p.sheet, style->ground, style->wide ? DRAW_WIDE_UNITS : DRAW_NARROW_UNITS);
    p.right = p.sheet.width - RIGHT;
    p.top = draw_head_of(&p.sheet, &route->head) + 2.0 * DRAW_LINE_HEIGHT + TICK;
    p.foot = p.top + (style->wide ? HEIGHT_WIDE : HEIGHT);
    set_range(&p);
    set_left(&p);
    find_used(&used, route);
    double lanes = p.foot + BETWEEN_LANES, bottom = lanes + (LANE + BETWEEN_LANES) * (double)route->n_lanes;
    double under = style->wide ? (GEAR_LANE + BETWEEN_GEARS + BETWEEN_LANES) * (double)used.n_rings : 0.0;
    draw_heights(&p);
    for (size_t i = 0; i < route->n_pitches; i++) {
        draw_pitch(&p, &route->pitches[i], bottom + under - BETWEEN_LANES);
    }
    draw_profile(&p);
    for (size_t i = 0; i < route->n_lanes; i++) {
        draw_lane(&p, &route->lanes[i], lanes + (LANE + BETWEEN_LANES) * (double)i);
    }
    if (style->wide) {
        bottom = draw_gears(&p, &used, bottom);
    }
    bottom = draw_distances(&p, bottom);
    draw_sheet_end(out, &p.sheet, &route->head, bottom);
}
