/* SPDX-License-Identifier: Apache-2.0 */
/*
 * From above: the plan of chain, rings and sprockets, true across the bike and compressed along it, the front to the
 * right; and a section at the ring, from behind, larger.
 */
#include "draw/section.h"

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
#define CHECK_MM 50.0
#define ANGLE_COLUMNS 4
#define ANGLE_ROWS 3
#define OPEN_APART_MM 7.0 /* about what rings stand apart */
#define OPEN_HALF 5.0     /* units that an open ring's box is high to either side */
#define WORD_GAP 5.0
#define FIRST_DIMENSION 24.0
#define DIMENSIONS_APART 86.0 /* a value fits between */
#define MIDDLE_OF_TEXT 5.0

struct plan {
    struct draw_sheet sheet;
    const struct draw_above *of; /* `shown` */
    struct draw_above shown;     /* with open rings where they are shown */
    double across, along;        /* units a mm */
    double centre;               /* y of the centre plane */
    double crank;                /* x of the crank axle */
    double right;                /* edge of the plan */
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
    draw_keep_off(&p->sheet, p->crank, p->centre, p->crank, bottom);
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

/* In the wide layout dimensions tell the places; here it is told in words. */
static void draw_hub(struct plan *p) {
    const struct draw_above *of = p->of;
    if (isnan(of->hub_face_mm)) {
        return;
    }
    double y = y_of(p, of->hub_face_mm), x = REAR_AXLE + HUB_HALF;
    const struct explain_arg arg = explain_known(of->hub_face_mm, 1, "mm", of->hub_known);
    const char *label = explain_message("draw.above.hub-label");
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, "draw.above.hub", &arg, 1);
    draw_open(&p->sheet, explain_held(&p->sheet.body, &text));
    draw_line(&p->sheet, DRAW_MIDDLE, REAR_AXLE - HUB_HALF, y, x, y);
    (void)draw_text(&p->sheet, x + LABEL_GAP, y + MIDDLE_OF_TEXT, draw_left, label);
    if (!p->wide) {
        (void)draw_value(&p->sheet, x + LABEL_GAP + draw_width_of(label, false) + WORD_GAP, y + MIDDLE_OF_TEXT,
                         draw_left, of->hub_face_mm, 1, "mm", of->hub_known);
    }
    draw_close(&p->sheet);
    base_buffer_clear(&text);
}

static void draw_ring(struct plan *p, const struct draw_above_ring *ring, enum draw_pen pen, const char *code) {
    double y = y_of(p, ring->plane_mm), half = ring->radius_mm * p->along;
    open_titled(p, code, ring->teeth, ring->plane_mm, ring->known);
    if (ring->known == BASE_OPEN) {
        const struct draw_box box = {p->crank - half, y - OPEN_HALF, p->crank + half, y + OPEN_HALF};
        draw_rectangle(&p->sheet, DRAW_OPEN_PEN, -1, box);
    } else {
        draw_disc(p, pen, p->crank, ring->radius_mm, ring->plane_mm);
    }
    draw_keep_off(&p->sheet, p->crank - half, y, p->crank + half, y);
    draw_close(&p->sheet);
}

/* The angle at the middle of the line, outside the fan, or inside where the hub's face is close. */
static void label_angle(struct plan *p, const struct draw_above_run *run, bool above) {
    static const char degree[] = "\xc2\xb0";
    static const double aside[ANGLE_COLUMNS] = {0.0, -24.0, 24.0, 76.0};
    static const double off[2][ANGLE_ROWS] = {{22.0, -8.0, -12.0}, {-8.0, -16.0, -24.0}};
    double x = (REAR_AXLE + p->crank) / 2.0, y = (y_of(p, run->ring_mm) + y_of(p, run->sprocket_mm)) / 2.0;
    struct draw_point places[ANGLE_ROWS * ANGLE_COLUMNS];
    for (size_t i = 0; i < ANGLE_ROWS * ANGLE_COLUMNS; i++) {
        places[i] = (struct draw_point){x + aside[i % ANGLE_COLUMNS], y + off[above ? 1 : 0][i / ANGLE_COLUMNS]};
    }
    (void)draw_value_near(&p->sheet, places, ANGLE_ROWS * ANGLE_COLUMNS, draw_centred, fabs(run->angle_deg), 1, degree,
                          run->known);
}

static void draw_run(struct plan *p, const struct draw_above_run *run, bool outer) {
    struct base_buffer title;
    static const char degree[] = "\xc2\xb0";
    base_buffer_init(&title, 0);
    double sprocket = y_of(p, run->sprocket_mm), ring = y_of(p, run->ring_mm);
    explain_tell(&title, "draw.above.chain", explain_count(run->ring), explain_count(run->sprocket),
                 explain_known(fabs(run->angle_deg), 1, degree, run->known));
    draw_open(&p->sheet, explain_held(&p->sheet.body, &title));
    draw_line(&p->sheet, outer ? DRAW_RESULT : DRAW_THIN, REAR_AXLE, sprocket, p->crank, ring);
    draw_keep_off(&p->sheet, REAR_AXLE, sprocket, p->crank, ring);
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
    for (int i = 0; i <= 2; i++) { /* nearer to each other than a text is high */
        double y = face - depth * i / 2.0;
        draw_keep_off(&p->sheet, box.left, y, box.right, y);
    }
    draw_open(&p->sheet, explain_message(is_open ? "draw.above.stay-open" : "draw.above.stay"));
    if (is_open) {
        draw_rectangle(&p->sheet, DRAW_OPEN_PEN, DRAW_PAPER, box);
    } else {
        draw_rectangle(&p->sheet, DRAW_THIN, DRAW_PAPER, box);
        draw_hatch(&p->sheet, box, STAY_HATCH, true);
    }
    draw_close(&p->sheet);
}

/* Once all lines stand, so that it keeps off them: the word, and an open stay's box. */
static void label_stay(struct plan *p) {
    const struct draw_above *of = p->of;
    const char *word = explain_message("draw.above.stay-label");
    bool is_open = isnan(of->stay_mm);
    double face = y_of(p, is_open ? of->rings[0].plane_mm - STAY_DEPTH_MM : of->stay_mm);
    double x = p->crank - of->stay_behind_mm * p->along, top = face - STAY_DEPTH_MM * p->across;
    double aside = STAY_LENGTH / 2.0 + LABEL_GAP, half = draw_width_of(word, false) / 2.0;
    if (is_open) {
        const struct draw_point box[] = {
            {x, top - LABEL_GAP}, {x, face + DRAW_TEXT_SIZE + LABEL_GAP}, {x - 2.0 * aside, top - LABEL_GAP}};
        (void)draw_value_near(&p->sheet, box, 3, draw_centred, (double)NAN, 1, "mm", BASE_OPEN);
    }
    const struct draw_point places[] = {
        {x - aside - half, top + DRAW_TEXT_SIZE},           {x, top - MIDDLE_OF_TEXT},
        {x - aside - half, top + 2.0 * DRAW_TEXT_SIZE},     {x + aside + half, top + DRAW_TEXT_SIZE},
        {x, top - MIDDLE_OF_TEXT - DRAW_LINE_HEIGHT - 2.0}, {x, face + DRAW_TEXT_SIZE}};
    (void)draw_text_near(&p->sheet, places, sizeof places / sizeof places[0], draw_centred, word);
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
    (void)draw_value_near(&p->sheet, places, 3, draw_right, shown, 1, "mm", of->front_known);
    draw_close(&p->sheet);
}

/* From the centre plane to something behind the crank, the value beside the line; from `end` on an extension reaches it. */
static void draw_place(struct plan *p, size_t column, double end, double mm, enum base_known known) {
    double x = REAR_AXLE + FIRST_DIMENSION + DIMENSIONS_APART * (double)column, y = y_of(p, mm);
    if (end < x) {
        draw_line(&p->sheet, DRAW_THIN, end + WORD_GAP, y, x + WORD_GAP, y);
    }
    draw_dimension(&p->sheet, x, p->centre, x, y);
    draw_keep_off(&p->sheet, x, p->centre, x, y);
    (void)draw_value(&p->sheet, x + WORD_GAP, p->centre + DRAW_LINE_HEIGHT + WORD_GAP, draw_left, mm, 1, "mm", known);
}

/* Wide: dimensions of the largest and the smallest sprocket and of the hub's face. */
static void draw_places(struct plan *p) {
    const struct draw_above *of = p->of;
    const struct draw_above_sprocket *smallest = &of->sprockets[0], *largest = smallest + of->n_sprockets - 1;
    double label = draw_width_of(explain_message("draw.above.hub-label"), false);
    open_titled(p, "draw.above.sprocket-line", largest->teeth, largest->plane_mm, of->rear_known);
    draw_place(p, 0, REAR_AXLE + largest->radius_mm * p->along, largest->plane_mm, of->rear_known);
    draw_close(&p->sheet);
    if (of->n_sprockets > 1) {
        open_titled(p, "draw.above.sprocket-line", smallest->teeth, smallest->plane_mm, of->rear_known);
        draw_place(p, 1, REAR_AXLE + smallest->radius_mm * p->along, smallest->plane_mm, of->rear_known);
        draw_close(&p->sheet);
    }
    if (!isnan(of->hub_face_mm)) {
        draw_open(&p->sheet, explain_message("draw.above.hub-line"));
        draw_place(p, 2, REAR_AXLE + HUB_HALF + LABEL_GAP + label, of->hub_face_mm, of->hub_known);
        draw_close(&p->sheet);
    }
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
    if (p->wide) {
        draw_places(p);
    }
    for (size_t i = 0; i < of->n_runs; i++) {
        draw_run(p, &of->runs[i], i < 2);
    }
    for (size_t i = 0; i < of->n_rings; i++) {
        draw_ring(p, &of->rings[i], of->rings[i].is_new ? DRAW_NEW_PART : DRAW_KEPT, "draw.above.ring");
    }
    draw_front(p);
    label_stay(p);
    for (size_t i = 0; i < of->n_runs && i < 2; i++) {
        label_angle(p, &of->runs[i], i == 0);
    }
    double bottom = y_of(p, outermost_mm(of)) + 2.0 * LABEL_GAP;
    return p->wide ? draw_check(p, bottom + 2.0 * LABEL_GAP) : bottom;
}

/* --- the whole ----------------------------------------------------------------------------------------------------- */

/* Rings whose plane is open stand where the frame wants the chain line, else at the middle of the cassette. */
static void place_open(struct plan *p, struct draw_above_ring rings[DRAW_RINGS_MAX]) {
    const struct draw_above_sprocket *smallest = &p->shown.sprockets[0], *largest = smallest + p->shown.n_sprockets - 1;
    bool wants = !isnan(p->shown.low_mm);
    double middle_mm =
        wants ? (p->shown.low_mm + p->shown.high_mm) / 2.0 : (smallest->plane_mm + largest->plane_mm) / 2.0;
    double outermost_mm = middle_mm + OPEN_APART_MM * (double)(p->shown.n_rings - 1) / 2.0;
    for (size_t i = 0; i < p->shown.n_rings; i++) {
        rings[i] = p->shown.rings[i];
        if (rings[i].known == BASE_OPEN) {
            rings[i].plane_mm = outermost_mm - OPEN_APART_MM * (double)i;
        }
    }
    p->shown.rings = rings;
    p->shown.front_mm = p->shown.front_known == BASE_OPEN ? middle_mm : p->shown.front_mm;
}

void draw_above(struct base_buffer *out, const struct draw_style *style, const struct draw_above *above) {
    struct plan p = {.shown = *above, .wide = style->wide, .across = style->wide ? ACROSS_WIDE : ACROSS};
    struct draw_above_ring rings[DRAW_RINGS_MAX];
    p.of = &p.shown;
    place_open(&p, rings);
    draw_sheet_begin(&p.sheet, style->ground, style->wide ? DRAW_WIDE_UNITS : DRAW_NARROW_UNITS);
    p.right = (style->wide ? PLAN_WIDE : p.sheet.width) - DRAW_EDGE;
    set_scale(&p, style->wide ? 6 : 8);
    p.sheet.across = p.across;
    p.sheet.along = p.along;
    double top = draw_head_of(&p.sheet, &above->head);
    p.centre = top + DRAW_LINE_HEIGHT;
    double bottom = draw_plan(&p);
    double edge = p.sheet.width - DRAW_EDGE;
    const struct draw_point section = style->wide ? (struct draw_point){PLAN_WIDE + LABEL_GAP, top + DRAW_LINE_HEIGHT}
                                                  : (struct draw_point){DRAW_EDGE, bottom + DRAW_LINE_HEIGHT};
    double under = draw_section(&p.sheet, p.of, section, edge, p.across, style->wide ? SECTION_WIDE : SECTION);
    draw_sheet_end(out, &p.sheet, &above->head, fmax(bottom, under));
}
