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
    if (path->toothed) {
        app_lay_blank(&page, 1);
        app_paragraph(&page, "path.polygon", explain_number(path->polygon_links, 3, ""));
    }
}

/* --- a rear suspension --------------------------------------------------------------------------------------------- */

static void put_suspension_answer(struct app_page *page, const struct app_suspension *s) {
    const struct app_suspension_row *rest = &s->gears[0].rest, *far = &s->gears[0].full;
    double growth = far->chain.stay_mm - rest->chain.stay_mm, kick = mech_degrees(far->chain.kick_held_rad);
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
                 explain_number(rest->chain.anti_squat_percent, 0, "%"),
                 explain_number(far->chain.anti_squat_percent, 0, "%"));
    app_end_paragraph(page, &text);
}

/* --- old gear against new, in the rider's words -------------------------------------------------------------------- */

/* How a figure changes, as far as a rider feels it. */
static enum { LESS, SAME, MORE } change_of(double now, double then, enum trade_limit felt) {
    double by = then - now;
    return fabs(by) < trade_limits[felt].value ? SAME : by > 0 ? MORE : LESS;
}

static void put_squat(struct base_buffer *text, double now, double then, double sag_mm, enum base_known sag_known) {
    static const char *const codes[] = {"pedalling.sinks-more", "pedalling.same", "pedalling.sinks-less"};
    explain_tell(text, codes[change_of(now, then, TRADE_LIMIT_SQUAT_FELT_PERCENT)],
                 explain_known(then, 0, "%", sag_known), explain_known(now, 0, "%", sag_known),
                 explain_known(sag_mm, 0, "mm", sag_known));
}

/* How far the pedals turn back is told with its sign in words: forward is no kick. */
static void put_kick(struct base_buffer *text, double now_deg, double then_deg, double travel_mm) {
    static const char *const codes[] = {"pedalling.kicks-less", "pedalling.kicks-same", "pedalling.kicks-more"};
    explain_tell(text, codes[change_of(now_deg, then_deg, TRADE_LIMIT_KICK_FELT_DEG)], explain_number(then_deg, 1, "°"),
                 explain_number(now_deg, 1, "°"), explain_number(travel_mm, 0, "mm"));
}

void app_pedalling_sentences(struct base_buffer *text, const struct app_suspension_gear *now,
                             const struct app_suspension_gear *then, double sag_mm, enum base_known sag_known) {
    explain_tell(text, "pedalling.gears", explain_count(now->drive.ring), explain_count(now->drive.sprocket),
                 explain_count(then->drive.ring), explain_count(then->drive.sprocket));
    base_buffer_text(text, " ");
    put_squat(text, now->sag.chain.anti_squat_percent, then->sag.chain.anti_squat_percent, sag_mm, sag_known);
    if (then->full.state.travel_mm > 0) {
        base_buffer_text(text, " ");
        put_kick(text, mech_degrees(now->full.chain.kick_held_rad), mech_degrees(then->full.chain.kick_held_rad),
                 then->full.state.travel_mm);
    }
    if (then->drive.idler_teeth > 0) {
        base_buffer_text(text, " ");
        explain_say(text, "pedalling.idler");
    }
}

/* --- tables -------------------------------------------------------------------------------------------------------- */

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

static void put_table(struct app_page *page, const struct app_suspension *s, const struct app_suspension_gear *gear) {
    static const char *const heads[] = {"suspension.head-travel", "suspension.head-x",    "suspension.head-y",
                                        "suspension.head-stay",   "suspension.head-run",  "suspension.head-held",
                                        "suspension.head-rolls",  "suspension.head-squat"};
    static const char *const units[] = {"suspension.mm", "suspension.mm",  "suspension.mm",  "suspension.mm",
                                        "suspension.mm", "suspension.deg", "suspension.deg", "suspension.percent"};
    static const size_t last[] = {9, 18, 27, 36, 45, 54, 63, 74};
    app_lay_blank(page, 1);
    if (s->n_gears > 1) {
        app_paragraph(page, gear == s->gears ? "suspension.gear-now" : "suspension.gear-new",
                      explain_count(gear->drive.ring), explain_count(gear->drive.sprocket));
    }
    put_heads(page, heads, last, sizeof last / sizeof last[0]);
    put_heads(page, units, last, sizeof last / sizeof last[0]);
    for (size_t i = 0; i < s->given->n; i++) {
        put_row(page, &gear->rows[i], last);
    }
}

static void put_longest(struct app_page *page, const struct app_suspension *s) {
    const struct app_suspension_gear *gear = &s->gears[s->n_gears - 1];
    if (!s->moves) {
        return;
    }
    app_lay_blank(page, 1);
    app_paragraph(page, "suspension.longest", explain_number(s->longest_stay_mm, 1, "mm"),
                  explain_number(s->longest_mm, 1, "mm"), explain_number(gear->longest_links, 2, ""),
                  explain_number(gear->longest_mm, 1, "mm"), explain_count(gear->drive.ring),
                  explain_count(gear->drive.sprocket),
                  explain_number(gear->longest_links - gear->rest.loop_links, 2, ""));
}

void app_text_suspension(struct base_buffer *out, const struct app_style *style, const struct app_suspension *s) {
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
    if (s->n_gears > 1) {
        app_lay_blank(&page, 1);
        app_pedalling_sentences(&text, &s->gears[0], &s->gears[1], s->sag_mm, s->sag_known);
        app_end_paragraph(&page, &text);
    }
    for (size_t i = 0; i < s->n_gears; i++) {
        put_table(&page, s, &s->gears[i]);
    }
    put_longest(&page, s);
    app_lay_blank(&page, 1);
    app_put_paragraph(&page, "suspension.neglected", NULL, 0);
}
