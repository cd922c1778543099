/* SPDX-License-Identifier: Apache-2.0 */
/*
 * From the side: the chain in the two extreme gears, along its true tangents and arcs, the front to the right. One scale both
 * ways.
 */
#include "draw/figures.h"

#include "explain/message.h"

#include <math.h>

#define CRANK_SHARE (300.0 / 360.0) /* of the width, where the crank axle stands */
#define SCALE 0.56                  /* units a mm, at most */
#define SCALE_WIDE 1.0
#define SCALE_STEP 0.02
#define SCALE_LEAST 0.2
#define GAP 6.0
#define TURN 3.14159265358979323846

struct side {
    struct draw_sheet sheet;
    const struct draw_side *of;
    double scale;
    struct draw_point crank; /* on the page */
};

/* Millimetres from the bottom bracket, y up, to the page. */
static struct draw_point at(const struct side *s, double x_mm, double y_mm) {
    return (struct draw_point){s->crank.x + x_mm * s->scale, s->crank.y - y_mm * s->scale};
}

/* The loops that are drawn, one behind the other; NULL behind the last. */
static const struct draw_side_loop *loop_of(const struct draw_side *of, size_t i) {
    return i < of->n_loops ? &of->loops[i] : i == of->n_loops ? of->full : NULL;
}

/* How far back the drawing reaches, mm: below 0. */
static double rearmost_mm(const struct draw_side *of) {
    const struct draw_side_loop *loop;
    double rear = of->axle_x_mm - of->largest_sprocket_mm;
    for (size_t i = 0; (loop = loop_of(of, i)); i++) {
        for (size_t k = 0; k < loop->n; k++) {
            rear = fmin(rear, loop->wheels[k].x_mm - loop->wheels[k].radius_mm);
        }
    }
    return rear;
}

static void set_scale(struct side *s, double most) {
    const struct draw_side *of = s->of;
    double right = s->sheet.width - DRAW_EDGE;
    s->crank.x = s->sheet.width * CRANK_SHARE;
    for (s->scale = most; s->scale > SCALE_LEAST; s->scale -= SCALE_STEP) {
        bool fits = s->crank.x + of->largest_ring_mm * s->scale <= right &&
                    s->crank.x + rearmost_mm(of) * s->scale >= DRAW_EDGE;
        if (fits) {
            break;
        }
    }
}

/* How far up and down the drawing reaches from the bottom bracket, mm. */
static double reach_mm(const struct draw_side *of, double sign) {
    const struct draw_side_loop *loop;
    double most = fmax(of->largest_ring_mm, sign * of->axle_y_mm + of->largest_sprocket_mm);
    for (size_t i = 0; (loop = loop_of(of, i)); i++) {
        for (size_t k = 0; k < loop->n; k++) {
            most = fmax(most, sign * loop->wheels[k].y_mm + loop->wheels[k].radius_mm);
        }
    }
    return most;
}

/* Where the run that leaves wheel i touches it, and where it meets the next: c - q n, n to the left of the run. */
static struct draw_point touch(const struct side *s, const struct draw_side_loop *loop, size_t wheel, size_t run) {
    const struct mech_loop_wheel *w = &loop->wheels[wheel];
    double q = (double)w->sense * w->radius_mm, heading = loop->loop.heading_rad[run];
    return at(s, w->x_mm + q * sin(heading), w->y_mm - q * cos(heading));
}

static void draw_loop(struct side *s, const struct draw_side_loop *loop, enum draw_pen pen) {
    struct base_buffer path;
    base_buffer_init(&path, 0);
    for (size_t i = 0; i < loop->n; i++) {
        size_t next = (i + 1) % loop->n;
        const struct mech_loop_wheel *wheel = &loop->wheels[next];
        draw_put_point(&path, i == 0 ? 'M' : 'L', touch(s, loop, i, i));
        draw_put_point(&path, 'L', touch(s, loop, next, i));
        draw_put_arc(&path, wheel->radius_mm * s->scale, loop->loop.wrap_rad[next] > TURN, wheel->sense < 0,
                     touch(s, loop, next, next));
    }
    draw_path(&s->sheet, pen, &path);
    base_buffer_clear(&path);
}

/* The cage between its two wheels, behind ring and sprocket in the order of the chain. */
static void draw_cage(struct side *s, const struct draw_side_loop *loop, enum draw_pen pen, enum draw_pen wheels) {
    if (loop->n < 4) {
        return;
    }
    const struct mech_loop_wheel *tension = &loop->wheels[2], *guide = &loop->wheels[3];
    struct draw_point a = at(s, guide->x_mm, guide->y_mm), b = at(s, tension->x_mm, tension->y_mm);
    draw_line(&s->sheet, pen, a.x, a.y, b.x, b.y);
    draw_circle(&s->sheet, wheels, -1, a, guide->radius_mm * s->scale);
    draw_circle(&s->sheet, wheels, -1, b, tension->radius_mm * s->scale);
}

/* The rear end at full travel: the sprocket and the loop, and an arrow along the way of the axle. */
static void draw_travel(struct side *s) {
    const struct draw_side_loop *full = s->of->full;
    struct draw_point path[DRAW_PATH_POINTS];
    if (!full) {
        return;
    }
    for (size_t i = 0; i < DRAW_PATH_POINTS; i++) {
        path[i] = at(s, s->of->path[i].x_mm, s->of->path[i].y_mm);
    }
    const struct draw_point *last = &path[DRAW_PATH_POINTS - 1];
    draw_open(&s->sheet, full->title);
    draw_circle(&s->sheet, DRAW_TRAVEL, -1, *last, full->wheels[0].radius_mm * s->scale);
    draw_cage(s, full, DRAW_TRAVEL, DRAW_TRAVEL);
    draw_loop(s, full, DRAW_TRAVEL);
    draw_points(&s->sheet, DRAW_THIN, -1, path, DRAW_PATH_POINTS, false);
    draw_arrowhead(&s->sheet, last[-1], *last);
    (void)draw_value(&s->sheet, last->x + 2.0 * GAP, last->y + DRAW_TEXT_SIZE, draw_left, s->of->travel_mm, 0, "mm",
                     BASE_MEASURED);
    draw_close(&s->sheet);
}

static void draw_wheel(struct side *s, const struct draw_side_wheel *wheel) {
    draw_open(&s->sheet, wheel->title);
    draw_circle(&s->sheet, wheel->is_new ? DRAW_NEW_PART : DRAW_KEPT, -1, at(s, wheel->x_mm, wheel->y_mm),
                wheel->radius_mm * s->scale);
    draw_close(&s->sheet);
}

static void label_wheel(struct side *s, const struct draw_side_wheel *wheel) {
    const struct draw_face face = {DRAW_MIDDLE_OF, DRAW_INK, true, false};
    struct draw_point centre = at(s, wheel->x_mm, wheel->y_mm);
    double radius = wheel->radius_mm * s->scale;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_buffer_int(&text, wheel->teeth);
    const struct draw_point places[3] = {{centre.x, centre.y - radius - GAP},
                                         {centre.x, centre.y + radius + DRAW_TEXT_SIZE + 2.0},
                                         {centre.x + radius + 2.0 * GAP, centre.y + GAP}};
    (void)draw_text_near(&s->sheet, places, 3, face, explain_held(&s->sheet.body, &text));
    base_buffer_clear(&text);
}

/* Words at the lower run of a chain that hangs. */
static void draw_slack(struct side *s, const struct draw_side_loop *loop, double y) {
    if (loop->slack[0] == '\0') {
        return;
    }
    double left = s->sheet.width * 0.4;
    draw_tile(&s->sheet, EXPLAIN_MEASURE, left, y - DRAW_TEXT_SIZE + 1.0, DRAW_TEXT_SIZE + 2.0);
    (void)draw_text(&s->sheet, left + DRAW_TEXT_SIZE + GAP, y, draw_left, loop->slack);
}

static double draw_axles(struct side *s, double y) {
    struct draw_point rear = at(s, s->of->axle_x_mm, s->of->axle_y_mm);
    draw_line(&s->sheet, DRAW_AXLE, rear.x, rear.y, rear.x, y + GAP);
    draw_line(&s->sheet, DRAW_AXLE, s->crank.x, s->crank.y, s->crank.x, y + GAP);
    draw_open(&s->sheet, explain_message("draw.side.axles"));
    draw_dimension(&s->sheet, rear.x, y, s->crank.x, y);
    (void)draw_value(&s->sheet, (rear.x + s->crank.x) / 2.0, y - GAP, draw_centred, -s->of->axle_x_mm, 0, "mm",
                     s->of->axles_known);
    draw_close(&s->sheet);
    return y + GAP;
}

void draw_side(struct base_buffer *out, const struct draw_style *style, const struct draw_side *side) {
    struct side s = {.of = side};
    draw_sheet_begin(&s.sheet, style->ground, style->wide ? DRAW_WIDE_UNITS : DRAW_NARROW_UNITS);
    set_scale(&s, style->wide ? SCALE_WIDE : SCALE);
    s.sheet.across = s.sheet.along = s.scale;
    double top = draw_head_of(&s.sheet, &side->head) + DRAW_LINE_HEIGHT;
    s.crank.y = top + reach_mm(side, 1.0) * s.scale;
    double y = s.crank.y + reach_mm(side, -1.0) * s.scale + DRAW_LINE_HEIGHT;
    draw_line(&s.sheet, DRAW_CENTRE, DRAW_EDGE, s.crank.y, s.sheet.width - DRAW_EDGE, s.crank.y);
    for (size_t i = 0; i < side->n_wheels; i++) {
        draw_wheel(&s, &side->wheels[i]);
    }
    draw_travel(&s);
    for (size_t i = side->n_loops; i-- > 0;) {
        draw_open(&s.sheet, side->loops[i].title);
        draw_cage(&s, &side->loops[i], i == 0 ? DRAW_MIDDLE : DRAW_SECOND, DRAW_THIN);
        draw_loop(&s, &side->loops[i], i == 0 ? DRAW_RESULT : DRAW_SECOND);
        draw_close(&s.sheet);
    }
    for (size_t i = 0; i < side->n_wheels; i++) {
        label_wheel(&s, &side->wheels[i]);
    }
    for (size_t i = 0; i < side->n_loops; i++) {
        draw_slack(&s, &side->loops[i], y);
        y += side->loops[i].slack[0] != '\0' ? DRAW_LINE_HEIGHT : 0.0;
    }
    double bottom = draw_axles(&s, y + DRAW_LINE_HEIGHT);
    draw_sheet_end(out, &s.sheet, &side->head, bottom);
}
