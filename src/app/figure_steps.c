/* SPDX-License-Identifier: Apache-2.0 */
#include "app/figure.h"

#include <math.h>

/* BASE_NO: rings, sprockets or wheel are open. */
static enum base_status stair_of(struct draw_stair *out, struct app_gears *gears, struct app_figure *figure,
                                 const struct fit_build *build) {
    double repeated_percent = trade_limits[TRADE_LIMIT_REPEATED_STEP_PERCENT].value;
    enum base_status status = app_gears_of(gears, figure->arena, figure->bike, build);
    if (status != BASE_OK) {
        return status;
    }
    if (gears->n == 0 || isnan(gears->lowest_m)) {
        figure->open = gears->open;
        return BASE_NO;
    }
    struct draw_stair_gear *stair = base_arena_alloc(figure->arena, gears->n, sizeof *stair);
    if (!stair) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < gears->n; i++) {
        bool last = i + 1 == gears->n;
        stair[i] = (struct draw_stair_gear){.ring = gears->gears[i].ring,
                                            .sprocket = gears->gears[i].sprocket,
                                            .metres = gears->development_m[i],
                                            .step_percent = last ? NAN : gears->steps_percent[i],
                                            .repeats = !last && gears->steps_percent[i] < repeated_percent};
    }
    *out = (struct draw_stair){stair, gears->n, gears->rings};
    return BASE_OK;
}

/* '9 gears, 1.587 to 6.636 m a turn; largest step 23 %' */
static void put_answer(struct base_buffer *text, const struct app_gears *gears, const char *code) {
    double largest = 0.0;
    for (size_t i = 0; i + 1 < gears->n; i++) {
        largest = fmax(largest, gears->steps_percent[i]);
    }
    explain_tell(text, code, explain_count((int64_t)gears->n), explain_known(gears->lowest_m, 3, "", gears->known),
                 explain_known(gears->highest_m, 3, "m", gears->known), explain_number(largest, 0, "%"),
                 explain_count((int64_t)gears->repeats));
}

enum base_status app_figure_steps(struct app_figure *figure) {
    struct draw_steps steps = {.head = figure->head, .shown_is_now = figure->mode == APP_MODE_NOW};
    struct app_gears shown, now;
    struct draw_stair of_now;
    struct base_buffer text;
    enum base_status status = stair_of(&steps.shown, &shown, figure, figure->shown);
    if (status == BASE_OK && figure->mode == APP_MODE_BOTH) {
        status = stair_of(&of_now, &now, figure, &figure->now);
        steps.now = &of_now;
    }
    if (status != BASE_OK) {
        return status;
    }
    base_buffer_init(&text, 0);
    put_answer(&text, &shown, "draw.steps.answer");
    if (steps.now) {
        base_buffer_char(&text, ' ');
        put_answer(&text, &now, "draw.steps.answer-now");
    }
    steps.head.answer = app_figure_keep(figure, &text);
    base_buffer_init(&text, 0);
    explain_say(&text, steps.now ? "draw.steps.foot-both" : "draw.steps.foot");
    if (shown.repeats > 0 || (steps.now && now.repeats > 0)) {
        base_buffer_char(&text, ' ');
        explain_say(&text, "draw.steps.foot-box");
    }
    steps.head.foot = app_figure_keep(figure, &text);
    draw_steps(figure->out, &figure->style, &steps);
    return BASE_OK;
}
