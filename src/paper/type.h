/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A text of a paper in its type: how much room it takes in a width, and its ink. Only pdf.c includes it.
 *
 * Two ways to know the room: reckoned from the widths of DejaVu Sans that are compiled in (draw/extents.h), which costs
 * little and is true but for kerning and other fonts; and as pango sets it, which is what is drawn.
 */
#ifndef PAPER_TYPE_H
#define PAPER_TYPE_H

#include "paper/paper.h"

#include <pango/pangocairo.h>

#define PAPER_FOOT_TEXT PAPER_CELLS_MAX       /* the text that the title block is set with */
#define PAPER_TEXTS_MAX (PAPER_CELLS_MAX + 1) /* that are set at once */

struct paper_type {
    cairo_t *cairo; /* NULL: it is only reckoned */
    PangoLayout *layouts[PAPER_TEXTS_MAX];
};

struct paper_face {
    double size; /* points */
    bool bold;
};

/* Of a text that is set, points. */
struct paper_extent {
    double width, height;
};

/* Ready to set on a surface's pages, in a language (RFC 5646); end it with paper_type_close. */
void paper_type_open(struct paper_type *out, cairo_t *cairo, const char *language);
void paper_type_close(struct paper_type *type);

/* Text i in a width, 0 for one line as wide as it is; a line is broken where the terminal would break it, too. */
struct paper_extent paper_type_set(struct paper_type *type, size_t i, const char *text, struct paper_face face,
                                   double width);
/* The same on one line, cut with a mark where it is longer. */
void paper_type_cut(struct paper_type *type, size_t i, const char *text, struct paper_face face, double width);
/* The ink of text i, its upper left corner at (x, y), with the boxes of its signs (paper.h); a rule goes on to `right`.
 * Nothing where it is only reckoned. */
void paper_type_show(const struct paper_type *type, size_t i, const char *text, double x, double y, double right);

/* A thin frame; nothing where it is only reckoned. */
void paper_type_frame(const struct paper_type *type, double x, double y, double width, double height);

#endif
