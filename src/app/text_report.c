/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The full report of one way, for whom wants to check it: what the plan says of it, each value of the bike with how it is known,
 * each joint with its reason, and where the figures come from.
 */
#include "app/report.h"
#include "app/text_plan.h"

#include <string.h>

#define VALUE 43       /* where a value stands behind its name, */
#define HOW 66         /* and behind it how it is known */
#define JOINT 8        /* a joint behind its tile */
#define REASON 30      /* and why */
#define SOURCE_LAST 6  /* where the number of a source ends */
#define SOURCE 8       /* and the source stands */
#define SOURCES_MAX 96 /* more than there are rules and torques of one job */

struct report_page {
    struct app_plan_page p;
    const struct app_report *report;
    struct fit_finding *findings; /* of the way's joints */
    size_t n_findings;
    const char *sources[SOURCES_MAX]; /* in the order in which they are named */
    size_t n_sources;
};

/* --- what is known of the bike --------------------------------------------------------------------------------------- */

static void put_value(struct report_page *r, unsigned subject, enum trade_property property,
                      const struct trade_value *value) {
    struct app_page *page = &r->p.page;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_name(&text, subject, property);
    app_lay_at(page, APP_BODY, app_held(page, &text));
    base_buffer_clear(&text);
    explain_value(&text, property, value);
    app_lay_at(page, VALUE, app_held(page, &text));
    base_buffer_clear(&text);
    app_lay_at(page, HOW, explain_message(explain_known_words[value->known].code));
    app_lay_end(page);
}

/* Each value that somebody gave, that follows, or that a rule would want. */
static void put_values(struct report_page *r, const char *label, const struct trade_part *part, unsigned subject) {
    const struct trade_kind_row *kind = &trade_kind_rows[part->kind];
    bool any = false;
    for (size_t i = 0; i < kind->n; i++) {
        enum trade_property property = (enum trade_property)(kind->first + i);
        const struct trade_value *value = trade_get(part, property);
        if (trade_is_open(value) && (part->kind == TRADE_KIND_RIDER || !fit_is_read(subject, property))) {
            continue;
        }
        if (!any) {
            app_lay_group(&r->p.page, label);
        }
        put_value(r, subject, property, value);
        any = true;
    }
}

static void put_known(struct report_page *r) {
    const struct trade_bike *bike = r->p.bike;
    app_question(&r->p.page, "report.known-question");
    app_put_paragraph(&r->p.page, "report.known", NULL, 0);
    app_lay_small(&r->p.page, true);
    put_values(r, explain_message("report.bike"), &bike->self, FIT_BIKE);
    put_values(r, explain_message("bike.frame"), &bike->frame, FIT_FRAME);
    put_values(r, explain_message("bike.wheel"), &bike->wheel, FIT_WHEEL);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (trade_bike_has(bike, (enum trade_slot)s)) {
            put_values(r, explain_slot((enum trade_slot)s), &bike->fitted[s].part, s);
        }
    }
    put_values(r, explain_message("report.rider"), &bike->rider, FIT_BIKE);
    app_lay_small(&r->p.page, false);
}

/* --- sources ----------------------------------------------------------------------------------------------------------- */

/* The number of a source, from 1 on; 0 for none. */
static size_t number_of(struct report_page *r, const char *source) {
    if (!source || source[0] == '\0') {
        return 0;
    }
    for (size_t i = 0; i < r->n_sources; i++) {
        if (strcmp(r->sources[i], source) == 0) {
            return i + 1;
        }
    }
    if (r->n_sources == SOURCES_MAX) {
        return 0;
    }
    r->sources[r->n_sources++] = source;
    return r->n_sources;
}

/* ' Source 3.' */
static void put_source(struct base_buffer *out, struct report_page *r, const char *source) {
    size_t number = number_of(r, source);
    if (number > 0) {
        base_buffer_char(out, ' ');
        explain_tell(out, "report.source", explain_count((int64_t)number));
    }
}

static void put_sources(struct report_page *r) {
    app_question(&r->p.page, "report.sources-question");
    app_lay_small(&r->p.page, true);
    for (size_t i = 0; i < r->n_sources; i++) {
        struct base_buffer number;
        base_buffer_init(&number, 0);
        base_buffer_int(&number, (int64_t)i + 1);
        app_lay_right(&r->p.page, SOURCE_LAST, app_held(&r->p.page, &number));
        app_lay_to(&r->p.page, SOURCE);
        app_lay_wrapped(&r->p.page, SOURCE, APP_LAST_COLUMN, r->sources[i], NULL);
        base_buffer_clear(&number);
    }
    app_lay_small(&r->p.page, false);
}

/* --- joints ------------------------------------------------------------------------------------------------------------ */

static void put_joint(struct report_page *r, const struct fit_finding *finding) {
    struct app_page *page = &r->p.page;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_condition(&text, finding, &r->p.plan->cases);
    explain_finding(&text, finding);
    put_source(&text, r, finding->rule->source);
    app_lay_to(page, APP_BODY);
    app_lay_tile(page, explain_mark_of(finding));
    app_lay_at(page, JOINT, explain_rule_name(finding->rule));
    if (page->at + 3 > REASON) {
        app_lay_end(page);
    }
    app_lay_wrapped(page, REASON, APP_LAST_COLUMN, app_held(page, &text), NULL);
    base_buffer_clear(&text);
}

/* Worst first, those that fit behind them; under the word of each verdict. */
static void put_joints(struct report_page *r) {
    static const enum explain_mark marks[] = {EXPLAIN_CLASH, EXPLAIN_MEASURE, EXPLAIN_DRAWBACK, EXPLAIN_ADAPTED,
                                              EXPLAIN_FITS};
    app_question(&r->p.page, "report.joints-question");
    app_paragraph(&r->p.page, "report.joints", explain_count((int64_t)r->n_findings));
    for (size_t m = 0; m < sizeof marks / sizeof marks[0]; m++) {
        bool any = false;
        for (size_t i = 0; i < r->n_findings; i++) {
            if (explain_mark_of(&r->findings[i]) != marks[m]) {
                continue;
            }
            if (!any) {
                app_lay_group(&r->p.page, explain_message(explain_marks[marks[m]].code));
            }
            put_joint(r, &r->findings[i]);
            any = true;
        }
    }
}

/* --- where sources differ ---------------------------------------------------------------------------------------------- */

/* What other sources say of a row that the report leans on; nothing where they agree. */
static void put_differing(struct report_page *r, const char *what, const char *source, const char *disputed) {
    struct base_buffer text;
    if (!disputed || disputed[0] == '\0') {
        (void)number_of(r, source);
        return;
    }
    base_buffer_init(&text, 0);
    base_buffer_text(&text, disputed);
    base_buffer_char(&text, '.');
    put_source(&text, r, source);
    app_lay_fact(&r->p.page, REASON, what, app_held(&r->p.page, &text));
    base_buffer_clear(&text);
}

static void put_chain_class(struct report_page *r) {
    const struct trade_part *chain = r->report->way->build.at[TRADE_SLOT_CHAIN].part;
    int family = chain ? trade_get_word(chain, TRADE_CHAIN_FAMILY) : -1;
    for (size_t i = 0; i < trade_chains_n; i++) {
        if (family >= 0 && trade_chains[i].chain_family == family) {
            put_differing(r, explain_slot(TRADE_SLOT_CHAIN), trade_chains[i].source, trade_chains[i].disputed);
        }
    }
}

static void put_torques(struct report_page *r) {
    const struct work_sheet *sheet = &r->report->work->sheet;
    for (size_t i = 0; i < sheet->n_readings; i++) {
        if (sheet->readings[i].torque >= 0) {
            const struct trade_torques_row *row = &trade_torques[sheet->readings[i].torque];
            put_differing(r, row->what, row->source, row->disputed);
        }
    }
}

static void put_differences(struct report_page *r) {
    struct app_line line;
    app_question(&r->p.page, "report.differ-question");
    app_put_paragraph(&r->p.page, "report.differ", NULL, 0);
    if (app_line_of(&line, r->p.scratch, r->p.bike, &r->report->way->build) != BASE_OK) {
        r->p.page.out->status = BASE_NO_MEMORY;
        return;
    }
    put_differing(r, explain_message("way.label-line"), line.line.source, line.line.disputed);
    put_chain_class(r);
    put_torques(r);
}

/* --- the report -------------------------------------------------------------------------------------------------------- */

void app_text_report(struct base_buffer *out, const struct app_style *style, const struct app_report *report,
                     struct base_arena *scratch) {
    struct report_page r = {.report = report};
    app_plan_page_init(&r.p, out, style, report->shown, scratch);
    r.findings = base_arena_alloc(scratch, fit_rules_n, sizeof *r.findings);
    if (!r.findings) {
        out->status = BASE_NO_MEMORY;
        return;
    }
    fit_judge_build(r.findings, &r.n_findings, r.p.bike, &report->way->build, &r.p.plan->cases, false);
    app_plan_answer(&r.p);
    app_plan_bike(&r.p);
    app_plan_gears_now(&r.p);
    app_plan_way(&r.p, report->way, report->letter);
    for (size_t i = 0; i < report->n_figures; i++) {
        app_lay_figure(&r.p.page, report->figures[i]);
    }
    if (report->ride) {
        app_lay_ride(&r.p.page, report->ride);
    }
    put_joints(&r);
    put_known(&r);
    put_differences(&r);
    put_sources(&r);
    app_plan_end(&r.p);
}
