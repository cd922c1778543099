/* SPDX-License-Identifier: Apache-2.0 */
#include "paper/pdf.h"

#include "paper/surface.h"
#include "paper/type.h"

#include <librsvg/rsvg.h>
#include <limits.h>
#include <math.h>
#include <string.h>

#define MM PAPER_MM
#define MARGIN (10.0 * MM)
#define BLOCK_HEIGHT (10.0 * MM) /* of the title block */
#define GUTTER (6.0 * MM)        /* between a text and what stands aside of it */
#define FIGURE_WIDTH (82.0 * MM) /* no larger than a hand; its text is 9 pt then */
#define SMALL 0.87               /* of the size, for what explains */
#define LEAD 0.14                /* of the size, between rows */
#define SIZE_STEP 0.5
#define PAGES_OF_LEAF 2
#define KEEP_LINES 4            /* a heading stands above as many lines at least */
#define BAND_SIZE 13.0          /* of its texts: a box is high enough for a pen */
#define BAND_SQUARE (20.0 * MM) /* a code that a phone reads at arm's length (common practice) */
#define FOOT_SIZE 8.0           /* of the title block; its labels are 6.5 */
#define FOOT_LABEL 6.5

struct press {
    const struct paper *paper;
    cairo_t *cairo; /* NULL: it only reckons how many pages there will be */
    struct paper_type type;
    RsvgHandle **figures; /* of each block; NULL where it has none */
    double width, height; /* of the page, points */
    double size;          /* of running text */
    unsigned page, pages; /* the page that is open, from 1; how many there will be */
    double y;             /* where the next block begins */
    bool fresh;           /* nothing stands on the page yet */
    double aside;         /* width of the figure that stands aside, to the right, */
    double aside_until;   /* and how far down it reaches; 0: none does */
    double beside;        /* where a figure beside the one just set would begin; 0: none was */
    double top;           /* of that one */
    bool in_table;        /* a tag is open */
    bool failed;          /* librsvg could not draw */
};

/* Of what is set next: as wide as the page, or as what stands aside leaves. */
static double measure(const struct press *p) {
    return p->width - 2.0 * MARGIN - (p->y < p->aside_until ? p->aside + GUTTER : 0.0);
}

static double bottom(const struct press *p) { return p->height - MARGIN - BLOCK_HEIGHT - 3.0 * MM; }

static void begin_tag(const struct press *p, const char *tag) {
    if (p->cairo) {
        cairo_tag_begin(p->cairo, tag, NULL);
    }
}

static void end_tag(const struct press *p, const char *tag) {
    if (p->cairo) {
        cairo_tag_end(p->cairo, tag);
    }
}

/* --- title block --------------------------------------------------------------------------------------------------- */

static void foot_text(struct press *p, const char *text, double size, double x, double y, double width) {
    paper_type_cut(&p->type, PAPER_FOOT_TEXT, text, (struct paper_face){size, false}, width);
    paper_type_show(&p->type, PAPER_FOOT_TEXT, "", x, y, x + width);
}

static void foot_cell(struct press *p, const struct paper_foot *foot, double x, double width) {
    const double y = p->height - MARGIN - BLOCK_HEIGHT, pad = 1.0 * MM;
    paper_type_frame(&p->type, x, y, width, BLOCK_HEIGHT);
    foot_text(p, foot->label, FOOT_LABEL, x + pad, y + 0.7 * MM, width - 2.0 * pad);
    foot_text(p, foot->text, FOOT_SIZE, x + pad, y + 4.6 * MM, width - 2.0 * pad);
}

static double foot_width(struct press *p, const char *text, double size) {
    return paper_type_set(&p->type, PAPER_FOOT_TEXT, text, (struct paper_face){size, false}, 0.0).width;
}

/* 'n of m'. */
static void put_page_number(struct base_buffer *out, const struct press *p) {
    base_buffer_int(out, p->page);
    base_buffer_char(out, ' ');
    base_buffer_text(out, p->paper->sheet_of);
    base_buffer_char(out, ' ');
    base_buffer_int(out, p->pages);
}

/* Each cell as wide as what stands in it asks for, all together the page's width. */
static void title_block(struct press *p) {
    struct paper_foot cells[PAPER_FOOT_MAX + 1];
    double widths[PAPER_FOOT_MAX + 1], sum = 0.0, x = MARGIN;
    struct base_buffer sheet;
    size_t n = p->paper->n_foot;
    base_buffer_init(&sheet, 0);
    put_page_number(&sheet, p);
    memcpy(cells, p->paper->foot, n * sizeof *cells);
    cells[n++] = (struct paper_foot){p->paper->sheet_label, sheet.at ? sheet.at : ""};
    for (size_t i = 0; i < n; i++) {
        double wanted = fmin(foot_width(p, cells[i].text, FOOT_SIZE), 40.0 * MM);
        widths[i] = fmax(fmax(wanted, foot_width(p, cells[i].label, FOOT_LABEL)) + 3.0 * MM, 14.0 * MM);
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

/* The rows of a table that follow each other stand in one tag. */
static void note_table(struct press *p, bool in_table) {
    if (in_table != p->in_table) {
        (in_table ? begin_tag : end_tag)(p, "Table");
        p->in_table = in_table;
    }
}

static void next_page(struct press *p) {
    bool goes_on = p->in_table;
    note_table(p, false); /* the title block is no part of it */
    if (p->cairo) {
        title_block(p);
        cairo_show_page(p->cairo);
    }
    note_table(p, goes_on);
    p->page++;
    p->y = MARGIN;
    p->aside_until = 0.0;
    p->fresh = true;
}

/* Room for a block of this height; `more` behind it keeps it with what follows. Whether that took a new page. */
static bool want(struct press *p, double height, double more) {
    bool turns = !p->fresh && p->y + height + more > bottom(p);
    if (turns) {
        next_page(p);
    }
    return turns;
}

static void advance(struct press *p, double height) {
    p->y += height;
    p->fresh = false;
}

/* --- headings ------------------------------------------------------------------------------------------------------ */

enum { PAIR_TEXT, PAIR_RIGHT };

/* Text with something at its right side, on one line where both fit. */
struct pair {
    struct paper_extent text, right;
    bool together;
};

static struct pair lay_pair(struct press *p, const struct paper_block *block, struct paper_face face) {
    const double width = measure(p);
    struct pair pair = {.right = paper_type_set(&p->type, PAIR_RIGHT, block->right, face, 0.0)};
    double beside = block->right[0] != '\0' ? pair.right.width + face.size : 0.0;
    pair.together = beside < width / 2.0;
    pair.text = paper_type_set(&p->type, PAIR_TEXT, block->text, face, pair.together ? width - beside : width);
    return pair;
}

static double pair_height(const struct pair *pair) {
    return pair->text.height + (pair->together ? 0.0 : pair->right.height);
}

/* Lines that a heading stands above at least; those of a lesser heading behind it, too. */
static double kept_lines(const struct press *p, const struct paper_block *block) {
    const struct paper_block *last = p->paper->blocks + p->paper->n - 1;
    return block < last && block[1].kind == PAPER_GROUP ? 2.0 * KEEP_LINES : KEEP_LINES;
}

static void set_pair(struct press *p, const struct paper_block *block, double size, const char *tag) {
    const struct paper_face face = {size, true};
    struct pair pair = lay_pair(p, block, face);
    if (want(p, pair_height(&pair), kept_lines(p, block) * p->size * (1.0 + LEAD))) {
        pair = lay_pair(p, block, face);
    }
    const double right = MARGIN + measure(p), below = pair.together ? 0.0 : pair.text.height;
    begin_tag(p, tag);
    paper_type_show(&p->type, PAIR_TEXT, block->text, MARGIN, p->y, right);
    if (block->right[0] != '\0') {
        paper_type_show(&p->type, PAIR_RIGHT, block->right, right - pair.right.width, p->y + below, right);
    }
    end_tag(p, tag);
    advance(p, pair_height(&pair) + LEAD * p->size);
}

/* --- rows ---------------------------------------------------------------------------------------------------------- */

struct span {
    double left, right;
};

static double size_of(const struct press *p, const struct paper_block *row) {
    return row->small ? SMALL * p->size : p->size;
}

/* Where the columns of a row lie from the left side, points. */
static double column_step(const struct press *p) {
    double step = PAPER_EM * p->size;
    return p->paper->fills ? fmax(step, (p->width - 2.0 * MARGIN) / (PAPER_COLUMNS + 1.0 - PAPER_BODY)) : step;
}

static double from_left(const struct press *p, unsigned column) {
    return ((double)column - PAPER_BODY) * column_step(p);
}

static double end_of(const struct press *p, const struct paper_cell *cell) {
    return cell->last > PAPER_COLUMNS / 2 ? measure(p) - ((double)PAPER_COLUMNS - cell->last) * column_step(p)
                                          : from_left(p, cell->last + 1);
}

/* Sets the cells of a row, the last one first, so that none reaches into the next; how high it is. */
static double lay_row(struct press *p, struct paper_type *type, const struct paper_block *row, struct span *spans) {
    const struct paper_face face = {size_of(p, row), false};
    double height = 0.0, most = INFINITY;
    for (size_t i = row->n; i-- > 0;) {
        const struct paper_cell *cell = &row->cells[i];
        struct span *span = &spans[i];
        struct paper_extent extent;
        span->right = fmin(end_of(p, cell), most);
        if (cell->column > 0) {
            span->left = fmax(from_left(p, cell->column), 0.0);
            extent = paper_type_set(type, i, cell->text, face, fmax(span->right - span->left, 1.0));
        } else {
            extent = paper_type_set(type, i, cell->text, face, 0.0);
            span->left = span->right - extent.width;
        }
        height = fmax(height, extent.height);
        most = span->left - 0.5 * p->size;
    }
    return height;
}

/* Nothing where there is no SVG. */
static void draw_tile(struct press *p, struct base_slice svg, double x, double y, double size) {
    if (svg.n == 0) {
        return;
    }
    RsvgHandle *handle = rsvg_handle_new_from_data((const guint8 *)svg.at, svg.n, NULL);
    const RsvgRectangle place = {x, y, size, size};
    p->failed = !handle || !rsvg_handle_render_document(handle, p->cairo, &place, NULL) || p->failed;
    if (handle) {
        g_object_unref(handle);
    }
}

/* A row of a table is tagged as that, cell by cell; any other is a paragraph. */
static void show_row(struct press *p, const struct paper_block *row, const struct span *spans) {
    const char *of_row = p->in_table ? "TR" : "P";
    begin_tag(p, of_row);
    for (size_t i = 0; i < row->n; i++) {
        const char *of_cell = row->cells[i].column > 0 ? "TH" : "TD";
        if (p->in_table) {
            begin_tag(p, of_cell);
        }
        paper_type_show(&p->type, i, row->cells[i].text, MARGIN + spans[i].left, p->y, MARGIN + spans[i].right);
        draw_tile(p, row->cells[i].tile, MARGIN + spans[i].left, p->y + 0.12 * p->size, 0.95 * p->size);
        if (p->in_table) {
            end_tag(p, of_cell);
        }
    }
    end_tag(p, of_row);
}

/* The height of what explains this row and is kept with it. */
static double explanation(struct press *p, const struct paper_block *row) {
    const struct paper_block *last = p->paper->blocks + p->paper->n - 1;
    struct paper_type reckons = {.cairo = NULL};
    struct span spans[PAPER_CELLS_MAX];
    bool explained = row < last && row[1].kind == PAPER_ROW && row[1].small && !row->small;
    return explained ? lay_row(p, &reckons, row + 1, spans) : 0.0;
}

static void set_row(struct press *p, const struct paper_block *row) {
    struct span spans[PAPER_CELLS_MAX];
    double height = lay_row(p, &p->type, row, spans);
    if (want(p, height, explanation(p, row))) {
        height = lay_row(p, &p->type, row, spans); /* what stood aside is left behind */
    }
    if (p->cairo) {
        show_row(p, row, spans);
    }
    advance(p, height + LEAD * size_of(p, row));
}

/* --- figures ------------------------------------------------------------------------------------------------------- */

static void draw_figure(struct press *p, RsvgHandle *handle, RsvgRectangle place) {
    begin_tag(p, "Figure");
    p->failed = (p->cairo && !rsvg_handle_render_document(handle, p->cairo, &place, NULL)) || p->failed;
    end_tag(p, "Figure");
}

/* To the right; what comes next stands to its left, as far down as it reaches. */
static void put_aside(struct press *p, RsvgHandle *handle, double width, double height) {
    (void)want(p, height, 0.0);
    draw_figure(p, handle, (RsvgRectangle){p->width - MARGIN - width, p->y, width, height});
    p->aside = width;
    p->aside_until = p->y + height;
}

/* Beside the figure that was set last, where that leaves room. */
static void put_figure(struct press *p, RsvgHandle *handle, double width, double height) {
    double x = 0.0;
    if (p->beside > 0.0 && p->beside + width <= measure(p) && p->top + height <= bottom(p)) {
        x = measure(p) - width;
        p->y = fmax(p->y, p->top + height);
    } else {
        (void)want(p, height, 0.0);
        p->top = p->y;
        advance(p, height);
    }
    draw_figure(p, handle, (RsvgRectangle){MARGIN + x, p->top, width, height});
    p->beside = x + width;
}

static void set_figure(struct press *p, size_t block) {
    RsvgHandle *handle = p->figures[block];
    double width, height;
    if (!handle || !rsvg_handle_get_intrinsic_size_in_pixels(handle, &width, &height)) {
        p->failed = true;
        return;
    }
    double scale = fmin(FIGURE_WIDTH, measure(p)) / width;
    bool aside = p->paper->blocks[block].kind == PAPER_ASIDE;
    (aside ? put_aside : put_figure)(p, handle, width * scale, height * scale);
}

/* --- the band ------------------------------------------------------------------------------------------------------- */

enum { BAND_TEXT };

/* The width of its longest word, its hyphen with it. */
static double longest_word(struct press *p, const char *text, struct paper_face face) {
    struct base_buffer word;
    double widest = 0.0;
    base_buffer_init(&word, 0);
    while (*text != '\0') {
        size_t n = strcspn(text, " -");
        n += text[n] == '-' ? 1 : 0;
        base_buffer_put(&word, text, n);
        widest = fmax(widest, paper_type_set(&p->type, BAND_TEXT, word.at ? word.at : "", face, 0.0).width);
        base_buffer_clear(&word);
        text += n + strspn(text + n, " ");
    }
    return widest;
}

/* In the largest type in which it fits and no word is broken; cut to one line where not even the smallest does. */
static void set_number(struct press *p, const char *number, double x, double y, double width, double height) {
    static const double sizes[] = {16.0, 14.0, 12.0, 10.5, 9.0, 8.0, 7.0, 6.0, 5.0};
    bool fits = false;
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0] && !fits; i++) {
        const struct paper_face face = {sizes[i], true};
        fits = longest_word(p, number, face) <= width &&
               paper_type_set(&p->type, BAND_TEXT, number, face, width).height <= height;
    }
    if (!fits) {
        paper_type_cut(&p->type, BAND_TEXT, number, (struct paper_face){FOOT_SIZE, true}, width);
    }
    paper_type_show(&p->type, BAND_TEXT, "", x, y, x + width);
}

static void set_square(struct press *p, const struct paper_block *band) {
    const double x = p->width - MARGIN - BAND_SQUARE, pad = 1.0 * MM, inside = BAND_SQUARE - 2.0 * pad;
    const struct paper_face small = {FOOT_LABEL, false};
    paper_type_frame(&p->type, x, MARGIN, BAND_SQUARE, BAND_SQUARE);
    double caption = paper_type_set(&p->type, BAND_TEXT, band->right, small, inside).height;
    paper_type_show(&p->type, BAND_TEXT, "", x + pad, MARGIN + BAND_SQUARE - pad - caption, x + BAND_SQUARE);
    set_number(p, band->text, x + pad, MARGIN + pad, inside, inside - caption);
}

/* Facts in two columns, each with its label above it; a text that is too long is cut, for it stands in the title block, too. */
static void set_band(struct press *p, const struct paper_block *band) {
    const double wide = (p->width - 2.0 * MARGIN - BAND_SQUARE - GUTTER) / 2.0, room = wide - GUTTER;
    begin_tag(p, "P");
    for (size_t i = 0; i + 1 < band->n; i += 2) {
        const char *text = band->cells[i + 1].text;
        const double x = MARGIN + (double)(i / 2 % 2) * wide, y = MARGIN + (double)(i / 4) * BAND_SQUARE / 2.0;
        foot_text(p, band->cells[i].text, FOOT_LABEL, x, y, room);
        const struct paper_face face = {BAND_SIZE, false};
        if (paper_type_set(&p->type, BAND_TEXT, text, face, 0.0).width > room) {
            paper_type_cut(&p->type, BAND_TEXT, text, face, room);
        }
        paper_type_show(&p->type, BAND_TEXT, text, x, y + 3.2 * MM, x + room);
    }
    set_square(p, band);
    end_tag(p, "P");
    p->y = MARGIN + BAND_SQUARE + 3.0 * MM;
}

/* --- all of it ----------------------------------------------------------------------------------------------------- */

static void set_block(struct press *p, size_t i) {
    const struct paper_block *block = &p->paper->blocks[i];
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
    case PAPER_ASIDE:
        set_figure(p, i);
        break;
    case PAPER_BAND:
        set_band(p, block);
        break;
    }
}

/* Sets every page; p->page tells how many there were. */
static void set_all(struct press *p) {
    p->page = 1;
    p->y = MARGIN;
    p->aside_until = 0.0;
    p->fresh = true;
    begin_tag(p, "Document");
    for (size_t i = 0; i < p->paper->n; i++) {
        note_table(p, paper_is_table_row(&p->paper->blocks[i]));
        set_block(p, i);
    }
    note_table(p, false);
    if (p->cairo) {
        title_block(p);
    }
    end_tag(p, "Document");
}

/* How many pages there will be at this size, as far as can be reckoned; it is set so from now on. */
static unsigned reckon(struct press *p, double size) {
    p->size = size;
    set_all(p);
    p->pages = p->page;
    return p->pages;
}

/* Takes the largest size that is reckoned to keep to so many pages, or else the smallest. */
static void fit(struct press *p, unsigned most) {
    double size = p->paper->largest > 0.0 ? p->paper->largest : PAPER_LARGEST;
    while (reckon(p, size) > most && size > p->paper->smallest) {
        size = fmax(size - SIZE_STEP, p->paper->smallest);
    }
}

/* Up to the end of a leaf, where it is not there yet. */
static unsigned one_leaf_more(unsigned pages) { return pages + PAGES_OF_LEAF - pages % PAGES_OF_LEAF; }

/* All pages at p->size, as a PDF behind what out holds. */
static enum base_status print(struct base_buffer *out, struct press *p) {
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(paper_surface_keep, out, p->width, p->height);
    p->cairo = cairo_create(surface);
    paper_surface_describe(surface, p->paper->title, p->paper->author, p->paper->day);
    paper_type_open(&p->type, p->cairo, p->paper->language);
    set_all(p);
    enum base_status status = p->failed ? BASE_SYSTEM : paper_surface_status(cairo_status(p->cairo));
    paper_type_close(&p->type);
    p->type.cairo = NULL; /* from now on it reckons again */
    cairo_destroy(p->cairo);
    p->cairo = NULL;
    cairo_surface_finish(surface);
    status = status == BASE_OK ? paper_surface_status(cairo_surface_status(surface)) : status;
    cairo_surface_destroy(surface);
    return status;
}

/* Prints until it has the pages that it says it has, and no more than it may: what was reckoned may be wrong by a line. Where not
 * even the smallest size fits its pages it may take a leaf more, and is set larger again. */
static enum base_status print_fitting(struct base_buffer *out, struct press *p) {
    unsigned most = p->paper->pages_max == 0 ? UINT_MAX : p->paper->pages_max;
    while (reckon(p, p->paper->smallest) > most) {
        most = one_leaf_more(most);
    }
    fit(p, most);
    for (;;) {
        struct base_buffer pdf;
        base_buffer_init(&pdf, 0);
        enum base_status status = print(&pdf, p);
        bool done = status != BASE_OK || (p->page <= most && p->page == p->pages);
        if (done) {
            base_buffer_put(out, pdf.at ? pdf.at : "", pdf.n);
        }
        base_buffer_clear(&pdf);
        if (done) {
            return status;
        }
        if (p->page <= most) {
            p->pages = p->page;
        } else if (p->size > p->paper->smallest) {
            p->size = fmax(p->size - SIZE_STEP, p->paper->smallest);
        } else {
            most = one_leaf_more(most);
            fit(p, most);
        }
    }
}

/* The figures of the blocks, read once; NULL where one can't be read. */
static RsvgHandle **open_figures(const struct paper *paper) {
    RsvgHandle **figures = base_arena_alloc(paper->arena, paper->n, sizeof *figures);
    for (size_t i = 0; figures && i < paper->n; i++) {
        struct base_slice svg = paper->blocks[i].svg;
        figures[i] = svg.n > 0 ? rsvg_handle_new_from_data((const guint8 *)svg.at, svg.n, NULL) : NULL;
    }
    return figures;
}

enum base_status paper_pdf(struct base_buffer *out, const struct paper *paper, enum paper_size size) {
    struct press p = {.paper = paper,
                      .figures = open_figures(paper),
                      .width = size == PAPER_A4 ? 210.0 * MM : 8.5 * 72.0,
                      .height = size == PAPER_A4 ? 297.0 * MM : 11.0 * 72.0};
    if (!p.figures) {
        return BASE_NO_MEMORY;
    }
    enum base_status status = print_fitting(out, &p);
    for (size_t i = 0; i < paper->n; i++) {
        if (p.figures[i]) {
            g_object_unref(p.figures[i]);
        }
    }
    return status == BASE_OK ? paper->status : status;
}
