/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_plan.h"

#include "app/rider.h"

#include <string.h>

#define LEFT_LABEL 1
#define LEFT_TEXT 8
#define LEFT_LAST 40
#define RIGHT_LABEL 42
#define RIGHT_TEXT 49
#define NAMED_MOST 6 /* parts that were left out and are named */

/* --- how the answer was found -------------------------------------------------------------------------------------- */

static void put_front(struct app_plan_page *p) {
    struct base_buffer text, objectives;
    base_buffer_init(&text, 0);
    base_buffer_init(&objectives, 0);
    explain_objectives(&objectives, &p->plan->wish);
    if (p->plan->n_ways > p->plan->n_picks) {
        explain_tell(&text, "end.ways", explain_count((int64_t)p->plan->n_ways), explain_buffered(&objectives),
                     explain_spelt((int64_t)p->plan->n_picks));
        base_buffer_text(&text, " ");
    } else if (p->plan->n_picks > 0) {
        explain_tell(&text, "end.all-ways", explain_buffered(&objectives), explain_count((int64_t)p->plan->n_ways));
        base_buffer_text(&text, " ");
    }
    if (p->plan->complete || p->plan->n_ways > 0) {
        explain_tell(&text,
                     p->plan->complete  ? "end.complete"
                     : p->plan->stopped ? "end.stopped"
                                        : "end.cut",
                     explain_count((int64_t)p->plan->question.catalogue->n_all),
                     explain_spelt((int64_t)p->plan->shelf->n_left_out), explain_count((int64_t)p->plan->n_open_gears));
    }
    app_end_paragraph(&p->page, &text);
    base_buffer_clear(&objectives);
}

static void put_left_out(struct app_plan_page *p) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    for (size_t i = 0; i < p->plan->shelf->n_left_out && i < NAMED_MOST; i++) {
        base_buffer_text(&text, i > 0 ? ", " : "");
        explain_tell(&text, "end.left-out-part", explain_words(p->plan->shelf->left_out[i].id),
                     explain_words(trade_property_rows[p->plan->shelf->left_out[i].property].label));
    }
    if (p->plan->shelf->n_left_out > 0) {
        size_t more = p->plan->shelf->n_left_out > NAMED_MOST ? p->plan->shelf->n_left_out - NAMED_MOST : 0;
        app_lay_blank(&p->page, 1);
        app_paragraph(&p->page, more > 0 ? "end.left-out-more" : "end.left-out", explain_buffered(&text),
                      explain_count((int64_t)more));
    }
    base_buffer_clear(&text);
}

/* --- what was assumed ---------------------------------------------------------------------------------------------- */

static void put_assumed_of(struct base_buffer *text, const struct trade_part *part, unsigned subject) {
    const struct trade_kind_row *kind = &trade_kind_rows[part->kind];
    for (size_t i = 0; i < kind->n; i++) {
        enum trade_property property = (enum trade_property)(kind->first + i);
        const struct trade_value *value = trade_get(part, property);
        bool number = trade_property_rows[property].type == TRADE_NUMBER;
        if (value->known != BASE_ASSUMED || !number || !fit_is_read(subject, property)) {
            continue;
        }
        base_buffer_text(text, text->n > 0 ? ", " : "");
        explain_name(text, subject, property);
        base_buffer_text(text, " ");
        explain_value(text, property, value);
    }
}

static void put_assumed(struct app_plan_page *p) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    put_assumed_of(&text, &p->bike->frame, FIT_FRAME);
    put_assumed_of(&text, &p->bike->wheel, FIT_WHEEL);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (trade_bike_has(p->bike, (enum trade_slot)s)) {
            put_assumed_of(&text, &p->bike->fitted[s].part, s);
        }
    }
    if (app_held(&p->page, &text)[0] != '\0') {
        app_lay_blank(&p->page, 1);
        app_paragraph(&p->page, "end.assumed", explain_buffered(&text));
    }
    base_buffer_clear(&text);
}

/* --- the hills of the wish ----------------------------------------------------------------------------------------- */

/* What each asks of the lowest gear, and of which rider. */
static void put_climbs(struct app_plan_page *p) {
    const struct trade_wish *wish = &p->plan->wish;
    struct ride_rider rider;
    if (wish->n_climbs == 0) {
        return;
    }
    app_rider_of(&rider, p->bike);
    struct ride_figure total_kg = ride_rider_total_kg(&rider);
    for (size_t i = 0; i < wish->n_climbs; i++) {
        app_lay_blank(&p->page, 1);
        app_paragraph(&p->page, "end.climb", explain_number(wish->climbs[i].cadence_rpm, 0, "rpm"),
                      explain_gradient(wish->climbs[i].gradient_percent),
                      explain_known(wish->climbs[i].lowest_m_max, 2, "m", wish->climbs[i].known),
                      explain_known(rider.power_w.value, 0, "W", rider.power_w.known),
                      explain_known(total_kg.value, 0, "kg", total_kg.known),
                      explain_known(rider.crr.value, 4, "", rider.crr.known));
    }
}

/* The road on which the ways were scored, and how. */
static void put_road(struct app_plan_page *p) {
    const struct app_road *road = p->shown->road;
    if (!road) {
        return;
    }
    struct ride_figure total_kg = ride_rider_total_kg(&road->rider);
    app_lay_blank(&p->page, 1);
    app_paragraph(&p->page, "end.road", app_length_arg(road->profile.length_m, BASE_MEASURED),
                  app_length_arg(road->profile.climb_m, BASE_MEASURED),
                  explain_known(road->rider.power_w.value, 0, "W", road->rider.power_w.known),
                  explain_known(total_kg.value, 0, "kg", total_kg.known),
                  explain_known(road->habits.least_rpm, 0, "rpm", road->rider.least_rpm.known));
}

/* --- what to do ---------------------------------------------------------------------------------------------------- */

/* The cheapest pick that waits for nothing; n_picks when there is none. */
static size_t cheapest_certain(const struct app_plan_page *p) {
    size_t i = 0;
    while (i < p->plan->n_picks && !app_pick(p, i)->certain) {
        i++;
    }
    return i;
}

/* What the picks wait for, the first one that is to be measured first. */
static void put_asked(struct base_buffer *out, const struct app_plan_page *p) {
    struct base_buffer names[APP_ASKED_MAX];
    const char *words[APP_ASKED_MAX] = {NULL};
    size_t n = 0;
    for (int first = 1; first >= 0; first--) {
        for (size_t i = 0; i < p->n_asked; i++) {
            bool is_first = p->asked[i].subject == p->next.subject && p->asked[i].property == p->next.property;
            if (is_first != (first == 1)) {
                continue;
            }
            struct base_buffer name;
            base_buffer_init(&name, 0);
            base_buffer_init(&names[n], 0);
            explain_name(&name, p->asked[i].subject, p->asked[i].property);
            explain_tell(&names[n], "name.the", explain_buffered(&name));
            base_buffer_clear(&name);
            words[n] = explain_held(out, &names[n]);
            n++;
        }
    }
    explain_put_list(out, words, n, "list.and");
    while (n > 0) {
        base_buffer_clear(&names[--n]);
    }
}

static void put_next(struct app_plan_page *p) {
    struct base_buffer text, name;
    size_t certain = cheapest_certain(p);
    char letter[2] = {app_letter(certain), '\0'};
    base_buffer_init(&text, 0);
    base_buffer_init(&name, 0);
    if (p->plan->n_picks == 0) {
        explain_say(&text, "end.next-wish");
    } else if (!p->next.any) {
        explain_tell(&text, "end.next-agree", explain_count((int64_t)p->plan->n_picks));
    } else {
        put_asked(&name, p);
        explain_tell(&text, "end.next-measure", explain_buffered(&name), explain_count((int64_t)p->n_asked));
        if (certain > 0 && certain < p->plan->n_picks) {
            base_buffer_text(&text, " ");
            explain_tell(&text, "end.next-saves",
                         explain_money(app_pick(p, certain)->values.cost_minor - app_pick(p, 0)->values.cost_minor,
                                       p->plan->question.shop),
                         explain_words(letter), explain_count((int64_t)p->n_asked));
        }
    }
    app_lay_blank(&p->page, 1);
    app_end_paragraph(&p->page, &text);
    base_buffer_clear(&name);
}

/* --- key, caution, title block ------------------------------------------------------------------------------------- */

static void put_key_of_values(struct app_plan_page *p) {
    static const char *const codes[] = {"known.measured", "known.table", "known.assumed", "known.open"};
    static const enum base_known known[] = {BASE_MEASURED, BASE_TABLE, BASE_ASSUMED, BASE_OPEN};
    static const double examples[] = {440, 135, 3.0, 0};
    static const int decimals[] = {0, 0, 1, 0};
    app_lay_to(&p->page, APP_BODY);
    for (size_t i = 0; i < 4; i++) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        struct explain_arg example = explain_known(examples[i], decimals[i], "mm", known[i]);
        explain_put_arg(&text, &example);
        base_buffer_text(&text, " ");
        explain_say(&text, codes[i]);
        if (i > 0) {
            app_lay_to(&p->page, p->page.at + 4);
        }
        app_lay(&p->page, app_held(&p->page, &text));
        base_buffer_clear(&text);
    }
    app_lay_end(&p->page);
}

static void put_key(struct app_plan_page *p) {
    static const enum explain_mark marks[] = {EXPLAIN_STAYS, EXPLAIN_NEW,     EXPLAIN_ADAPTED,
                                              EXPLAIN_OFF,   EXPLAIN_MEASURE, EXPLAIN_DRAWBACK};
    app_lay_blank(&p->page, 1);
    app_lay_to(&p->page, APP_BODY);
    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++) {
        if (i > 0) {
            app_lay_to(&p->page, p->page.at + 3);
        }
        app_lay_tile(&p->page, marks[i]);
        app_lay(&p->page, " ");
        app_lay(&p->page, explain_message(explain_marks[marks[i]].code));
    }
    app_lay_end(&p->page);
    put_key_of_values(p);
}

/* One side of the title block: what is left of the text that stands there. */
struct side {
    const char *label;
    struct base_buffer text;
};

/* On paper one below the other; a side of nothing is none. */
static void put_fact_of(struct app_plan_page *p, struct side *side) {
    if (side->text.n > 0) {
        app_lay_fact(&p->page, APP_FACT, side->label, app_held(&p->page, &side->text));
    }
    base_buffer_clear(&side->text);
}

static void put_block_lines(struct app_plan_page *p, struct side *left, struct side *right) {
    if (p->page.style.paper) {
        put_fact_of(p, left);
        put_fact_of(p, right);
        return;
    }
    struct base_slice l = {.at = left->text.at, .n = left->text.n}, r = {.at = right->text.at, .n = right->text.n};
    for (bool first = true; first || l.n > 0 || r.n > 0; first = false) {
        if (first) {
            app_lay_at(&p->page, LEFT_LABEL, left->label);
        }
        app_lay_cut(&p->page, LEFT_TEXT, LEFT_LAST, &l);
        if (first && r.n > 0) {
            app_lay_at(&p->page, RIGHT_LABEL, right->label);
        }
        app_lay_cut(&p->page, RIGHT_TEXT, APP_LAST_COLUMN, &r);
        app_lay_end(&p->page);
    }
    base_buffer_clear(&left->text);
    base_buffer_clear(&right->text);
}

static struct side side_of(const char *code) {
    struct side side = {.label = explain_message(code)};
    base_buffer_init(&side.text, 0);
    return side;
}

static void put_block(struct app_plan_page *p) {
    struct side bike = side_of("block.bike"), shown = side_of("block.shown"), parts = side_of("block.parts");
    struct side wish = side_of("block.wish"), keep = side_of("block.keep"), none = side_of("block.wish");
    app_lay_blank(&p->page, 2);
    app_lay_rule(&p->page);
    base_buffer_text(&bike.text, p->bike->label);
    explain_wish(&wish.text, p->plan);
    if (wish.text.n == 0) {
        explain_say(&wish.text, "block.no-wish");
    }
    explain_tell(&shown.text, "block.ways", explain_count((int64_t)p->plan->n_picks),
                 explain_count((int64_t)p->plan->n_ways));
    explain_kept(&keep.text, p->plan);
    explain_tell(&parts.text, "block.revision", explain_words(p->shown->shop_label),
                 explain_words(p->plan->question.catalogue->revision));
    put_block_lines(p, &bike, &wish);
    put_block_lines(p, &shown, &keep);
    put_block_lines(p, &parts, &none);
}

void app_plan_end(struct app_plan_page *p) {
    app_lay_blank(&p->page, 2);
    put_front(p);
    put_left_out(p);
    put_climbs(p);
    put_road(p);
    put_assumed(p);
    put_next(p);
    put_key(p);
    app_lay_blank(&p->page, 1);
    app_put_paragraph(&p->page, "end.caution", NULL, 0);
    put_block(p);
}
