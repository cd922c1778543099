/* SPDX-License-Identifier: Apache-2.0 */
#include "app/work.h"

#include "app/text_shared.h"
#include "base/number.h"
#include "explain/bench.h"
#include "explain/bike.h"
#include "explain/path.h"
#include "explain/value.h"
#include "explain/way.h"
#include "fit/small_parts.h"
#include "trade/vocabulary.h"

#include <math.h>
#include <string.h>

#define NUMBER_LAST 5 /* a step's number ends here, */
#define TICK 7        /* its box stands here */
#define STEP 11       /* and what is done here */
#define WORKSHOP_BOX "[          ]"

struct sheet_page {
    struct app_page page;
    const struct app_work *work;
};

/* A buffer's text from a column on; it is empty then. */
static void lay(struct app_page *page, size_t column, struct base_buffer *text) {
    app_lay_wrapped(page, column, APP_LAST_COLUMN, app_held(page, text), NULL);
    base_buffer_clear(text);
}

/* An open value that is written in by hand: '[      mm]'. */
static void put_box(struct base_buffer *out, const char *unit) {
    base_buffer_text(out, "[      ");
    base_buffer_text(out, unit);
    base_buffer_char(out, ']');
}

/* --- head ---------------------------------------------------------------------------------------------------------- */

/* '36/22 T with 11–36': rings from the outside, and the sprockets. */
static void put_gearing(struct base_buffer *out, const struct fit_build *build) {
    bool any = false;
    for (unsigned s = TRADE_SLOT_OUTER_RING; s <= TRADE_SLOT_INNER_RING; s++) {
        double teeth = build->at[s].part ? trade_get_number(build->at[s].part, TRADE_RING_TEETH) : (double)NAN;
        if (!isnan(teeth)) {
            base_buffer_text(out, any ? "/" : "");
            base_buffer_int(out, (int64_t)teeth);
            any = true;
        }
    }
    base_buffer_text(out, any ? " T, " : "");
    const struct trade_part *cassette = build->at[TRADE_SLOT_CASSETTE].part;
    if (!cassette || !explain_sprocket_range(out, cassette)) {
        explain_say(out, "work.sprockets-open");
    }
}

static void put_head(struct sheet_page *p) {
    const struct app_work *w = p->work;
    const struct work_minutes *minutes = &w->sheet.minutes;
    struct base_buffer text, then;
    base_buffer_init(&text, 0);
    base_buffer_init(&then, 0);
    explain_tell(&text, "work.way", explain_words(w->letter));
    app_title(&p->page, w->question.bike, app_held(&p->page, &text));
    base_buffer_clear(&text);
    app_question(&p->page, "work.question");
    app_paragraph(
        &p->page, w->sheet.least ? "work.answer" : "work.answer-table", explain_count((int64_t)w->sheet.steps.n),
        explain_number((double)base_round(minutes->charged), 0, "min"), explain_number(floor(minutes->low), 0, ""),
        explain_number(ceil(minutes->high), 0, "min"), explain_spelt(w->sheet.cost.turns));
    app_lay_blank(&p->page, 1);
    put_gearing(&text, &w->plan->now);
    put_gearing(&then, &w->way->build);
    app_fact(&p->page, "work.label-from", "work.from-to", explain_buffered(&text), explain_buffered(&then));
    if (!w->of_job) {
        app_fact(&p->page, "work.label-job", "work.job", explain_words(WORKSHOP_BOX));
        app_fact(&p->page, "work.label-call", "work.call", explain_words(WORKSHOP_BOX));
    }
    base_buffer_clear(&text);
    base_buffer_clear(&then);
}

/* --- what spoils the job; parts; tools ------------------------------------------------------------------------------ */

static void put_red(struct sheet_page *p) {
    struct base_buffer facts[EXPLAIN_RED_MAX];
    size_t n = explain_red(facts, &p->work->red);
    if (n == 0) {
        return;
    }
    app_question(&p->page, "work.red");
    for (size_t i = 0; i < n; i++) {
        app_lay_at(&p->page, APP_BODY, "//");
        lay(&p->page, APP_BODY + 3, &facts[i]);
    }
}

/* What lies on the shelf, with a box to tick; on paper behind its slot, on a terminal in a column of its own. */
static void put_shelf_row(struct sheet_page *p, const char *slot, struct base_buffer *text) {
    struct base_buffer named;
    base_buffer_init(&named, 0);
    app_lay_at(&p->page, APP_BODY, "[ ]");
    if (p->page.style.paper) {
        explain_tell(&named, "work.shelf-part", explain_words(slot), explain_buffered(text));
        lay(&p->page, APP_BODY + 4, &named);
        base_buffer_clear(text);
    } else {
        app_lay_at(&p->page, APP_BODY + 4, slot);
        lay(&p->page, APP_PART, text);
    }
    base_buffer_clear(&named);
}

static void put_shelf_part(struct sheet_page *p, enum trade_slot slot) {
    const struct trade_part *part = p->work->way->build.at[slot].part;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_part(&text, part);
    base_buffer_text(&text, "; ");
    base_buffer_text(&text, part->id);
    if (part->stock == 0) {
        base_buffer_text(&text, ", ");
        explain_say(&text, "work.to-order");
    }
    put_shelf_row(p, explain_slot(slot), &text);
}

static void put_shelf(struct sheet_page *p) {
    struct base_buffer small;
    base_buffer_init(&small, 0);
    app_question(&p->page, "work.shelf");
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (p->work->way->build.at[s].kind == FIT_NEW) {
            put_shelf_part(p, (enum trade_slot)s);
        }
    }
    explain_small_parts(&small, fit_small_parts(p->work->question.bike, &p->work->way->build));
    if (small.n > 0) {
        put_shelf_row(p, explain_message("work.small-parts"), &small);
    }
    base_buffer_clear(&small);
}

static void put_tools(struct sheet_page *p) {
    uint64_t all = 0;
    app_question(&p->page, "work.tools");
    for (size_t i = 0; i < p->work->sheet.steps.n; i++) {
        all |= trade_bench_rows[p->work->sheet.steps.at[i]].tools;
    }
    for (unsigned group = 0; group < TRADE_TOOL_GROUP_COUNT; group++) {
        uint64_t of_group = 0;
        struct base_buffer text;
        for (unsigned t = 0; t < TRADE_TOOLS; t++) {
            of_group |= trade_tool_rows[t].group == group ? UINT64_C(1) << t : 0;
        }
        base_buffer_init(&text, 0);
        explain_tools(&text, all & of_group);
        if (text.n > 0) {
            app_lay_at(&p->page, APP_BODY, trade_word_label(TRADE_DOMAIN_TOOL_GROUP, group));
            lay(&p->page, p->page.style.paper ? APP_FACT : APP_PART, &text);
        }
        base_buffer_clear(&text);
    }
}

/* --- still to measure ----------------------------------------------------------------------------------------------- */

/* What was assumed of the bike. */
static const struct trade_value *value_of(const struct sheet_page *p, const struct work_ask *ask) {
    const struct trade_bike *bike = p->work->question.bike;
    const struct trade_part *part = ask->subject == FIT_FRAME ? &bike->frame : &bike->fitted[ask->subject].part;
    return trade_get(part, (enum trade_property)ask->property);
}

static void put_ask(struct sheet_page *p, const struct work_ask *ask) {
    const struct fit_cases *cases = p->work->question.cases;
    struct base_buffer text, name, readings, how;
    base_buffer_init(&text, 0);
    base_buffer_init(&name, 0);
    base_buffer_init(&readings, 0);
    base_buffer_init(&how, 0);
    explain_name(&name, ask->subject, ask->property);
    if (ask->dim >= 0) {
        explain_readings(&readings, &cases->dims[ask->dim], ask->stands);
    }
    put_box(&text, ask->property < TRADE_PROPERTIES ? explain_unit((enum trade_property)ask->property) : "mm");
    base_buffer_char(&text, ' ');
    if (!ask->decides) {
        explain_value(&readings, (enum trade_property)ask->property, value_of(p, ask));
    }
    explain_tell(&text,
                 ask->dim >= 0  ? "work.must-read"
                 : ask->decides ? "work.read"
                                : "work.read-assumed",
                 explain_buffered(&name), explain_buffered(&readings));
    if (ask->decides) {
        explain_how(&how, ask->subject, ask->property);
        base_buffer_text(&text, " ");
        base_buffer_text(&text, app_held(&p->page, &how));
    }
    base_buffer_clear(&name);
    explain_tell(&name, "work.before", explain_count((int64_t)ask->before + 1));
    app_lay_at(&p->page, APP_BODY, app_held(&p->page, &name));
    lay(&p->page, APP_FACT + 3, &text);
    base_buffer_clear(&name);
    base_buffer_clear(&readings);
    base_buffer_clear(&how);
}

static void put_asks(struct sheet_page *p) {
    if (p->work->sheet.n_asks == 0) {
        return;
    }
    app_question(&p->page, "work.asks");
    for (size_t i = 0; i < p->work->sheet.n_asks; i++) {
        put_ask(p, &p->work->sheet.asks[i]);
    }
}

/* --- the steps ------------------------------------------------------------------------------------------------------ */

/* 'On: crank and bottom bracket, in the stand, drive side to you', where phase, place or position are others than before. */
static void put_group(struct sheet_page *p, size_t step) {
    const struct work_list *steps = &p->work->sheet.steps;
    const struct trade_bench_row *row = &trade_bench_rows[steps->at[step]];
    const struct trade_bench_row *before = step > 0 ? &trade_bench_rows[steps->at[step - 1]] : NULL;
    bool brief = p->page.style.paper != NULL; /* a paper has no room to say where the bike stands */
    bool same = before && before->phase == row->phase && before->place == row->place &&
                (brief || row->position == TRADE_BENCH_POSITION_ANY || before->position == row->position);
    if (same) {
        return;
    }
    struct base_buffer text, phase;
    base_buffer_init(&text, 0);
    base_buffer_init(&phase, 0);
    explain_put_capital(&phase, trade_word_label(TRADE_DOMAIN_BENCH_PHASE, row->phase));
    explain_tell(&text, brief || row->position == TRADE_BENCH_POSITION_ANY ? "work.group-any" : "work.group",
                 explain_buffered(&phase), explain_words(trade_word_label(TRADE_DOMAIN_BENCH_PLACE, row->place)),
                 explain_words(trade_word_label(TRADE_DOMAIN_BENCH_POSITION, row->position)));
    if (before && !p->page.style.paper) {
        app_lay_blank(&p->page, 1);
    }
    app_lay_group(&p->page, app_held(&p->page, &text));
    base_buffer_clear(&text);
    base_buffer_clear(&phase);
}

/* With which tools, how tight, which way the thread turns: 'hex key 5; 8–10 N·m*; greased'; nothing where nothing need be said. */
static void put_how(struct base_buffer *out, struct sheet_page *p, enum trade_bench operation) {
    struct base_buffer parts[3];
    for (size_t i = 0; i < 3; i++) {
        base_buffer_init(&parts[i], 0);
    }
    explain_tools(&parts[0], trade_bench_rows[operation].tools);
    explain_torques(&parts[1], operation);
    explain_thread(&parts[2], operation, p->work->question.bike);
    for (size_t i = 0; i < 3; i++) {
        base_buffer_text(out, out->n > 0 && parts[i].n > 0 ? "; " : "");
        base_buffer_text(out, app_held(&p->page, &parts[i]));
        base_buffer_clear(&parts[i]);
    }
}

/* What is done, and with what; on paper on one line, as far as it goes. */
static void put_operation(struct sheet_page *p, enum trade_bench operation) {
    struct base_buffer text, how;
    base_buffer_init(&text, 0);
    base_buffer_init(&how, 0);
    base_buffer_text(&text, explain_bench(operation));
    put_how(&how, p, operation);
    if (p->page.style.paper) {
        base_buffer_text(&text, how.n > 0 ? " \xe2\x80\x93 " : "");
        base_buffer_text(&text, app_held(&p->page, &how));
        base_buffer_clear(&how);
    }
    lay(&p->page, STEP, &text);
    if (how.n > 0) {
        lay(&p->page, STEP, &how);
    }
}

static void put_step(struct sheet_page *p, size_t step) {
    enum trade_bench operation = p->work->sheet.steps.at[step];
    const char *caution = explain_bench_caution(operation);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    put_group(p, step);
    base_buffer_int(&text, (int64_t)step + 1);
    app_lay_right(&p->page, NUMBER_LAST, app_held(&p->page, &text));
    base_buffer_clear(&text);
    app_lay_at(&p->page, TICK, "[ ]");
    put_operation(p, operation);
    if (caution) {
        app_lay_small(&p->page, true);
        app_lay_at(&p->page, STEP, "//");
        base_buffer_text(&text, caution);
        lay(&p->page, STEP + 3, &text);
        app_lay_small(&p->page, false);
    }
}

/* --- set-up by numbers ---------------------------------------------------------------------------------------------- */

static void put_set_up(struct sheet_page *p) {
    static const char *const symptoms[] = {
        "work.sign-slow-up",   "work.sign-slow-down", "work.sign-one-end", "work.sign-over-low", "work.sign-short-low",
        "work.sign-over-high", "work.sign-b-small",   "work.sign-b-large", "work.sign-back",     "work.sign-skip"};
    const struct app_work *w = p->work;
    struct work_reading gap;
    struct base_buffer text;
    if ((w->sheet.charged >> TRADE_OPERATION_SET_UP & 1) == 0) {
        return;
    }
    base_buffer_init(&text, 0);
    app_question(&p->page, "work.set-up");
    if (w->chain.links > 0) {
        app_chain_sentence(&text, &w->chain);
        app_end_fact(&p->page, APP_FACT, "way.label-chain", &text);
    }
    if (work_check_of(&gap, TRADE_CHECK_B_GAP, &w->question)) {
        explain_limits(&text, &gap);
        base_buffer_text(&text, ", ");
        explain_say(&text, "work.b-gap");
        app_end_fact(&p->page, APP_FACT, "work.label-b-gap", &text);
    }
    app_shift_fact(&text, &w->shift);
    if (text.n > 0) {
        app_end_fact(&p->page, APP_FACT, "way.label-shifting", &text);
    }
    app_lay_blank(&p->page, 1);
    app_lay_small(&p->page, true);
    for (size_t i = 0; i < sizeof symptoms / sizeof symptoms[0]; i++) {
        app_lay_at(&p->page, APP_BODY, "-");
        explain_say(&text, symptoms[i]);
        lay(&p->page, APP_BODY + 2, &text);
    }
    app_lay_small(&p->page, false);
    base_buffer_clear(&text);
}

/* --- what was read, what was found ---------------------------------------------------------------------------------- */

static void put_readings(struct sheet_page *p) {
    struct base_buffer text, limits;
    base_buffer_init(&text, 0);
    base_buffer_init(&limits, 0);
    app_question(&p->page, "work.readings");
    for (size_t i = 0; i < p->work->sheet.n_readings; i++) {
        const struct work_reading *reading = &p->work->sheet.readings[i];
        explain_reading_name(&text, reading);
        explain_limits(&limits, reading);
        base_buffer_text(&text, ": ");
        base_buffer_text(&text, app_held(&p->page, &limits));
        base_buffer_clear(&limits);
        if (!isnan(reading->expected) && reading->low < reading->high) {
            base_buffer_text(&text, "; ");
            explain_tell(&text, "work.expected",
                         explain_known(app_half(reading->expected), 1, explain_unit_of(reading->unit), reading->known));
        }
        base_buffer_int(&limits, (int64_t)reading->step + 1);
        app_lay_right(&p->page, NUMBER_LAST, app_held(&p->page, &limits));
        base_buffer_clear(&limits);
        put_box(&limits, explain_unit_of(reading->unit));
        app_lay_at(&p->page, TICK, app_held(&p->page, &limits));
        base_buffer_clear(&limits);
        lay(&p->page, TICK + 15, &text);
    }
    app_lay_blank(&p->page, 1);
    app_put_paragraph(&p->page, "work.out-of-limit", NULL, 0);
    base_buffer_clear(&text);
    base_buffer_clear(&limits);
}

static void put_found(struct sheet_page *p) {
    const struct work_list *found = &p->work->sheet.found;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    app_question(&p->page, "work.found");
    app_put_paragraph(&p->page, "work.found-call", NULL, 0);
    app_lay_blank(&p->page, found->n > 0 ? 1 : 0);
    app_lay_small(&p->page, true);
    for (size_t i = 0; i < found->n; i++) {
        const struct trade_bench_row *row = &trade_bench_rows[found->at[i]];
        const char *caution = explain_bench_caution(found->at[i]);
        explain_tell(&text, "work.found-one", explain_words(explain_bench(found->at[i])),
                     explain_number(row->low, 0, ""), explain_number(row->high, 0, "min"));
        app_lay_at(&p->page, APP_BODY, "[ ]");
        lay(&p->page, APP_BODY + 4, &text);
        if (caution) {
            app_lay_at(&p->page, APP_BODY + 4, "//");
            base_buffer_text(&text, caution);
            lay(&p->page, APP_BODY + 7, &text);
        }
    }
    app_lay_small(&p->page, false);
    base_buffer_clear(&text);
}

static void put_end(struct sheet_page *p) {
    const struct app_work *w = p->work;
    app_question(&p->page, "work.end");
    app_fact(&p->page, "work.label-faults", "work.line", explain_words(""));
    app_fact(&p->page, "work.label-minutes", "work.minutes", explain_words(WORKSHOP_BOX));
    app_fact(&p->page, "work.label-old", "work.old", explain_words(""));
    app_fact(&p->page, "work.label-signed", "work.line", explain_words(""));
    app_lay_blank(&p->page, 1);
    app_put_paragraph(&p->page, "end.caution", NULL, 0);
    app_put_paragraph(&p->page, "work.law", NULL, 0);
    if (p->page.style.paper) {
        return; /* its title block says the rest */
    }
    app_lay_blank(&p->page, 2);
    app_lay_rule(&p->page);
    app_paragraph(&p->page, "work.block", explain_words(w->question.bike->label), explain_words(w->shop_label),
                  explain_words(w->plan->question.catalogue->revision));
}

void app_text_work(struct base_buffer *out, const struct app_style *style, const struct app_work *work) {
    struct sheet_page p = {app_page_on(out, style), work};
    put_head(&p);
    app_lay_aside(&p.page, work->figure);
    put_red(&p);
    put_shelf(&p);
    put_tools(&p);
    put_asks(&p);
    app_question(&p.page, "work.steps");
    for (size_t step = 0; step < work->sheet.steps.n; step++) {
        put_step(&p, step);
    }
    put_set_up(&p);
    put_readings(&p);
    put_found(&p);
    put_end(&p);
}

void app_text_no_work(struct base_buffer *out, const struct app_style *style, const struct plan *plan) {
    struct app_page page = app_page_on(out, style);
    app_title(&page, plan->question.bike, NULL);
    app_question(&page, "work.question");
    app_put_paragraph(&page, app_no_way(plan), NULL, 0);
    app_put_paragraph(&page, "work.no-way", NULL, 0);
}
