/* SPDX-License-Identifier: Apache-2.0 */
#include "app/figure.h"

#include "explain/way.h"

#include <math.h>

#define LENGTHS 10000.0 /* of the plan's values in a metre, or of its ratios in 1 */

static double minor_units(const struct trade_shop *shop) {
    double units = 1.0;
    for (int i = 0; i < shop->currency_digits; i++) {
        units *= 10.0;
    }
    return units;
}

static char letter_of(const struct plan *plan, size_t way) {
    for (size_t i = 0; i < plan->n_picks; i++) {
        if (plan->picks[i] == way) {
            return (char)('A' + i);
        }
    }
    return '\0';
}

/* 'A, least money: GBP 263.30, lowest gear 1.587 m; waits for a measurement.' */
static const char *title_of(struct app_figure *figure, const struct plan_way *way, char letter) {
    const char name[2] = {letter, '\0'};
    struct base_buffer purposes;
    base_buffer_init(&purposes, 0);
    (void)explain_purposes(&purposes, way, way->purposes, 1000, false);
    const char *said =
        app_figure_say(figure, way->certain ? "draw.choices.way" : "draw.choices.way-waits", explain_words(name),
                       explain_buffered(&purposes), explain_money(way->values.cost_minor, figure->plan->question.shop),
                       explain_number(way->values.lowest / LENGTHS, 3, figure->plan->gears_known ? "m" : ""));
    base_buffer_clear(&purposes);
    return said;
}

static const char *answer_of(struct app_figure *figure, const struct draw_choices *choices) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    for (size_t i = 0; i < choices->n; i++) {
        if (choices->ways[i].letter != '\0') {
            base_buffer_text(&text, text.n > 0 ? " " : "");
            base_buffer_text(&text, choices->ways[i].title);
        }
    }
    return app_figure_keep(figure, &text);
}

static const char *foot_of(struct app_figure *figure, size_t others) {
    const char *code = others == 0              ? "draw.choices.foot-all"
                       : others > DRAW_DOTS_MAX ? "draw.choices.foot-many"
                                                : "draw.choices.foot";
    return app_figure_say(figure, code, explain_count((int64_t)others), explain_count(DRAW_DOTS_MAX));
}

enum base_status app_figure_choices(struct app_figure *figure) {
    const struct plan *plan = figure->plan;
    const struct plan_question *question = &plan->question;
    const char *unit = plan->gears_known ? "m" : "";
    double minor = minor_units(question->shop);
    struct draw_choices_way *ways = base_arena_alloc(figure->arena, plan->n_ways, sizeof *ways);
    struct draw_choices choices = {.head = figure->head, .ways = ways, .n = plan->n_ways};
    if (!ways) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < plan->n_ways; i++) {
        const struct plan_way *way = &plan->ways[i];
        char letter = letter_of(plan, i);
        ways[i] = (struct draw_choices_way){.letter = letter,
                                            .cost = (double)way->values.cost_minor / minor,
                                            .lowest = way->values.lowest / LENGTHS,
                                            .certain = way->certain,
                                            .title = letter != '\0' ? title_of(figure, way, letter) : ""};
    }
    choices.now_lowest = plan->now_values.lowest > 0 ? plan->now_values.lowest / LENGTHS : ways[0].lowest;
    choices.budget = plan->wish.budget_minor >= 0 ? (double)plan->wish.budget_minor / minor : NAN;
    choices.lowest_max = plan->gears_known ? plan->wish.lowest_m_max : NAN;
    choices.now_title = app_figure_say(figure, "draw.choices.now-title", explain_number(choices.now_lowest, 3, unit));
    choices.cost_label = app_figure_say(figure, "draw.choices.cost", explain_words(question->shop->currency));
    choices.gear_label = explain_message(plan->gears_known ? "draw.choices.gear" : "draw.choices.ratio");
    choices.head.subject = figure->bike->label ? figure->bike->label : "";
    choices.head.answer = answer_of(figure, &choices);
    choices.head.foot = foot_of(figure, plan->n_ways - plan->n_picks);
    draw_choices(figure->out, &figure->style, &choices);
    return BASE_OK;
}
