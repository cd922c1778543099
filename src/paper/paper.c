/* SPDX-License-Identifier: Apache-2.0 */
#include "paper/paper.h"

#include "draw/svg.h"

#include <string.h>

#define LABEL_COLUMNS 26 /* that a number at a row's front, or its label, takes at most */
#define TILE_COLUMNS 3   /* that a tile takes on a terminal */
#define RULE_LEAST 20    /* underscores; fewer are a gap within a sentence */

void paper_init(struct paper *out, struct base_arena *arena) {
    *out = (struct paper){.arena = arena,
                          .title = "",
                          .author = "",
                          .language = "en",
                          .day = PAPER_NO_DAY,
                          .smallest = PAPER_SMALLEST,
                          .sheet_label = "",
                          .sheet_of = "/"};
}

static const char *keep_bytes(struct paper *paper, const char *bytes, size_t n) {
    char *copy = paper->status == BASE_OK ? base_arena_copy(paper->arena, bytes, n) : NULL;
    if (!copy) {
        paper->status = BASE_NO_MEMORY;
        return "";
    }
    return copy;
}

const char *paper_keep(struct paper *paper, const char *text) {
    return text ? keep_bytes(paper, text, strlen(text)) : "";
}

/* Room for one more; NULL where memory is spent. */
static struct paper_block *push(struct paper *paper, enum paper_kind kind) {
    struct paper_block *blocks = paper->n < paper->room ? paper->blocks
                                                        : base_arena_grow(paper->arena, paper->blocks, paper->n,
                                                                          &paper->room, paper->n + 1, sizeof *blocks);
    if (!blocks) {
        paper->status = BASE_NO_MEMORY;
        return NULL;
    }
    paper->blocks = blocks;
    paper->open = false;
    blocks[paper->n] = (struct paper_block){.kind = kind, .small = paper->small, .text = "", .right = ""};
    return &blocks[paper->n++];
}

void paper_add(struct paper *paper, enum paper_kind kind, const char *text, const char *right) {
    struct paper_block *block = push(paper, kind);
    if (block) {
        block->text = paper_keep(paper, text);
        block->right = paper_keep(paper, right);
    }
}

void paper_add_figure(struct paper *paper, enum paper_kind kind, struct base_slice svg) {
    struct paper_block *block = push(paper, kind);
    if (block) {
        block->svg = (struct base_slice){.at = keep_bytes(paper, svg.at, svg.n), .n = svg.n};
        block->svg.n = paper->status == BASE_OK ? svg.n : 0;
    }
}

void paper_add_band(struct paper *paper, const char *number, const char *what) {
    paper_add(paper, PAPER_BAND, number, what);
}

void paper_add_fact(struct paper *paper, const char *label, const char *text) {
    struct paper_block *band = paper->n > 0 ? &paper->blocks[paper->n - 1] : NULL;
    if (band && band->kind == PAPER_BAND && band->n + 2 <= PAPER_CELLS_MAX) {
        band->cells[band->n++] = (struct paper_cell){.text = paper_keep(paper, label)};
        band->cells[band->n++] = (struct paper_cell){.text = paper_keep(paper, text)};
    }
}

/* Into the row that is open, or a new one. */
static void push_cell(struct paper *paper, struct paper_cell cell) {
    struct paper_block *block = paper->open ? &paper->blocks[paper->n - 1] : push(paper, PAPER_ROW);
    if (block && block->n < PAPER_CELLS_MAX) {
        block->cells[block->n++] = cell;
        paper->open = true;
    }
}

void paper_add_cell(struct paper *paper, unsigned column, unsigned last, const char *text) {
    size_t n = strlen(text), from = strspn(text, " ");
    while (n > from && text[n - 1] == ' ') {
        n--;
    }
    if (n > from) {
        push_cell(paper, (struct paper_cell){
                             .column = column, .last = last, .text = keep_bytes(paper, text + from, n - from)});
    }
}

void paper_add_tile(struct paper *paper, unsigned column, enum explain_mark mark) {
    struct base_buffer svg;
    if (mark == EXPLAIN_FITS) {
        return;
    }
    base_buffer_init(&svg, 0);
    draw_one_tile(&svg, mark);
    struct base_slice tile = {.at = keep_bytes(paper, svg.at ? svg.at : "", svg.n), .n = svg.n};
    paper->status = svg.status != BASE_OK ? svg.status : paper->status;
    base_buffer_clear(&svg);
    push_cell(paper, (struct paper_cell){.column = column, .last = column + TILE_COLUMNS, .text = "", .tile = tile});
}

void paper_end_row(struct paper *paper) { paper->open = false; }

/* --- signs --------------------------------------------------------------------------------------------------------- */

/* Bytes of a box at the front: '[', a blank, and on to the ']'; 0 where there is none. */
static size_t box_of(const char *text) {
    if (text[0] != '[' || text[1] != ' ') {
        return 0;
    }
    size_t n = strcspn(text, "]");
    return text[n] == ']' ? n + 1 : 0;
}

struct paper_mark paper_next_mark(const char *text, size_t from) {
    for (size_t i = from; text[i] != '\0'; i++) {
        size_t box = box_of(text + i), rule = strspn(text + i, "_");
        if (box > 0) {
            return (struct paper_mark){box == sizeof "[ ]" - 1 ? PAPER_TICK : PAPER_BOX, i, box};
        }
        if (rule >= RULE_LEAST && text[i + rule] == '\0') {
            return (struct paper_mark){PAPER_RULE, i, rule};
        }
        i += rule > 0 ? rule - 1 : 0;
    }
    return (struct paper_mark){PAPER_NO_SIGN, strlen(text), 0};
}

bool paper_is_table_row(const struct paper_block *block) {
    size_t right = 0;
    for (size_t i = 0; i < block->n; i++) {
        right += block->cells[i].column == 0 && block->cells[i].last > LABEL_COLUMNS;
    }
    return block->kind == PAPER_ROW && right >= 2;
}
