/* SPDX-License-Identifier: Apache-2.0 */
#include "app/geometry.h"

#include "app/text_shared.h"
#include "mech/constants.h"

#include <math.h>

/* --- tables of numbers --------------------------------------------------------------------------------------------- */

static void put_right(struct app_page *page, size_t last, struct explain_arg arg) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &arg);
    app_lay_right(page, last, text.status == BASE_OK && text.at ? text.at : "");
    base_buffer_clear(&text);
}

static void put_heads(struct app_page *page, const char *const *codes, const size_t *last, size_t n) {
    for (size_t i = 0; i < n; i++) {
        app_lay_right(page, last[i], explain_message(codes[i]));
    }
    app_lay_end(page);
}

/* --- a chain round wheels ------------------------------------------------------------------------------------------ */

void app_text_path(struct base_buffer *out, const struct app_style *style, const struct app_path *path) {
    static const char *const heads[] = {"path.head-wheel", "path.head-teeth", "path.head-radius", "path.head-wrap",
                                        "path.head-run"};
    static const size_t last[] = {8, 16, 28, 42, 62};
    struct app_page page = app_page_on(out, style);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    app_question(&page, "path.question");
    if (path->reason) {
        app_path_reason(&text, path);
        app_end_paragraph(&page, &text);
        return;
    }
    explain_tell(&text, path->toothed ? "path.answer" : "path.answer-bare",
                 explain_number(path->loop.length_mm, 3, "mm"), explain_number(path->loop.links, 3, ""));
    app_end_paragraph(&page, &text);
    app_lay_blank(&page, 1);
    put_heads(&page, heads, last, sizeof last / sizeof last[0]);
    for (size_t i = 0; i < path->wheels->n; i++) {
        put_right(&page, last[0], explain_count((int64_t)i + 1));
        if (path->wheels->teeth[i] > 0) {
            put_right(&page, last[1], explain_count(path->wheels->teeth[i]));
        }
        put_right(&page, last[2], explain_number(path->wheels->at[i].radius_mm, 3, "mm"));
        put_right(&page, last[3], explain_number(mech_degrees(path->loop.wrap_rad[i]), 3, "°"));
        put_right(&page, last[4], explain_number(path->loop.span_mm[i], 3, "mm"));
        app_lay_end(&page);
    }
}

/* --- a rear suspension --------------------------------------------------------------------------------------------- */

/* The travel that tells most: the one farthest from rest, the first of equals. */
static const struct app_suspension_row *farthest(const struct app_suspension *s) {
    size_t most = 0;
    for (size_t i = 1; i < s->given->n; i++) {
        most = fabs(s->given->travel_mm[i]) > fabs(s->given->travel_mm[most]) ? i : most;
    }
    return &s->rows[most];
}

static void put_suspension_answer(struct app_page *page, const struct app_suspension *s) {
    const struct app_suspension_row *far = farthest(s);
    double growth = far->chain.stay_mm - s->rest.chain.stay_mm, kick = mech_degrees(far->chain.kick_held_rad);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (s->moves) {
        explain_tell(&text, growth < 0 ? "suspension.shorter" : "suspension.longer",
                     explain_number(far->state.travel_mm, 0, "mm"), explain_number(fabs(growth), 1, "mm"));
        base_buffer_text(&text, " ");
        explain_tell(&text, kick < 0 ? "suspension.forward" : "suspension.backward",
                     explain_number(fabs(kick), 1, "°"));
        base_buffer_text(&text, " ");
    }
    explain_tell(&text, s->moves ? "suspension.squat" : "suspension.squat-rest",
                 explain_number(s->rest.chain.anti_squat_percent, 0, "%"),
                 explain_number(far->chain.anti_squat_percent, 0, "%"));
    app_end_paragraph(page, &text);
}

static void put_row(struct app_page *page, const struct app_suspension_row *row, const size_t *last) {
    put_right(page, last[0], explain_number(row->state.travel_mm, 1, ""));
    put_right(page, last[1], explain_number(row->state.axle.x_mm, 1, ""));
    put_right(page, last[2], explain_number(row->state.axle.y_mm, 1, ""));
    put_right(page, last[3], explain_number(row->chain.stay_mm, 1, ""));
    put_right(page, last[4], explain_number(row->chain.span_mm, 1, ""));
    put_right(page, last[5], explain_number(mech_degrees(row->chain.kick_held_rad), 2, ""));
    put_right(page, last[6], explain_number(mech_degrees(row->chain.kick_rolling_rad), 2, ""));
    put_right(page, last[7], explain_number(row->chain.anti_squat_percent, 1, ""));
    app_lay_end(page);
}

void app_text_suspension(struct base_buffer *out, const struct app_style *style, const struct app_suspension *s) {
    static const char *const heads[] = {"suspension.head-travel", "suspension.head-x",    "suspension.head-y",
                                        "suspension.head-stay",   "suspension.head-run",  "suspension.head-held",
                                        "suspension.head-rolls",  "suspension.head-squat"};
    static const char *const units[] = {"suspension.mm", "suspension.mm",  "suspension.mm",  "suspension.mm",
                                        "suspension.mm", "suspension.deg", "suspension.deg", "suspension.percent"};
    static const size_t last[] = {9, 18, 27, 36, 45, 54, 63, 74};
    struct app_page page = app_page_on(out, style);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    app_question(&page, "suspension.question");
    if (s->reason) {
        app_suspension_reason(&text, s);
        app_end_paragraph(&page, &text);
        return;
    }
    put_suspension_answer(&page, s);
    app_lay_blank(&page, 1);
    put_heads(&page, heads, last, sizeof last / sizeof last[0]);
    put_heads(&page, units, last, sizeof last / sizeof last[0]);
    for (size_t i = 0; i < s->given->n; i++) {
        put_row(&page, &s->rows[i], last);
    }
    app_lay_blank(&page, 1);
    if (s->moves) {
        app_paragraph(&page, "suspension.longest", explain_number(s->longest_stay_mm, 1, "mm"),
                      explain_number(s->longest_mm, 1, "mm"));
        app_lay_blank(&page, 1);
    }
    app_put_paragraph(&page, "suspension.neglected", NULL, 0);
}
