/* SPDX-License-Identifier: Apache-2.0 */
#include "app/why_not.h"

#include "app/text_shared.h"
#include "explain/finding.h"
#include "explain/part.h"
#include "explain/stop.h"
#include "explain/way.h"

struct why_page {
    struct app_page page;
    const struct app_why_not *answer;
    const struct plan *plan;
};

static int64_t how_many(const struct why_page *p) { return (int64_t)p->answer->why.n; }

static struct explain_arg cost_of(const struct why_page *p, const struct plan_values *values) {
    return explain_money(values->cost_minor, p->plan->question.shop);
}

/* --- the question -------------------------------------------------------------------------------------------------- */

static void put_question(struct why_page *p) {
    const struct plan_why_not *why = &p->answer->why;
    struct base_buffer text, part[PLAN_ASKED_PARTS];
    app_title(&p->page, p->plan->question.bike, NULL);
    if (!p->answer->asked) {
        app_question(&p->page, "why-not.none");
        return;
    }
    base_buffer_init(&text, 0);
    for (size_t i = 0; i < PLAN_ASKED_PARTS; i++) {
        base_buffer_init(&part[i], 0);
        if (i < why->n) {
            explain_part_name(&part[i], why->part[i]);
        }
    }
    explain_tell(&text, why->n > 1 ? "why-not.pair" : "why-not.part", explain_buffered(&part[0]),
                 explain_buffered(&part[1]));
    app_lay_heading(&p->page, app_held(&p->page, &text), NULL);
    base_buffer_clear(&part[0]);
    base_buffer_clear(&part[1]);
    base_buffer_clear(&text);
}

/* --- it fits ------------------------------------------------------------------------------------------------------- */

static void put_values(struct why_page *p) {
    const struct plan_values *v = &p->answer->why.way.values;
    struct base_buffer text, lowest, highest;
    base_buffer_init(&text, 0);
    base_buffer_init(&lowest, 0);
    base_buffer_init(&highest, 0);
    explain_lowest_change(&lowest, v->lowest, p->plan->now_values.lowest);
    explain_highest_change(&highest, v->highest, p->plan->now_values.highest);
    bool known = p->plan->gears_known && p->plan->now_values.lowest > 0;
    explain_tell(&text, known ? "why-not.fits" : "why-not.ratios", explain_count(how_many(p)), cost_of(p, v),
                 explain_number(v->lowest / 10000.0, 3, "m"), explain_buffered(&lowest),
                 explain_number(v->highest / 10000.0, 3, "m"), explain_buffered(&highest));
    app_end_paragraph(&p->page, &text);
    base_buffer_clear(&lowest);
    base_buffer_clear(&highest);
}

static void put_hangs(struct why_page *p) {
    struct base_buffer text, hangs;
    base_buffer_init(&text, 0);
    base_buffer_init(&hangs, 0);
    explain_hangs_on(&hangs, p->plan, &p->answer->why.way);
    if (hangs.n > 0) {
        app_lay_blank(&p->page, 1);
        explain_tell(&text, "why-not.hangs", explain_buffered(&hangs));
        app_end_paragraph(&p->page, &text);
    }
    base_buffer_clear(&hangs);
}

/* 'way B of the plan', or 'another way'. */
static void put_which(struct base_buffer *out, const struct plan *plan, const struct plan_way *way) {
    for (size_t i = 0; i < plan->n_picks; i++) {
        if (&plan->ways[plan->picks[i]] == way) {
            const char letter[2] = {(char)('A' + (char)i), '\0'};
            explain_tell(out, "why-not.way", explain_words(letter));
            return;
        }
    }
    explain_say(out, "why-not.another");
}

static void put_beaten(struct why_page *p) {
    const struct plan_way *better = p->answer->why.beaten_by;
    struct base_buffer text, which, what;
    if (!better) {
        app_paragraph(&p->page, "why-not.unbeaten", explain_count(0));
        return;
    }
    base_buffer_init(&text, 0);
    base_buffer_init(&which, 0);
    base_buffer_init(&what, 0);
    put_which(&which, p->plan, better);
    explain_better(&what, p->plan, better, &p->answer->why.way);
    explain_tell(&text, "why-not.beaten", explain_buffered(&which), explain_buffered(&what));
    app_end_paragraph(&p->page, &text);
    base_buffer_clear(&which);
    base_buffer_clear(&what);
}

static void put_fits(struct why_page *p) {
    put_values(p);
    put_hangs(p);
    app_lay_blank(&p->page, 1);
    put_beaten(p);
}

/* --- it does not --------------------------------------------------------------------------------------------------- */

static void put_item(struct why_page *p, struct base_buffer *text) {
    app_lay_at(&p->page, APP_BODY, "-");
    app_lay_wrapped(&p->page, APP_BODY + 2, APP_LAST_COLUMN, app_held(&p->page, text), NULL);
    base_buffer_clear(text);
}

/* 'Chain and sprockets: the sprockets want another chain ...' */
static void put_joint(struct why_page *p, const struct fit_finding *finding) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_capital(&text, explain_rule_name(finding->rule));
    base_buffer_text(&text, ": ");
    explain_finding(&text, finding);
    put_item(p, &text);
}

static void put_stop(struct why_page *p, const struct plan_stop *stop) {
    struct base_buffer text, name;
    base_buffer_init(&text, 0);
    base_buffer_init(&name, 0);
    explain_stop(&name, p->plan, stop);
    explain_put_capital(&text, app_held(&p->page, &name));
    base_buffer_clear(&name);
    explain_without(&name, p->plan, stop);
    base_buffer_text(&text, name.n > 0 ? (stop->kind == PLAN_STOP_RULE ? ": " : ". ") : ".");
    base_buffer_text(&text, app_held(&p->page, &name));
    base_buffer_clear(&name);
    put_item(p, &text);
}

/* nothing, against: messages for a conflict without members, and before the members. */
static void put_conflict(struct why_page *p, const struct plan_conflict *conflict, const char *nothing,
                         const char *against) {
    if (!conflict->complete) {
        app_paragraph(&p->page, "why-not.limit", explain_count(0));
        return;
    }
    app_paragraph(&p->page, conflict->n > 0 ? against : nothing, explain_count(how_many(p)));
    app_lay_blank(&p->page, conflict->n > 0 ? 1 : 0);
    for (size_t i = 0; i < conflict->n; i++) {
        put_stop(p, &conflict->stops[i]);
    }
}

/* Joints that clash on the bike as it stands with the parts in their places: with a way they would have to change, too. */
static void put_on_bike(struct why_page *p) {
    struct fit_finding findings[PLAN_RULES_MAX];
    size_t n = plan_swapped_clashes(findings, &p->answer->why, p->plan);
    if (n > 0) {
        app_lay_blank(&p->page, 1);
        app_paragraph(&p->page, "why-not.on-bike", explain_count(how_many(p)));
        app_lay_blank(&p->page, 1);
    }
    for (size_t i = 0; i < n; i++) {
        put_joint(p, &findings[i]);
    }
}

static void put_nearest(struct why_page *p) {
    const struct plan_why_not *why = &p->answer->why;
    struct base_buffer text, part;
    if (!why->nearest && !why->complete) {
        return;
    }
    base_buffer_init(&text, 0);
    base_buffer_init(&part, 0);
    if (why->nearest) {
        explain_part(&part, why->nearest);
        explain_tell(&text, "why-not.nearest", explain_buffered(&part), cost_of(p, &why->nearest_way.values));
    } else {
        explain_say(&text, "why-not.no-nearest");
    }
    app_lay_blank(&p->page, 1);
    app_end_paragraph(&p->page, &text);
    base_buffer_clear(&part);
}

static void put_left_out(struct why_page *p) {
    const struct trade_left_out *left_out = p->answer->why.left_out;
    const struct trade_part *part = trade_catalogue_find(p->plan->question.catalogue, left_out->id);
    struct base_buffer text, name;
    base_buffer_init(&text, 0);
    base_buffer_init(&name, 0);
    explain_part_name(&name, part);
    explain_tell(&text, "why-not.left-out", explain_buffered(&name),
                 explain_words(trade_property_rows[left_out->property].label));
    app_end_paragraph(&p->page, &text);
    base_buffer_clear(&name);
}

/* --- the page ------------------------------------------------------------------------------------------------------ */

static void put_plan_alone(struct why_page *p) {
    if (p->plan->n_ways > 0) {
        struct base_buffer count;
        base_buffer_init(&count, 0);
        base_buffer_int(&count, (int64_t)p->plan->n_ways);
        app_paragraph(&p->page, "why-not.there-are", explain_count((int64_t)p->plan->n_ways), explain_buffered(&count));
        base_buffer_clear(&count);
        return;
    }
    put_conflict(p, &p->answer->against, "why-not.nothing-at-all",
                 p->answer->against.n == 1 ? "why-not.against-all-one" : "why-not.against-all");
}

void app_text_why_not(struct base_buffer *out, const struct app_style *style, const struct app_why_not *answer) {
    struct why_page p = {.page = app_page_on(out, style), .answer = answer, .plan = answer->plan};
    put_question(&p);
    if (!answer->asked) {
        put_plan_alone(&p);
    } else if (answer->why.left_out) {
        put_left_out(&p);
    } else if (answer->why.fits) {
        put_fits(&p);
    } else {
        put_conflict(&p, &answer->why.conflict, "why-not.nothing",
                     answer->why.conflict.n == 1 ? "why-not.against-one" : "why-not.against");
        put_on_bike(&p);
        put_nearest(&p);
    }
}
