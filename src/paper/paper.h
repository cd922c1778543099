/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What is to be printed, as a list of blocks: headings, rows of cells, figures. The same list becomes a PDF (pdf.h) and a
 * page of HTML (html.h), so that both say the same in the same order.
 *
 * Cells stand at columns, as on a terminal of PAPER_COLUMNS characters; a column is PAPER_EM of the type's size wide, so that
 * the same page comes out in any size. Three signs in a text are drawn: '[ ]' is a box to tick, '[   mm]' a box for a value,
 * and a run of underscores at its end a line to write on.
 */
#ifndef PAPER_PAPER_H
#define PAPER_PAPER_H

#include "base/arena.h"
#include "base/text.h"
#include "explain/words.h"

#define PAPER_COLUMNS 79
#define PAPER_BODY 4  /* the column at which a column of the paper begins */
#define PAPER_EM 0.56 /* mean width of a character of DejaVu Sans, of its size: 0.5 to 0.6 by text */
#define PAPER_CELLS_MAX 12
#define PAPER_FOOT_MAX 7

enum paper_kind {
    PAPER_TITLE,   /* text, and at the right side `right`: what this is */
    PAPER_HEADING, /* text, and at the right side `right`; kept with what follows */
    PAPER_GROUP,   /* a lesser heading */
    PAPER_ROW,     /* cells */
    PAPER_GAP,     /* half a line */
    PAPER_FIGURE,  /* svg */
    PAPER_ASIDE,   /* svg, to the right of what follows */
    PAPER_BAND /* before all else: cells that are labels, each with its text behind it, and at the right side a square with
                      `text`, a number to call it by, and `right`, what that number is */
};

struct paper_cell {
    unsigned column;  /* where its text begins, from 1; 0: it ends with `last` */
    unsigned last;    /* the last column that it may take; above PAPER_COLUMNS / 2 it is counted from the right side */
    const char *text; /* in the paper's arena */
    struct base_slice tile; /* SVG of 16 × 16 units in place of a text; empty: none */
};

struct paper_block {
    enum paper_kind kind;
    bool small;               /* an explanation: set smaller */
    const char *text, *right; /* "" for none */
    struct base_slice svg;    /* of a figure */
    size_t n;                 /* cells */
    struct paper_cell cells[PAPER_CELLS_MAX];
};

struct paper_foot {
    const char *label, *text; /* "" where nobody said */
};

struct paper {
    struct base_arena *arena; /* owns all that is shown */
    const char *title, *author, *language;
    int32_t day;     /* that it is dated, as base/date.h counts; PAPER_NO_DAY: none */
    double smallest; /* points of running text at the least, so that it can be read where it is used */
    unsigned
        pages_max; /* it is set smaller until it fits, down to `smallest`, then it takes the rest of its leaf, or a leaf more; 0: any number */
    double largest; /* points that it is set in at most; 0: PAPER_LARGEST */
    bool fills;     /* its columns fill the width of the page however small the type: for tables */
    struct paper_foot foot[PAPER_FOOT_MAX]; /* the title block of each page */
    size_t n_foot;
    const char *sheet_label; /* its last cell: 'sheet', with 'n of m' under it */
    const char *sheet_of;    /* 'of' */
    struct paper_block *blocks;
    size_t n, room;
    bool open;               /* the last block is a row that takes more cells */
    bool small;              /* so is what is added */
    enum base_status status; /* BASE_NO_MEMORY once memory was spent; what is added then is lost */
};

#define PAPER_NO_DAY INT32_MIN
#define PAPER_LARGEST 12.0 /* points, of running text */
#define PAPER_SMALLEST 8.0 /* where a paper says nothing else */

/* An empty paper in one column whose texts the arena will own. */
void paper_init(struct paper *out, struct base_arena *arena);

/* A block; texts are copied, NULL is "". */
void paper_add(struct paper *paper, enum paper_kind kind, const char *text, const char *right);
/* A figure, PAPER_FIGURE or PAPER_ASIDE; its bytes are copied. */
void paper_add_figure(struct paper *paper, enum paper_kind kind, struct base_slice svg);
/* A band, and its cells two by two. */
void paper_add_band(struct paper *paper, const char *number, const char *what);
void paper_add_fact(struct paper *paper, const char *label, const char *text);
/* A cell of the row that is open, or of a new one. Blank at both ends is left out; a cell of nothing is none. */
void paper_add_cell(struct paper *paper, unsigned column, unsigned last, const char *text);
/* The same for the tile of a mark; nothing for EXPLAIN_FITS. */
void paper_add_tile(struct paper *paper, unsigned column, enum explain_mark mark);
/* Ends the row that is open. */
void paper_end_row(struct paper *paper);

/* A copy of a text in the paper's arena; "" and paper->status where memory is spent. */
const char *paper_keep(struct paper *paper, const char *text);

/* The signs of a text that are drawn: a box, ticked or for a value, from byte `at` on, n bytes; a rule from `at` to the end. */
enum paper_sign { PAPER_NO_SIGN, PAPER_TICK, PAPER_BOX, PAPER_RULE };
struct paper_mark {
    enum paper_sign sign;
    size_t at, n;
};
/* The first one from byte `from` on; PAPER_NO_SIGN behind the last. */
struct paper_mark paper_next_mark(const char *text, size_t from);

/* Is it a row of a table: a label and two cells or more that end with their columns? */
bool paper_is_table_row(const struct paper_block *block);

#endif
