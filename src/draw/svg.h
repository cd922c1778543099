/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The one writer of drawings: SVG with real text, in groups that a screen reader can name.
 *
 * One idea: a sheet collects the body of a drawing and remembers where text stands, so that no text is ever put over another
 * or past the edge; the head is written last, when the height is known. Lengths are units of the page, x to the right, y down;
 * 4 units are 1 mm in print. Attributes stand on the elements, so that a page may forbid styles and hold several drawings.
 *
 * A failure to grow stays in the buffer, as for any base_buffer; draw_sheet_end hands it on.
 */
#ifndef DRAW_SVG_H
#define DRAW_SVG_H

#include "base/known.h"
#include "base/text.h"
#include "draw/palette.h"
#include "explain/words.h"

#include <stdbool.h>

#define DRAW_NARROW_UNITS 360.0
#define DRAW_WIDE_UNITS 720.0
#define DRAW_EDGE 6.0       /* nothing stands nearer to the edge of the page than this */
#define DRAW_TEXT_SIZE 14.0 /* of all text: 9.9 pt in print */
#define DRAW_LINE_HEIGHT 18.0
#define DRAW_TEXTS_MAX 400
#define DRAW_LINES_MAX 64

/* Lines, by what they mean. Their colours, weights and dashes stand in svg.c, once. */
enum draw_pen {
    DRAW_NO_PEN = 0,
    DRAW_THIN,     /* dimensions, axes, hatches, ticks */
    DRAW_MIDDLE,   /* outlines */
    DRAW_RESULT,   /* thick: chain, bars, stairs of the way */
    DRAW_NEW_PART, /* thick, in the colour of new */
    DRAW_KEPT,     /* what stays */
    DRAW_NOW_PEN,  /* the bike now, where it goes away: dashed */
    DRAW_NOW_EDGE, /* the same, thin and dotted */
    DRAW_CENTRE,   /* the centre plane, chain-dotted */
    DRAW_AXLE,     /* axles, chain-dotted finer */
    DRAW_SECOND,   /* a second extreme of the same thing, dashed */
    DRAW_TRAVEL,   /* a suspension at full travel, dashed finer */
    DRAW_OPEN_PEN, /* an open value: dashed */
    DRAW_DOTS,     /* a dotted ground */
    DRAW_WAITING,  /* the edge of a way that waits for a measurement: thick, dashed */
    DRAW_PENS
};

enum draw_anchor { DRAW_START = 0, DRAW_MIDDLE_OF, DRAW_END };

struct draw_point {
    double x, y;
};
struct draw_box {
    double left, top, right, bottom;
};
struct draw_segment {
    struct draw_point from, to;
};

struct draw_sheet {
    struct base_buffer body;
    enum draw_ground ground;
    double width;
    struct draw_box texts[DRAW_TEXTS_MAX]; /* where text stands */
    size_t n_texts;
    struct draw_segment lines[DRAW_LINES_MAX]; /* that text keeps off where it has a choice */
    size_t n_lines;
    double across, along; /* of a drawing to scale: units a millimetre across the bike and along it; 0: to none */
};

/* The cells of the title block that a drawing bears which stands alone on paper, from left to right; of the scale the drawing
 * itself knows the text, of one to no scale it stays empty. */
enum draw_cell {
    DRAW_JOB,
    DRAW_BIKE,
    DRAW_WAY,
    DRAW_DATE,
    DRAW_PARTS, /* the revision of the list of parts */
    DRAW_SCALE,
    DRAW_SHEET,
    DRAW_CELLS
};
struct draw_block {
    const char *labels[DRAW_CELLS], *texts[DRAW_CELLS]; /* borrowed; "" for nothing */
};

/* What stands around every drawing. Texts are borrowed; UTF-8. */
struct draw_head {
    const char *name;               /* of the figure, as a command knows it: ids begin with it */
    const char *title;              /* its name, in capitals */
    const char *question;           /* which it answers: the title of the SVG */
    const char *answer;             /* in words with the numbers: the description of the SVG */
    const char *subject;            /* the bike, and the way that is shown; cut where it is too long */
    const char *foot;               /* what is drawn and how to read it; wrapped */
    const char *corner;             /* at the right of the title, such as where the front is; NULL: nothing */
    const struct draw_block *block; /* at the foot of the wide layout, 180 × 12 mm; NULL: none */
};

/* An empty sheet; free it with draw_sheet_end. */
void draw_sheet_begin(struct draw_sheet *out, enum draw_ground ground, double width);
/* Appends the whole drawing to out: the head, the body so far, the foot below `bottom`. Frees the sheet. */
void draw_sheet_end(struct base_buffer *out, struct draw_sheet *sheet, const struct draw_head *head, double bottom);
/* The larger of `bottom` and where the lowest text ends. */
double draw_bottom_of(const struct draw_sheet *sheet, double bottom);
/* Title and subject at the top; where the figure itself may begin. */
double draw_head_of(struct draw_sheet *sheet, const struct draw_head *head);

/* A thing that can be asked about: what is drawn until draw_close belongs to it. title: what it is, in words. */
void draw_open(struct draw_sheet *sheet, const char *title);
void draw_close(struct draw_sheet *sheet);

/* Straight from one point to another; through n points, and back to the first where it is closed; round a centre. fill: a
 * colour, or -1 for none. */
void draw_line(struct draw_sheet *sheet, enum draw_pen pen, double x1, double y1, double x2, double y2);
void draw_points(struct draw_sheet *sheet, enum draw_pen pen, int fill, const struct draw_point *points, size_t n,
                 bool closed);
void draw_circle(struct draw_sheet *sheet, enum draw_pen pen, int fill, struct draw_point centre, double radius);
void draw_rectangle(struct draw_sheet *sheet, enum draw_pen pen, int fill, struct draw_box box);
/* A row of commands of SVG's path data, made by the caller with draw_put_point and draw_put_arc. */
void draw_path(struct draw_sheet *sheet, enum draw_pen pen, const struct base_buffer *path);
/* Appends a command and a point to path data; a circle's arc of this radius, the long way or not, clockwise on the page or not. */
void draw_put_point(struct base_buffer *path, char command, struct draw_point to);
void draw_put_arc(struct base_buffer *path, double radius, bool is_long, bool clockwise, struct draw_point to);
/* Thin lines at 45 degrees over a box, `apart` from each other; they rise to the right, or fall. */
void draw_hatch(struct draw_sheet *sheet, struct draw_box box, double apart, bool falling);
/* A thin line with a filled arrowhead at both ends; where it is too short for both, they stand outside. */
void draw_dimension(struct draw_sheet *sheet, double x1, double y1, double x2, double y2);
/* A filled arrowhead whose tip is at a point, pointing the way from `from` to it. */
void draw_arrowhead(struct draw_sheet *sheet, struct draw_point from, struct draw_point tip);
/* A wide line in the colour of the paper under what follows, so that lines behind it stop there. */
void draw_blank(struct draw_sheet *sheet, struct draw_box box);
/* The tile of a mark, its upper left corner here, with the mark's word as title; nothing for EXPLAIN_FITS. */
void draw_tile(struct draw_sheet *sheet, enum explain_mark mark, double x, double y, double size);
/* A tile alone, as a drawing of 16 × 16 units on white; nothing for EXPLAIN_FITS. A failure to grow stays in out. */
void draw_one_tile(struct base_buffer *out, enum explain_mark mark);

/* How text is set. */
struct draw_face {
    enum draw_anchor anchor;
    enum draw_colour colour;
    bool bold;
    bool
        bare; /* without the halo of paper that keeps lines behind it away: where it stands on paper, close to a line */
};
extern const struct draw_face draw_left, draw_centred, draw_right; /* plain, in ink */

/* How long a text is on the page, and the room that it takes at (x, y), y its base line. */
double draw_width_of(const char *text, bool bold);
struct draw_box draw_room_of(double x, double y, struct draw_face face, const char *text);
/* Is this room on the page and clear of all text so far? */
bool draw_is_free(const struct draw_sheet *sheet, struct draw_box room);

/* Puts a text there where it is free; false, and nothing, where it is not. */
bool draw_text(struct draw_sheet *sheet, double x, double y, struct draw_face face, const char *text);
/* The same, cut to `room` with an ellipsis where it is longer. */
bool draw_text_cut(struct draw_sheet *sheet, double x, double y, struct draw_face face, const char *text, double room);
/* Text that has a choice of places keeps off this line from now on; beyond DRAW_LINES_MAX of them it no longer does. */
void draw_keep_off(struct draw_sheet *sheet, double x1, double y1, double x2, double y2);
/* Of n places for a text the first that is free of text and of the lines to keep off; where there is none, the first that is free
 * of text; n where there is none. */
size_t draw_find_place(const struct draw_sheet *sheet, const struct draw_point *places, size_t n, struct draw_face face,
                       const char *text);
/* Puts a text there; over a line to keep off on a patch of paper. */
bool draw_text_near(struct draw_sheet *sheet, const struct draw_point *places, size_t n, struct draw_face face,
                    const char *text);
/* Lines of a text wrapped to `room` from (x, y) on; the base line of the line behind the last. */
double draw_wrapped(struct draw_sheet *sheet, double x, double y, struct draw_face face, const char *text, double room);
/* A number with its unit as its knowledge has it: underlined where it was measured, with ~ and dotted where it is assumed, a
 * dashed box in place of an open one. Where it is free, as draw_text; the other as draw_text_near. */
bool draw_value(struct draw_sheet *sheet, double x, double y, struct draw_face face, double number, int decimals,
                const char *unit, enum base_known known);
bool draw_value_near(struct draw_sheet *sheet, const struct draw_point *places, size_t n, struct draw_face face,
                     double number, int decimals, const char *unit, enum base_known known);

#endif
