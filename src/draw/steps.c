/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Steps: stairs that climb to the right. A tread is a gear, a riser the step to the next; the height is metres a turn,
 * logarithmic, so that equal steps are equally high.
 */
#include "draw/figures.h"

#include "explain/message.h"

#include <math.h>

#define HEIGHT 250.0
#define MARGIN 0.1 /* of the range, below and above */
#define AXIS 39.0
#define EDGE 8.0
#define BETWEEN 16.0
#define SHARE_OF_NOW (1.0 / 3.0)
#define MANY_GEARS 12
#define UNDER 15.0 /* a label's base line under its tread */
#define ABOVE 4.0  /* and a step's above it */
#define BOX 6.0    /* of a box round treads, above and below */
#define GAP 3.0

struct plot {
    struct draw_sheet sheet;
    double low_m, high_m, top;
};

/* A stair in its place. */
struct placed {
    const struct draw_stair *stair;
    double left, right;
    bool labelled;
};

static double y_of(const struct plot *p, double metres) {
    return p->top + HEIGHT * log(p->high_m / metres) / log(p->high_m / p->low_m);
}

static double tread_of(const struct placed *s) { return (s->right - s->left) / (double)s->stair->n; }

static void set_range(struct plot *p, const struct draw_steps *steps) {
    const struct draw_stair *stairs[2] = {&steps->shown, steps->now};
    p->low_m = INFINITY;
    p->high_m = 0.0;
    for (size_t i = 0; i < 2; i++) {
        if (stairs[i]) {
            p->low_m = fmin(p->low_m, stairs[i]->gears[0].metres);
            p->high_m = fmax(p->high_m, stairs[i]->gears[stairs[i]->n - 1].metres);
        }
    }
    p->low_m /= 1.0 + MARGIN;
    p->high_m *= 1.0 + MARGIN;
}

/* --- the axis ------------------------------------------------------------------------------------------------------ */

static void draw_tick(struct plot *p, double metres, bool with_unit) {
    const struct explain_arg arg = explain_number(metres, metres > floor(metres) ? 1 : 0, with_unit ? "m" : "");
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &arg);
    double y = y_of(p, metres);
    draw_line(&p->sheet, DRAW_THIN, AXIS - GAP, y, AXIS, y);
    (void)draw_text(&p->sheet, AXIS - 2.0 * GAP, y + 5.0, draw_right, explain_held(&p->sheet.body, &text));
    base_buffer_clear(&text);
}

static void draw_axis(struct plot *p) {
    static const double ticks[] = {12.0, 8.0, 6.0, 4.0, 3.0, 2.0, 1.5, 1.0, 0.7, 0.5};
    bool first = true;
    draw_line(&p->sheet, DRAW_THIN, AXIS, p->top, AXIS, p->top + HEIGHT);
    for (size_t i = 0; i < sizeof ticks / sizeof ticks[0]; i++) {
        if (ticks[i] >= p->low_m && ticks[i] <= p->high_m) {
            draw_tick(p, ticks[i], first);
            first = false;
        }
    }
}

/* --- a stair ------------------------------------------------------------------------------------------------------- */

/* The whole as one line, so that its corners close. */
static void draw_whole(struct plot *p, const struct placed *s, enum draw_pen pen) {
    struct base_buffer path;
    base_buffer_init(&path, 0);
    for (size_t i = 0; i < s->stair->n; i++) {
        double x = s->left + (double)i * tread_of(s), y = y_of(p, s->stair->gears[i].metres);
        draw_put_point(&path, i == 0 ? 'M' : 'L', (struct draw_point){x, y});
        draw_put_point(&path, 'L', (struct draw_point){x + tread_of(s), y});
    }
    draw_path(&p->sheet, pen, &path);
    base_buffer_clear(&path);
}

static void put_gear(struct base_buffer *out, const struct placed *s, size_t i) {
    if (s->stair->rings > 1) {
        base_buffer_int(out, s->stair->gears[i].ring);
        base_buffer_char(out, '/');
    }
    base_buffer_int(out, s->stair->gears[i].sprocket);
}

static bool in_box(const struct placed *s, size_t i) {
    return s->stair->gears[i].repeats || (i > 0 && s->stair->gears[i - 1].repeats);
}

/* The lowest gear of those that feel as one with this. */
static size_t first_in_box(const struct placed *s, size_t i) {
    while (i > 0 && s->stair->gears[i - 1].repeats) {
        i--;
    }
    return i;
}

/* The sprocket under its tread, within the riser that follows where it is wide enough; above the last one where the page
 * ends. */
static void label_gear(struct plot *p, const struct placed *s, size_t i) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    put_gear(&text, s, i);
    const char *held = explain_held(&p->sheet.body, &text);
    double x = s->left + (double)i * tread_of(s), width = draw_width_of(held, false);
    double left = width + GAP <= tread_of(s) ? x + (tread_of(s) - width) / 2.0 : x + GAP;
    double under = y_of(p, s->stair->gears[first_in_box(s, i)].metres) + UNDER + (in_box(s, i) ? BOX : 0.0);
    if (left + width < p->sheet.width) {
        (void)draw_text(&p->sheet, left, under, draw_left, held);
    } else {
        double above = y_of(p, s->stair->gears[i].metres) - ABOVE - (in_box(s, i) ? BOX : 0.0);
        (void)draw_text(&p->sheet, s->right, above, draw_right, held);
    }
    base_buffer_clear(&text);
}

/* The step in percent, above tread i and left of the riser behind it; none within a box. */
static void label_step(struct plot *p, const struct placed *s, size_t i) {
    const struct draw_stair_gear *gear = &s->stair->gears[i];
    const struct explain_arg arg = explain_number(gear->step_percent, 0, "");
    struct base_buffer text;
    if (gear->repeats) {
        return;
    }
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &arg);
    double x = s->left + (double)(i + 1) * tread_of(s), y = y_of(p, gear->metres) - (in_box(s, i) ? BOX : 0.0);
    (void)draw_text(&p->sheet, x - GAP, y - ABOVE, draw_right, explain_held(&p->sheet.body, &text));
    base_buffer_clear(&text);
}

/* Every label that there is room for: first and last before the others; of many, every second. */
static void draw_labels(struct plot *p, const struct placed *s) {
    size_t n = s->stair->n, apart = n > MANY_GEARS ? 2 : 1;
    label_gear(p, s, 0);
    if (n > 1) {
        label_gear(p, s, n - 1);
        label_step(p, s, 0);
        label_step(p, s, n - 2);
    }
    for (size_t i = apart; i + 1 < n; i += apart) {
        label_gear(p, s, i);
        label_step(p, s, i);
    }
}

/* A gear that can be asked about: its tread. */
static void draw_tread(struct plot *p, const struct placed *s, size_t i, enum draw_pen pen) {
    const struct draw_stair_gear *gear = &s->stair->gears[i];
    bool last = i + 1 == s->stair->n;
    struct base_buffer label, title;
    base_buffer_init(&label, 0);
    base_buffer_init(&title, 0);
    put_gear(&label, s, i);
    explain_tell(&title, last ? "draw.steps.last" : "draw.steps.gear", explain_buffered(&label),
                 explain_number(gear->metres, 3, "m"), explain_number(last ? 0.0 : gear->step_percent, 0, "%"));
    double x = s->left + (double)i * tread_of(s), y = y_of(p, gear->metres);
    draw_open(&p->sheet, explain_held(&p->sheet.body, &title));
    draw_line(&p->sheet, pen, x, y, x + tread_of(s), y);
    draw_close(&p->sheet);
    base_buffer_clear(&label);
    base_buffer_clear(&title);
}

/* A thin box round the treads from i on that are one gear to the rider. */
static void draw_repeats(struct plot *p, const struct placed *s, size_t i) {
    size_t last = i;
    while (s->stair->gears[last].repeats) {
        last++;
    }
    const struct draw_box box = {s->left + (double)i * tread_of(s) - 1.0, y_of(p, s->stair->gears[last].metres) - BOX,
                                 s->left + (double)(last + 1) * tread_of(s) + 1.0,
                                 y_of(p, s->stair->gears[i].metres) + BOX};
    draw_open(&p->sheet, explain_message("draw.steps.repeat"));
    draw_rectangle(&p->sheet, DRAW_THIN, -1, box);
    draw_close(&p->sheet);
}

static void draw_stair(struct plot *p, const struct placed *s, enum draw_pen pen) {
    draw_whole(p, s, pen);
    for (size_t i = 0; i < s->stair->n; i++) {
        draw_tread(p, s, i, pen);
        if (s->stair->gears[i].repeats && first_in_box(s, i) == i) {
            draw_repeats(p, s, i);
        }
    }
    if (s->labelled) {
        draw_labels(p, s);
    }
}

void draw_steps(struct base_buffer *out, const struct draw_style *style, const struct draw_steps *steps) {
    struct plot p;
    draw_sheet_begin(&p.sheet, style->ground, style->wide ? DRAW_WIDE_UNITS : DRAW_NARROW_UNITS);
    set_range(&p, steps);
    p.top = draw_head_of(&p.sheet, &steps->head) + BOX;
    double right = p.sheet.width - EDGE, middle = AXIS + 1.0 + (right - AXIS) * SHARE_OF_NOW;
    const struct placed shown = {&steps->shown, steps->now ? middle + BETWEEN : AXIS + 1.0, right, true};
    draw_axis(&p);
    if (steps->now) {
        const struct placed now = {steps->now, AXIS + 1.0, middle, false};
        double low = y_of(&p, steps->now->gears[0].metres), high = y_of(&p, steps->now->gears[now.stair->n - 1].metres);
        draw_line(&p.sheet, DRAW_NOW_EDGE, AXIS, low, right, low);
        draw_line(&p.sheet, DRAW_NOW_EDGE, AXIS, high, right, high);
        draw_stair(&p, &now, DRAW_KEPT);
    }
    draw_stair(&p, &shown, steps->shown_is_now ? DRAW_KEPT : DRAW_RESULT);
    draw_sheet_end(out, &p.sheet, &steps->head, p.top + HEIGHT);
}
