/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Figures: what the answers are computed from, handed to src/draw as numbers and words. Only files of this folder that
 * fill a figure include it.
 *
 * One idea: a figure is filled from the same functions as the command that answers its question, so that it can't say
 * anything else.
 */
#ifndef APP_FIGURE_H
#define APP_FIGURE_H

#include "app/answers.h"
#include "app/ride.h"
#include "draw/figures.h"
#include "explain/explain.h"

enum app_mode { APP_MODE_NOW, APP_MODE_WAY, APP_MODE_BOTH };

struct app_figure {
    struct base_arena *arena;
    const struct trade_bike *bike;
    const struct trade_wish *wish; /* NULL: none */
    const struct plan *plan;       /* NULL: none */
    const struct plan_way *way;    /* that is shown; NULL in APP_MODE_NOW */
    char letter;                   /* of the way */
    struct fit_build now;          /* the bike as it stands */
    const struct fit_build *shown; /* the way's, or now */
    const struct app_ride *ride;   /* NULL: no route */
    enum app_mode mode;
    struct draw_style style;
    struct app_open open; /* what it waits for, where the answer is BASE_NO */
    struct draw_head head;
    struct draw_block *block; /* of a figure that stands alone on paper; NULL: none */
    size_t sheet, sheets;     /* its number then, and how many there are */
    struct base_buffer *out;
};

/* Fills a figure and draws it to figure->out. BASE_NO: something is open, and stands in figure->open. BASE_NO_MEMORY. */
typedef enum base_status app_fill_figure(struct app_figure *figure);
app_fill_figure app_figure_hills, app_figure_above, app_figure_steps, app_figure_changes, app_figure_choices,
    app_figure_side, app_figure_route;

/* Draws the figure of a name, which must be one of `draw`: app_fill_figure with its head. */
enum base_status app_draw_figure(struct base_buffer *out, const char *name, struct app_figure *figure) BASE_CHECKED;

/* A message with its arguments, in the figure's arena; "" and the failure in figure->out->status where memory is spent. */
const char *app_figure_put(struct app_figure *figure, const char *code, const struct explain_arg *args, size_t n);
#define app_figure_say(FIGURE, CODE, ...)                                                                              \
    app_figure_put(FIGURE, CODE, (const struct explain_arg[]){__VA_ARGS__},                                            \
                   sizeof((const struct explain_arg[]){__VA_ARGS__}) / sizeof(struct explain_arg))
/* What a buffer holds, in the figure's arena; clears the buffer. */
const char *app_figure_keep(struct app_figure *figure, struct base_buffer *text);

#endif
