/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_shared.h"
#include "app/wear.h"

#include "mech/chain.h"

#include <math.h>

#define NAME_COLUMN 8
#define REASON_COLUMN 24
#define PERCENT_DECIMALS 2

static struct explain_arg percent(double value, enum base_known known) {
    return explain_known(value, PERCENT_DECIMALS, "%", known);
}

static struct explain_arg limit_of(const struct app_wear *wear) { return percent(wear->limit_percent, BASE_TABLE); }

/* --- the answer ---------------------------------------------------------------------------------------------------- */

static void put_answer(struct app_page *page, const struct app_wear *wear) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    struct explain_arg worn = percent(wear->worn_percent, wear->known);
    if (wear->chain.code) {
        explain_tell(&text, "worn.chain-seen", explain_code(wear->chain.code));
    } else if (wear->chain.mark == EXPLAIN_MEASURE) {
        explain_say(&text, "worn.chain-open");
    } else if (wear->chain.mark == EXPLAIN_OFF) {
        explain_tell(&text, "worn.chain-goes", worn, limit_of(wear));
    } else {
        bool half = wear->new_sprockets.mark == EXPLAIN_DRAWBACK;
        explain_tell(&text, half ? "worn.chain-half" : "worn.chain-good", worn, limit_of(wear));
    }
    if (wear->too_near) {
        base_buffer_text(&text, " ");
        explain_tell(&text, "worn.too-near", percent(wear->band_percent, BASE_MEASURED));
    }
    app_end_paragraph(page, &text);
}

static void put_measures(struct app_page *page, const struct app_wear *wear) {
    struct explain_arg as_new = explain_number(wear->new_mm, 1, "mm"), gone = explain_number(wear->limit_mm, 1, "mm");
    app_lay_blank(page, 1);
    if (isnan(wear->worn_percent)) {
        app_fact(page, "worn.label-rule", "worn.rule-open", as_new, gone);
    } else {
        app_fact(page, "worn.label-rule", "worn.rule", explain_number(wear->over_mm, 1, "mm"), as_new, gone);
    }
}

/* Each limit once, with the classes that have it: only where the class of this chain is open. */
static void put_classes(struct app_page *page, const struct app_wear *wear) {
    const char *label = "worn.label-class";
    double told = INFINITY;
    while (wear->family < 0) {
        double next = -INFINITY;
        for (size_t i = 0; i < trade_chains_n; i++) {
            double here = trade_chains[i].worn_percent;
            next = here < told && here > next ? here : next;
        }
        if (isinf(next)) {
            break;
        }
        struct base_buffer text;
        base_buffer_init(&text, 0);
        explain_tell(&text, "worn.class", percent(next, BASE_TABLE),
                     explain_number(mech_chain_worn_mm(next, APP_WEAR_PITCHES), 1, "mm"));
        const char *between = " ";
        for (size_t i = 0; i < trade_chains_n; i++) {
            if (!(trade_chains[i].worn_percent > next) && !(trade_chains[i].worn_percent < next)) {
                base_buffer_text(&text, between);
                between = ", ";
                base_buffer_text(
                    &text, trade_domain_rows[TRADE_DOMAIN_CHAIN_FAMILY].words[trade_chains[i].chain_family].label);
            }
        }
        app_end_fact(page, APP_FACT, label, &text);
        label = NULL;
        told = next;
    }
}

/* --- what may stay ------------------------------------------------------------------------------------------------- */

static void put_row(struct app_page *page, const struct app_worn *worn, enum explain_mark mark, const char *name) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    app_worn_reason(&text, worn);
    app_lay_to(page, APP_BODY);
    app_lay_tile(page, mark);
    app_lay_at(page, NAME_COLUMN, name);
    app_lay_to(page, REASON_COLUMN);
    app_lay_wrapped(page, REASON_COLUMN, APP_LAST_COLUMN, app_held(page, &text), NULL);
    base_buffer_clear(&text);
}

static void put_rows(struct app_page *page, const struct app_wear *wear) {
    bool try_it = false;
    if (wear->n > 0) {
        app_lay_blank(page, 1);
        app_put_paragraph(page, "worn.under-new", NULL, 0);
    }
    for (size_t i = 0; i < wear->n; i++) {
        put_row(page, &wear->under_new[i], wear->under_new[i].mark, trade_slot_rows[wear->under_new[i].slot].label);
        try_it = try_it || wear->under_new[i].mark == EXPLAIN_DRAWBACK;
    }
    if (!isnan(wear->worn_percent)) {
        app_lay_blank(page, 1);
        app_put_paragraph(page, "worn.under-old", NULL, 0);
        enum explain_mark mark = wear->new_sprockets.mark;
        mark = mark == EXPLAIN_OFF ? EXPLAIN_CLASH : mark == EXPLAIN_STAYS ? EXPLAIN_NEW : mark;
        put_row(page, &wear->new_sprockets, mark, explain_message("worn.new-sprockets"));
    }
    if (try_it) {
        app_lay_blank(page, 1);
        app_put_paragraph(page, "worn.try", NULL, 0);
    }
}

void app_text_wear(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                   const struct app_wear *wear) {
    struct app_page page = app_page_on(out, style);
    app_title(&page, bike, NULL);
    app_question(&page, "worn.question");
    put_answer(&page, wear);
    put_measures(&page, wear);
    put_classes(&page, wear);
    put_rows(&page, wear);
    app_lay_open(&page, &wear->open);
}
