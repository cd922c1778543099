/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_shared.h"

#include "mech/gear.h"

#include <math.h>

#define COLUMNS 3
#define COLUMN_WIDTH 25
#define VALUE_END 13 /* where a value and a step end, from the left edge of their column */
#define STEP_END 20
#define CELL 5      /* of a row of sprockets */
#define ROW_MOST 13 /* sprockets in one row */
#define ROW_LABEL 6
#define ROW_FIRST_END 21 /* where the first cell ends; further left when there are many */

/* --- the answer ---------------------------------------------------------------------------------------------------- */

static void put_answer(struct app_page *page, const struct app_gears *gears) {
    const struct explain_arg counts[] = {explain_count((int64_t)gears->n), explain_count((int64_t)gears->differ)};
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, gears->repeats > 0 ? "gears.differ" : "gears.all", counts, 2);
    base_buffer_text(&text, " ");
    if (isnan(gears->lowest_m)) {
        explain_tell(&text, "gears.ratios", explain_number(gears->gears[0].ratio, 3, ""),
                     explain_number(gears->gears[gears->n - 1].ratio, 3, ""),
                     explain_number(gears->range_percent, 1, "%"));
    } else {
        explain_tell(&text, "gears.metres", explain_known(gears->lowest_m, 3, "", gears->known),
                     explain_known(gears->highest_m, 3, "m", gears->known),
                     explain_number(gears->range_percent, 1, "%"));
    }
    app_end_paragraph(page, &text);
}

/* --- rising, in columns -------------------------------------------------------------------------------------------- */

/* Metres of a turn, or the ratio while the wheel is open. */
static double value_of(const struct app_gears *gears, size_t i) {
    return isnan(gears->development_m[i]) ? gears->gears[i].ratio : gears->development_m[i];
}

static bool repeats(const struct app_gears *gears, size_t i) {
    return gears->steps_percent[i - 1] < trade_limits[TRADE_LIMIT_REPEATED_STEP_PERCENT].value;
}

static void put_gear(struct app_page *page, const struct app_gears *gears, size_t i, size_t left) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_buffer_int(&text, gears->gears[i].ring);
    base_buffer_text(&text, "/");
    base_buffer_int(&text, gears->gears[i].sprocket);
    app_lay_at(page, left, app_held(page, &text));
    base_buffer_clear(&text);
    struct explain_arg value = explain_number(value_of(gears, i), 3, isnan(gears->development_m[i]) ? "" : "m");
    explain_put_arg(&text, &value);
    app_lay_right(page, left + VALUE_END, app_held(page, &text));
    base_buffer_clear(&text);
    if (i > 0 && repeats(gears, i)) {
        explain_say(&text, "gears.same");
    } else if (i > 0) {
        struct explain_arg step = explain_number(gears->steps_percent[i - 1], 0, "%");
        explain_put_arg(&text, &step);
    }
    app_lay_right(page, left + STEP_END, app_held(page, &text));
    base_buffer_clear(&text);
}

static void put_columns(struct app_page *page, const struct app_gears *gears) {
    size_t rows = (gears->n + COLUMNS - 1) / COLUMNS;
    for (size_t row = 0; row < rows; row++) {
        for (size_t column = 0; column < COLUMNS; column++) {
            size_t i = column * rows + row;
            if (i < gears->n) {
                put_gear(page, gears, i, APP_BODY + column * COLUMN_WIDTH);
            }
        }
        app_lay_end(page);
    }
    app_lay_blank(page, 1);
    struct explain_arg limit = explain_number(trade_limits[TRADE_LIMIT_REPEATED_STEP_PERCENT].value, 0, "%");
    struct explain_arg same = explain_spelt((int64_t)gears->repeats);
    app_paragraph(page, gears->repeats > 0 ? "gears.steps-and-repeats" : "gears.steps", limit, same);
}

/* --- one ring: a row of sprockets ---------------------------------------------------------------------------------- */

enum row { ROW_SPROCKET, ROW_VALUE, ROW_STEP };

static void put_cell(struct base_buffer *text, const struct app_gears *gears, size_t i, enum row row) {
    if (row == ROW_SPROCKET) {
        base_buffer_int(text, gears->gears[i].sprocket);
    } else if (row == ROW_VALUE) {
        base_buffer_fixed(text, value_of(gears, i), 2);
    } else if (i > 0) {
        base_buffer_fixed(text, gears->steps_percent[i - 1], 0);
    }
}

static void put_row(struct app_page *page, const struct app_gears *gears, size_t from, size_t n, enum row row,
                    const char *label) {
    size_t first = ROW_FIRST_END;
    if (first + (n - 1) * CELL > APP_LAST_COLUMN) {
        first = APP_LAST_COLUMN - (n - 1) * CELL;
    }
    app_lay_at(page, ROW_LABEL, explain_message(label));
    for (size_t i = 0; i < n; i++) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        put_cell(&text, gears, from + i, row);
        app_lay_right(page, first + i * CELL, app_held(page, &text));
        base_buffer_clear(&text);
    }
    app_lay_end(page);
}

void app_lay_sprocket_row(struct app_page *page, const struct app_gears *gears) {
    for (size_t from = 0; from < gears->n; from += ROW_MOST) {
        size_t n = gears->n - from < ROW_MOST ? gears->n - from : ROW_MOST;
        put_row(page, gears, from, n, ROW_SPROCKET, "gears.sprocket");
        put_row(page, gears, from, n, ROW_VALUE, isnan(gears->lowest_m) ? "gears.ratio" : "gears.turn");
        put_row(page, gears, from, n, ROW_STEP, "gears.step");
    }
}

/* --- the page ------------------------------------------------------------------------------------------------------ */

void app_lay_gears(struct app_page *page, const struct app_gears *gears) {
    if (gears->n == 0) {
        app_put_paragraph(page, "gears.open", NULL, 0);
        app_lay_open(page, &gears->open);
        return;
    }
    put_answer(page, gears);
    app_lay_blank(page, 1);
    if (gears->rings == 1) {
        app_lay_sprocket_row(page, gears);
    } else {
        put_columns(page, gears);
    }
    app_lay_open(page, &gears->open);
}

void app_text_gears(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                    const struct app_gears *gears) {
    struct app_page page = app_page_on(out, style);
    app_title(&page, bike, NULL);
    app_question(&page, "gears.question");
    app_lay_gears(&page, gears);
}
