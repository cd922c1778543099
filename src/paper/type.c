/* SPDX-License-Identifier: Apache-2.0 */
#include "paper/type.h"

#include "draw/extents.h"
#include "explain/wrap.h"

#include <math.h>
#include <string.h>

#define FAMILY "DejaVu Sans, Droid Sans Fallback"
#define LINE 1.164 /* height of a line of DejaVu Sans, of its size: ascent and descent of its table hhea */
#define THIN 0.5   /* width of a line, points */
#define NO_BREAK "\xc2\xa0"

void paper_type_open(struct paper_type *out, cairo_t *cairo, const char *language) {
    *out = (struct paper_type){.cairo = cairo};
    for (size_t i = 0; i < PAPER_TEXTS_MAX; i++) {
        PangoLayout *layout = pango_cairo_create_layout(cairo);
        pango_context_set_language(pango_layout_get_context(layout), pango_language_from_string(language));
        pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
        out->layouts[i] = layout;
    }
}

void paper_type_close(struct paper_type *type) {
    for (size_t i = 0; i < PAPER_TEXTS_MAX; i++) {
        g_object_unref(type->layouts[i]);
    }
}

/* --- what is set --------------------------------------------------------------------------------------------------- */

/* The text with its boxes kept whole, their brackets left to be drawn, and a rule at its end cut off. */
static void put_set(struct base_buffer *out, const char *text) {
    size_t from = 0;
    for (;;) {
        struct paper_mark mark = paper_next_mark(text, from);
        base_buffer_put(out, text + from, mark.at - from);
        if (mark.sign == PAPER_NO_SIGN || mark.sign == PAPER_RULE) {
            base_buffer_text(out, mark.sign == PAPER_RULE ? NO_BREAK : "");
            return;
        }
        for (size_t i = 0; i < mark.n; i++) {
            char c = text[mark.at + i];
            if (c == ' ' || c == '[' || c == ']') {
                base_buffer_text(out, NO_BREAK);
            } else {
                base_buffer_char(out, c);
            }
        }
        from = mark.at + mark.n;
    }
}

/* A break could be taken within it: at a blank, or behind the dash of a range. */
static bool could_break(struct base_slice s) {
    for (size_t i = 0; i < s.n; i++) {
        if (s.at[i] == ' ' || (unsigned char)s.at[i] == 0xe2) {
            return true;
        }
    }
    return false;
}

/* What the terminal keeps on one line stays on one here: numbers with their units; and ranges. */
static void keep_whole(PangoLayout *layout, struct base_slice text) {
    PangoAttrList *list = pango_attr_list_new();
    for (size_t from = 0; from < text.n;) {
        struct base_slice rest = {.at = text.at + from, .n = text.n - from};
        struct base_slice whole = {.at = rest.at, .n = explain_unbroken(rest)};
        if (could_break(whole)) {
            PangoAttribute *kept = pango_attr_allow_breaks_new(FALSE);
            kept->start_index = (guint)from;
            kept->end_index = (guint)(from + whole.n);
            pango_attr_list_insert(list, kept);
        }
        from += whole.n + 1;
    }
    pango_layout_set_attributes(layout, list);
    pango_attr_list_unref(list);
}

/* --- reckoned ------------------------------------------------------------------------------------------------------ */

static struct paper_extent reckon(struct base_slice text, struct paper_face face, double width) {
    const struct draw_font *font = face.bold ? &draw_bold : &draw_regular;
    const double blank = draw_text_width(font, base_slice_of(" "), face.size);
    double line = 0.0, widest = 0.0, lines = 1.0;
    for (size_t from = 0; from < text.n;) {
        struct base_slice rest = {.at = text.at + from, .n = text.n - from};
        struct base_slice whole = {.at = rest.at, .n = explain_unbroken(rest)};
        double wide = draw_text_width(font, whole, face.size);
        bool breaks = width > 0.0 && line > 0.0 && line + blank + wide > width;
        lines += breaks ? 1.0 : 0.0;
        line = breaks || line <= 0.0 ? wide : line + blank + wide;
        if (width > 0.0 && line > width) { /* longer than a line: cut where it ends */
            lines += floor(line / width);
            line = fmod(line, width);
        }
        widest = fmax(widest, line);
        from += whole.n + 1;
    }
    return (struct paper_extent){widest, lines * LINE * face.size};
}

/* --- set ----------------------------------------------------------------------------------------------------------- */

static void set_font(PangoLayout *layout, struct paper_face face) {
    PangoFontDescription *font = pango_font_description_from_string(FAMILY);
    pango_font_description_set_weight(font, face.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font, face.size * PANGO_SCALE);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
}

static struct paper_extent lay_out(PangoLayout *layout, struct base_slice text, struct paper_face face, double width) {
    int wide, high;
    pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_NONE);
    pango_layout_set_height(layout, -1);
    set_font(layout, face);
    pango_layout_set_width(layout, width > 0.0 ? (int)(width * PANGO_SCALE) : -1);
    pango_layout_set_text(layout, text.at, (int)text.n);
    keep_whole(layout, text);
    pango_layout_get_size(layout, &wide, &high);
    return (struct paper_extent){(double)wide / PANGO_SCALE, (double)high / PANGO_SCALE};
}

struct paper_extent paper_type_set(struct paper_type *type, size_t i, const char *text, struct paper_face face,
                                   double width) {
    struct base_buffer set;
    base_buffer_init(&set, 0);
    put_set(&set, text);
    const struct base_slice slice = {.at = set.at ? set.at : "", .n = set.n};
    struct paper_extent extent =
        type->cairo ? lay_out(type->layouts[i], slice, face, width) : reckon(slice, face, width);
    base_buffer_clear(&set);
    return extent;
}

void paper_type_cut(struct paper_type *type, size_t i, const char *text, struct paper_face face, double width) {
    PangoLayout *layout = type->layouts[i];
    if (type->cairo) {
        (void)lay_out(layout, base_slice_of(text), face, width);
        pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
        pango_layout_set_height(layout, 0);
    }
}

/* --- ink ----------------------------------------------------------------------------------------------------------- */

void paper_type_frame(const struct paper_type *type, double x, double y, double width, double height) {
    if (type->cairo) {
        cairo_set_line_width(type->cairo, THIN);
        cairo_rectangle(type->cairo, x, y, width, height);
        cairo_stroke(type->cairo);
    }
}

static PangoRectangle place_of(PangoLayout *layout, size_t at) {
    PangoRectangle place;
    pango_layout_index_to_pos(layout, (int)at, &place);
    return place;
}

static void draw_rule(cairo_t *cairo, double left, double right, double y) {
    cairo_set_line_width(cairo, THIN);
    cairo_move_to(cairo, left, y);
    cairo_line_to(cairo, right, y);
    cairo_stroke(cairo);
}

/* The boxes and rules of a text whose upper left corner is (x, y). */
static void draw_signs(const struct paper_type *type, PangoLayout *layout, const char *text, double x, double y,
                       double right) {
    size_t added = 0; /* bytes that the set text has more so far */
    for (struct paper_mark mark = paper_next_mark(text, 0); mark.sign != PAPER_NO_SIGN;
         mark = paper_next_mark(text, mark.at + mark.n)) {
        PangoRectangle first = place_of(layout, mark.at + added);
        double left = x + (double)first.x / PANGO_SCALE, top = y + (double)first.y / PANGO_SCALE;
        double line = (double)first.height / PANGO_SCALE;
        if (mark.sign == PAPER_RULE) {
            draw_rule(type->cairo, left, right, top + 0.85 * line);
            return;
        }
        for (size_t i = 0; i < mark.n; i++) {
            added += strchr(" []", text[mark.at + i]) != NULL;
        }
        PangoRectangle last = place_of(layout, mark.at + mark.n + added - 2);
        double end = x + (double)(last.x + last.width) / PANGO_SCALE;
        double tall = mark.sign == PAPER_TICK ? end - left : 0.92 * line;
        paper_type_frame(type, left, top + (line - tall) / 2.0, end - left, tall);
    }
}

void paper_type_show(const struct paper_type *type, size_t i, const char *text, double x, double y, double right) {
    if (type->cairo) {
        cairo_move_to(type->cairo, x, y);
        pango_cairo_show_layout(type->cairo, type->layouts[i]);
        draw_signs(type, type->layouts[i], text, x, y, right);
    }
}
