/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Laying text out on a terminal of 80 columns: nothing ever stands beyond column 79. The same calls make a paper, where
 * the style has one: what is laid at a column becomes a cell of a row, so that a paper says what the terminal says.
 *
 * Columns count from 1, in characters, not bytes. Where the place is not UTF-8, signs are replaced before anything is laid
 * out, so that widths stay true. Colour is of tiles, never of words; headings are bold. A line never ends with a blank.
 * A failure to grow stays in out->status, as for any buffer.
 */
#ifndef APP_TERMINAL_H
#define APP_TERMINAL_H

#include "app/text.h"
#include "explain/words.h"

#define APP_LAST_COLUMN 79
#define APP_BODY 4       /* body text begins here */
#define APP_FACT 17      /* the text of a fact; its label stands at APP_BODY */
#define APP_SLOT 11      /* a slot behind its tiles */
#define APP_PART 29      /* a part behind its slot */
#define APP_PART_LAST 69 /* and where its text ends; the price stands to the right */

struct app_page {
    struct base_buffer *out;
    struct app_style style;
    size_t at;  /* characters in the line so far */
    bool begun; /* something stands on the page */
};

/* A page that writes behind what out holds. Borrows out. */
struct app_page app_page_on(struct base_buffer *out, const struct app_style *style);

/* Blanks up to a column. */
void app_lay_to(struct app_page *page, size_t column);
/* Text at the place where the line is. */
void app_lay(struct app_page *page, const char *text);
/* Text from a column on; one blank at least before it. */
void app_lay_at(struct app_page *page, size_t column, const char *text);
/* Text that ends with a column. */
void app_lay_right(struct app_page *page, size_t last, const char *text);
/* Text wrapped from a column on, to the last one given; the first line stands where the line is, `right` (or NULL) ends
 * the first line at column 79. Ends the last line. */
void app_lay_wrapped(struct app_page *page, size_t column, size_t last, const char *text, const char *right);
/* Cuts a line off the front of *rest and lays it between two columns; nothing when *rest is empty. */
void app_lay_cut(struct app_page *page, size_t column, size_t last, struct base_slice *rest);
/* The three characters of a tile, coloured where colour is wanted; nothing for EXPLAIN_FITS. */
void app_lay_tile(struct app_page *page, enum explain_mark mark);

/* These three characters; "" for EXPLAIN_FITS. */
const char *app_tile_of(enum explain_mark mark);

/* Ends the line; blank lines. */
void app_lay_end(struct app_page *page);
void app_lay_blank(struct app_page *page, size_t lines);

/* A heading flush left and bold, after two blank lines unless it is the first; `right` (or NULL) ends at column 79. A
 * blank line follows. */
void app_lay_heading(struct app_page *page, const char *text, const char *right);
/* A lesser heading within a section: on a terminal a paragraph. */
void app_lay_group(struct app_page *page, const char *text);
/* A paragraph of body text. */
void app_lay_paragraph(struct app_page *page, const char *text);
/* A label at column 4 and its text from the given column on, hanging. */
void app_lay_fact(struct app_page *page, size_t column, const char *label, const char *text);
/* The rule above a title block. */
void app_lay_rule(struct app_page *page);

/* What follows explains: on a paper it is set smaller. */
void app_lay_small(struct app_page *page, bool small);

/* A figure, as SVG; only on a paper, and nothing where there is none. */
void app_lay_figure(struct app_page *page, struct base_slice svg);
/* The same to the right of what follows. */
void app_lay_aside(struct app_page *page, struct base_slice svg);

/* Characters that the text takes on the page. */
size_t app_width(struct app_page *page, const char *text);

#endif
