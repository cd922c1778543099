/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_plan.h"

#include <string.h>

#define TEXT 22 /* where the text of a row begins */

static const char *counted(const struct explain_counts *counts) {
    if (counts->rings == 0) {
        return counts->sprockets > 0 ? "bike.sprockets" : "bike.nothing-counted";
    }
    return counts->sprockets > 0 ? "bike.rings-and-sprockets" : "bike.rings";
}

static void put_counts(struct app_plan_page *p) {
    struct explain_counts counts = explain_count_bike(p->bike);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, counted(&counts), explain_spelt(counts.rings), explain_spelt((int64_t)counts.sprockets));
    base_buffer_text(&text, " ");
    explain_tell(&text, "bike.parts", explain_count(counts.parts));
    base_buffer_text(&text, ", ");
    explain_tell(&text, p->n_asked > 0 ? "bike.to-measure" : "bike.nothing-to-measure",
                 explain_spelt((int64_t)p->n_asked));
    base_buffer_text(&text, ", ");
    explain_tell(&text, counts.faults > 0 ? "bike.faults" : "bike.no-fault", explain_spelt(counts.faults));
    base_buffer_text(&text, ".");
    app_end_paragraph(&p->page, &text);
}

/* A row from what is known and what is wrong; both buffers are cleared. */
static void put_row(struct app_plan_page *p, const char *label, struct base_buffer *text, struct base_buffer *faults) {
    if (faults->n > 0) {
        base_buffer_text(text, text->n == 0 ? "" : text->at[text->n - 1] == '.' ? " " : ". ");
        base_buffer_text(text, app_held(&p->page, faults));
    } else if (text->n == 0) {
        explain_say(text, "bike.there");
    }
    app_drop_point(text);
    app_lay_fact(&p->page, TEXT, label, app_held(&p->page, text));
    base_buffer_clear(text);
    base_buffer_clear(faults);
}

static void put_rings(struct app_plan_page *p) {
    static const enum trade_slot rings[] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};
    struct base_buffer text, faults;
    base_buffer_init(&text, 0);
    base_buffer_init(&faults, 0);
    explain_rings(&text, p->bike);
    for (size_t i = 0; i < 3; i++) {
        (void)explain_faults(&faults, p->bike, rings[i]);
    }
    if (app_held(&p->page, &text)[0] != '\0') {
        put_row(p, explain_message("slots.rings"), &text, &faults);
    }
    base_buffer_clear(&text);
    base_buffer_clear(&faults);
}

static void text_of(struct base_buffer *text, const struct app_plan_page *p, enum trade_slot slot) {
    explain_fitted(text, p->bike, slot, p->asked, p->n_asked);
}

/* Both brake levers in one row when the same is known of them. */
static bool levers_alike(struct app_plan_page *p) {
    struct base_buffer right, left;
    base_buffer_init(&right, 0);
    base_buffer_init(&left, 0);
    text_of(&right, p, TRADE_SLOT_RIGHT_BRAKE_LEVER);
    text_of(&left, p, TRADE_SLOT_LEFT_BRAKE_LEVER);
    bool alike = p->bike->fitted[TRADE_SLOT_LEFT_BRAKE_LEVER].state == TRADE_THERE &&
                 strcmp(app_held(&p->page, &right), app_held(&p->page, &left)) == 0;
    base_buffer_clear(&right);
    base_buffer_clear(&left);
    return alike;
}

static void put_slot(struct app_plan_page *p, enum trade_slot slot) {
    struct base_buffer text, faults;
    const char *label = explain_slot(slot);
    if (slot == TRADE_SLOT_RIGHT_BRAKE_LEVER && levers_alike(p)) {
        label = explain_message("slots.brake-levers");
    }
    base_buffer_init(&text, 0);
    base_buffer_init(&faults, 0);
    text_of(&text, p, slot);
    (void)explain_faults(&faults, p->bike, slot);
    put_row(p, label, &text, &faults);
}

static void put_fixed(struct app_plan_page *p) {
    struct base_buffer text, none;
    base_buffer_init(&none, 0);
    base_buffer_init(&text, 0);
    explain_frame(&text, p->bike, p->asked, p->n_asked);
    put_row(p, explain_message("bike.frame"), &text, &none);
    explain_wheel(&text, p->bike, p->asked, p->n_asked);
    put_row(p, explain_message("bike.wheel"), &text, &none);
}

static void put_not_looked_at(struct app_plan_page *p) {
    uint32_t slots = explain_not_looked_at(p->bike);
    if (slots != 0) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        explain_slots(&text, slots);
        app_end_fact(&p->page, TEXT, "bike.not-looked-at", &text);
    }
}

/* Is something asked of a part that nobody has looked at? Then it has a row too. */
static bool is_asked(const struct app_plan_page *p, unsigned slot) {
    for (size_t i = 0; i < p->n_asked; i++) {
        if (p->asked[i].subject == slot) {
            return true;
        }
    }
    return false;
}

void app_plan_bike(struct app_plan_page *p) {
    app_question(&p->page, "bike.question");
    put_counts(p);
    app_lay_blank(&p->page, 1);
    put_fixed(p);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        bool ring = s == TRADE_SLOT_OUTER_RING || s == TRADE_SLOT_MIDDLE_RING || s == TRADE_SLOT_INNER_RING;
        bool told = s == TRADE_SLOT_LEFT_BRAKE_LEVER && levers_alike(p);
        if (s == TRADE_SLOT_OUTER_RING) {
            put_rings(p);
        }
        if (!ring && !told && trade_bike_has(p->bike, (enum trade_slot)s) &&
            (p->bike->fitted[s].state == TRADE_THERE || is_asked(p, s))) {
            put_slot(p, (enum trade_slot)s);
        }
    }
    put_not_looked_at(p);
}
