/* SPDX-License-Identifier: Apache-2.0 */
#include "app/figure.h"

#include "app/climb.h"

#include <math.h>
#include <stdlib.h>

#define PERCENT 100.0
#define UPRIGHT_PERCENT 100.0 /* past this nobody rides, up or down */

/* The gears of a build on hills. */
struct hills_of {
    struct draw_hills_gear *gears;
    size_t n;
    struct app_climb climb; /* the level road, for gears and rider */
};

/* Rings together, the smallest first; within a ring the largest sprocket first. */
static int compare_gears(const void *a, const void *b) {
    const struct draw_hills_gear *one = a, *other = b;
    return one->ring != other->ring ? one->ring - other->ring : other->sprocket - one->sprocket;
}

/* The gradient on which a gear turns a cadence, percent. */
static double gradient_at(const struct app_climb *climb, const struct ride_machine *machine,
                          const struct ride_drive *drive, const struct ride_gear *gear, double rpm) {
    double gradient;
    if (ride_climb_gradient(&gradient, machine, climb->rider.power_w.value, drive, gear, rpm) != BASE_OK) {
        return UPRIGHT_PERCENT;
    }
    return PERCENT * gradient;
}

/* BASE_NO: gears or wheel are open. */
static enum base_status hills_of(struct hills_of *out, struct app_figure *figure, const struct fit_build *build) {
    enum base_known known;
    enum base_status status = app_climb_of(&out->climb, figure->arena, figure->bike, build, 0.0, NAN);
    if (status != BASE_OK) {
        return status;
    }
    if (!out->climb.has_cadences) {
        figure->open = out->climb.open;
        return BASE_NO;
    }
    out->n = out->climb.n;
    out->gears = base_arena_alloc(figure->arena, out->n, sizeof *out->gears);
    if (!out->gears) {
        return BASE_NO_MEMORY;
    }
    const struct ride_machine machine = ride_rider_machine(&out->climb.rider, &known);
    const struct ride_drive drive = app_drive_of(&out->climb.rider, figure->bike);
    for (size_t i = 0; i < out->n; i++) {
        const struct ride_gear *gear = &out->climb.gears[i].gear;
        out->gears[i] = (struct draw_hills_gear){
            gear->ring, gear->sprocket, gradient_at(&out->climb, &machine, &drive, gear, out->climb.band.high_rpm),
            gradient_at(&out->climb, &machine, &drive, gear, out->climb.rider.least_rpm.value)};
    }
    qsort(out->gears, out->n, sizeof *out->gears, compare_gears);
    return BASE_OK;
}

/* From where the highest gear begins to where the lowest ends. */
static struct draw_hills_gear reach_of(const struct hills_of *hills) {
    struct draw_hills_gear reach = hills->gears[0];
    for (size_t i = 1; i < hills->n; i++) {
        reach.from_percent = fmin(reach.from_percent, hills->gears[i].from_percent);
        reach.to_percent = fmax(reach.to_percent, hills->gears[i].to_percent);
    }
    return reach;
}

/* The steepest pitches of the route, else the climbs that the wish names. */
static void put_pitches(struct draw_hills *out, const struct app_figure *figure) {
    if (figure->ride) {
        for (size_t i = 0; i < figure->ride->n_pitches && out->n_pitches < DRAW_PITCHES_MAX; i++) {
            const struct ride_pitch *pitch = &figure->ride->pitches[i];
            out->pitches[out->n_pitches++] = (struct draw_hills_pitch){PERCENT * pitch->gradient, pitch->length_m};
        }
        return;
    }
    for (size_t i = 0; figure->wish && i < figure->wish->n_climbs && out->n_pitches < DRAW_PITCHES_MAX; i++) {
        out->pitches[out->n_pitches++] = (struct draw_hills_pitch){figure->wish->climbs[i].gradient_percent, NAN};
    }
}

static void set_words(struct draw_hills *out, struct app_figure *figure, const struct hills_of *shown,
                      const struct hills_of *now) {
    const struct app_climb *climb = &shown->climb;
    struct explain_arg least = explain_known(climb->rider.least_rpm.value, 0, "rpm", climb->rider.least_rpm.known);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, now ? "draw.hills.answer-both" : "draw.hills.answer", least,
                 explain_known(reach_of(shown).to_percent, 1, "%", climb->known),
                 explain_known(now ? reach_of(now).to_percent : 0.0, 1, "%", climb->known));
    out->head.answer = app_figure_keep(figure, &text);
    explain_tell(&text, out->rings > 1 ? "draw.hills.foot-rings" : "draw.hills.foot",
                 explain_known(climb->band.high_rpm, 0, "rpm", climb->band.known), least,
                 explain_known(climb->rider.power_w.value, 0, "W", climb->rider.power_w.known));
    if (out->n_pitches > 0) {
        base_buffer_char(&text, ' ');
        explain_say(&text, figure->ride ? "draw.hills.foot-route" : "draw.hills.foot-wish");
    }
    out->head.foot = app_figure_keep(figure, &text);
}

enum base_status app_figure_hills(struct app_figure *figure) {
    struct hills_of *of = base_arena_alloc(figure->arena, 2, sizeof *of), *shown = of, *now = NULL;
    struct draw_hills hills = {.head = figure->head};
    struct draw_hills_gear reach;
    enum base_status status = of ? hills_of(shown, figure, figure->shown) : BASE_NO_MEMORY;
    if (status == BASE_OK && figure->mode == APP_MODE_BOTH) {
        now = of + 1;
        status = hills_of(now, figure, &figure->now);
    }
    if (status != BASE_OK) {
        return status;
    }
    hills.gears = shown->gears;
    hills.n = shown->n;
    hills.rings = shown->gears[0].ring != shown->gears[shown->n - 1].ring ? 2 : 1;
    hills.high_rpm = shown->climb.band.high_rpm;
    hills.least_rpm = shown->climb.rider.least_rpm.value;
    if (now) {
        reach = reach_of(now);
        hills.now = &reach;
        hills.now_label = app_figure_say(figure, "draw.hills.now", explain_count((int64_t)now->n));
    }
    put_pitches(&hills, figure);
    set_words(&hills, figure, shown, now);
    draw_hills(figure->out, &figure->style, &hills);
    return BASE_OK;
}
