/* SPDX-License-Identifier: Apache-2.0 */
#include "paper/pdf.h"

#include "base/date.h"

#include <cairo-pdf.h>
#include <librsvg/rsvg.h>
#include <limits.h>
#include <math.h>
#include <pango/pangocairo.h>
#include <string.h>

#define MM (72.0 / 25.4) /* a millimetre in points */
#define MARGIN (10.0 * MM)
#define BLOCK_HEIGHT (10.0 * MM) /* of the title block */
#define GUTTER (7.0 * MM)        /* between two columns */
#define FIGURE_WIDTH (82.0 * MM) /* no larger than a hand; its text is 9 pt then */
#define FAMILY "DejaVu Sans, Droid Sans Fallback"
#define SMALL 0.87 /* of the size, for what explains */
#define LEAD 0.14  /* of the size, between rows */
#define SIZE_STEP 0.5
#define PAGES_OF_LEAF 2
#define THIN 0.5                /* width of a line, points */
#define KEEP_LINES 4            /* a heading stands above as many lines at least */
#define BAND_SQUARE (20.0 * MM) /* a code that a phone reads at arm's length (common practice) */
#define FOOT_SIZE 8.0           /* of the title block; its labels are 6.5 */
#define FOOT_LABEL 6.5

struct press {
    const struct paper *paper;
    cairo_t *cairo;
    PangoLayout *layout;
    double width, height; /* of the page, points */
    double size;          /* of running text */
    bool draws;           /* else it only reckons how many pages there will be */
    unsigned page, pages; /* the page that is open, from 1; how many there will be */
    unsigned column;      /* of the page, from 0 */
    double y;             /* where the next block begins */
    bool fresh;           /* nothing stands in the column yet */
    double beside;        /* where a figure beside the one just set would begin; 0: none was */
    double top;           /* of that one */
    double below_band;    /* where the last column of the first page begins */
    bool failed;          /* librsvg could not draw */
};

static double column_width(const struct press *p) {
    double all = p->width - 2.0 * MARGIN;
    return p->paper->columns == 2 ? (all - GUTTER) / 2.0 : all;
}

static double column_left(const struct press *p) { return MARGIN + p->column * (column_width(p) + GUTTER); }

static double bottom(const struct press *p) { return p->height - MARGIN - BLOCK_HEIGHT - 3.0 * MM; }

/* --- text ---------------------------------------------------------------------------------------------------------- */

static void set_font(const struct press *p, double size, bool bold) {
    PangoFontDescription *font = pango_font_description_from_string(FAMILY);
    pango_font_description_set_weight(font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font, size * PANGO_SCALE);
    pango_layout_set_font_description(p->layout, font);
    pango_font_description_free(font);
}

/* The text with its boxes kept whole, their brackets left to be drawn, and a rule at its end cut off. */
static void put_set(struct base_buffer *out, const char *text) {
    size_t from = 0;
    for (;;) {
        struct paper_mark mark = paper_next_mark(text, from);
        base_buffer_put(out, text + from, mark.at - from);
        if (mark.sign == PAPER_NO_SIGN || mark.sign == PAPER_RULE) {
            base_buffer_text(out, mark.sign == PAPER_RULE ? "\xc2\xa0" : "");
            return;
        }
        for (size_t i = 0; i < mark.n; i++) {
            char c = text[mark.at + i];
            if (c == ' ' || c == '[' || c == ']') {
                base_buffer_text(out, "\xc2\xa0");
            } else {
                base_buffer_char(out, c);
            }
        }
        from = mark.at + mark.n;
    }
}

static bool is_digit(char c) { return c >= '0' && c <= '9'; }

/* A number is not parted from its unit or its name, nor is 'km/h' in itself. */
static void keep_units(const struct press *p, const char *text) {
    PangoAttrList *list = pango_attr_list_new();
    for (size_t i = 0; text[i] != '\0'; i++) {
        if (i > 0 && text[i] == ' ' && (is_digit(text[i - 1]) || is_digit(text[i + 1]))) {
            PangoAttribute *whole = pango_attr_allow_breaks_new(FALSE);
            whole->start_index = (guint)i - 1;
            whole->end_index = (guint)(i + 1 + strcspn(text + i + 1, " "));
            pango_attr_list_insert(list, whole);
        }
    }
    pango_layout_set_attributes(p->layout, list);
    pango_attr_list_unref(list);
}

static void lay_out(const struct press *p, const char *text, double width, bool right) {
    struct base_buffer set;
    base_buffer_init(&set, 0);
    put_set(&set, text);
    pango_layout_set_width(p->layout, width > 0.0 ? (int)(width * PANGO_SCALE) : -1);
    pango_layout_set_alignment(p->layout, right ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT);
    pango_layout_set_text(p->layout, set.at ? set.at : "", -1);
    keep_units(p, set.at ? set.at : "");
    base_buffer_clear(&set);
}

static double layout_height(const struct press *p) {
    int height;
    pango_layout_get_size(p->layout, NULL, &height);
    return (double)height / PANGO_SCALE;
}

static double layout_width(const struct press *p) {
    int width;
    pango_layout_get_size(p->layout, &width, NULL);
    return (double)width / PANGO_SCALE;
}

static void frame(const struct press *p, double x, double y, double width, double height) {
    cairo_set_line_width(p->cairo, THIN);
    cairo_rectangle(p->cairo, x, y, width, height);
    cairo_stroke(p->cairo);
}

static PangoRectangle place_of(const struct press *p, size_t at) {
    PangoRectangle place;
    pango_layout_index_to_pos(p->layout, (int)at, &place);
    return place;
}

/* The boxes and rules of a text that lies in the layout, whose upper left corner is (x, y). */
static void draw_signs(const struct press *p, const char *text, double x, double y, double right) {
    size_t added = 0; /* bytes that the set text has more so far */
    for (struct paper_mark mark = paper_next_mark(text, 0); mark.sign != PAPER_NO_SIGN;
         mark = paper_next_mark(text, mark.at + mark.n)) {
        PangoRectangle first = place_of(p, mark.at + added);
        double left = x + (double)first.x / PANGO_SCALE, top = y + (double)first.y / PANGO_SCALE;
        double line = (double)first.height / PANGO_SCALE;
        if (mark.sign == PAPER_RULE) {
            cairo_set_line_width(p->cairo, THIN);
            cairo_move_to(p->cairo, left, top + 0.85 * line);
            cairo_line_to(p->cairo, right, top + 0.85 * line);
            cairo_stroke(p->cairo);
            return;
        }
        for (size_t i = 0; i < mark.n; i++) {
            added += strchr(" []", text[mark.at + i]) != NULL;
        }
        PangoRectangle last = place_of(p, mark.at + mark.n + added - 2);
        double end = x + (double)(last.x + last.width) / PANGO_SCALE;
        double tall = mark.sign == PAPER_TICK ? end - left : 0.92 * line;
        frame(p, left, top + (line - tall) / 2.0, end - left, tall);
    }
}

static void show(const struct press *p, const char *text, double x, double y, double right) {
    if (p->draws) {
        cairo_move_to(p->cairo, x, y);
        pango_cairo_show_layout(p->cairo, p->layout);
        draw_signs(p, text, x, y, right);
    }
}

static void begin_tag(const struct press *p, const char *tag) {
    if (p->draws) {
        cairo_tag_begin(p->cairo, tag, NULL);
    }
}

static void end_tag(const struct press *p, const char *tag) {
    if (p->draws) {
        cairo_tag_end(p->cairo, tag);
    }
}

/* --- title block --------------------------------------------------------------------------------------------------- */

/* The largest that fits on its one line, cut with a mark where even the smallest does not. */
static void foot_text(const struct press *p, const char *text, double size, double x, double y, double width) {
    set_font(p, size, false);
    pango_layout_set_ellipsize(p->layout, PANGO_ELLIPSIZE_END);
    lay_out(p, text, width, false);
    pango_layout_set_height(p->layout, 0);
    show(p, "", x, y, x + width);
    pango_layout_set_ellipsize(p->layout, PANGO_ELLIPSIZE_NONE);
    pango_layout_set_height(p->layout, -1);
}

static void foot_cell(const struct press *p, const struct paper_foot *foot, double x, double width) {
    const double y = p->height - MARGIN - BLOCK_HEIGHT, pad = 1.0 * MM;
    frame(p, x, y, width, BLOCK_HEIGHT);
    foot_text(p, foot->label, FOOT_LABEL, x + pad, y + 0.7 * MM, width - 2.0 * pad);
    foot_text(p, foot->text, FOOT_SIZE, x + pad, y + 4.6 * MM, width - 2.0 * pad);
}

/* Each cell as wide as what stands in it asks for, all together the page's width. */
static void title_block(const struct press *p) {
    struct paper_foot cells[PAPER_FOOT_MAX + 1];
    double widths[PAPER_FOOT_MAX + 1], sum = 0.0, x = MARGIN;
    struct base_buffer sheet;
    size_t n = p->paper->n_foot;
    base_buffer_init(&sheet, 0);
    base_buffer_int(&sheet, p->page);
    base_buffer_char(&sheet, ' ');
    base_buffer_text(&sheet, p->paper->sheet_of);
    base_buffer_char(&sheet, ' ');
    base_buffer_int(&sheet, p->pages);
    memcpy(cells, p->paper->foot, n * sizeof *cells);
    cells[n++] = (struct paper_foot){p->paper->sheet_label, sheet.at ? sheet.at : ""};
    for (size_t i = 0; i < n; i++) {
        set_font(p, FOOT_SIZE, false);
        lay_out(p, cells[i].text, 0.0, false);
        double wanted = layout_width(p);
        set_font(p, FOOT_LABEL, false);
        lay_out(p, cells[i].label, 0.0, false);
        widths[i] = fmax(fmax(fmin(wanted, 40.0 * MM), layout_width(p)) + 3.0 * MM, 14.0 * MM);
        sum += widths[i];
    }
    begin_tag(p, "P");
    for (size_t i = 0; i < n; i++) {
        double width = widths[i] * (p->width - 2.0 * MARGIN) / sum;
        foot_cell(p, &cells[i], x, width);
        x += width;
    }
    end_tag(p, "P");
    base_buffer_clear(&sheet);
}

/* --- flow ---------------------------------------------------------------------------------------------------------- */

static void end_page(const struct press *p) {
    if (p->draws) {
        title_block(p);
        cairo_show_page(p->cairo);
    }
}

/* The band stands at the top of the first page's last column. */
static bool is_below_band(const struct press *p) { return p->page == 1 && p->column + 1 == p->paper->columns; }

static void next_column(struct press *p) {
    if (p->column + 1 < p->paper->columns) {
        p->column++;
    } else {
        end_page(p);
        p->page++;
        p->column = 0;
    }
    p->y = is_below_band(p) ? p->below_band : MARGIN;
    p->fresh = true;
}

/* Room for a block of this height; `more` behind it keeps it with what follows. */
static void want(struct press *p, double height, double more) {
    if (!p->fresh && p->y + height + more > bottom(p)) {
        next_column(p);
    }
}

static void advance(struct press *p, double height) {
    p->y += height;
    p->fresh = false;
}

/* Text with something at its right side, on one line where both fit. */
static void set_pair(struct press *p, const struct paper_block *block, double size, const char *tag) {
    const double width = column_width(p);
    set_font(p, size, true);
    lay_out(p, block->right, 0.0, false);
    double beside = block->right[0] != '\0' ? layout_width(p) + size : 0.0, line = layout_height(p);
    bool together = beside < width / 2.0;
    double room = together ? width - beside : width;
    lay_out(p, block->text, room, false);
    double height = layout_height(p), below = together ? 0.0 : height;
    want(p, height + (together ? 0.0 : line), KEEP_LINES * p->size * (1.0 + LEAD));
    const double left = column_left(p);
    begin_tag(p, tag);
    set_font(p, size, true); /* the title block of the page before may have been set since */
    lay_out(p, block->text, room, false);
    show(p, block->text, left, p->y, left + width);
    if (block->right[0] != '\0') {
        lay_out(p, block->right, width, true);
        show(p, block->right, left, p->y + below, left + width);
    }
    end_tag(p, tag);
    advance(p, height + (together ? 0.0 : line) + LEAD * p->size);
}

/* --- rows ---------------------------------------------------------------------------------------------------------- */

/* Width of a column, points: they fill the width of the page, however small the type; closer where two share the page. */
static double column_step(const struct press *p) {
    return p->paper->columns == 2 ? PAPER_NARROW_EM * p->size
                                  : fmax(PAPER_EM * p->size, column_width(p) / (PAPER_COLUMNS + 1.0 - PAPER_BODY));
}

/* Where the columns of a row lie from the left side of its column of the paper, points. */
static double from_left(const struct press *p, unsigned column) {
    return ((double)column - PAPER_BODY) * column_step(p);
}

static double end_of(const struct press *p, const struct paper_cell *cell) {
    double right_step = p->paper->columns == 2 ? PAPER_EM * p->size : column_step(p);
    return cell->last > PAPER_COLUMNS / 2 ? column_width(p) - ((double)PAPER_COLUMNS - cell->last) * right_step
                                          : from_left(p, cell->last + 1);
}

/* Left and right side of a cell, so that none reaches into the next. */
static void span_of(const struct press *p, const struct paper_block *row, size_t i, double *left, double *right) {
    const struct paper_cell *cell = &row->cells[i], *next = i + 1 < row->n ? &row->cells[i + 1] : NULL;
    const double gap = 0.5 * p->size;
    *right = end_of(p, cell);
    if (cell->column > 0) {
        *left = fmax(from_left(p, cell->column), 0.0);
    } else {
        lay_out(p, cell->text, 0.0, false);
        *left = *right - layout_width(p) - 0.1;
    }
    if (next && next->column > 0 && cell->column > 0) {
        *right = fmin(*right, from_left(p, next->column) - gap);
    } else if (next && next->column == 0) {
        lay_out(p, next->text, 0.0, false);
        *right = fmin(*right, end_of(p, next) - layout_width(p) - gap);
    }
}

/* Nothing where there is no SVG. */
static void draw_svg(struct press *p, struct base_slice svg, double x, double y, double size) {
    if (svg.n == 0 || !p->draws) {
        return;
    }
    RsvgHandle *handle = rsvg_handle_new_from_data((const guint8 *)svg.at, svg.n, NULL);
    const RsvgRectangle place = {x, y, size, size};
    p->failed = !handle || !rsvg_handle_render_document(handle, p->cairo, &place, NULL) || p->failed;
    if (handle) {
        g_object_unref(handle);
    }
}

static double row_height(const struct press *p, const struct paper_block *row) {
    double height = 0.0, left, right;
    for (size_t i = 0; i < row->n; i++) {
        span_of(p, row, i, &left, &right);
        lay_out(p, row->cells[i].text, fmax(right - left, 1.0), false);
        height = fmax(height, layout_height(p));
    }
    return height;
}

static void set_row(struct press *p, const struct paper_block *row) {
    double left, right;
    set_font(p, row->small ? SMALL * p->size : p->size, false);
    double height = row_height(p, row);
    want(p, height, 0.0);
    const double x = column_left(p);
    set_font(p, row->small ? SMALL * p->size : p->size, false);
    begin_tag(p, "P");
    for (size_t i = 0; i < row->n; i++) {
        span_of(p, row, i, &left, &right);
        lay_out(p, row->cells[i].text, fmax(right - left, 1.0), row->cells[i].column == 0);
        show(p, row->cells[i].text, x + left, p->y, x + right);
        draw_svg(p, row->cells[i].tile, x + left, p->y + 0.12 * p->size, 0.95 * p->size);
    }
    end_tag(p, "P");
    advance(p, height + (row->small ? 0.5 : 1.0) * LEAD * p->size);
}

/* --- figures ------------------------------------------------------------------------------------------------------- */

static void put_figure(struct press *p, RsvgHandle *handle, double width, double height) {
    double x = 0.0;
    if (p->beside > 0.0 && p->beside + width <= column_width(p) && p->top + height <= bottom(p)) {
        x = column_width(p) - width;
        p->y = fmax(p->y, p->top + height);
    } else {
        want(p, height, 0.0);
        p->top = p->y;
        advance(p, height);
    }
    const RsvgRectangle place = {column_left(p) + x, p->top, width, height};
    begin_tag(p, "Figure");
    p->failed = (p->draws && !rsvg_handle_render_document(handle, p->cairo, &place, NULL)) || p->failed;
    end_tag(p, "Figure");
    p->beside = x + width;
}

static void set_figure(struct press *p, const struct paper_block *block) {
    RsvgHandle *handle = rsvg_handle_new_from_data((const guint8 *)block->svg.at, block->svg.n, NULL);
    double width, height;
    if (!handle || !rsvg_handle_get_intrinsic_size_in_pixels(handle, &width, &height)) {
        p->failed = true;
    } else {
        double scale = fmin(FIGURE_WIDTH, column_width(p)) / width;
        put_figure(p, handle, width * scale, height * scale);
    }
    if (handle) {
        g_object_unref(handle);
    }
}

/* --- the band ------------------------------------------------------------------------------------------------------- */

/* In the largest type in which it fits the height; cut in the smallest. */
static void set_number(const struct press *p, const char *number, double x, double y, double width, double height) {
    static const double sizes[] = {16.0, 12.0, 9.0, 7.0};
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        set_font(p, sizes[i], true);
        lay_out(p, number, width, false);
        if (layout_height(p) <= height) {
            break;
        }
    }
    pango_layout_set_height(p->layout, (int)(height * PANGO_SCALE));
    pango_layout_set_ellipsize(p->layout, PANGO_ELLIPSIZE_END);
    show(p, "", x, y, x + width);
    pango_layout_set_ellipsize(p->layout, PANGO_ELLIPSIZE_NONE);
    pango_layout_set_height(p->layout, -1);
}

static void set_square(const struct press *p, const struct paper_block *band) {
    const double x = p->width - MARGIN - BAND_SQUARE, pad = 1.0 * MM, inside = BAND_SQUARE - 2.0 * pad;
    frame(p, x, MARGIN, BAND_SQUARE, BAND_SQUARE);
    set_font(p, FOOT_LABEL, false);
    lay_out(p, band->right, inside, false);
    const double caption = layout_height(p);
    show(p, band->right, x + pad, MARGIN + BAND_SQUARE - pad - caption, x + BAND_SQUARE);
    set_number(p, band->text, x + pad, MARGIN + pad, inside, inside - caption);
}

/* Facts, each with its label above it: in two columns where the paper has one; beside it where it has two. */
static void set_fact(const struct press *p, const struct paper_block *band, size_t i, double left) {
    const size_t across = p->paper->columns == 1 ? 2 : 1, rows = (band->n / 2 + across - 1) / across;
    const double wide = (p->width - MARGIN - BAND_SQUARE - GUTTER - left) / (double)across;
    const double x = left + (double)(i % across) * wide, y = MARGIN + (double)(i / across) * BAND_SQUARE / (double)rows;
    const double room = wide - GUTTER / 2.0, beside = across == 1 ? 0.45 * room : 0.0;
    foot_text(p, band->cells[2 * i].text, FOOT_LABEL, x, y, across == 1 ? beside : room);
    set_font(p, across == 1 ? FOOT_SIZE : FOOT_SIZE + 2.0, false);
    lay_out(p, band->cells[2 * i + 1].text, 0.0, false);
    bool whole = layout_width(p) <= room - beside;
    if (whole) {
        show(p, band->cells[2 * i + 1].text, x + beside, across == 1 ? y : y + 3.2 * MM, x + room);
    } else {
        foot_text(p, band->cells[2 * i + 1].text, FOOT_SIZE, x + beside, across == 1 ? y : y + 3.2 * MM, room - beside);
    }
}

static void set_band(struct press *p, const struct paper_block *band) {
    const double left = MARGIN + (p->paper->columns - 1) * (column_width(p) + GUTTER);
    begin_tag(p, "P");
    for (size_t i = 0; 2 * i + 1 < band->n; i++) {
        set_fact(p, band, i, left);
    }
    set_square(p, band);
    end_tag(p, "P");
    p->below_band = MARGIN + BAND_SQUARE + 3.0 * MM;
    p->y = is_below_band(p) ? p->below_band : p->y;
}

/* --- all of it ----------------------------------------------------------------------------------------------------- */

static void set_block(struct press *p, const struct paper_block *block) {
    p->beside = block->kind == PAPER_FIGURE ? p->beside : 0.0;
    switch (block->kind) {
    case PAPER_TITLE:
        set_pair(p, block, 1.35 * p->size, "H1");
        break;
    case PAPER_HEADING:
        advance(p, p->fresh ? 0.0 : 0.55 * p->size);
        set_pair(p, block, 1.1 * p->size, "H2");
        break;
    case PAPER_GROUP:
        advance(p, p->fresh ? 0.0 : 0.3 * p->size);
        set_pair(p, block, p->size, "H3");
        break;
    case PAPER_ROW:
        set_row(p, block);
        break;
    case PAPER_GAP:
        p->y += p->fresh ? 0.0 : 0.5 * p->size;
        break;
    case PAPER_FIGURE:
        set_figure(p, block);
        break;
    case PAPER_BAND:
        set_band(p, block);
        break;
    }
}

/* Sets every page; how many there were. */
static unsigned set_all(struct press *p) {
    p->page = 1;
    p->column = 0;
    p->y = p->below_band = MARGIN;
    p->fresh = true;
    begin_tag(p, "Document");
    for (size_t i = 0; i < p->paper->n; i++) {
        set_block(p, &p->paper->blocks[i]);
    }
    if (p->draws) {
        title_block(p);
    }
    end_tag(p, "Document");
    return p->page;
}

static unsigned pages_in(struct press *p, double size) {
    p->size = size;
    return set_all(p);
}

/* The largest size in which it keeps to its pages; where not even the smallest does, a leaf more. */
static void fit(struct press *p) {
    unsigned most = p->paper->pages_max;
    double low = PAPER_SMALLEST, high = (p->paper->largest > 0.0 ? p->paper->largest : PAPER_LARGEST) + SIZE_STEP;
    p->draws = false;
    for (unsigned least = pages_in(p, low); most < least;) {
        most = p->paper->pages_max == 0 ? UINT_MAX : most + PAGES_OF_LEAF - most % PAGES_OF_LEAF;
    }
    while (high - low > 1.5 * SIZE_STEP) {
        double middle = low + SIZE_STEP * floor((high - low) / SIZE_STEP / 2.0);
        bool fits = pages_in(p, middle) <= most;
        low = fits ? middle : low;
        high = fits ? high : middle;
    }
    p->pages = pages_in(p, low);
}

static void describe(cairo_surface_t *surface, const struct paper *paper) {
    struct base_buffer day;
    base_buffer_init(&day, 0);
    base_date_write(&day, paper->day == PAPER_NO_DAY ? 0 : paper->day);
    base_buffer_text(&day, "T00:00:00Z");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, paper->title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_AUTHOR, paper->author);
    /* Without one cairo asks the clock, and no two runs would give the same bytes. */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, day.at ? day.at : "");
    base_buffer_clear(&day);
}

static cairo_status_t keep(void *to, const unsigned char *bytes, unsigned n) {
    struct base_buffer *out = to;
    base_buffer_put(out, (const char *)bytes, n);
    return out->status == BASE_OK ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_NO_MEMORY;
}

static enum base_status status_of(cairo_status_t status) {
    return status == CAIRO_STATUS_SUCCESS ? BASE_OK : status == CAIRO_STATUS_NO_MEMORY ? BASE_NO_MEMORY : BASE_SYSTEM;
}

enum base_status paper_pdf(struct base_buffer *out, const struct paper *paper, enum paper_size size) {
    struct press p = {.paper = paper,
                      .width = size == PAPER_A4 ? 210.0 * MM : 8.5 * 72.0,
                      .height = size == PAPER_A4 ? 297.0 * MM : 11.0 * 72.0};
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(keep, out, p.width, p.height);
    p.cairo = cairo_create(surface);
    p.layout = pango_cairo_create_layout(p.cairo);
    pango_context_set_language(pango_layout_get_context(p.layout), pango_language_from_string(paper->language));
    pango_layout_set_wrap(p.layout, PANGO_WRAP_WORD_CHAR);
    describe(surface, paper);
    fit(&p);
    p.draws = true;
    (void)set_all(&p);
    enum base_status status = p.failed ? BASE_SYSTEM : status_of(cairo_status(p.cairo));
    g_object_unref(p.layout);
    cairo_destroy(p.cairo);
    cairo_surface_finish(surface);
    status = status == BASE_OK ? status_of(cairo_surface_status(surface)) : status;
    cairo_surface_destroy(surface);
    return status == BASE_OK ? paper->status : status;
}
