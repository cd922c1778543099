/* SPDX-License-Identifier: Apache-2.0 */
#include "draw/svg.h"

#include "draw/extents.h"
#include "explain/message.h"

#include <math.h>
#include <string.h>

#define HALO 4.0
#define ARROW_LENGTH 9.0
#define ARROW_HALF 1.5
#define TILE_FIELD 16.0 /* tiles are drawn on a field of 16 by 16 */
#define UNDERLINE 3.0   /* below the base line */
#define OPEN_ASCENT 12.0
#define PRINT 4.0         /* units a mm on paper */
#define BLOCK_HEIGHT 48.0 /* of the title block: 12 mm */
#define BLOCK_PAD 6.0
#define BLOCK_LABEL 18.0 /* base lines in it */
#define BLOCK_TEXT 39.0

struct pen {
    enum draw_colour colour;
    double width;
    const char *dashes; /* NULL: solid */
};

static const struct pen pens[DRAW_PENS] = {
    [DRAW_THIN] = {DRAW_INK, 1.0, NULL},        [DRAW_MIDDLE] = {DRAW_INK, 2.0, NULL},
    [DRAW_RESULT] = {DRAW_INK, 3.0, NULL},      [DRAW_NEW_PART] = {DRAW_NEW, 3.0, NULL},
    [DRAW_KEPT] = {DRAW_STAYS, 2.0, NULL},      [DRAW_NOW_PEN] = {DRAW_STAYS, 2.0, "5 3"},
    [DRAW_NOW_EDGE] = {DRAW_STAYS, 1.0, "1 3"}, [DRAW_CENTRE] = {DRAW_INK, 1.0, "18 4 3 4"},
    [DRAW_AXLE] = {DRAW_INK, 1.0, "10 3 2 3"},  [DRAW_SECOND] = {DRAW_INK, 1.0, "6 3"},
    [DRAW_TRAVEL] = {DRAW_INK, 1.0, "2 3"},     [DRAW_DOTS] = {DRAW_INK, 2.0, "2 4"},
    [DRAW_WAITING] = {DRAW_INK, 3.0, "5 3"},    [DRAW_OPEN_PEN] = {DRAW_MEASURE, 1.8, "3.4 2.7"},
};

const struct draw_face draw_left = {DRAW_START, DRAW_INK, false, false};
const struct draw_face draw_centred = {DRAW_MIDDLE_OF, DRAW_INK, false, false};
const struct draw_face draw_right = {DRAW_END, DRAW_INK, false, false};
static const struct draw_face on_paper = {DRAW_START, DRAW_INK, false, true}; /* nothing stands behind it */

/* --- text of the markup ------------------------------------------------------------------------------------------- */

/* Hundredths, without zeros at the end. */
static void put_number(struct base_buffer *out, double value) {
    int decimals = 2;
    double hundredths = round(value * 100.0);
    if (fmod(hundredths, 100.0) == 0.0) {
        decimals = 0;
    } else if (fmod(hundredths, 10.0) == 0.0) {
        decimals = 1;
    }
    base_buffer_fixed(out, hundredths / 100.0, decimals);
}

static void put_attribute(struct base_buffer *out, const char *name, double value) {
    base_buffer_char(out, ' ');
    base_buffer_text(out, name);
    base_buffer_text(out, "=\"");
    put_number(out, value);
    base_buffer_char(out, '"');
}

static void put_word(struct base_buffer *out, const char *name, const char *value) {
    base_buffer_char(out, ' ');
    base_buffer_text(out, name);
    base_buffer_text(out, "=\"");
    base_buffer_text(out, value);
    base_buffer_char(out, '"');
}

/* Text as XML has it: markup escaped; what no XML may hold becomes a blank. Of blanks that follow each other a drawing keeps one:
 * those behind it become blanks that it keeps, so that an open box stays as wide as its value will be. */
static void put_escaped(struct base_buffer *out, struct base_slice text) {
    bool behind_blank = false;
    while (text.n > 0) {
        size_t n = base_utf8_character(text);
        unsigned char c = (unsigned char)text.at[0];
        bool never = n == 0 || c < ' ' || c == 0x7f || (n == 3 && memcmp(text.at, "\xef\xbf\xbe", 3) == 0) ||
                     (n == 3 && memcmp(text.at, "\xef\xbf\xbf", 3) == 0);
        n = n > 0 ? n : 1;
        bool blank = never || c == ' ';
        if (blank) {
            base_buffer_text(out, behind_blank ? "\xc2\xa0" : " ");
        } else if (base_text_markup(text.at[0])) {
            base_buffer_text(out, base_text_markup(text.at[0]));
        } else {
            base_buffer_put(out, text.at, n);
        }
        behind_blank = blank;
        text = (struct base_slice){text.at + n, text.n - n};
    }
}

static void put_element(struct base_buffer *out, const char *name, const char *text) {
    base_buffer_char(out, '<');
    base_buffer_text(out, name);
    base_buffer_char(out, '>');
    put_escaped(out, base_slice_of(text));
    base_buffer_text(out, "</");
    base_buffer_text(out, name);
    base_buffer_text(out, ">");
}

static const char *colour_of(const struct draw_sheet *sheet, int colour) {
    return colour < 0 ? "none" : draw_colours[sheet->ground][colour];
}

static void put_pen(struct draw_sheet *sheet, enum draw_pen pen, int fill) {
    const struct pen *p = &pens[pen];
    put_word(&sheet->body, "fill", colour_of(sheet, fill));
    if (pen == DRAW_NO_PEN) {
        return;
    }
    put_word(&sheet->body, "stroke", colour_of(sheet, (int)p->colour));
    if (p->width < 1.0 || p->width > 1.0) {
        put_attribute(&sheet->body, "stroke-width", p->width);
    }
    if (p->dashes) {
        put_word(&sheet->body, "stroke-dasharray", p->dashes);
    }
}

/* --- lines --------------------------------------------------------------------------------------------------------- */

void draw_put_point(struct base_buffer *path, char command, struct draw_point to) {
    base_buffer_char(path, command);
    put_number(path, to.x);
    base_buffer_char(path, ' ');
    put_number(path, to.y);
}

void draw_put_arc(struct base_buffer *path, double radius, bool is_long, bool clockwise, struct draw_point to) {
    draw_put_point(path, 'A', (struct draw_point){radius, radius});
    base_buffer_text(path, " 0 ");
    base_buffer_text(path, is_long ? "1 " : "0 ");
    base_buffer_text(path, clockwise ? "1 " : "0 ");
    put_number(path, to.x);
    base_buffer_char(path, ' ');
    put_number(path, to.y);
}

static void put_path(struct draw_sheet *sheet, enum draw_pen pen, int fill, const struct base_buffer *path) {
    struct base_buffer *out = &sheet->body;
    base_buffer_text(out, "<path");
    put_word(out, "d", explain_held(out, path));
    put_pen(sheet, pen, fill);
    base_buffer_text(out, "/>\n");
}

void draw_path(struct draw_sheet *sheet, enum draw_pen pen, const struct base_buffer *path) {
    put_path(sheet, pen, -1, path);
}

void draw_points(struct draw_sheet *sheet, enum draw_pen pen, int fill, const struct draw_point *points, size_t n,
                 bool closed) {
    struct base_buffer path;
    base_buffer_init(&path, 0);
    for (size_t i = 0; i < n; i++) {
        draw_put_point(&path, i == 0 ? 'M' : 'L', points[i]);
    }
    base_buffer_text(&path, closed ? "z" : "");
    put_path(sheet, pen, fill, &path);
    base_buffer_clear(&path);
}

void draw_line(struct draw_sheet *sheet, enum draw_pen pen, double x1, double y1, double x2, double y2) {
    const struct draw_point points[2] = {{x1, y1}, {x2, y2}};
    draw_points(sheet, pen, -1, points, 2, false);
}

void draw_rectangle(struct draw_sheet *sheet, enum draw_pen pen, int fill, struct draw_box box) {
    struct base_buffer *out = &sheet->body;
    base_buffer_text(out, "<rect");
    put_attribute(out, "x", box.left);
    put_attribute(out, "y", box.top);
    put_attribute(out, "width", box.right - box.left);
    put_attribute(out, "height", box.bottom - box.top);
    put_pen(sheet, pen, fill);
    base_buffer_text(out, "/>\n");
}

void draw_circle(struct draw_sheet *sheet, enum draw_pen pen, int fill, struct draw_point centre, double radius) {
    struct base_buffer *out = &sheet->body;
    base_buffer_text(out, "<circle");
    put_attribute(out, "cx", centre.x);
    put_attribute(out, "cy", centre.y);
    put_attribute(out, "r", radius);
    put_pen(sheet, pen, fill);
    base_buffer_text(out, "/>\n");
}

/* A line x + y = sum within a box runs from its lower left to its upper right end; mirrored, it falls. */
void draw_hatch(struct draw_sheet *sheet, struct draw_box box, double apart, bool falling) {
    double w = box.right - box.left, h = box.bottom - box.top, between = apart * sqrt(2.0);
    struct base_buffer path;
    if (!(w > 0.0) || !(h > 0.0)) {
        return;
    }
    base_buffer_init(&path, 0);
    for (double sum = between / 2.0; sum < w + h; sum += between) {
        double x1 = fmax(0.0, sum - h), x2 = fmin(w, sum);
        double y1 = sum - x1, y2 = sum - x2;
        draw_put_point(&path, 'M', (struct draw_point){box.left + (falling ? w - x1 : x1), box.top + y1});
        draw_put_point(&path, 'L', (struct draw_point){box.left + (falling ? w - x2 : x2), box.top + y2});
    }
    put_path(sheet, DRAW_THIN, -1, &path);
    base_buffer_clear(&path);
}

void draw_blank(struct draw_sheet *sheet, struct draw_box box) { draw_rectangle(sheet, DRAW_NO_PEN, DRAW_PAPER, box); }

/* Its tip at a point, its body in the direction (dx, dy) of length 1. */
static void put_arrow(struct draw_sheet *sheet, double x, double y, double dx, double dy) {
    double bx = x + ARROW_LENGTH * dx, by = y + ARROW_LENGTH * dy;
    const struct draw_point points[3] = {
        {x, y}, {bx - ARROW_HALF * dy, by + ARROW_HALF * dx}, {bx + ARROW_HALF * dy, by - ARROW_HALF * dx}};
    draw_points(sheet, DRAW_NO_PEN, DRAW_INK, points, 3, true);
}

void draw_arrowhead(struct draw_sheet *sheet, struct draw_point from, struct draw_point tip) {
    double length = hypot(tip.x - from.x, tip.y - from.y);
    if (length > 0.0) {
        put_arrow(sheet, tip.x, tip.y, (from.x - tip.x) / length, (from.y - tip.y) / length);
    }
}

void draw_dimension(struct draw_sheet *sheet, double x1, double y1, double x2, double y2) {
    double length = hypot(x2 - x1, y2 - y1);
    if (!(length > 0.0)) {
        return;
    }
    double dx = (x2 - x1) / length, dy = (y2 - y1) / length;
    bool outside = length < 2.5 * ARROW_LENGTH;
    double over = outside ? 1.6 * ARROW_LENGTH : 0.0, turn = outside ? -1.0 : 1.0;
    draw_line(sheet, DRAW_THIN, x1 - over * dx, y1 - over * dy, x2 + over * dx, y2 + over * dy);
    put_arrow(sheet, x1, y1, turn * dx, turn * dy);
    put_arrow(sheet, x2, y2, -turn * dx, -turn * dy);
}

/* --- tiles --------------------------------------------------------------------------------------------------------- */

struct tile {
    enum draw_colour colour;
    bool filled, outlined, dashed;
    const char *fill;    /* a shape in the colour, beside or in place of the whole field */
    const char *outline; /* a line in the colour, beside the edge */
    const char *cross;   /* a line in the colour of the paper */
};
static const struct tile tiles[EXPLAIN_MARKS] = {
    [EXPLAIN_STAYS] = {.colour = DRAW_STAYS, .filled = true},
    [EXPLAIN_NEW] = {.colour = DRAW_NEW, .outlined = true, .fill = "M6 1h4v14h-4z"},
    [EXPLAIN_ADAPTED] = {.colour = DRAW_ADAPTED, .fill = "M1 1h14l-8 7 8 7h-14z"},
    [EXPLAIN_OFF] = {.colour = DRAW_OFF, .outlined = true, .outline = "M1.9 14.1L14.1 1.9"},
    [EXPLAIN_MEASURE] = {.colour = DRAW_MEASURE, .outlined = true, .dashed = true},
    [EXPLAIN_CLASH] = {.colour = DRAW_CLASH, .filled = true, .cross = "M4 4l8 8M12 4l-8 8"},
    [EXPLAIN_DRAWBACK] = {.colour = DRAW_INK, .outlined = true, .fill = "M1 8h14v7h-14z"},
};

static void put_shape(struct draw_sheet *sheet, const char *d, int fill, int stroke, double width, const char *dashes) {
    struct base_buffer *out = &sheet->body;
    base_buffer_text(out, "<path");
    put_word(out, "d", d);
    put_word(out, "fill", colour_of(sheet, fill));
    if (stroke >= 0) {
        put_word(out, "stroke", colour_of(sheet, stroke));
        put_attribute(out, "stroke-width", width);
    }
    if (dashes) {
        put_word(out, "stroke-dasharray", dashes);
    }
    base_buffer_text(out, "/>");
}

void draw_tile(struct draw_sheet *sheet, enum explain_mark mark, double x, double y, double size) {
    const struct tile *tile = &tiles[mark];
    struct base_buffer *out = &sheet->body;
    if (mark == EXPLAIN_FITS) {
        return;
    }
    base_buffer_text(out, "<g transform=\"translate(");
    put_number(out, x);
    base_buffer_char(out, ' ');
    put_number(out, y);
    base_buffer_text(out, ") scale(");
    put_number(out, size / TILE_FIELD);
    base_buffer_text(out, ")\">");
    put_element(out, "title", explain_message(explain_marks[mark].code));
    if (tile->filled) {
        put_shape(sheet, "M1 1h14v14h-14z", (int)tile->colour, -1, 0.0, NULL);
    }
    if (tile->outlined) {
        put_shape(sheet, "M1.9 1.9h12.2v12.2h-12.2z", DRAW_PAPER, (int)tile->colour, 1.8,
                  tile->dashed ? "3.4 2.7" : NULL);
    }
    if (tile->fill) {
        put_shape(sheet, tile->fill, (int)tile->colour, -1, 0.0, NULL);
    }
    if (tile->outline) {
        put_shape(sheet, tile->outline, -1, (int)tile->colour, 1.8, NULL);
    }
    if (tile->cross) {
        put_shape(sheet, tile->cross, -1, DRAW_PAPER, 2.5, NULL);
    }
    base_buffer_text(out, "</g>\n");
}

void draw_one_tile(struct base_buffer *out, enum explain_mark mark) {
    struct draw_sheet sheet = {.ground = DRAW_PRINT};
    if (mark == EXPLAIN_FITS) {
        return;
    }
    base_buffer_init(&sheet.body, 0);
    draw_tile(&sheet, mark, 0.0, 0.0, TILE_FIELD);
    base_buffer_text(out,
                     "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"16\" height=\"16\" viewBox=\"0 0 16 16\">");
    base_buffer_put(out, sheet.body.at, sheet.body.status == BASE_OK ? sheet.body.n : 0);
    base_buffer_text(out, "</svg>");
    out->status = sheet.body.status != BASE_OK ? sheet.body.status : out->status;
    base_buffer_clear(&sheet.body);
}

/* --- text ---------------------------------------------------------------------------------------------------------- */

static const struct draw_font *font_of(bool bold) { return bold ? &draw_bold : &draw_regular; }

static double slice_width(struct base_slice text, bool bold) {
    return draw_text_width(font_of(bold), text, DRAW_TEXT_SIZE);
}

double draw_width_of(const char *text, bool bold) { return slice_width(base_slice_of(text), bold); }

static struct draw_box room_of(double x, double y, struct draw_face face, struct base_slice text) {
    double width = slice_width(text, face.bold);
    double left = face.anchor == DRAW_START ? x : face.anchor == DRAW_END ? x - width : x - width / 2.0;
    return (struct draw_box){left, y - DRAW_ASCENT * DRAW_TEXT_SIZE, left + width, y + DRAW_DESCENT * DRAW_TEXT_SIZE};
}

struct draw_box draw_room_of(double x, double y, struct draw_face face, const char *text) {
    return room_of(x, y, face, base_slice_of(text));
}

bool draw_is_free(const struct draw_sheet *sheet, struct draw_box room) {
    if (room.left < 0.0 || room.top < 0.0 || room.right > sheet->width) {
        return false;
    }
    for (size_t i = 0; i < sheet->n_texts; i++) {
        const struct draw_box *other = &sheet->texts[i];
        if (room.left < other->right && other->left < room.right && room.top < other->bottom &&
            other->top < room.bottom) {
            return false;
        }
    }
    return sheet->n_texts < DRAW_TEXTS_MAX;
}

void draw_keep_off(struct draw_sheet *sheet, double x1, double y1, double x2, double y2) {
    if (sheet->n_lines < DRAW_LINES_MAX) {
        sheet->lines[sheet->n_lines++] = (struct draw_segment){{x1, y1}, {x2, y2}};
    }
}

/* Cuts the span [from, to] of a segment, as shares of it, to where start + share * way lies between low and high. */
static void cut_span(double *from, double *to, double start, double way, double low, double high) {
    if (way > 0.0 || way < 0.0) {
        double a = (low - start) / way, b = (high - start) / way;
        *from = fmax(*from, fmin(a, b));
        *to = fmin(*to, fmax(a, b));
    } else if (start < low || start > high) {
        *to = -1.0;
    }
}

/* Does a line to keep off pass through this room? By clipping each to the room (Liang and Barsky 1984). */
static bool is_crossed(const struct draw_sheet *sheet, struct draw_box room) {
    for (size_t i = 0; i < sheet->n_lines; i++) {
        struct draw_point a = sheet->lines[i].from, b = sheet->lines[i].to;
        double from = 0.0, to = 1.0;
        cut_span(&from, &to, a.x, b.x - a.x, room.left, room.right);
        cut_span(&from, &to, a.y, b.y - a.y, room.top, room.bottom);
        if (from <= to) {
            return true;
        }
    }
    return false;
}

size_t draw_find_place(const struct draw_sheet *sheet, const struct draw_point *places, size_t n, struct draw_face face,
                       const char *text) {
    size_t second = n;
    for (size_t i = 0; i < n; i++) {
        struct draw_box room = draw_room_of(places[i].x, places[i].y, face, text);
        if (!draw_is_free(sheet, room)) {
            continue;
        }
        if (!is_crossed(sheet, room)) {
            return i;
        }
        second = second == n ? i : second;
    }
    return second;
}

static bool put_text(struct draw_sheet *sheet, double x, double y, struct draw_face face, struct base_slice text) {
    static const char *const anchors[] = {NULL, "middle", "end"};
    struct draw_box room = room_of(x, y, face, text);
    struct base_buffer *out = &sheet->body;
    if (text.n == 0 || !draw_is_free(sheet, room)) {
        return false;
    }
    sheet->texts[sheet->n_texts++] = room;
    base_buffer_text(out, "<text");
    put_attribute(out, "x", x);
    put_attribute(out, "y", y);
    if (anchors[face.anchor]) {
        put_word(out, "text-anchor", anchors[face.anchor]);
    }
    if (face.bold) {
        put_word(out, "font-weight", "bold");
    }
    if (face.colour != DRAW_INK && sheet->ground != DRAW_PRINT) { /* in print all words are ink */
        put_word(out, "fill", colour_of(sheet, (int)face.colour));
    }
    if (!face.bare) {
        put_word(out, "stroke", colour_of(sheet, DRAW_PAPER));
        put_attribute(out, "stroke-width", HALO);
        put_word(out, "stroke-linejoin", "round");
        put_word(out, "paint-order", "stroke"); /* under the letters; a shape's edge is wanted whole */
    }
    base_buffer_char(out, '>');
    put_escaped(out, text);
    base_buffer_text(out, "</text>\n");
    return true;
}

bool draw_text(struct draw_sheet *sheet, double x, double y, struct draw_face face, const char *text) {
    return put_text(sheet, x, y, face, base_slice_of(text));
}

bool draw_text_cut(struct draw_sheet *sheet, double x, double y, struct draw_face face, const char *text, double room) {
    static const char ellipsis[] = "\xe2\x80\xa6";
    struct base_slice whole = base_slice_of(text);
    struct base_buffer cut;
    if (slice_width(whole, face.bold) <= room) {
        return put_text(sheet, x, y, face, whole);
    }
    base_buffer_init(&cut, 0);
    double left = room - draw_width_of(ellipsis, face.bold);
    base_buffer_slice(&cut, draw_text_fitting(font_of(face.bold), whole, DRAW_TEXT_SIZE, left));
    base_buffer_text(&cut, ellipsis);
    bool done = draw_text(sheet, x, y, face, explain_held(&sheet->body, &cut));
    base_buffer_clear(&cut);
    return done;
}

bool draw_text_near(struct draw_sheet *sheet, const struct draw_point *places, size_t n, struct draw_face face,
                    const char *text) {
    size_t i = draw_find_place(sheet, places, n, face, text);
    if (i == n) {
        return false;
    }
    struct draw_box room = draw_room_of(places[i].x, places[i].y, face, text);
    if (is_crossed(sheet, room)) {
        draw_blank(sheet, room);
    }
    return draw_text(sheet, places[i].x, places[i].y, face, text);
}

double draw_wrapped(struct draw_sheet *sheet, double x, double y, struct draw_face face, const char *text,
                    double room) {
    struct base_slice rest = base_slice_of(text);
    face.bare = true; /* a paragraph stands on paper alone */
    while (rest.n > 0) {
        struct base_slice line = draw_text_fitting(font_of(face.bold), rest, DRAW_TEXT_SIZE, room);
        (void)put_text(sheet, x, y, face, line);
        y += DRAW_LINE_HEIGHT;
        rest = (struct base_slice){rest.at + line.n, rest.n - line.n};
        while (rest.n > 0 && rest.at[0] == ' ') {
            rest = (struct base_slice){rest.at + 1, rest.n - 1};
        }
    }
    return y;
}

/* What tells how a value is known, below or around its room; y: its base line. */
static void mark_value(struct draw_sheet *sheet, struct draw_box room, double y, enum base_known known) {
    if (known == BASE_MEASURED) {
        draw_line(sheet, DRAW_THIN, room.left, y + UNDERLINE, room.right, y + UNDERLINE);
    } else if (known == BASE_ASSUMED) {
        draw_line(sheet, DRAW_TRAVEL, room.left, y + UNDERLINE, room.right, y + UNDERLINE);
    } else if (known == BASE_OPEN) {
        draw_rectangle(sheet, DRAW_OPEN_PEN, -1,
                       (struct draw_box){room.left - 1.0, y - OPEN_ASCENT, room.right + 1.0, y + UNDERLINE});
    }
}

bool draw_value(struct draw_sheet *sheet, double x, double y, struct draw_face face, double number, int decimals,
                const char *unit, enum base_known known) {
    const struct draw_point place = {x, y};
    return draw_value_near(sheet, &place, 1, face, number, decimals, unit, known);
}

bool draw_value_near(struct draw_sheet *sheet, const struct draw_point *places, size_t n, struct draw_face face,
                     double number, int decimals, const char *unit, enum base_known known) {
    const struct explain_arg arg = explain_known(number, decimals, unit, known);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &arg);
    const char *held = explain_held(&sheet->body, &text);
    size_t i = draw_find_place(sheet, places, n, face, held);
    face.colour = known == BASE_OPEN ? DRAW_MEASURE : face.colour;
    bool done = i < n && draw_text_near(sheet, &places[i], 1, face, held);
    if (done) {
        mark_value(sheet, draw_room_of(places[i].x, places[i].y, face, held), places[i].y, known);
    }
    base_buffer_clear(&text);
    return done;
}

/* --- groups and the whole ------------------------------------------------------------------------------------------ */

void draw_open(struct draw_sheet *sheet, const char *title) {
    base_buffer_text(&sheet->body, "<g>");
    put_element(&sheet->body, "title", title);
    base_buffer_char(&sheet->body, '\n');
}

void draw_close(struct draw_sheet *sheet) { base_buffer_text(&sheet->body, "</g>\n"); }

void draw_sheet_begin(struct draw_sheet *out, enum draw_ground ground, double width) {
    base_buffer_init(&out->body, 0);
    out->ground = ground;
    out->width = width;
    out->n_texts = 0;
    out->n_lines = 0;
    out->across = out->along = 0.0;
}

double draw_head_of(struct draw_sheet *sheet, const struct draw_head *head) {
    const struct draw_face bold = {DRAW_START, DRAW_INK, true, true};
    double right = sheet->width - DRAW_EDGE, y = DRAW_LINE_HEIGHT;
    if (head->corner) {
        (void)draw_text(sheet, right, y, (struct draw_face){DRAW_END, DRAW_INK, false, true}, head->corner);
    }
    (void)draw_text(sheet, DRAW_EDGE, y, bold, head->title);
    y += DRAW_LINE_HEIGHT;
    (void)draw_text_cut(sheet, DRAW_EDGE, y, on_paper, head->subject, right - DRAW_EDGE);
    return y + DRAW_LINE_HEIGHT / 2.0;
}

/* An attribute whose value is the figure's name and an ending. */
static void put_reference(struct base_buffer *out, const char *attribute, const char *name, const char *ending) {
    base_buffer_char(out, ' ');
    base_buffer_text(out, attribute);
    base_buffer_text(out, "=\"");
    base_buffer_text(out, name);
    base_buffer_text(out, ending);
    base_buffer_char(out, '"');
}

static void put_named(struct base_buffer *out, const char *element, const char *name, const char *ending,
                      const char *text) {
    base_buffer_char(out, '<');
    base_buffer_text(out, element);
    put_reference(out, "id", name, ending);
    base_buffer_char(out, '>');
    put_escaped(out, base_slice_of(text));
    base_buffer_text(out, "</");
    base_buffer_text(out, element);
    base_buffer_text(out, ">\n");
}

/* The element of the whole. */
static void put_root(struct base_buffer *out, const struct draw_sheet *sheet, const char *name, double height) {
    base_buffer_text(out, "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"graphics-document document\"");
    put_reference(out, "aria-labelledby", name, "-question");
    put_reference(out, "aria-describedby", name, "-answer");
    put_attribute(out, "width", sheet->width);
    put_attribute(out, "height", height);
    base_buffer_text(out, " viewBox=\"0 0 ");
    put_number(out, sheet->width);
    base_buffer_char(out, ' ');
    put_number(out, height);
    base_buffer_text(out, "\" font-family=\"DejaVu Sans, Verdana, sans-serif\"");
    put_attribute(out, "font-size", DRAW_TEXT_SIZE);
    put_word(out, "fill", colour_of(sheet, DRAW_INK));
    base_buffer_text(out, ">\n");
}

double draw_bottom_of(const struct draw_sheet *sheet, double bottom) {
    for (size_t i = 0; i < sheet->n_texts; i++) {
        bottom = fmax(bottom, sheet->texts[i].bottom);
    }
    return bottom;
}

/* '1 : 4' of units a millimetre on paper. */
static void put_scale(struct base_buffer *out, double units) {
    double n = PRINT / units;
    base_buffer_text(out, "1 : ");
    base_buffer_fixed(out, n, fabs(n - round(n)) < 0.05 ? 0 : 1);
}

/* The scale, or both where they differ. */
static void tell_scale(struct base_buffer *out, const struct draw_sheet *sheet) {
    if (!(sheet->across > 0.0)) {
        return;
    }
    put_scale(out, sheet->across);
    if (fabs(sheet->along - sheet->across) > 0.0) {
        base_buffer_text(out, ", ");
        explain_say(out, "draw.block.along");
        base_buffer_char(out, ' ');
        put_scale(out, sheet->along);
    }
}

/* The title block across the page from y on; where it ends. */
static double draw_block(struct draw_sheet *sheet, const struct draw_block *block, double y) {
    static const double widths[DRAW_CELLS] = {60.0, 200.0, 46.0, 94.0, 120.0, 138.0, 62.0}; /* all of DRAW_WIDE_UNITS */
    struct base_buffer scale;
    double x = 0.0;
    base_buffer_init(&scale, 0);
    tell_scale(&scale, sheet);
    draw_rectangle(sheet, DRAW_THIN, -1, (struct draw_box){0.5, y + 0.5, sheet->width - 0.5, y + BLOCK_HEIGHT - 0.5});
    for (int i = 0; i < DRAW_CELLS; i++) {
        const char *text = i == DRAW_SCALE ? explain_held(&sheet->body, &scale) : block->texts[i];
        double room = widths[i] - 2.0 * BLOCK_PAD;
        if (i > 0) {
            draw_line(sheet, DRAW_THIN, x, y, x, y + BLOCK_HEIGHT);
        }
        (void)draw_text_cut(sheet, x + BLOCK_PAD, y + BLOCK_LABEL, on_paper, block->labels[i], room);
        (void)draw_text_cut(sheet, x + BLOCK_PAD, y + BLOCK_TEXT, on_paper, text, room);
        x += widths[i];
    }
    base_buffer_clear(&scale);
    return y + BLOCK_HEIGHT;
}

void draw_sheet_end(struct base_buffer *out, struct draw_sheet *sheet, const struct draw_head *head, double bottom) {
    double y = draw_bottom_of(sheet, bottom) + DRAW_LINE_HEIGHT;
    y = draw_wrapped(sheet, DRAW_EDGE, y, draw_left, head->foot, sheet->width - 2.0 * DRAW_EDGE);
    double height = ceil(y - DRAW_LINE_HEIGHT + DRAW_EDGE + DRAW_DESCENT * DRAW_TEXT_SIZE);
    if (head->block) {
        height = draw_block(sheet, head->block, height);
    }
    put_root(out, sheet, head->name, height);
    put_named(out, "title", head->name, "-question", head->question);
    put_named(out, "desc", head->name, "-answer", head->answer);
    base_buffer_text(out, "<rect");
    put_attribute(out, "width", sheet->width);
    put_attribute(out, "height", height);
    put_word(out, "fill", colour_of(sheet, DRAW_PAPER));
    base_buffer_text(out, "/>\n");
    base_buffer_text(out, explain_held(out, &sheet->body));
    base_buffer_text(out, "</svg>\n");
    base_buffer_clear(&sheet->body);
}
