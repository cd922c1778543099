/* SPDX-License-Identifier: Apache-2.0 */
#include "app/figure.h"

#include <math.h>

#define PERCENT 100.0

/* What a lane shows of how a cell was ridden; DRAW_ROUTE_STATES: nothing. */
static enum draw_route_state state_of(unsigned mode) {
    switch (mode) {
    case RIDE_MODE_BELOW:
        return DRAW_ROUTE_BELOW;
    case RIDE_MODE_ABOVE:
        return DRAW_ROUTE_ABOVE;
    case RIDE_MODE_WALKED:
        return DRAW_ROUTE_FOOT;
    default:
        return DRAW_ROUTE_STATES;
    }
}

static const char *title_of(struct app_figure *figure, const struct draw_route_stretch *stretch) {
    static const char *const codes[DRAW_ROUTE_STATES] = {"draw.route.below", "draw.route.above", "draw.route.on-foot"};
    return app_figure_say(figure, codes[stretch->state], explain_number(stretch->from_m / 1000.0, 1, "km"),
                          explain_number(stretch->to_m - stretch->from_m, 0, "m"));
}

/* Cells that follow each other in one state, as stretches. */
static enum base_status put_lane(struct draw_route_lane *out, struct app_figure *figure,
                                 const struct app_ride_bike *bike, const char *label) {
    const struct ride_profile *profile = &figure->ride->road->profile;
    struct draw_route_stretch *stretches = base_arena_alloc(figure->arena, profile->n, sizeof *stretches);
    enum draw_route_state last = DRAW_ROUTE_STATES;
    double at_m = 0.0;
    if (!stretches) {
        return BASE_NO_MEMORY;
    }
    *out = (struct draw_route_lane){.label = label, .stretches = stretches, .is_now = !bike->way};
    for (size_t i = 0; i < profile->n; i++) {
        enum draw_route_state state = state_of(bike->run.moments[i].mode);
        if (state != DRAW_ROUTE_STATES && state != last) {
            stretches[out->n++] = (struct draw_route_stretch){state, at_m, at_m, NULL};
        }
        at_m += profile->cells[i].length_m;
        if (state != DRAW_ROUTE_STATES) {
            stretches[out->n - 1].to_m = at_m;
        }
        last = state;
    }
    for (size_t i = 0; i < out->n; i++) {
        stretches[i].title = title_of(figure, &stretches[i]);
    }
    return BASE_OK;
}

/* The gears that are pedalled, one after the other; cells that follow each other in one gear are one stretch. */
static enum base_status put_gears(struct draw_route *out, struct app_figure *figure, const struct app_ride_bike *bike) {
    const struct ride_profile *profile = &figure->ride->road->profile;
    struct draw_route_gear *gears = base_arena_alloc(figure->arena, profile->n, sizeof *gears);
    double at_m = 0.0;
    size_t n = 0;
    if (!gears) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < profile->n; i++) {
        const struct ride_moment *moment = &bike->run.moments[i];
        const struct mech_gear *gear = &bike->gears[moment->gear];
        bool pedalled = moment->mode != RIDE_MODE_COASTING && moment->mode != RIDE_MODE_WALKED;
        bool same = n > 0 && !(gears[n - 1].to_m < at_m) && gears[n - 1].ring == gear->ring &&
                    gears[n - 1].sprocket == gear->sprocket;
        if (pedalled && !same) {
            gears[n++] = (struct draw_route_gear){gear->ring, gear->sprocket, at_m, at_m};
        }
        at_m += profile->cells[i].length_m;
        if (pedalled) {
            gears[n - 1].to_m = at_m;
        }
    }
    out->gears = gears;
    out->n_gears = n;
    return BASE_OK;
}

static enum base_status put_profile(struct draw_route *out, struct app_figure *figure) {
    const struct ride_profile *profile = &figure->ride->road->profile;
    struct draw_route_point *points = base_arena_alloc(figure->arena, profile->n + 1, sizeof *points);
    double at_m = 0.0;
    if (!points) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i <= profile->n; i++) {
        points[i] = (struct draw_route_point){at_m, profile->heights_m[i]};
        at_m += i < profile->n ? profile->cells[i].length_m : 0.0;
    }
    out->points = points;
    out->n = profile->n + 1;
    out->length_m = at_m;
    return BASE_OK;
}

static void put_pitches(struct draw_route *out, struct app_figure *figure) {
    const struct app_ride *ride = figure->ride;
    for (size_t i = 0; i < ride->n_pitches && out->n_pitches < DRAW_PITCHES_MAX; i++) {
        const struct ride_pitch *pitch = &ride->pitches[i];
        out->pitches[out->n_pitches++] = (struct draw_route_pitch){
            pitch->from_m, pitch->from_m + pitch->length_m,
            app_figure_say(figure, "draw.route.pitch", explain_number(PERCENT * pitch->gradient, 0, "%"),
                           explain_number(round(pitch->length_m / 10.0) * 10.0, 0, "m"))};
    }
}

/* 'now: below the band ~2.9 min, above it ~6.2 min, on foot 20 m' */
static void put_answer(struct base_buffer *text, const struct app_ride_bike *bike, const char *label,
                       enum base_known known) {
    const struct ride_run *run = &bike->run;
    base_buffer_text(text, text->n > 0 ? " " : "");
    explain_tell(text, "draw.route.answer", explain_words(label),
                 explain_known(run->mode_s[RIDE_MODE_BELOW] / 60.0, 1, "min", known),
                 explain_known(run->mode_s[RIDE_MODE_ABOVE] / 60.0, 1, "min", known),
                 explain_known(run->mode_m[RIDE_MODE_WALKED], 0, "m", known));
}

enum base_status app_figure_route(struct app_figure *figure) {
    const struct app_ride *ride = figure->ride;
    struct draw_route route = {.head = figure->head};
    char *letter = base_arena_copy(figure->arena, &figure->letter, 1);
    struct base_buffer text;
    if (!letter) {
        return BASE_NO_MEMORY;
    }
    if (ride->bikes[0].n == 0) {
        figure->open = ride->open;
        return BASE_NO;
    }
    base_buffer_init(&text, 0);
    enum base_status status = put_profile(&route, figure);
    for (size_t i = 0; i < ride->n_bikes && status == BASE_OK; i++) {
        const struct app_ride_bike *bike = &ride->bikes[i];
        bool wanted = bike->way ? bike->way == figure->way : figure->mode != APP_MODE_WAY;
        if (wanted) {
            const char *label = bike->way ? letter : explain_message("draw.route.now");
            status = put_lane(&route.lanes[route.n_lanes++], figure, bike, label);
            put_answer(&text, bike, label, ride->road->known);
            status = status == BASE_OK ? put_gears(&route, figure, bike) : status;
        }
    }
    if (status == BASE_OK) {
        put_pitches(&route, figure);
        route.head.answer = app_figure_keep(figure, &text);
        route.head.foot = explain_message(figure->style.wide ? "draw.route.foot-wide" : "draw.route.foot");
        draw_route(figure->out, &figure->style, &route);
    }
    base_buffer_clear(&text);
    return status;
}
