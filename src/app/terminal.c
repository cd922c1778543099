/* SPDX-License-Identifier: Apache-2.0 */
#include "app/terminal.h"

#include "explain/message.h"
#include "explain/wrap.h"

#include <string.h>

struct app_page app_page_on(struct base_buffer *out, const struct app_style *style) {
    return (struct app_page){.out = out, .style = *style};
}

/* --- signs where the place is not UTF-8 ---------------------------------------------------------------------------- */

static const char *plain_sign(struct base_slice character) {
    static const struct {
        const char *sign, *plain;
    } signs[] = {
        {"\xe2\x80\x93", "-"},  {"\xe2\x80\x94", "-"},  {"\xe2\x88\x92", "-"},   {"\xc3\x97", "x"},
        {"\xc2\xb0", " deg"},   {"\xc2\xb7", "."},      {"\xe2\x80\xa6", "..."}, {"\xe2\x8c\x80", "diameter "},
        {"\xc2\xb2", "2"},      {"\xc2\xb3", "3"},      {"\xe2\x80\x98", "'"},   {"\xe2\x80\x99", "'"},
        {"\xe2\x80\x9c", "\""}, {"\xe2\x80\x9d", "\""}, {"\xc2\xbd", "1/2"},     {"\xc2\xa0", " "},
    };
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
        if (base_slice_is(character, signs[i].sign)) {
            return signs[i].plain;
        }
    }
    return "?";
}

/* The text as the page shows it. */
static void put_shown(struct base_buffer *shown, const struct app_page *page, const char *text) {
    struct base_slice rest = base_slice_of(text);
    if (!page->style.plain) {
        base_buffer_slice(shown, rest);
        return;
    }
    while (rest.n > 0) {
        size_t n = base_utf8_character(rest);
        struct base_slice one = {.at = rest.at, .n = n > 0 ? n : 1};
        if (n == 1) {
            base_buffer_slice(shown, one);
        } else {
            base_buffer_text(shown, plain_sign(one));
        }
        rest.at += one.n;
        rest.n -= one.n;
    }
}

size_t app_width(struct app_page *page, const char *text) {
    struct base_buffer shown;
    base_buffer_init(&shown, 0);
    put_shown(&shown, page, text);
    size_t width = base_utf8_length((struct base_slice){.at = shown.at, .n = shown.n});
    if (shown.status != BASE_OK) {
        page->out->status = shown.status;
    }
    base_buffer_clear(&shown);
    return width;
}

/* --- one line ------------------------------------------------------------------------------------------------------ */

void app_lay_to(struct app_page *page, size_t column) {
    if (page->style.paper) {
        page->at = column - 1;
        return;
    }
    for (size_t i = page->at + 1; i < column; i++) {
        base_buffer_char(page->out, ' ');
        page->at++;
    }
}

static void put_slice(struct app_page *page, struct base_slice text) {
    base_buffer_slice(page->out, text);
    page->at += base_utf8_length(text);
    page->begun = true;
}

static void put_text(struct app_page *page, const char *text) {
    struct base_buffer shown;
    base_buffer_init(&shown, 0);
    put_shown(&shown, page, text);
    if (shown.status != BASE_OK) {
        page->out->status = shown.status;
    }
    put_slice(page, (struct base_slice){.at = shown.at, .n = shown.n});
    base_buffer_clear(&shown);
}

/* On a paper: a cell from a column on, or that ends with one. */
static void put_cell(struct app_page *page, size_t column, size_t last, const char *text) {
    paper_add_cell(page->style.paper, (unsigned)column, (unsigned)last, text);
}

void app_lay(struct app_page *page, const char *text) {
    if (page->style.paper) {
        put_cell(page, page->at + 1, APP_LAST_COLUMN, text);
        page->at += app_width(page, text);
        return;
    }
    put_text(page, text);
}

void app_lay_at(struct app_page *page, size_t column, const char *text) {
    if (text[0] == '\0') {
        return;
    }
    if (page->style.paper) {
        put_cell(page, column, APP_LAST_COLUMN, text);
        return;
    }
    app_lay_to(page, page->at > 0 && page->at + 2 > column ? page->at + 2 : column);
    put_text(page, text);
}

void app_lay_right(struct app_page *page, size_t last, const char *text) {
    if (page->style.paper) {
        put_cell(page, 0, last, text);
        return;
    }
    size_t width = app_width(page, text);
    app_lay_at(page, last + 1 > width ? last + 1 - width : 1, text);
}

void app_lay_end(struct app_page *page) {
    if (page->style.paper) {
        paper_end_row(page->style.paper);
        page->at = 0;
        return;
    }
    base_buffer_char(page->out, '\n');
    page->at = 0;
    page->begun = true;
}

void app_lay_blank(struct app_page *page, size_t lines) {
    if (page->style.paper && lines > 0) {
        app_lay_end(page);
        paper_add(page->style.paper, PAPER_GAP, NULL, NULL);
        return;
    }
    while (lines-- > 0) {
        app_lay_end(page);
    }
}

/* --- wrapping ------------------------------------------------------------------------------------------------------ */

static size_t width_of(struct base_slice s) { return base_utf8_length(s); }

/* Bytes of the first `width` characters. */
static size_t bytes_of(struct base_slice s, size_t width) {
    size_t bytes = 0;
    while (width-- > 0 && bytes < s.n) {
        size_t n = base_utf8_character((struct base_slice){.at = s.at + bytes, .n = s.n - bytes});
        bytes += n > 0 ? n : 1;
    }
    return bytes;
}

/* Bytes of the line that fits into width characters at the front of s; *skip: of the blank behind it. What is longer than
 * a line is cut. */
static size_t line_of(struct base_slice s, size_t width, size_t *skip) {
    size_t taken = 0;
    *skip = 0;
    while (taken < s.n) {
        size_t from = taken > 0 ? taken + 1 : 0;
        size_t next = from + explain_unbroken((struct base_slice){.at = s.at + from, .n = s.n - from});
        if (width_of((struct base_slice){.at = s.at, .n = next}) > width) {
            break;
        }
        taken = next;
    }
    if (taken == 0) {
        return bytes_of(s, width);
    }
    *skip = taken < s.n ? 1 : 0;
    return taken;
}

void app_lay_wrapped(struct app_page *page, size_t column, size_t last, const char *text, const char *right) {
    if (page->style.paper) {
        put_cell(page, column, last, text);
        put_cell(page, 0, APP_LAST_COLUMN, right ? right : "");
        app_lay_end(page);
        return;
    }
    struct base_buffer shown;
    base_buffer_init(&shown, 0);
    put_shown(&shown, page, text);
    if (shown.status != BASE_OK) {
        page->out->status = shown.status;
    }
    struct base_slice rest = {.at = shown.at, .n = shown.n};
    do {
        size_t skip;
        if (rest.n > 0) { /* a line never ends with a blank */
            app_lay_to(page, column);
        }
        size_t n = line_of(rest, last > page->at ? last - page->at : 1, &skip);
        put_slice(page, (struct base_slice){.at = rest.at, .n = n});
        if (right && right[0] != '\0') {
            app_lay_right(page, APP_LAST_COLUMN, right);
            right = NULL;
        }
        app_lay_end(page);
        rest.at += n + skip;
        rest.n -= n + skip;
    } while (rest.n > 0);
    base_buffer_clear(&shown);
}

/* The signs are replaced in what was cut off, so that plain text may be a little wider: a degree is four characters. */
void app_lay_cut(struct app_page *page, size_t column, size_t last, struct base_slice *rest) {
    size_t skip = 0;
    if (rest->n == 0) {
        return;
    }
    size_t n = page->style.paper ? rest->n : line_of(*rest, last + 1 - column, &skip);
    struct base_buffer line;
    base_buffer_init(&line, 0);
    base_buffer_put(&line, rest->at, n);
    app_lay_at(page, column, explain_held(page->out, &line));
    base_buffer_clear(&line);
    rest->at += n + skip;
    rest->n -= n + skip;
}

/* --- what a page is made of ---------------------------------------------------------------------------------------- */

static const struct {
    const char *tile;
    const char *colour; /* of the terminal; "" for ink */
} tiles[EXPLAIN_MARKS] = {
    [EXPLAIN_FITS] = {"", ""},           [EXPLAIN_STAYS] = {"[#]", ""},    [EXPLAIN_NEW] = {"[|]", "1;34"},
    [EXPLAIN_ADAPTED] = {"[<]", "1;33"}, [EXPLAIN_OFF] = {"[/]", "1;36"},  [EXPLAIN_MEASURE] = {"[:]", "1;35"},
    [EXPLAIN_CLASH] = {"[X]", "1;31"},   [EXPLAIN_DRAWBACK] = {"[_]", ""},
};

const char *app_tile_of(enum explain_mark mark) { return tiles[mark].tile; }

/* Control sequences take no room. */
static void put_control(struct app_page *page, const char *code) {
    if (page->style.colour && code[0] != '\0') {
        base_buffer_text(page->out, "\x1b[");
        base_buffer_text(page->out, code);
        base_buffer_text(page->out, "m");
    }
}

void app_lay_tile(struct app_page *page, enum explain_mark mark) {
    if (page->style.paper) {
        paper_add_tile(page->style.paper, (unsigned)page->at + 1, mark);
        page->at += strlen(tiles[mark].tile);
        return;
    }
    put_control(page, tiles[mark].colour);
    put_text(page, tiles[mark].tile);
    put_control(page, tiles[mark].colour[0] != '\0' ? "0" : "");
}

void app_lay_heading(struct app_page *page, const char *text, const char *right) {
    if (page->style.paper) {
        paper_add(page->style.paper, page->begun ? PAPER_HEADING : PAPER_TITLE, text, right);
        page->begun = true;
        return;
    }
    size_t beside = right ? app_width(page, right) + 2 : 0;
    if (page->begun) {
        app_lay_blank(page, 2);
    }
    put_control(page, "1");
    if (app_width(page, text) + beside <= APP_LAST_COLUMN) {
        put_text(page, text);
        put_control(page, "0");
        if (right) {
            app_lay_right(page, APP_LAST_COLUMN, right);
        }
        app_lay_end(page);
    } else {
        app_lay_wrapped(page, 1, APP_LAST_COLUMN, text, NULL);
        put_control(page, "0");
        if (right) {
            app_lay_wrapped(page, APP_BODY, APP_LAST_COLUMN, right, NULL);
        }
    }
    app_lay_end(page);
}

void app_lay_group(struct app_page *page, const char *text) {
    if (page->style.paper) {
        paper_add(page->style.paper, PAPER_GROUP, text, NULL);
        return;
    }
    app_lay_paragraph(page, text);
}

void app_lay_small(struct app_page *page, bool small) {
    if (page->style.paper) {
        page->style.paper->small = small;
    }
}

static void lay_figure(struct app_page *page, enum paper_kind kind, struct base_slice svg) {
    if (page->style.paper && svg.n > 0) {
        paper_add_figure(page->style.paper, kind, svg);
    }
}

void app_lay_figure(struct app_page *page, struct base_slice svg) { lay_figure(page, PAPER_FIGURE, svg); }
void app_lay_aside(struct app_page *page, struct base_slice svg) { lay_figure(page, PAPER_ASIDE, svg); }

void app_lay_paragraph(struct app_page *page, const char *text) {
    app_lay_wrapped(page, APP_BODY, APP_LAST_COLUMN, text, NULL);
}

void app_lay_fact(struct app_page *page, size_t column, const char *label, const char *text) {
    app_lay_at(page, APP_BODY, label);
    if (page->at + 2 > column) { /* a label that is too long has a line of its own */
        app_lay_end(page);
    }
    app_lay_wrapped(page, column, APP_LAST_COLUMN, text, NULL);
}

void app_lay_rule(struct app_page *page) {
    if (page->style.paper) {
        return; /* each of its pages has a title block */
    }
    for (size_t i = 0; i < APP_LAST_COLUMN; i++) {
        base_buffer_char(page->out, '-');
    }
    app_lay_end(page);
}
