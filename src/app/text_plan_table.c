/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_plan.h"

#include "base/number.h"
#include "plan/picks.h"

/* Columns; those of numbers are where they end. */
#define LETTER 3
#define PURPOSE 6
#define TILE 26
#define COST_END 36
#define LOWEST_END 43
#define LOWEST_CHANGE 46
#define HIGHEST_END 63
#define HIGHEST_CHANGE 66

static void put_head(struct app_plan_page *p) {
    struct app_page *page = &p->page;
    app_lay_right(page, COST_END, explain_message("table.cost"));
    app_lay_at(page, LOWEST_END - 4, explain_message("table.lowest"));
    app_lay_at(page, HIGHEST_END - 4, explain_message("table.highest"));
    app_lay_right(page, APP_LAST_COLUMN, explain_message("table.bench"));
    app_lay_end(page);
    const char *unit = explain_message(p->plan->gears_known ? "table.metres" : "table.ratio");
    app_lay_right(page, COST_END, p->plan->question.shop->currency);
    app_lay_right(page, LOWEST_END, unit);
    app_lay_at(page, LOWEST_CHANGE, explain_message("table.than-now"));
    app_lay_right(page, HIGHEST_END, unit);
    app_lay_at(page, HIGHEST_CHANGE, explain_message("table.than-now"));
    app_lay_right(page, APP_LAST_COLUMN, explain_message("table.minutes"));
    app_lay_end(page);
}

static void put_right(struct app_plan_page *p, size_t last, const struct explain_arg *arg) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, arg);
    app_lay_right(&p->page, last, app_held(&p->page, &text));
    base_buffer_clear(&text);
}

/* A gear; nothing when it is open. */
static void put_gear(struct app_plan_page *p, size_t last, int32_t development) {
    if (development > 0) {
        struct explain_arg metres = explain_number(development / 10000.0, 3, "");
        put_right(p, last, &metres);
    }
}

static void put_now(struct app_plan_page *p) {
    const struct plan_values *now = &p->plan->now_values;
    app_lay_at(&p->page, PURPOSE, explain_message("table.as-it-stands"));
    app_lay_right(&p->page, COST_END, "\xe2\x80\x93");
    put_gear(p, LOWEST_END, now->lowest);
    put_gear(p, HIGHEST_END, now->highest);
    app_lay_end(&p->page);
}

static enum plan_purpose first_purpose(const struct plan_way *way) {
    unsigned purpose = 0;
    while (purpose + 1 < PLAN_PURPOSES && !(way->purposes >> purpose & 1)) {
        purpose++;
    }
    return (enum plan_purpose)purpose;
}

static void put_way(struct app_plan_page *p, size_t pick) {
    const struct plan_way *way = app_pick(p, pick);
    const struct plan_values *now = &p->plan->now_values;
    const char letter[2] = {app_letter(pick), '\0'};
    struct base_buffer text;
    base_buffer_init(&text, 0);
    app_lay_at(&p->page, LETTER, letter);
    app_lay_at(&p->page, PURPOSE, explain_purpose(way, first_purpose(way)));
    if (!way->certain) {
        app_lay_to(&p->page, TILE);
        app_lay_tile(&p->page, EXPLAIN_MEASURE);
    }
    explain_put_amount(&text, way->values.cost_minor, p->plan->question.shop);
    app_lay_right(&p->page, COST_END, app_held(&p->page, &text));
    base_buffer_clear(&text);
    put_gear(p, LOWEST_END, way->values.lowest);
    explain_lowest_change(&text, way->values.lowest, now->lowest);
    app_lay_at(&p->page, LOWEST_CHANGE, app_held(&p->page, &text));
    base_buffer_clear(&text);
    put_gear(p, HIGHEST_END, way->values.highest);
    explain_highest_change(&text, way->values.highest, now->highest);
    app_lay_at(&p->page, HIGHEST_CHANGE, app_held(&p->page, &text));
    base_buffer_clear(&text);
    struct explain_arg minutes = explain_number((double)base_round(way->values.tenths / 10.0), 0, "");
    put_right(p, APP_LAST_COLUMN, &minutes);
    app_lay_end(&p->page);
}

/* Cheaper ways that no pick stands for, since they give up too much of the highest gear. */
static void put_passed_over(struct app_plan_page *p) {
    size_t way = plan_passed_over(p->plan);
    if (way < p->plan->n_ways) {
        const double share = trade_limits[TRADE_LIMIT_PICK_HIGHEST_SHARE].value;
        app_lay_blank(&p->page, 1);
        app_paragraph(&p->page, "table.passed-over",
                      explain_money(p->plan->ways[way].values.cost_minor, p->plan->question.shop),
                      explain_count((int64_t)((1 - share) * 100 + 0.5)));
    }
}

void app_plan_table(struct app_plan_page *p) {
    put_head(p);
    put_now(p);
    for (size_t i = 0; i < p->plan->n_picks; i++) {
        put_way(p, i);
    }
    enum base_known known = trade_get(&p->bike->wheel, TRADE_WHEEL_ROLLING_MM)->known;
    if (known != BASE_MEASURED) {
        app_lay_blank(&p->page, 1);
        app_put_paragraph(&p->page, known == BASE_OPEN ? "table.wheel-open" : "table.wheel-from-table", NULL, 0);
    }
    put_passed_over(p);
}
