/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Hills each gear serves: gradient to the right, one bar a gear, the steepest on top, so that the bars climb.
 */
#include "draw/figures.h"

#include "explain/message.h"

#include <math.h>

#define MARGIN 10.0
#define STEP_PERCENT 4.0 /* of ticks, and by which the range widens */
#define LEAST_PERCENT (-4.0)
#define MOST_PERCENT 20.0
#define WIDEST_PERCENT 40.0
#define LOWEST_PERCENT (-16.0)
#define ROW 24.0
#define ROW_OF_MANY 18.0
#define MANY_GEARS 11
#define BETWEEN_BARS 5.0
#define BETWEEN_MANY 3.0
#define BETWEEN_RINGS 8.0
#define HATCH_APART 7.0
#define WEDGE 44.0
#define TICK 5.0
#define PITCH_TICK 12.0

struct plot {
    struct draw_sheet sheet;
    const struct draw_hills *hills;
    double low, high;                 /* gradients at the two edges, percent */
    double row, between, top, bottom; /* between: of a row, what stays free under its bar */
};

static double x_of(const struct plot *p, double percent) {
    double within = fmin(fmax(percent, p->low), p->high);
    return MARGIN + (within - p->low) * (p->sheet.width - 2.0 * MARGIN) / (p->high - p->low);
}

/* Every gear and every pitch within the range, as far as it may widen. */
static void set_range(struct plot *p) {
    double most = 0.0, least = MOST_PERCENT;
    for (size_t i = 0; i < p->hills->n; i++) {
        most = fmax(most, p->hills->gears[i].to_percent);
        least = fmin(least, p->hills->gears[i].to_percent);
    }
    for (size_t i = 0; i < p->hills->n_pitches; i++) {
        most = fmax(most, p->hills->pitches[i].percent);
    }
    p->low = LEAST_PERCENT;
    p->high = MOST_PERCENT;
    while (p->high < most + 1.0 && p->high < WIDEST_PERCENT) {
        p->high += STEP_PERCENT;
    }
    while (p->low > least - 1.0 && p->low > LOWEST_PERCENT) {
        p->low -= STEP_PERCENT;
    }
}

/* Where a gear's bar begins, from the top: rings stand apart. */
static double row_of(const struct plot *p, size_t gear) {
    double y = p->top;
    for (size_t i = 1; i <= gear; i++) {
        y += p->row + (p->hills->gears[i].ring != p->hills->gears[i - 1].ring ? BETWEEN_RINGS : 0.0);
    }
    return y;
}

static struct draw_box bar_of(const struct plot *p, const struct draw_hills_gear *gear, double y) {
    return (struct draw_box){x_of(p, gear->from_percent), y, x_of(p, gear->to_percent), y + p->row - p->between};
}

/* 'sprocket', or 'ring/sprocket' where there are several rings. */
static void put_label(struct base_buffer *out, const struct plot *p, const struct draw_hills_gear *gear) {
    if (p->hills->rings > 1) {
        base_buffer_int(out, gear->ring);
        base_buffer_char(out, '/');
    }
    base_buffer_int(out, gear->sprocket);
}

/* --- what is drawn ------------------------------------------------------------------------------------------------- */

/* What no gear serves: between the reach of one and the next, and past the last. */
static void draw_gaps(struct plot *p) {
    double reached = p->low;
    for (;;) {
        double next = INFINITY, further = reached;
        for (size_t i = 0; i < p->hills->n; i++) {
            const struct draw_hills_gear *gear = &p->hills->gears[i];
            if (gear->from_percent <= reached && gear->to_percent > further) {
                further = gear->to_percent;
            }
            next = gear->from_percent > reached ? fmin(next, gear->from_percent) : next;
        }
        if (further > reached) {
            reached = further;
            continue;
        }
        /* Nothing is hatched before the first bar: there the gears are too low, not too high. */
        bool before_all = reached <= p->low;
        if (!before_all && reached < p->high) {
            const struct draw_box box = {x_of(p, reached), p->top, x_of(p, next), p->bottom};
            draw_hatch(&p->sheet, box, HATCH_APART, false);
        }
        if (!(next < p->high)) {
            return;
        }
        reached = next;
    }
}

static void draw_bar(struct plot *p, const struct draw_hills_gear *gear, double y) {
    struct base_buffer label, title;
    base_buffer_init(&label, 0);
    base_buffer_init(&title, 0);
    put_label(&label, p, gear);
    explain_tell(&title, "draw.hills.gear", explain_buffered(&label), explain_number(gear->from_percent, 1, "%"),
                 explain_number(gear->to_percent, 1, "%"));
    draw_open(&p->sheet, explain_held(&p->sheet.body, &title));
    draw_rectangle(&p->sheet, DRAW_MIDDLE, DRAW_PAPER, bar_of(p, gear, y));
    draw_close(&p->sheet);
    base_buffer_clear(&label);
    base_buffer_clear(&title);
}

/* Text within a bar: on paper already. */
static const struct draw_face inside = {DRAW_START, DRAW_INK, false, true};

/* Left of the bar; inside it where the edge of the page is too near; right of a bar that is too short. */
static void label_bar(struct plot *p, const struct draw_hills_gear *gear, double y) {
    struct draw_box bar = bar_of(p, gear, y);
    struct base_buffer label;
    base_buffer_init(&label, 0);
    put_label(&label, p, gear);
    const char *text = explain_held(&p->sheet.body, &label);
    double width = draw_width_of(text, false), base = (bar.top + bar.bottom) / 2.0 + TICK;
    if (bar.left - width - TICK >= 0.0) {
        (void)draw_text(&p->sheet, bar.left - TICK, base, draw_right, text);
    } else {
        bool fits = bar.right - bar.left > width + 2.0 * TICK;
        (void)draw_text(&p->sheet, (fits ? bar.left : bar.right) + TICK, base, fits ? inside : draw_left, text);
    }
    base_buffer_clear(&label);
}

/* A cadence with its unit, within the first bar; how wide it is. */
static double label_end(struct plot *p, double rpm, double x, struct draw_face face, bool put) {
    const struct explain_arg arg = explain_number(rpm, 0, "rpm");
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &arg);
    const char *held = explain_held(&p->sheet.body, &text);
    double width = draw_width_of(held, false);
    struct draw_box bar = bar_of(p, &p->hills->gears[0], p->top);
    if (put) {
        (void)draw_text(&p->sheet, x, (bar.top + bar.bottom) / 2.0 + TICK, face, held);
    }
    base_buffer_clear(&text);
    return width;
}

/* The cadence at the two ends of the first bar, where both have room. */
static void label_ends(struct plot *p) {
    const struct draw_face right = {DRAW_END, DRAW_INK, false, true};
    struct draw_box bar = bar_of(p, &p->hills->gears[0], p->top);
    double width =
        label_end(p, p->hills->high_rpm, 0.0, inside, false) + label_end(p, p->hills->least_rpm, 0.0, right, false);
    if (width + 4.0 * TICK < bar.right - bar.left) {
        (void)label_end(p, p->hills->high_rpm, bar.left + TICK, inside, true);
        (void)label_end(p, p->hills->least_rpm, bar.right - TICK, right, true);
    }
}

/* One dashed bar for all gears of now, in a row of its own. */
static void draw_now(struct plot *p) {
    struct draw_box bar = bar_of(p, p->hills->now, p->bottom + BETWEEN_RINGS);
    bar.bottom = bar.top + ROW - BETWEEN_BARS; /* words stand in it */
    draw_open(&p->sheet, p->hills->now_label);
    draw_rectangle(&p->sheet, DRAW_NOW_PEN, -1, bar);
    double base = (bar.top + bar.bottom) / 2.0 + TICK;
    (void)draw_text(&p->sheet, bar.left + TICK, base, inside, p->hills->now_label);
    draw_close(&p->sheet);
    p->bottom = bar.bottom;
}

static void put_percent(struct plot *p, double percent, double x, double y) {
    const struct explain_arg arg = explain_number(percent, 0, percent >= p->high ? "%" : "");
    const struct draw_face face = percent >= p->high ? draw_right : draw_centred;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &arg);
    const char *held = explain_held(&p->sheet.body, &text);
    double half = draw_width_of(held, false) / 2.0;
    double at = face.anchor == DRAW_END ? p->sheet.width - DRAW_EDGE / 2.0 : fmax(x, half + 1.0);
    (void)draw_text(&p->sheet, at, y, face, held);
    base_buffer_clear(&text);
}

/* A wedge with just this slope, so that a rider sees what it is. */
static void draw_wedge(struct plot *p, double percent, double x, double y) {
    double length = fmin(WEDGE, x_of(p, p->low + STEP_PERCENT) - MARGIN - 2.0);
    double left = x - length / 2.0, rise = length * percent / 100.0;
    const struct draw_point points[3] = {{left, y}, {left + length, y}, {left + length, y - rise}};
    draw_points(&p->sheet, DRAW_NO_PEN, DRAW_INK, points, 3, true);
}

/* Ticks, numbers, wedges; the base of the wedges. */
static double draw_axis(struct plot *p, double y) {
    draw_line(&p->sheet, DRAW_MIDDLE, MARGIN, y, p->sheet.width - MARGIN, y);
    double numbers = y + TICK + DRAW_TEXT_SIZE, wedges = numbers + 4.0 + WEDGE * fmin(p->high, MOST_PERCENT) / 100.0;
    for (double percent = p->low; percent <= p->high; percent += STEP_PERCENT) {
        double x = x_of(p, percent);
        draw_line(&p->sheet, DRAW_THIN, x, y, x, y + TICK);
        put_percent(p, percent, x, numbers);
        if (percent > 0.0 && percent < p->high) {
            draw_wedge(p, percent, x, wedges);
        }
    }
    return wedges;
}

/* --- the route ----------------------------------------------------------------------------------------------------- */

/* How long a pitch is; nothing where nobody said so. */
static void put_length(struct base_buffer *out, double length_m) {
    if (isnan(length_m)) {
        return;
    }
    bool is_far = length_m >= 995.0;
    const struct explain_arg arg =
        is_far ? explain_number(length_m / 1000.0, 1, "km") : explain_number(round(length_m / 10.0) * 10.0, 0, "m");
    explain_put_arg(out, &arg);
}

static double steepest_of(const struct draw_hills *hills) {
    double steepest = 0.0;
    for (size_t i = 0; i < hills->n_pitches; i++) {
        steepest = fmax(steepest, hills->pitches[i].percent);
    }
    return steepest;
}

static void draw_pitch(struct plot *p, const struct draw_hills_pitch *pitch, double y) {
    struct base_buffer length, title;
    base_buffer_init(&length, 0);
    base_buffer_init(&title, 0);
    put_length(&length, pitch->length_m);
    explain_tell(&title, isnan(pitch->length_m) ? "draw.hills.wished" : "draw.hills.pitch",
                 explain_gradient(pitch->percent), explain_buffered(&length));
    double x = x_of(p, pitch->percent), right = p->sheet.width - DRAW_EDGE;
    const char *text = explain_held(&p->sheet.body, &length);
    double half = draw_width_of(text, false) / 2.0, below = y + PITCH_TICK + DRAW_TEXT_SIZE;
    double middle = fmin(fmax(x, DRAW_EDGE + half), right - half);
    const struct draw_point places[] = {{middle, below},
                                        {fmin(x + half, right - half), below},
                                        {fmax(x - half, DRAW_EDGE + half), below},
                                        {middle, below + DRAW_LINE_HEIGHT},
                                        {middle, below + 2.0 * DRAW_LINE_HEIGHT}};
    draw_open(&p->sheet, explain_held(&p->sheet.body, &title));
    draw_line(&p->sheet, DRAW_RESULT, x, y - PITCH_TICK / 2.0, x, y + PITCH_TICK / 2.0);
    (void)draw_text_near(&p->sheet, places, sizeof places / sizeof places[0], draw_centred, text);
    draw_close(&p->sheet);
    base_buffer_clear(&length);
    base_buffer_clear(&title);
}

/* The steepest pitches on a line of their own; how far down they reach. */
static double draw_pitches(struct plot *p, double y) {
    draw_line(&p->sheet, DRAW_THIN, MARGIN, y, p->sheet.width - MARGIN, y);
    for (size_t i = 0; i < p->hills->n_pitches; i++) {
        draw_pitch(p, &p->hills->pitches[i], y);
    }
    return draw_bottom_of(&p->sheet, y + PITCH_TICK);
}

void draw_hills(struct base_buffer *out, const struct draw_style *style, const struct draw_hills *hills) {
    bool many = hills->n > MANY_GEARS && !style->wide;
    struct plot p = {.hills = hills, .row = many ? ROW_OF_MANY : ROW, .between = many ? BETWEEN_MANY : BETWEEN_BARS};
    draw_sheet_begin(&p.sheet, style->ground, style->wide ? DRAW_WIDE_UNITS : DRAW_NARROW_UNITS);
    set_range(&p);
    p.top = draw_head_of(&p.sheet, &hills->head) + BETWEEN_BARS;
    p.bottom = row_of(&p, hills->n - 1) + p.row - p.between;
    draw_gaps(&p);
    for (size_t i = 0; i < hills->n; i++) {
        draw_bar(&p, &hills->gears[i], row_of(&p, i));
    }
    if (hills->n_pitches > 0) {
        double x = x_of(&p, steepest_of(hills));
        draw_line(&p.sheet, DRAW_TRAVEL, x, p.top, x, p.bottom);
    }
    for (size_t i = 0; i < hills->n; i++) {
        label_bar(&p, &hills->gears[i], row_of(&p, i));
    }
    if (style->wide) {
        label_ends(&p);
    }
    if (hills->now) {
        draw_now(&p);
    }
    double bottom = draw_axis(&p, p.bottom + TICK);
    if (hills->n_pitches > 0) {
        bottom = draw_pitches(&p, bottom + PITCH_TICK);
    }
    draw_sheet_end(out, &p.sheet, &hills->head, bottom);
}
