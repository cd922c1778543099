/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_shared.h"
#include "app/torque.h"
#include "work/operations.h"

#include <math.h>
#include <string.h>

#define WHAT_LAST 44 /* what is tightened ends here, */
#define TORQUE_LAST 56
#define HAND_COLUMN 59
#define PRELOAD_LAST 79
#define N_IN_KN 1000.0

static void put_torque(struct base_buffer *text, const struct app_torque *torque, const char *unit) {
    bool told = !isnan(torque->maker_nm);
    if (isnan(torque->low_nm)) {
        explain_say(text, "torque.as-marked");
    } else {
        explain_range(text, torque->low_nm, torque->high_nm, unit,
                      told ? BASE_MEASURED : work_torque_known(torque->row));
    }
}

/* In whole kilonewtons from ten on, in tenths below: friction leaves no more of it. */
static double shown_kn(double n) {
    double kn = n / N_IN_KN;
    return kn >= 10 ? round(kn) : round(kn * 10) / 10;
}

static void put_preload(struct base_buffer *text, const struct app_torque *torque, const char *unit) {
    if (!isnan(torque->low_n)) {
        explain_range(text, shown_kn(torque->low_n), shown_kn(torque->high_n), unit, BASE_ASSUMED);
    }
}

static void lay_right(struct app_page *page, size_t last, struct base_buffer *text) {
    app_lay_right(page, last, app_held(page, text));
    base_buffer_clear(text);
}

/* --- the table ----------------------------------------------------------------------------------------------------- */

static void put_row(struct app_page *page, const struct app_torque *torque) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    app_lay_at(page, APP_BODY + 2, torque->row->what);
    put_torque(&text, torque, "");
    lay_right(page, TORQUE_LAST, &text);
    if (torque->row->hand == TRADE_HAND_LEFT) {
        app_lay_at(page, HAND_COLUMN, explain_message("torque.left"));
    }
    put_preload(&text, torque, "");
    if (text.n > 0) {
        lay_right(page, PRELOAD_LAST, &text);
    }
    base_buffer_clear(&text);
    app_lay_end(page);
}

/* The torques of one operation under its name. */
static void put_operation(struct app_page *page, const struct app_torque *torques, size_t n, const char *name,
                          const char *label) {
    bool begun = false;
    for (size_t i = 0; i < n; i++) {
        if (strcmp(torques[i].row->operation, name) != 0) {
            continue;
        }
        if (!begun) {
            app_lay_blank(page, 1);
            app_lay_paragraph(page, label);
            begun = true;
        }
        put_row(page, &torques[i]);
    }
}

void app_text_torques(struct base_buffer *out, const struct app_style *style, const struct app_torque *torques,
                      size_t n) {
    struct app_page page = app_page_on(out, style);
    app_question(&page, "torque.question");
    app_put_paragraph(&page, "torque.first", NULL, 0);
    app_lay_blank(&page, 1);
    app_lay_right(&page, TORQUE_LAST, explain_message("torque.head-nm"));
    app_lay_right(&page, PRELOAD_LAST, explain_message("torque.head-kn"));
    app_lay_end(&page);
    for (size_t i = 0; i < trade_operations_n; i++) {
        put_operation(&page, torques, n, trade_operation_rows[i].name, trade_operation_rows[i].label);
    }
    app_lay_blank(&page, 1);
    app_paragraph(&page, "torque.preload", explain_number(100 * torques[0].scatter_share, 0, "%"));
    app_lay_blank(&page, 1);
    app_put_paragraph(&page, "torque.names", NULL, 0);
}

/* --- one of them --------------------------------------------------------------------------------------------------- */

static void put_answer(struct app_page *page, const struct app_torque *torque) {
    struct base_buffer text, range;
    base_buffer_init(&text, 0);
    base_buffer_init(&range, 0);
    put_torque(&range, torque, explain_message("unit.nm"));
    explain_tell(&text,
                 isnan(torque->maker_nm) ? isnan(torque->low_nm) ? "torque.marked" : "torque.guide" : "torque.maker",
                 explain_buffered(&range));
    base_buffer_clear(&range);
    if (app_torque_unusual(torque)) {
        explain_range(&range, torque->row->low_nm, torque->row->high_nm, explain_message("unit.nm"),
                      work_torque_known(torque->row));
        base_buffer_text(&text, " ");
        explain_tell(&text, "torque.unusual", explain_buffered(&range));
        base_buffer_clear(&range);
    }
    app_end_paragraph(page, &text);
}

static void put_fact(struct app_page *page, const char *label, const char *what) {
    if (what && what[0] != '\0') {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        base_buffer_text(&text, what);
        app_end_fact(page, APP_FACT, label, &text);
    }
}

static void put_screws(struct app_page *page, const struct app_torque *torque) {
    const struct trade_torques_row *row = torque->row;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (row->thread[0] != '\0' && row->screws > 0) {
        explain_tell(&text, "torque.screws", explain_words(row->thread), explain_spelt((int64_t)row->screws),
                     explain_count((int64_t)row->screws));
        app_end_fact(page, APP_FACT, "torque.label-thread", &text);
    }
    put_preload(&text, torque, explain_message("unit.kn"));
    if (text.n > 0) {
        base_buffer_text(&text, " ");
        explain_tell(&text, "torque.friction",
                     explain_words(trade_domain_rows[TRADE_DOMAIN_SURFACE]
                                       .words[row->surface < 0 ? TRADE_SURFACE_UNKNOWN : row->surface]
                                       .label),
                     explain_known(torque->factor, 2, "", BASE_TABLE),
                     explain_number(100 * torque->scatter_share, 0, "%"));
        app_end_fact(page, APP_FACT, "torque.label-preload", &text);
    }
    base_buffer_clear(&text);
}

void app_text_torque(struct base_buffer *out, const struct app_style *style, const struct app_torque *torque) {
    struct app_page page = app_page_on(out, style);
    const struct trade_torques_row *row = torque->row;
    struct base_buffer what;
    base_buffer_init(&what, 0);
    explain_put_capital(&what, row->what);
    app_lay_heading(&page, app_held(&page, &what), NULL);
    base_buffer_clear(&what);
    put_answer(&page, torque);
    app_lay_blank(&page, 1);
    if (row->hand >= 0) {
        const struct trade_word_row *hand = &trade_domain_rows[TRADE_DOMAIN_HAND].words[row->hand];
        app_fact(&page, "torque.label-hand", "torque.hand", explain_words(hand->label), explain_words(hand->note));
    }
    put_screws(&page, torque);
    put_fact(&page, "torque.label-note", row->note);
    put_fact(&page, "torque.label-sources", row->source);
    put_fact(&page, "torque.label-differ", row->disputed);
    put_fact(&page, "torque.label-friction", isnan(torque->low_n) ? NULL : torque->friction_source);
    app_lay_blank(&page, 1);
    app_put_paragraph(&page, "torque.caution", NULL, 0);
}
