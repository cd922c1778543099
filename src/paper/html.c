/* SPDX-License-Identifier: Apache-2.0 */
#include "paper/html.h"

#include <string.h>

static const char style[] =
    "body{max-width:46em;margin:1em auto;padding:0 1em;background:#f7f4ec;color:#10141c;"
    "font:18px/1.35 'DejaVu Sans',Verdana,system-ui,sans-serif;font-variant-numeric:tabular-nums}\n"
    "h1,h2{display:flex;justify-content:space-between;gap:1em}\n"
    "h1{font-size:1.35em;margin:.2em 0}h2{font-size:1.1em;margin:1.2em 0 .4em}h3{font-size:1em;margin:.8em 0 .2em}\n"
    ".row{position:relative;display:flex;gap:.5em;margin:.15em 0}.row span{flex:none}.row .rest{flex:1 1 "
    "0;min-width:0}\n"
    ".small{font-size:.87em}.gap{height:.5em}\n"
    "table{border-collapse:collapse;width:100%}td{padding:.1em 0 .1em .8em;text-align:right}\n"
    "td:first-child{padding-left:0;text-align:left}\n"
    ".tick,.box{display:inline-block;border:1px solid;height:1em;vertical-align:-.15em}.tick{width:1em}\n"
    ".box{min-width:4em;padding:0 .3em;text-align:right;height:1.3em}\n"
    ".rule{flex:1;border-bottom:1px solid;display:inline-block;min-width:14em;width:60%}\n"
    "figure{margin:.6em 0;max-width:26em}figure svg{width:100%;height:auto}\n"
    "@media (min-width:50em),print{.aside{float:right;width:23em;margin-left:1.5em}}\n"
    "footer{display:flex;flex-wrap:wrap;border:1px solid;margin-top:1.5em;font-size:.8em}\n"
    "footer div{flex:1 1 auto;border-right:1px solid;padding:.2em .5em}footer small{display:block}\n"
    "@media print{body{background:#fff;color:#000;font-size:10pt;max-width:none;margin:0;padding:0}\n"
    "h2,h3{break-after:avoid}.row,figure,tr{break-inside:avoid}}\n"
    ".band{display:flex;gap:1em}.band dl{flex:1;display:grid;grid-template-columns:1fr 1fr;margin:0}.band "
    "dt{font-size:.7em}\n"
    ".band dd{margin:0}.number{width:20mm;height:20mm;border:1px "
    "solid;padding:1mm;box-sizing:border-box;font-size:.6em;"
    "overflow-wrap:anywhere;overflow:hidden}.number b{display:block;font-size:1.5em}\n"
    "@page{margin:12mm}\n";

/* Text with the signs of markup written out. */
static void put_bytes(struct base_buffer *out, const char *text, size_t n) {
    for (size_t i = 0; i < n; i++) {
        switch (text[i]) {
        case '&':
            base_buffer_text(out, "&amp;");
            break;
        case '<':
            base_buffer_text(out, "&lt;");
            break;
        case '>':
            base_buffer_text(out, "&gt;");
            break;
        case '"':
            base_buffer_text(out, "&quot;");
            break;
        default:
            base_buffer_char(out, text[i]);
        }
    }
}

/* What stands in a box, without its brackets and blanks: its unit. */
static void put_box(struct base_buffer *out, const char *text, size_t n) {
    size_t from = 1 + strspn(text + 1, " ");
    base_buffer_text(out, "<span class=\"box\">");
    if (from + 1 < n) {
        put_bytes(out, text + from, n - 1 - from);
    }
    base_buffer_text(out, "</span>");
}

static void put_text(struct base_buffer *out, const char *text) {
    size_t from = 0;
    for (;;) {
        struct paper_mark mark = paper_next_mark(text, from);
        put_bytes(out, text + from, mark.at - from);
        switch (mark.sign) {
        case PAPER_NO_SIGN:
            return;
        case PAPER_TICK:
            base_buffer_text(out, "<span class=\"tick\"></span>");
            break;
        case PAPER_BOX:
            put_box(out, text + mark.at, mark.n);
            break;
        case PAPER_RULE:
            base_buffer_text(out, "<span class=\"rule\"></span>");
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

static double width_em(double columns) { return columns > 0.0 ? PAPER_EM * columns : 0.0; }

/* Columns from a cell's beginning to that of the next, or to the row's own. */
static void put_cell(struct base_buffer *out, const struct paper_block *row, size_t i) {
    const struct paper_cell *cell = &row->cells[i], *next = i + 1 < row->n ? &row->cells[i + 1] : NULL;
    bool fills = cell->column > 0 && (!next || next->column == 0);
    base_buffer_text(out, fills ? "<span class=\"rest\"" : "<span");
    double columns = next && next->column > cell->column ? (double)next->column - cell->column : 0.0;
    double indent = i == 0 && cell->column > PAPER_BODY ? (double)cell->column - PAPER_BODY : 0.0;
    if (!fills && columns > 0.0 && cell->column > 0) {
        base_buffer_text(out, " style=\"width:");
        base_buffer_fixed(out, width_em(columns) - 0.5, 2);
        base_buffer_text(out, "em");
    } else if (cell->column == 0 && cell->last <= PAPER_COLUMNS / 2) {
        base_buffer_text(out, " style=\"text-align:right;width:");
        base_buffer_fixed(out, width_em((double)cell->last + 1.0 - PAPER_BODY), 2);
        base_buffer_text(out, "em");
    } else {
        base_buffer_text(out, " style=\"");
    }
    if (indent > 0.0) {
        base_buffer_text(out, ";margin-left:");
        base_buffer_fixed(out, width_em(indent), 2);
        base_buffer_text(out, "em");
    }
    base_buffer_text(out, "\">");
    put_text(out, cell->text);
    base_buffer_slice(out, cell->tile);
    base_buffer_text(out, "</span>");
}

static void put_row(struct base_buffer *out, const struct paper_block *row) {
    base_buffer_text(out, row->small ? "<div class=\"row small\">" : "<div class=\"row\">");
    for (size_t i = 0; i < row->n; i++) {
        put_cell(out, row, i);
    }
    base_buffer_text(out, "</div>\n");
}

/* A row of a table; a label that is left out is an empty cell. */
static void put_table_row(struct base_buffer *out, const struct paper_block *row) {
    base_buffer_text(out, row->cells[0].column == 0 ? "<tr><td></td>" : "<tr>");
    for (size_t i = 0; i < row->n; i++) {
        base_buffer_text(out, "<td>");
        put_text(out, row->cells[i].text);
        base_buffer_text(out, "</td>");
    }
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

static void put_block(struct base_buffer *out, const struct paper_block *block) {
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
        base_buffer_text(out, block->kind == PAPER_ASIDE ? "<figure class=\"aside\">" : "<figure>");
        base_buffer_slice(out, block->svg);
        base_buffer_text(out, "</figure>\n");
        break;
    case PAPER_BAND:
        put_band(out, block);
        break;
    }
}

/* --- the page ------------------------------------------------------------------------------------------------------ */

static void put_head(struct base_buffer *out, const struct paper *paper) {
    base_buffer_text(out, "<!DOCTYPE html>\n<html lang=\"");
    put_bytes(out, paper->language, strlen(paper->language));
    base_buffer_text(out, "\">\n<head>\n<meta charset=\"utf-8\"/>\n"
                          "<meta name=\"viewport\" content=\"width=device-width\"/>\n<title>");
    put_bytes(out, paper->title, strlen(paper->title));
    base_buffer_text(out, "</title>\n<meta name=\"author\" content=\"");
    put_bytes(out, paper->author, strlen(paper->author));
    base_buffer_text(out, "\"/>\n<style>\n");
    base_buffer_text(out, style);
    base_buffer_text(out, "</style>\n</head>\n<body>\n");
}

static void put_foot(struct base_buffer *out, const struct paper *paper) {
    base_buffer_text(out, "<footer>\n");
    for (size_t i = 0; i < paper->n_foot; i++) {
        base_buffer_text(out, "<div><small>");
        put_bytes(out, paper->foot[i].label, strlen(paper->foot[i].label));
        base_buffer_text(out, "</small>");
        put_bytes(out, paper->foot[i].text, strlen(paper->foot[i].text));
        base_buffer_text(out, "</div>\n");
    }
    base_buffer_text(out, "</footer>\n</body>\n</html>\n");
}

void paper_html(struct base_buffer *out, const struct paper *paper) {
    bool in_table = false;
    put_head(out, paper);
    for (size_t i = 0; i < paper->n; i++) {
        bool is_table = paper_is_table_row(&paper->blocks[i]);
        if (is_table != in_table) {
            base_buffer_text(out, is_table ? "<table>\n" : "</table>\n");
        }
        in_table = is_table;
        (is_table ? put_table_row : put_block)(out, &paper->blocks[i]);
    }
    base_buffer_text(out, in_table ? "</table>\n" : "");
    put_foot(out, paper);
}
