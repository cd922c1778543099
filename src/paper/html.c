/* SPDX-License-Identifier: Apache-2.0 */
#include "paper/html.h"

#include "explain/message.h"
#include "paper/style.h"

#include <string.h>

#define TILE_EM 3.0   /* of a page's size: narrower cells are signs, wider ones labels */
#define ON_A_PHONE 4  /* values of a row beside each other; more stand below */
#define SIGNS_LEAST 4 /* underscores that are a line to write on, wherever they stand */

/* Text with the signs of markup written out, those of attributes, too. */
static void put_bytes(struct base_buffer *out, const char *text, size_t n) {
    for (size_t i = 0; i < n; i++) {
        const char *sign = text[i] == '"' ? "&quot;" : base_text_markup(text[i]);
        if (sign) {
            base_buffer_text(out, sign);
        } else {
            base_buffer_char(out, text[i]);
        }
    }
}

static void put_escaped(struct base_buffer *out, const char *text) { put_bytes(out, text, strlen(text)); }

/* A sign to be filled in by hand, named for who can't see it; `name` is a message's code, unit "" for none. */
static void put_sign(struct base_buffer *out, const char *kind, const char *name, struct base_slice unit) {
    base_buffer_text(out, "<span class=\"");
    base_buffer_text(out, kind);
    base_buffer_text(out, "\" role=\"img\" aria-label=\"");
    put_escaped(out, explain_message(name));
    base_buffer_text(out, unit.n > 0 ? ", " : "");
    put_bytes(out, unit.at, unit.n);
    base_buffer_text(out, "\">");
    put_bytes(out, unit.at, unit.n);
    base_buffer_text(out, "</span>");
}

/* A box for a value, '[   mm]': its unit stands in it. */
static void put_box(struct base_buffer *out, const char *text, size_t n) {
    size_t from = 1 + strspn(text + 1, " ");
    put_sign(out, "box", "paper.box", (struct base_slice){text + from, from + 1 < n ? n - 1 - from : 0});
}

/* Text between signs. A line to write on may stand before its end, too: in print it can't be of any length there. */
static void put_words(struct base_buffer *out, const char *text, size_t n) {
    size_t from = 0;
    for (size_t i = 0; i < n;) {
        size_t rule = strspn(text + i, "_");
        if (rule >= SIGNS_LEAST) {
            put_bytes(out, text + from, i - from);
            put_sign(out, "rule", "paper.rule", (struct base_slice){"", 0});
            from = i + rule;
        }
        i += rule > 0 ? rule : 1;
    }
    put_bytes(out, text + from, n - from);
}

static void put_text(struct base_buffer *out, const char *text) {
    size_t from = 0;
    for (;;) {
        struct paper_mark mark = paper_next_mark(text, from);
        put_words(out, text + from, mark.at - from);
        switch (mark.sign) {
        case PAPER_NO_SIGN:
            return;
        case PAPER_TICK:
            put_sign(out, "tick", "paper.tick", (struct base_slice){"", 0});
            break;
        case PAPER_BOX:
            put_box(out, text + mark.at, mark.n);
            break;
        case PAPER_RULE:
            put_sign(out, "rule", "paper.rule", (struct base_slice){"", 0});
            break;
        }
        from = mark.at + mark.n;
    }
}

static void put_heading(struct base_buffer *out, const char *tag, const struct paper_block *block) {
    base_buffer_char(out, '<');
    base_buffer_text(out, tag);
    base_buffer_text(out, "><span>");
    put_text(out, block->text);
    base_buffer_text(out, "</span>");
    if (block->right[0] != '\0') {
        base_buffer_text(out, " <span>");
        put_text(out, block->right);
        base_buffer_text(out, "</span>");
    }
    base_buffer_text(out, "</");
    base_buffer_text(out, tag);
    base_buffer_text(out, ">\n");
}

/* --- rows ---------------------------------------------------------------------------------------------------------- */

/* What a cell is, and how wide, in em of the page, so that small rows stand under the others; 0: as wide as it comes out. */
struct role {
    const char *name;
    double width, indent;
};

static double em_of(double columns) { return columns > 0.0 ? PAPER_EM * columns : 0.0; }

/* Columns from a cell's beginning to that of the next, or to the row's own. A cell without a column ends with its last one: a
 * number before the text, or a sum behind it. */
static struct role role_of(const struct paper_block *row, size_t i) {
    const struct paper_cell *cell = &row->cells[i], *next = i + 1 < row->n ? &row->cells[i + 1] : NULL;
    struct role role = {.name = "rest", .indent = i == 0 ? em_of((double)cell->column - PAPER_BODY) : 0.0};
    if (cell->column == 0 && cell->last <= PAPER_COLUMNS / 2) {
        role.name = "count";
        role.width = em_of((double)cell->last + 1.0 - PAPER_BODY);
    } else if (cell->column == 0) {
        role.name = "sum";
    } else if (next && next->column > 0) {
        role.width = em_of((double)next->column - cell->column) - 0.5;
        bool is_value = paper_next_mark(cell->text, 0).sign == PAPER_BOX;
        role.name = cell->tile.n > 0 ? "tile" : is_value ? "value" : role.width < TILE_EM ? "sign" : "label";
    }
    return role;
}

static void put_property(struct base_buffer *out, const char *name, double em) {
    if (em > 0.0) {
        base_buffer_text(out, name);
        base_buffer_fixed(out, em, 2);
        base_buffer_text(out, "rem");
    }
}

static void put_cell(struct base_buffer *out, const struct paper_cell *cell, struct role role) {
    base_buffer_text(out, "<span class=\"");
    base_buffer_text(out, role.name);
    if (role.width > 0.0 || role.indent > 0.0) {
        base_buffer_text(out, "\" style=\"");
        put_property(out, "--w:", role.width);
        base_buffer_text(out, role.width > 0.0 && role.indent > 0.0 ? ";" : "");
        put_property(out, "--i:", role.indent);
    }
    base_buffer_text(out, "\">");
    put_text(out, cell->text);
    base_buffer_slice(out, cell->tile);
    base_buffer_text(out, "</span>");
}

static void put_row(struct base_buffer *out, const struct paper_block *row) {
    bool labelled = false;
    for (size_t i = 0; i < row->n; i++) {
        labelled = labelled || strcmp(role_of(row, i).name, "label") == 0;
    }
    base_buffer_text(out, "<div class=\"row");
    base_buffer_text(out, labelled ? " labelled" : "");
    base_buffer_text(out, row->small ? " small\">" : "\">");
    for (size_t i = 0; i < row->n; i++) {
        put_cell(out, &row->cells[i], role_of(row, i));
    }
    base_buffer_text(out, "</div>\n");
}

/* --- tables -------------------------------------------------------------------------------------------------------- */

/* The middle of a cell in its row, in half columns. */
static int64_t place_of(const struct paper_cell *cell) {
    int64_t n = (int64_t)base_utf8_length(base_slice_of(cell->text));
    return cell->column > 0 ? 2 * (int64_t)cell->column + n : 2 * (int64_t)cell->last - n;
}

static int64_t apart(int64_t a, int64_t b) { return a > b ? a - b : b - a; }

/* The cell of the widest row under which cell i of a row stands, from `from` on; those behind it find a place, too. */
static size_t under(const struct paper_block *widest, const struct paper_block *row, size_t i, size_t from) {
    const int64_t place = place_of(&row->cells[i]);
    size_t nearest = from;
    for (size_t k = from; k + (row->n - i) <= widest->n; k++) {
        if (apart(place_of(&widest->cells[k]), place) < apart(place_of(&widest->cells[nearest]), place)) {
            nearest = k;
        }
    }
    return nearest;
}

/* Roles are told, too: a page that sets a row as a grid, as ours does on a phone, would lose them. */
static void put_table_cell(struct base_buffer *out, const struct paper_cell *cell, bool is_head, bool is_label) {
    base_buffer_text(out, is_head    ? "<th role=\"columnheader\" scope=\"col\""
                          : is_label ? "<th role=\"rowheader\" scope=\"row\""
                                     : "<td role=\"cell\"");
    base_buffer_text(out, cell->column > 0 && !is_label ? " class=\"left\">" : ">");
    put_text(out, cell->text);
    base_buffer_slice(out, cell->tile);
    base_buffer_text(out, is_head || is_label ? "</th>" : "</td>");
}

static void put_empty_cells(struct base_buffer *out, size_t n) {
    while (n-- > 0) {
        base_buffer_text(out, "<td role=\"cell\"></td>");
    }
}

/* A row whose cells stand under those of the widest one of its table; what it lacks is empty. */
static void put_table_row(struct base_buffer *out, const struct paper_block *row, const struct paper_block *widest,
                          bool is_head) {
    size_t filled = 0;
    base_buffer_text(out, "<tr role=\"row\">");
    for (size_t i = 0; i < row->n; i++) {
        size_t at = under(widest, row, i, filled);
        put_empty_cells(out, at - filled);
        put_table_cell(out, &row->cells[i], is_head, i == 0 && row->cells[0].column > 0);
        filled = at + 1;
    }
    put_empty_cells(out, widest->n - filled);
    base_buffer_text(out, "</tr>\n");
}

static void put_span(struct base_buffer *out, const char *text) {
    base_buffer_text(out, "<span>");
    put_text(out, text);
    base_buffer_text(out, "</span>");
}

static void put_band(struct base_buffer *out, const struct paper_block *band) {
    base_buffer_text(out, "<div class=\"band\"><dl>");
    for (size_t i = 0; i + 1 < band->n; i += 2) {
        base_buffer_text(out, "<div><dt>");
        put_span(out, band->cells[i].text);
        base_buffer_text(out, "</dt><dd>");
        put_span(out, band->cells[i + 1].text);
        base_buffer_text(out, "</dd></div>");
    }
    base_buffer_text(out, "</dl><div class=\"number\"><b>");
    put_span(out, band->text);
    base_buffer_text(out, "</b>");
    put_span(out, band->right);
    base_buffer_text(out, "</div></div>\n");
}

static size_t n_values(const struct paper_block *row) { return row->n - (row->cells[0].column > 0 ? 1 : 0); }

/* The block behind the table that begins with block `from`: its rows, and those behind a gap with as many values. */
static size_t end_of_table(const struct paper *paper, size_t from) {
    const struct paper_block *at = paper->blocks;
    size_t i = from;
    while (i < paper->n && (paper_is_table_row(&at[i]) ||
                            (at[i].kind == PAPER_GAP && i + 1 < paper->n && paper_is_table_row(&at[i + 1]) &&
                             n_values(&at[i + 1]) == n_values(&at[from])))) {
        i++;
    }
    return i;
}

/* The first of the rows with most cells; a gap has none. */
static const struct paper_block *widest_of(const struct paper *paper, size_t from, size_t end) {
    const struct paper_block *widest = &paper->blocks[from];
    for (size_t i = from; i < end; i++) {
        widest = paper->blocks[i].n > widest->n ? &paper->blocks[i] : widest;
    }
    return widest;
}

/* The block behind the head: the rows without a label at the front; in a table without labels the first. */
static size_t end_of_head(const struct paper *paper, size_t from, size_t end) {
    size_t i = from;
    while (i < end && paper->blocks[i].kind == PAPER_ROW && paper->blocks[i].cells[0].column == 0) {
        i++;
    }
    return i == end ? from + 1 : i;
}

/* The block behind the table. */
static size_t put_table(struct base_buffer *out, const struct paper *paper, size_t from) {
    const size_t end = end_of_table(paper, from);
    const struct paper_block *widest = widest_of(paper, from, end);
    const size_t head = end_of_head(paper, from, end);
    base_buffer_text(out, "<table role=\"table\" style=\"--n:");
    base_buffer_int(out, (int64_t)(n_values(widest) < ON_A_PHONE ? n_values(widest) : ON_A_PHONE));
    base_buffer_text(out, head > from ? "\">\n<thead role=\"rowgroup\">\n" : "\">\n<tbody role=\"rowgroup\">\n");
    for (size_t i = from; i < end; i++) {
        if (paper->blocks[i].kind == PAPER_GAP) {
            base_buffer_text(out, "</tbody>\n<tbody role=\"rowgroup\">\n");
            continue;
        }
        put_table_row(out, &paper->blocks[i], widest, i < head);
        base_buffer_text(out, i + 1 == head ? "</thead>\n<tbody role=\"rowgroup\">\n" : "");
    }
    base_buffer_text(out, "</tbody>\n</table>\n");
    return end;
}

/* --- figures ------------------------------------------------------------------------------------------------------- */

/* Figures of one kind have the same ids; in a page each has its own, by the block that it is. */
static void put_svg(struct base_buffer *out, struct base_slice svg, size_t number) {
    static const char *const before[] = {" id=\"", " aria-labelledby=\"", " aria-describedby=\""};
    size_t from = 0;
    for (size_t i = 0; i < svg.n; i++) {
        for (size_t k = 0; k < sizeof before / sizeof before[0]; k++) {
            size_t n = strlen(before[k]);
            if (n <= svg.n - i && memcmp(svg.at + i, before[k], n) == 0) {
                base_buffer_put(out, svg.at + from, i + n - from);
                base_buffer_char(out, 'f');
                base_buffer_int(out, (int64_t)number);
                base_buffer_char(out, '-');
                from = i + n;
            }
        }
    }
    base_buffer_put(out, svg.at + from, svg.n - from);
}

static void put_figure(struct base_buffer *out, const struct paper_block *block, size_t number) {
    base_buffer_text(out, block->kind == PAPER_ASIDE ? "<figure class=\"aside\">" : "<figure>");
    put_svg(out, block->svg, number);
    base_buffer_text(out, "</figure>\n");
}

static void put_block(struct base_buffer *out, const struct paper_block *block, size_t number) {
    switch (block->kind) {
    case PAPER_TITLE:
        put_heading(out, "h1", block);
        break;
    case PAPER_HEADING:
        put_heading(out, "h2", block);
        break;
    case PAPER_GROUP:
        put_heading(out, "h3", block);
        break;
    case PAPER_ROW:
        put_row(out, block);
        break;
    case PAPER_GAP:
        base_buffer_text(out, "<div class=\"gap\"></div>\n");
        break;
    case PAPER_FIGURE:
    case PAPER_ASIDE:
        put_figure(out, block, number);
        break;
    case PAPER_BAND:
        put_band(out, block);
        break;
    }
}

/* --- the page ------------------------------------------------------------------------------------------------------ */

static void put_head(struct base_buffer *out, const struct paper *paper) {
    base_buffer_text(out, "<!DOCTYPE html>\n<html lang=\"");
    put_escaped(out, paper->language);
    base_buffer_text(out, "\">\n<head>\n<meta charset=\"utf-8\"/>\n"
                          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>");
    put_escaped(out, paper->title);
    base_buffer_text(out, "</title>\n<meta name=\"author\" content=\"");
    put_escaped(out, paper->author);
    base_buffer_text(out, "\"/>\n<style>\n");
    paper_style(out, paper);
    base_buffer_text(out, "</style>\n</head>\n<body>\n<main>\n");
}

static void put_foot(struct base_buffer *out, const struct paper *paper) {
    base_buffer_text(out, "</main>\n<footer>\n<dl>\n");
    for (size_t i = 0; i < paper->n_foot; i++) {
        base_buffer_text(out, "<div><dt>");
        put_escaped(out, paper->foot[i].label);
        base_buffer_text(out, "</dt><dd>");
        put_escaped(out, paper->foot[i].text);
        base_buffer_text(out, "</dd></div>\n");
    }
    base_buffer_text(out, "</dl>\n</footer>\n</body>\n</html>\n");
}

void paper_html(struct base_buffer *out, const struct paper *paper) {
    put_head(out, paper);
    for (size_t i = 0; i < paper->n;) {
        if (paper_is_table_row(&paper->blocks[i])) {
            i = put_table(out, paper, i);
        } else {
            put_block(out, &paper->blocks[i], i);
            i++;
        }
    }
    put_foot(out, paper);
}
