/* SPDX-License-Identifier: Apache-2.0 */
#include "draw/section.h"

#include "explain/message.h"

#include <math.h>

#define HEIGHT 112.0
#define MARGIN_MM 2.0
#define STEP 22.0 /* that a smaller ring's plate is lower */
#define GAP 6.0
#define LABEL_GAP 8.0
#define TILE 16.0
/* Above the rule: the stay with the room beside it, and over these how the ring is held. */
#define ROOM_ABOVE 22.0
#define PLATES_ABOVE 56.0
#define PLATES_HIGH 30.0
#define OFFSET_ABOVE 70.0
#define OVER 8.0 /* that the crank's face is longer than what lies at it */

struct section {
    struct draw_sheet *sheet;
    const struct draw_above *of;
    double left, right, top, base; /* of the page */
    double from_mm, scale;         /* what stands at the left edge; units a mm */
};

static double x_of(const struct section *s, double mm) { return s->left + (mm - s->from_mm) * s->scale; }

/* Widens a range by a value that is known. */
static void widen(double *low, double *high, double mm) {
    *low = fmin(*low, mm);
    *high = fmax(*high, mm); /* of a number and no number the number */
}

/* The stay, every ring with its mount and what the frame wants inside, as large as they leave room for. */
static void set_scale(struct section *s, double most) {
    const struct draw_above *of = s->of;
    double low = INFINITY, high = -INFINITY, room = s->right - s->left;
    widen(&low, &high, of->low_mm);
    widen(&low, &high, of->high_mm);
    widen(&low, &high, of->stay_mm);
    for (size_t i = 0; i < of->n_rings; i++) {
        widen(&low, &high, of->rings[i].plane_mm);
    }
    for (size_t i = 0; i < of->n_now; i++) {
        widen(&low, &high, of->now[i].plane_mm);
    }
    widen(&low, &high, of->rings[0].plane_mm + of->offset_mm);
    s->scale = fmin(most, room / (high - low + 2.0 * MARGIN_MM));
    s->from_mm = (low + high) / 2.0 - room / s->scale / 2.0;
}

/* Upright lines that text beside them keeps off. */
static void keep_off_sides(struct section *s, struct draw_box box) {
    draw_keep_off(s->sheet, box.left, box.top, box.left, box.bottom);
    draw_keep_off(s->sheet, box.right, box.top, box.right, box.bottom);
}

/* --- plates -------------------------------------------------------------------------------------------------------- */

static void open_plate(struct section *s, const struct draw_above_ring *ring, bool is_now) {
    struct base_buffer title;
    base_buffer_init(&title, 0);
    explain_tell(&title, is_now ? "draw.above.ring-now" : "draw.above.ring", explain_count(ring->teeth),
                 explain_known(ring->plane_mm, 1, "mm", ring->known));
    draw_open(s->sheet, explain_held(&s->sheet->body, &title));
    base_buffer_clear(&title);
}

/* Plates of smaller rings stand lower. */
static void draw_plate(struct section *s, const struct draw_above_ring *ring, size_t rank, bool is_now) {
    enum draw_pen pen = is_now                     ? DRAW_NOW_PEN
                        : ring->known == BASE_OPEN ? DRAW_OPEN_PEN
                        : ring->is_new             ? DRAW_NEW_PART
                                                   : DRAW_KEPT;
    double half = ring->thickness_mm / 2.0;
    const struct draw_box box = {x_of(s, ring->plane_mm - half), s->top + STEP * (double)(rank + 1),
                                 x_of(s, ring->plane_mm + half), s->base};
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_buffer_int(&text, ring->teeth);
    open_plate(s, ring, is_now);
    draw_rectangle(s->sheet, pen, is_now ? -1 : DRAW_PAPER, box);
    keep_off_sides(s, box);
    const double x = (box.left + box.right) / 2.0;
    const char *number = explain_held(&s->sheet->body, &text);
    bool inside = !is_now && draw_width_of(number, false) + 2.0 <= box.right - box.left;
    const double above = box.top - 5.0, below = box.top + DRAW_TEXT_SIZE + 4.0;
    const struct draw_face face = {DRAW_MIDDLE_OF, is_now ? DRAW_STAYS : DRAW_INK, false, inside};
    if (!draw_text(s->sheet, x, inside ? below : above, face, number)) {
        (void)draw_text(s->sheet, x, inside ? above : below, face, number);
    }
    draw_close(s->sheet);
    base_buffer_clear(&text);
}

/* A hatched band behind the plates, and its two ends under the rule, where no plate hides them. */
static void draw_wanted(struct section *s) {
    const struct draw_above *of = s->of;
    if (isnan(of->low_mm)) {
        return;
    }
    const struct draw_box band = {x_of(s, of->low_mm), s->top + STEP, x_of(s, of->high_mm), s->base};
    draw_open(s->sheet, of->wants);
    draw_hatch(s->sheet, band, DRAW_EDGE, false);
    draw_line(s->sheet, DRAW_THIN, band.left, s->base, band.left, s->base + GAP);
    draw_line(s->sheet, DRAW_THIN, band.right, s->base, band.right, s->base + GAP);
    keep_off_sides(s, band);
    draw_keep_off(s->sheet, band.left, band.top, band.right, band.bottom);
    double half = draw_width_of(of->wants, false) / 2.0, middle = (band.left + band.right) / 2.0;
    middle = fmin(fmax(middle, s->left + half), s->right - half);
    (void)draw_text(s->sheet, middle, s->base + DRAW_LINE_HEIGHT + 2.0, draw_centred, of->wants);
    draw_close(s->sheet);
}

/* The stay's face and the room between it and the ring beside it. */
static void draw_room(struct section *s) {
    const struct draw_above *of = s->of;
    if (isnan(of->stay_mm)) {
        return;
    }
    double face = x_of(s, of->stay_mm), ring = x_of(s, of->rings[0].plane_mm - of->rings[0].thickness_mm / 2.0);
    double y = s->base - ROOM_ABOVE;
    const struct draw_box stay = {fmin(s->left, face - 1.0), s->base - 2.0 * ROOM_ABOVE, face, s->base};
    draw_open(s->sheet, explain_message("draw.above.stay"));
    draw_rectangle(s->sheet, DRAW_THIN, DRAW_PAPER, stay);
    draw_hatch(s->sheet, stay, DRAW_EDGE, true);
    keep_off_sides(s, stay);
    draw_keep_off(s->sheet, stay.left, y, stay.right, y);
    draw_close(s->sheet);
    draw_open(s->sheet, explain_message("draw.above.room"));
    draw_dimension(s->sheet, face, y, ring, y);
    const struct draw_point places[] = {{(face + ring) / 2.0, y - GAP},
                                        {face + 0.3 * (ring - face), y - GAP},
                                        {face + 0.7 * (ring - face), y - GAP},
                                        {(face + ring) / 2.0, y + DRAW_TEXT_SIZE},
                                        {ring + 40.0, y - GAP},
                                        {face - 30.0, y - GAP}};
    (void)draw_value_near(s->sheet, places, sizeof places / sizeof places[0], draw_centred, of->room_mm, 1, "mm",
                          of->room_known);
    draw_close(s->sheet);
}

/* --- how the ring is held ------------------------------------------------------------------------------------------ */

/* The face of the crank that the ring is held against; away: to which side the ring does not lie, -1.0 or 1.0. */
static void draw_face_of_crank(struct section *s, double x, double away) {
    double foot = s->base - PLATES_ABOVE + OVER, head = foot - PLATES_HIGH - 2.0 * OVER;
    const char *word = explain_message("draw.above.crank");
    double aside = away * (draw_width_of(word, false) / 2.0 + 4.0);
    const struct draw_point places[] = {{x + aside, head + 4.0}, {x, head - 4.0}, {x + aside, foot}};
    draw_open(s->sheet, explain_message("draw.above.crank-face"));
    draw_line(s->sheet, DRAW_MIDDLE, x, head, x, foot);
    draw_keep_off(s->sheet, x, head, x, foot);
    (void)draw_text_near(s->sheet, places, 3, draw_centred, word);
    draw_close(s->sheet);
}

/* Words beside an upright thing, to its left or right; where they begin. NAN: nowhere. ahead: room for a tile before them. */
static double put_beside(struct section *s, struct draw_box box, double y, const char *words, double ahead) {
    double width = draw_width_of(words, false);
    const struct draw_point places[3] = {{box.left - LABEL_GAP - width, y},
                                         {box.right + LABEL_GAP + ahead, y},
                                         {box.left - LABEL_GAP - width, y - DRAW_LINE_HEIGHT}};
    for (size_t i = 0; i < 3; i++) {
        if (draw_text_near(s->sheet, &places[i], 1, draw_left, words)) {
            return places[i].x;
        }
    }
    return (double)NAN;
}

/* Spacers under the ring's bolts: between the crank's face and the ring, on the side of the frame in the outer place. */
static void draw_washers(struct section *s) {
    const struct draw_above *of = s->of;
    if (!(of->washers_mm > 0.0)) {
        return;
    }
    const struct explain_arg thickness = explain_known(of->washers_mm, 1, "mm", of->washers_known);
    double side = of->washers_inside ? -1.0 : 1.0, y = s->base - PLATES_ABOVE;
    double at_ring = of->rings[0].plane_mm + side * of->rings[0].thickness_mm / 2.0;
    double at_crank = at_ring + side * of->washers_mm;
    const struct draw_box plate = {x_of(s, fmin(at_ring, at_crank)), y - PLATES_HIGH, x_of(s, fmax(at_ring, at_crank)),
                                   y};
    double ring = of->rings[0].thickness_mm * s->scale;
    const struct draw_box with_ring = {plate.left - (side > 0.0 ? ring : 0.0), plate.top,
                                       plate.right + (side < 0.0 ? ring : 0.0), plate.bottom};
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, "draw.above.washers", &thickness, 1);
    draw_open(s->sheet, explain_held(&s->sheet->body, &text));
    base_buffer_clear(&text);
    draw_rectangle(s->sheet, DRAW_THIN, DRAW_PAPER, plate);
    draw_hatch(s->sheet, plate, DRAW_EDGE - 2.0, false);
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &thickness);
    double x = put_beside(s, with_ring, y - GAP, explain_held(&s->sheet->body, &text), TILE + 4.0);
    if (!isnan(x)) {
        draw_tile(s->sheet, of->washers_new ? EXPLAIN_ADAPTED : EXPLAIN_STAYS, x - TILE - 4.0, y - GAP - 13.0, TILE);
    }
    draw_close(s->sheet);
    base_buffer_clear(&text);
    draw_face_of_crank(s, x_of(s, at_crank), side);
}

/* From the face that the ring is held against to the plane of its teeth. */
static void draw_offset(struct section *s) {
    const struct draw_above *of = s->of;
    if (!(fabs(of->offset_mm) > 0.0)) {
        return;
    }
    double teeth = x_of(s, of->rings[0].plane_mm), face = x_of(s, of->rings[0].plane_mm + of->offset_mm);
    double y = s->base - OFFSET_ABOVE;
    const struct explain_arg offset = explain_known(fabs(of->offset_mm), 1, "mm", of->offset_known);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, of->offset_mm > 0.0 ? "draw.above.offset" : "draw.above.offset-out", &offset, 1);
    const char *words = explain_held(&s->sheet->body, &text);
    draw_face_of_crank(s, face, of->offset_mm > 0.0 ? 1.0 : -1.0);
    draw_open(s->sheet, words);
    draw_line(s->sheet, DRAW_AXLE, teeth, y - DRAW_LINE_HEIGHT, teeth, y + DRAW_LINE_HEIGHT);
    draw_dimension(s->sheet, teeth, y, face, y);
    const struct draw_box box = {fmin(teeth, face) - of->rings[0].thickness_mm * s->scale / 2.0, 0.0, fmax(teeth, face),
                                 0.0};
    (void)put_beside(s, box, y + 5.0, words, 0.0);
    draw_close(s->sheet);
    base_buffer_clear(&text);
}

double draw_section(struct draw_sheet *sheet, const struct draw_above *of, struct draw_point from, double right,
                    double across, double most) {
    struct section s = {.sheet = sheet, .of = of, .left = from.x, .right = right};
    struct base_buffer text;
    s.top = from.y + DRAW_LINE_HEIGHT / 2.0;
    s.base = s.top + HEIGHT + STEP;
    set_scale(&s, most);
    base_buffer_init(&text, 0);
    double larger = s.scale / across;
    explain_tell(&text, "draw.above.section", explain_number(larger, fabs(larger - round(larger)) > 0.04 ? 1 : 0, ""));
    (void)draw_text_cut(sheet, s.left, s.top, draw_left, explain_held(&sheet->body, &text), right - s.left);
    base_buffer_clear(&text);
    draw_wanted(&s);
    for (size_t i = 0; i < of->n_now; i++) {
        draw_plate(&s, &of->now[i], i, true);
    }
    for (size_t i = 0; i < of->n_rings; i++) {
        draw_plate(&s, &of->rings[i], i, false);
    }
    draw_room(&s);
    draw_washers(&s);
    draw_offset(&s);
    draw_line(sheet, DRAW_THIN, s.left, s.base, right, s.base);
    return s.base + DRAW_LINE_HEIGHT + 4.0;
}
