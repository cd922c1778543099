/* SPDX-License-Identifier: Apache-2.0 */
/*
 * From above: the plan of chain, rings and sprockets, true across the bike and compressed along it, the front to the
 * right; and a section at the ring, from behind, larger.
 */
#include "draw/figures.h"

#include "explain/message.h"

#include <math.h>

#define REAR_AXLE 96.0
#define PRINT 4.0 /* units a mm on paper */
#define ACROSS 3.2
#define ACROSS_WIDE 4.0
#define PLAN_WIDE 470.0
#define HUB_HALF 34.0
#define LABEL_GAP 8.0
#define STAY_LENGTH 20.0
#define STAY_DEPTH_MM 10.0
#define STAY_HATCH 5.0
#define SECTION 16.0 /* units a mm in the section */
#define SECTION_WIDE 10.0
#define SECTION_HEIGHT 112.0
#define SECTION_MARGIN_MM 2.0
#define PLATE_STEP 22.0 /* that a smaller ring's plate is lower */
#define CHECK_MM 50.0
#define MIDDLE_OF_TEXT 5.0

struct plan {
    struct draw_sheet sheet;
    const struct draw_above *of;
    double across, along; /* units a mm */
    double centre;        /* y of the centre plane */
    double crank;         /* x of the crank axle */
    double right;         /* edge of the plan */
    bool wide;
};

static double y_of(const struct plan *p, double mm) { return p->centre + mm * p->across; }

/* As large as the largest ring leaves room for, in whole steps of 1 : n. */
static void set_scale(struct plan *p, int first) {
    double radius = p->of->rings[0].radius_mm;
    for (size_t i = 0; i < p->of->n_now; i++) {
        radius = fmax(radius, p->of->now[i].radius_mm);
    }
    for (int n = first; n < 40; n++) {
        p->along = PRINT / n;
        if (REAR_AXLE + p->along * (p->of->axles_mm + radius) <= p->right) {
            break;
        }
    }
    p->crank = REAR_AXLE + p->along * p->of->axles_mm;
}

/* How far out the drawing reaches, mm. */
static double outermost_mm(const struct draw_above *of) {
    double out = isnan(of->hub_face_mm) ? 0.0 : of->hub_face_mm;
    for (size_t i = 0; i < of->n_rings; i++) {
        out = fmax(out, of->rings[i].plane_mm);
    }
    for (size_t i = 0; i < of->n_now; i++) {
        out = fmax(out, of->now[i].plane_mm);
    }
    return fmax(out, of->sprockets[0].plane_mm);
}

/* --- the plan ------------------------------------------------------------------------------------------------------ */

static void draw_axes(struct plan *p) {
    double bottom = y_of(p, outermost_mm(p->of)) + LABEL_GAP;
    draw_line(&p->sheet, DRAW_CENTRE, DRAW_EDGE, p->centre, p->right, p->centre);
    draw_line(&p->sheet, DRAW_AXLE, REAR_AXLE, p->centre - LABEL_GAP, REAR_AXLE, bottom);
    draw_line(&p->sheet, DRAW_AXLE, p->crank, p->centre - LABEL_GAP, p->crank, bottom);
    (void)draw_text(&p->sheet, DRAW_EDGE, p->centre + DRAW_LINE_HEIGHT, draw_left,
                    explain_message("draw.above.centre"));
}

static void open_titled(struct plan *p, const char *code, int teeth, double mm, enum base_known known) {
    struct base_buffer title;
    base_buffer_init(&title, 0);
    explain_tell(&title, code, explain_count(teeth), explain_known(mm, 1, "mm", known));
    draw_open(&p->sheet, explain_held(&p->sheet.body, &title));
    base_buffer_clear(&title);
}

/* A disc from above: a line as long as its pitch circle. */
static void draw_disc(struct plan *p, enum draw_pen pen, double axle, double radius_mm, double plane_mm) {
    double half = radius_mm * p->along, y = y_of(p, plane_mm);
    draw_line(&p->sheet, pen, axle - half, y, axle + half, y);
}

static void label_sprocket(struct plan *p, size_t i) {
    const struct draw_above_sprocket *largest = &p->of->sprockets[p->of->n_sprockets - 1];
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_buffer_int(&text, p->of->sprockets[i].teeth);
    double x = REAR_AXLE - largest->radius_mm * p->along - LABEL_GAP;
    (void)draw_text(&p->sheet, x, y_of(p, p->of->sprockets[i].plane_mm) + MIDDLE_OF_TEXT, draw_right,
                    explain_held(&p->sheet.body, &text));
    base_buffer_clear(&text);
}

/* Labels first at the two ends; where they stand close, others find no room. */
static void draw_sprockets(struct plan *p) {
    const struct draw_above *of = p->of;
    for (size_t i = 0; i < of->n_sprockets; i++) {
        const struct draw_above_sprocket *s = &of->sprockets[i];
        open_titled(p, "draw.above.sprocket", s->teeth, s->plane_mm, of->rear_known);
        draw_disc(p, of->cassette_new ? DRAW_NEW_PART : DRAW_KEPT, REAR_AXLE, s->radius_mm, s->plane_mm);
        draw_close(&p->sheet);
    }
    label_sprocket(p, 0);
    label_sprocket(p, of->n_sprockets - 1);
    for (size_t i = 1; i + 1 < of->n_sprockets; i++) {
        label_sprocket(p, i);
    }
}

static void draw_hub(struct plan *p) {
    const struct draw_above *of = p->of;
    if (isnan(of->hub_face_mm)) {
        return;
    }
    double y = y_of(p, of->hub_face_mm);
    const struct explain_arg arg = explain_known(of->hub_face_mm, 1, "mm", of->hub_known);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, "draw.above.hub", &arg, 1);
    const char *held = explain_held(&p->sheet.body, &text);
    draw_open(&p->sheet, held);
    draw_line(&p->sheet, DRAW_MIDDLE, REAR_AXLE - HUB_HALF, y, REAR_AXLE + HUB_HALF, y);
    (void)draw_text(&p->sheet, REAR_AXLE + HUB_HALF + LABEL_GAP, y + MIDDLE_OF_TEXT, draw_left, held);
    draw_close(&p->sheet);
    base_buffer_clear(&text);
}

static void draw_ring(struct plan *p, const struct draw_above_ring *ring, enum draw_pen pen, const char *code) {
    open_titled(p, code, ring->teeth, ring->plane_mm, ring->known);
    draw_disc(p, pen, p->crank, ring->radius_mm, ring->plane_mm);
    draw_close(&p->sheet);
}

/* The angle at the middle of the line, outside the fan. */
static void label_angle(struct plan *p, const struct draw_above_run *run, double y, bool above) {
    static const char degree[] = "\xc2\xb0";
    struct base_buffer text;
    struct explain_arg arg = explain_known(fabs(run->angle_deg), 1, degree, run->known);
    double x = (REAR_AXLE + p->crank) / 2.0;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &arg);
    const double side = above ? -1.0 : 1.0;
    struct draw_point places[6];
    for (size_t i = 0; i < 6; i++) {
        double off = LABEL_GAP + (above ? 0.0 : DRAW_TEXT_SIZE) + LABEL_GAP * (double)(i / 2);
        places[i] = (struct draw_point){x + (i % 2 ? 40.0 : 0.0), y + side * off};
    }
    (void)draw_text_near(&p->sheet, places, 6, draw_centred, explain_held(&p->sheet.body, &text));
    base_buffer_clear(&text);
}

static void draw_run(struct plan *p, const struct draw_above_run *run, bool outer, bool above) {
    struct base_buffer title;
    static const char degree[] = "\xc2\xb0";
    base_buffer_init(&title, 0);
    double sprocket = y_of(p, run->sprocket_mm), ring = y_of(p, run->ring_mm);
    explain_tell(&title, "draw.above.chain", explain_count(run->ring), explain_count(run->sprocket),
                 explain_known(fabs(run->angle_deg), 1, degree, run->known));
    draw_open(&p->sheet, explain_held(&p->sheet.body, &title));
    draw_line(&p->sheet, outer ? DRAW_RESULT : DRAW_THIN, REAR_AXLE, sprocket, p->crank, ring);
    if (outer) {
        label_angle(p, run, (sprocket + ring) / 2.0, above);
    }
    draw_close(&p->sheet);
    base_buffer_clear(&title);
}

/* The stay beside the ring's edge, or an open box where nobody has read it. */
static void draw_stay(struct plan *p) {
    const struct draw_above *of = p->of;
    bool is_open = isnan(of->stay_mm);
    double face = y_of(p, is_open ? of->rings[0].plane_mm - STAY_DEPTH_MM : of->stay_mm);
    double x = p->crank - of->stay_behind_mm * p->along, depth = STAY_DEPTH_MM * p->across;
    const struct draw_box box = {x - STAY_LENGTH / 2.0, face - depth, x + STAY_LENGTH / 2.0, face};
    draw_open(&p->sheet, explain_message(is_open ? "draw.above.stay-open" : "draw.above.stay"));
    if (is_open) {
        draw_rectangle(&p->sheet, DRAW_OPEN_PEN, DRAW_PAPER, box);
    } else {
        draw_rectangle(&p->sheet, DRAW_THIN, DRAW_PAPER, box);
        draw_hatch(&p->sheet, box, STAY_HATCH, true);
    }
    draw_close(&p->sheet);
}

/* Behind all lines that pass there, so that they stop for it. */
static void label_stay(struct plan *p) {
    const struct draw_above *of = p->of;
    bool is_open = isnan(of->stay_mm);
    double face = is_open ? of->rings[0].plane_mm - STAY_DEPTH_MM : of->stay_mm;
    double x = p->crank - of->stay_behind_mm * p->along, y = y_of(p, face - STAY_DEPTH_MM) + DRAW_TEXT_SIZE;
    double left = x - STAY_LENGTH / 2.0 - LABEL_GAP;
    if (is_open) {
        const struct draw_point box[2] = {{x, y + STAY_DEPTH_MM * p->across + 6.0}, {x, y - DRAW_TEXT_SIZE - 6.0}};
        for (size_t i = 0; i < 2; i++) {
            if (draw_value(&p->sheet, box[i].x, box[i].y, draw_centred, (double)NAN, 1, "mm", BASE_OPEN)) {
                break;
            }
        }
    }
    const struct draw_point places[2] = {{left, y}, {left, y + DRAW_LINE_HEIGHT}};
    (void)draw_text_near(&p->sheet, places, 2, draw_right, explain_message("draw.above.stay-label"));
}

/* From the centre plane to the chain line, ahead of the crank axle. */
static void draw_front(struct plan *p) {
    const struct draw_above *of = p->of;
    double x = p->crank + DRAW_TEXT_SIZE, y = y_of(p, of->front_mm);
    double shown = round(of->front_mm * 2.0) / 2.0; /* what is computed is good for half a millimetre */
    draw_open(&p->sheet, explain_message("draw.above.line"));
    draw_dimension(&p->sheet, x, p->centre, x, y);
    const struct draw_point places[3] = {{p->crank - LABEL_GAP, p->centre + (y - p->centre) * 0.4},
                                         {p->crank - LABEL_GAP, p->centre + (y - p->centre) * 0.25},
                                         {p->crank - LABEL_GAP, p->centre + DRAW_TEXT_SIZE + 4.0}};
    for (size_t i = 0; i < 3; i++) {
        if (draw_value(&p->sheet, places[i].x, places[i].y, draw_right, shown, 1, "mm", of->front_known)) {
            break;
        }
    }
    draw_close(&p->sheet);
}

/* A bar that a ruler tells a shrunk print by. */
static double draw_check(struct plan *p, double y) {
    const struct explain_arg arg = explain_number(CHECK_MM, 0, "mm");
    double right = DRAW_EDGE + CHECK_MM * PRINT;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, "draw.above.check", &arg, 1);
    draw_dimension(&p->sheet, DRAW_EDGE, y, right, y);
    (void)draw_text(&p->sheet, right + LABEL_GAP, y + MIDDLE_OF_TEXT, draw_left, explain_held(&p->sheet.body, &text));
    base_buffer_clear(&text);
    return y + LABEL_GAP;
}

static double draw_plan(struct plan *p) {
    const struct draw_above *of = p->of;
    draw_axes(p);
    draw_stay(p);
    draw_sprockets(p);
    draw_hub(p);
    for (size_t i = 0; i < of->n_now; i++) {
        draw_ring(p, &of->now[i], DRAW_NOW_PEN, "draw.above.ring-now");
    }
    for (size_t i = 0; i < of->n_runs; i++) {
        draw_run(p, &of->runs[i], i < 2, i == 0);
    }
    for (size_t i = 0; i < of->n_rings; i++) {
        draw_ring(p, &of->rings[i], of->rings[i].is_new ? DRAW_NEW_PART : DRAW_KEPT, "draw.above.ring");
    }
    label_stay(p);
    draw_front(p);
    double bottom = y_of(p, outermost_mm(of)) + 2.0 * LABEL_GAP;
    return p->wide ? draw_check(p, bottom + 2.0 * LABEL_GAP) : bottom;
}

/* --- the section --------------------------------------------------------------------------------------------------- */

struct section {
    struct plan *p;
    double left, right, top, base; /* of the page */
    double from_mm, scale;         /* what stands at the left edge; units a mm */
};

static double x_of(const struct section *s, double mm) { return s->left + (mm - s->from_mm) * s->scale; }

/* The stay, every ring and what the frame wants inside, as large as they leave room for. */
static void set_section(struct section *s) {
    const struct draw_above *of = s->p->of;
    double low = fmin(of->rings[of->n_rings - 1].plane_mm, isnan(of->low_mm) ? INFINITY : of->low_mm), high = 0.0;
    low = fmin(low, isnan(of->stay_mm) ? INFINITY : of->stay_mm);
    high = fmax(of->rings[0].plane_mm, isnan(of->high_mm) ? 0.0 : of->high_mm);
    for (size_t i = 0; i < of->n_now; i++) {
        low = fmin(low, of->now[i].plane_mm);
        high = fmax(high, of->now[i].plane_mm);
    }
    double most = s->p->wide ? SECTION_WIDE : SECTION, room = s->right - s->left;
    double span = high - low + 2.0 * SECTION_MARGIN_MM;
    s->scale = fmin(most, room / span);
    s->from_mm = (low + high) / 2.0 - room / s->scale / 2.0;
}

/* Thinner plates of smaller rings stand lower. */
static void draw_plate(struct section *s, const struct draw_above_ring *ring, size_t rank, enum draw_pen pen) {
    double half = ring->thickness_mm / 2.0;
    const struct draw_box box = {x_of(s, ring->plane_mm - half), s->top + PLATE_STEP * (double)(rank + 1),
                                 x_of(s, ring->plane_mm + half), s->base};
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_buffer_int(&text, ring->teeth);
    open_titled(s->p, pen == DRAW_NOW_PEN ? "draw.above.ring-now" : "draw.above.ring", ring->teeth, ring->plane_mm,
                ring->known);
    draw_rectangle(&s->p->sheet, pen, pen == DRAW_NOW_PEN ? -1 : DRAW_PAPER, box);
    const double x = (box.left + box.right) / 2.0;
    const struct draw_point places[2] = {{x, box.top - 5.0}, {x, box.top + DRAW_TEXT_SIZE + 4.0}};
    (void)draw_text_near(&s->p->sheet, places, 2, draw_centred, explain_held(&s->p->sheet.body, &text));
    draw_close(&s->p->sheet);
    base_buffer_clear(&text);
}

static void draw_wanted(struct section *s) {
    const struct draw_above *of = s->p->of;
    if (isnan(of->low_mm)) {
        return;
    }
    const struct draw_box band = {x_of(s, of->low_mm), s->top + PLATE_STEP, x_of(s, of->high_mm), s->base};
    draw_open(&s->p->sheet, of->wants);
    draw_hatch(&s->p->sheet, band, DRAW_EDGE, false);
    double half = draw_width_of(of->wants, false) / 2.0, middle = (band.left + band.right) / 2.0;
    middle = fmin(fmax(middle, s->left + half), s->right - half);
    (void)draw_text(&s->p->sheet, middle, s->base + DRAW_LINE_HEIGHT, draw_centred, of->wants);
    draw_close(&s->p->sheet);
}

/* The stay's face and the room between it and the ring beside it. */
static void draw_room(struct section *s) {
    const struct draw_above *of = s->p->of;
    if (isnan(of->stay_mm)) {
        return;
    }
    double face = x_of(s, of->stay_mm), ring = x_of(s, of->rings[0].plane_mm - of->rings[0].thickness_mm / 2.0);
    double height = (s->base - s->top) / 3.0, y = s->base - height / 2.0;
    const struct draw_box stay = {fmin(s->left, face - 1.0), s->base - height, face, s->base};
    draw_open(&s->p->sheet, explain_message("draw.above.stay"));
    draw_rectangle(&s->p->sheet, DRAW_THIN, DRAW_PAPER, stay);
    draw_hatch(&s->p->sheet, stay, DRAW_EDGE, true);
    draw_close(&s->p->sheet);
    draw_open(&s->p->sheet, explain_message("draw.above.room"));
    draw_dimension(&s->p->sheet, face, y, ring, y);
    const double x[3] = {(face + ring) / 2.0, ring + 40.0, face - 30.0};
    for (size_t i = 0; i < 3; i++) {
        if (draw_value(&s->p->sheet, x[i], y - 6.0, draw_centred, of->room_mm, 1, "mm", of->room_known)) {
            break;
        }
    }
    draw_close(&s->p->sheet);
}

static double draw_section(struct plan *p, double left, double right, double top) {
    struct section s = {.p = p, .left = left, .right = right, .top = top + DRAW_LINE_HEIGHT / 2.0};
    struct base_buffer text;
    s.base = s.top + SECTION_HEIGHT + PLATE_STEP;
    set_section(&s);
    base_buffer_init(&text, 0);
    double larger = s.scale / p->across;
    explain_tell(&text, "draw.above.section", explain_number(larger, fabs(larger - round(larger)) > 0.04 ? 1 : 0, ""));
    (void)draw_text_cut(&p->sheet, left, top + DRAW_LINE_HEIGHT / 2.0, draw_left, explain_held(&p->sheet.body, &text),
                        right - left);
    base_buffer_clear(&text);
    draw_wanted(&s);
    for (size_t i = 0; i < p->of->n_now; i++) {
        draw_plate(&s, &p->of->now[i], i, DRAW_NOW_PEN);
    }
    for (size_t i = 0; i < p->of->n_rings; i++) {
        draw_plate(&s, &p->of->rings[i], i, p->of->rings[i].is_new ? DRAW_NEW_PART : DRAW_KEPT);
    }
    draw_room(&s);
    draw_line(&p->sheet, DRAW_THIN, left, s.base, right, s.base);
    return s.base + DRAW_LINE_HEIGHT + 4.0;
}

void draw_above(struct base_buffer *out, const struct draw_style *style, const struct draw_above *above) {
    struct plan p = {.of = above, .wide = style->wide, .across = style->wide ? ACROSS_WIDE : ACROSS};
    draw_sheet_begin(&p.sheet, style->ground, style->wide ? DRAW_WIDE_UNITS : DRAW_NARROW_UNITS);
    p.right = (style->wide ? PLAN_WIDE : p.sheet.width) - DRAW_EDGE;
    set_scale(&p, style->wide ? 6 : 8);
    double top = draw_head_of(&p.sheet, &above->head);
    p.centre = top + DRAW_LINE_HEIGHT;
    double bottom = draw_plan(&p);
    double edge = p.sheet.width - DRAW_EDGE;
    double under = style->wide ? draw_section(&p, PLAN_WIDE + LABEL_GAP, edge, top + DRAW_LINE_HEIGHT)
                               : draw_section(&p, DRAW_EDGE, edge, bottom + DRAW_LINE_HEIGHT);
    draw_sheet_end(out, &p.sheet, &above->head, fmax(bottom, under));
}
