/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Choices: every way that no other beats, cost to the right, the easier lowest gear higher, logarithmic. Ways that are shown
 * are squares with their letters.
 */
#include "draw/figures.h"

#include "explain/message.h"

#include <math.h>

#define LEFT 44.0
#define RIGHT 10.0
#define HEIGHT 250.0
#define HEIGHT_WIDE 320.0
#define OVER_BUDGET 1.07
#define MARGIN 1.05 /* of the lowest gears, above and below */
#define SQUARE 24.0
#define DOT 5.0
#define APART 2.0 /* between squares that would touch */
#define ASIDE_MOST 80.0
#define HATCH_APART 9.0
#define PLACED_MAX 26
#define TICK 5.0

struct plot {
    struct draw_sheet sheet;
    const struct draw_choices *of;
    double least, most; /* cost at the two edges */
    double low, high;   /* lowest gears: hardest at the foot, easiest at the top */
    double right, top, bottom;
    struct draw_point placed[PLACED_MAX];
    size_t n_placed;
};

static double x_of(const struct plot *p, double cost) {
    return LEFT + (cost - p->least) * (p->right - LEFT) / (p->most - p->least);
}
static double y_of(const struct plot *p, double lowest) {
    return p->top + (p->bottom - p->top) * log(lowest / p->low) / log(p->high / p->low);
}

static void set_range(struct plot *p) {
    const struct draw_choices *of = p->of;
    p->least = INFINITY;
    p->most = 0.0;
    p->low = p->high = of->now_lowest;
    for (size_t i = 0; i < of->n; i++) {
        p->least = fmin(p->least, of->ways[i].cost);
        p->most = fmax(p->most, of->ways[i].cost);
        p->low = fmin(p->low, of->ways[i].lowest);
        p->high = fmax(p->high, of->ways[i].lowest);
    }
    p->high = isnan(of->lowest_max) ? p->high : fmax(p->high, of->lowest_max);
    p->low /= MARGIN;
    p->high *= MARGIN;
    p->most = OVER_BUDGET * (isnan(of->budget) ? p->most : fmax(p->most, of->budget));
    /* The cheapest square is to stand clear of the axis. */
    p->least -= (p->most - p->least) * SQUARE / (p->right - LEFT - SQUARE);
}

/* --- axes ---------------------------------------------------------------------------------------------------------- */

/* 1, 2 or 5 times a power of ten, so that some five of them fill the range. */
static double step_of(double range) {
    double power = pow(10.0, floor(log10(range / 4.0))), share = range / 4.0 / power;
    return power * (share < 2.0 ? 1.0 : share < 5.0 ? 2.0 : 5.0);
}

static void put_tick(struct plot *p, double x, double y, struct draw_face face, double number, int decimals) {
    const struct explain_arg arg = explain_number(number, decimals, "");
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &arg);
    (void)draw_text(&p->sheet, x, y, face, explain_held(&p->sheet.body, &text));
    base_buffer_clear(&text);
}

static void draw_cost_axis(struct plot *p) {
    double step = step_of(p->most - p->least);
    draw_line(&p->sheet, DRAW_MIDDLE, LEFT, p->bottom, p->right, p->bottom);
    for (double cost = ceil(p->least / step) * step; cost < p->most; cost += step) {
        draw_line(&p->sheet, DRAW_THIN, x_of(p, cost), p->bottom, x_of(p, cost), p->bottom + TICK);
        put_tick(p, x_of(p, cost), p->bottom + TICK + DRAW_TEXT_SIZE, draw_centred, cost, 0);
    }
    (void)draw_text_cut(&p->sheet, p->right, p->bottom + TICK + DRAW_TEXT_SIZE + DRAW_LINE_HEIGHT, draw_right,
                        p->of->cost_label, p->right - DRAW_EDGE);
}

static void draw_gear_axis(struct plot *p) {
    double step = step_of(p->high - p->low);
    int decimals = step < 0.1 ? 2 : 1;
    draw_line(&p->sheet, DRAW_MIDDLE, LEFT, p->top, LEFT, p->bottom);
    for (double lowest = ceil(p->low / step) * step; lowest < p->high; lowest += step) {
        draw_line(&p->sheet, DRAW_THIN, LEFT - TICK, y_of(p, lowest), LEFT, y_of(p, lowest));
        put_tick(p, LEFT - TICK - 2.0, y_of(p, lowest) + TICK, draw_right, lowest, decimals);
    }
}

/* --- the wish, and now --------------------------------------------------------------------------------------------- */

/* What lies outside the wish: dearer than the budget, harder than wished. */
static void draw_outside(struct plot *p) {
    const struct draw_choices *of = p->of;
    double edge = p->right, foot = p->bottom;
    draw_open(&p->sheet, explain_message("draw.choices.outside"));
    if (!isnan(of->budget)) {
        edge = fmax(LEFT, fmin(p->right, x_of(p, of->budget)));
        draw_hatch(&p->sheet, (struct draw_box){edge, p->top, p->right, p->bottom}, HATCH_APART, false);
    }
    if (!isnan(of->lowest_max)) {
        foot = fmax(p->top, fmin(p->bottom, y_of(p, of->lowest_max)));
        draw_hatch(&p->sheet, (struct draw_box){LEFT, foot, edge, p->bottom}, HATCH_APART, false);
    }
    draw_close(&p->sheet);
}

/* Behind the squares, so that it strikes no letter. */
static void draw_now(struct plot *p) {
    double y = y_of(p, p->of->now_lowest);
    draw_open(&p->sheet, p->of->now_title);
    draw_line(&p->sheet, DRAW_NOW_PEN, LEFT, y, p->right, y);
    draw_close(&p->sheet);
}

/* Once the letters stand, which have no other place. */
static void label_now(struct plot *p) {
    double y = y_of(p, p->of->now_lowest);
    const struct draw_point places[2] = {{LEFT + TICK, y - TICK}, {LEFT + TICK, y + DRAW_LINE_HEIGHT}};
    (void)draw_text_near(&p->sheet, places, 2, draw_left, explain_message("draw.choices.now"));
}

/* --- ways ---------------------------------------------------------------------------------------------------------- */

static void draw_dots(struct plot *p) {
    size_t n = 0;
    draw_open(&p->sheet, explain_message("draw.choices.others"));
    for (size_t i = 0; i < p->of->n && n < DRAW_DOTS_MAX; i++) {
        const struct draw_choices_way *way = &p->of->ways[i];
        if (way->letter == '\0') {
            double x = x_of(p, way->cost), y = y_of(p, way->lowest), half = DOT / 2.0;
            draw_rectangle(&p->sheet, DRAW_THIN, DRAW_PAPER, (struct draw_box){x - half, y - half, x + half, y + half});
            n++;
        }
    }
    draw_close(&p->sheet);
}

static bool touches(const struct plot *p, double x, double y) {
    for (size_t i = 0; i < p->n_placed; i++) {
        if (fabs(x - p->placed[i].x) < SQUARE + APART && fabs(y - p->placed[i].y) < SQUARE + APART) {
            return true;
        }
    }
    return x < LEFT + SQUARE / 2.0 || x > p->sheet.width - DRAW_EDGE - SQUARE / 2.0;
}

/* Where the square stands: at its place, or as little aside as it must. */
static double aside_of(const struct plot *p, double x, double y) {
    for (double aside = 0.0; aside <= ASIDE_MOST; aside += 1.0) {
        if (!touches(p, x + aside, y)) {
            return x + aside;
        }
        if (!touches(p, x - aside, y)) {
            return x - aside;
        }
    }
    return x;
}

/* Finds a place for every letter; a thin line through the true place of one that stands aside, behind all squares. */
static void place_ways(struct plot *p) {
    for (size_t i = 0; i < p->of->n && p->n_placed < PLACED_MAX; i++) {
        const struct draw_choices_way *way = &p->of->ways[i];
        if (way->letter == '\0') {
            continue;
        }
        double x = x_of(p, way->cost), y = y_of(p, way->lowest), at = aside_of(p, x, y);
        p->placed[p->n_placed++] = (struct draw_point){at, y};
        if (fabs(at - x) > 1.0) {
            double half = SQUARE / 2.0 + TICK;
            draw_line(&p->sheet, DRAW_THIN, x, y - half, x, y + half);
        }
    }
}

static void draw_way(struct plot *p, const struct draw_choices_way *way, struct draw_point at) {
    const struct draw_face face = {DRAW_MIDDLE_OF, DRAW_INK, true, true};
    double half = SQUARE / 2.0 - 1.5;
    const struct draw_box box = {at.x - half, at.y - half, at.x + half, at.y + half};
    const char letter[2] = {way->letter, '\0'};
    draw_open(&p->sheet, way->title);
    draw_rectangle(&p->sheet, way->certain ? DRAW_RESULT : DRAW_WAITING, DRAW_PAPER, box);
    (void)draw_text(&p->sheet, at.x, at.y + TICK, face, letter);
    draw_close(&p->sheet);
}

static void draw_ways(struct plot *p) {
    size_t placed = 0;
    place_ways(p);
    for (size_t i = 0; i < p->of->n && placed < p->n_placed; i++) {
        if (p->of->ways[i].letter != '\0') {
            draw_way(p, &p->of->ways[i], p->placed[placed++]);
        }
    }
}

void draw_choices(struct base_buffer *out, const struct draw_style *style, const struct draw_choices *choices) {
    struct plot p = {.of = choices};
    draw_sheet_begin(&p.sheet, style->ground, style->wide ? DRAW_WIDE_UNITS : DRAW_NARROW_UNITS);
    p.right = p.sheet.width - RIGHT;
    double y = draw_head_of(&p.sheet, &choices->head) + DRAW_LINE_HEIGHT / 2.0;
    (void)draw_text_cut(&p.sheet, DRAW_EDGE, y, draw_left, choices->gear_label, p.right - DRAW_EDGE);
    p.top = y + 2.0 * TICK;
    p.bottom = p.top + (style->wide ? HEIGHT_WIDE : HEIGHT);
    set_range(&p);
    draw_outside(&p);
    draw_gear_axis(&p);
    draw_cost_axis(&p);
    draw_now(&p);
    draw_dots(&p);
    draw_ways(&p);
    label_now(&p);
    draw_sheet_end(out, &p.sheet, &choices->head, p.bottom);
}
