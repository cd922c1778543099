/* SPDX-License-Identifier: Apache-2.0 */
#include "app/figure.h"

#include "mech/cage.h"
#include "mech/constants.h"
#include "mech/sprocket.h"

#include <math.h>

#define PITCH_MM (MECH_INCH_MM / 2.0)

struct sided {
    struct app_figure *figure;
    struct app_chain chain;
    struct draw_side side;
    struct draw_side_loop full;
};

static double radius_of(int teeth) {
    double radius_mm;
    return mech_sprocket_pitch_radius_mm(&radius_mm, teeth) == BASE_OK ? radius_mm : 0.0;
}

static bool is_new(const struct sided *s, enum trade_slot slot) { return s->figure->shown->at[slot].kind == FIT_NEW; }

/* Ring and sprocket, and where the chain has a derailleur the two wheels of its cage; how many. */
static size_t put_wheels(struct mech_loop_wheel out[4], const struct app_cage_gear *gear,
                         const struct trade_cage_shapes_row *shape) {
    double angle = mech_radians(gear->cage_deg);
    bool ok = mech_loop_wheel_toothed(&out[0], gear->axle.x_mm, gear->axle.y_mm, gear->sprocket, -1) == BASE_OK &&
              mech_loop_wheel_toothed(&out[1], 0.0, 0.0, gear->ring, -1) == BASE_OK;
    if (!ok || isnan(gear->cage_deg)) {
        return ok ? 2 : 0;
    }
    ok = mech_loop_wheel_toothed(&out[2], gear->pivot.x_mm + shape->apart_mm * sin(angle),
                                 gear->pivot.y_mm - shape->apart_mm * cos(angle), (int)shape->wheel_teeth,
                                 -1) == BASE_OK &&
         mech_loop_wheel_toothed(&out[3], gear->pivot.x_mm, gear->pivot.y_mm, (int)shape->wheel_teeth, 1) == BASE_OK;
    return ok ? 4 : 2;
}

/* 'ring 34, sprocket 52: 116 links, guide wheel ~6 mm from the sprocket' */
static void put_words(struct sided *s, struct draw_side_loop *loop, const struct app_cage_gear *gear) {
    struct explain_arg ring = explain_count(gear->ring), sprocket = explain_count(gear->sprocket);
    loop->slack = "";
    if (isnan(gear->cage_deg)) {
        loop->title = app_figure_say(s->figure, "draw.side.bare", ring, sprocket);
        return;
    }
    loop->title = app_figure_say(s->figure, "draw.side.chain", ring, sprocket, explain_count(s->chain.links),
                                 explain_known(gear->gap_mm, 0, "mm", BASE_ASSUMED));
    if (gear->slack_links > 0.0) {
        loop->slack = app_figure_say(s->figure, "draw.side.slack",
                                     explain_known(gear->slack_links * PITCH_MM, 0, "mm", BASE_ASSUMED), sprocket);
    } else if (gear->slack_links < 0.0) {
        loop->slack = app_figure_say(s->figure, "draw.side.short",
                                     explain_known(-gear->slack_links * PITCH_MM, 0, "mm", BASE_ASSUMED), sprocket);
    }
}

/* Without a derailleur: the largest ring and sprocket alone, where the chain stay is known. */
static enum base_status put_bare(struct sided *s) {
    struct app_chain *chain = &s->chain;
    if (chain->ring == 0 || chain->sprocket == 0 || isnan(chain->stay_mm)) {
        return BASE_NO;
    }
    chain->gears = base_arena_alloc(s->figure->arena, 1, sizeof *chain->gears);
    if (!chain->gears) {
        return BASE_NO_MEMORY;
    }
    chain->n_gears = 1;
    chain->gears[0] = (struct app_cage_gear){.ring = chain->ring,
                                             .sprocket = chain->sprocket,
                                             .cage_deg = NAN,
                                             .axle = app_axle_of(s->figure->bike, chain->stay_mm)};
    return BASE_OK;
}

/* A gear's loop, where there is a path; without one the cage can't be drawn as it is assumed. */
static bool put_loop(struct sided *s, struct draw_side_loop *loop, const struct app_cage_gear *gear) {
    const struct trade_cage_shapes_row *shape = app_cage_shape(s->chain.cage);
    if ((!shape && !isnan(gear->cage_deg)) || isnan(gear->axle.x_mm)) {
        return false;
    }
    loop->n = put_wheels(loop->wheels, gear, shape);
    if (loop->n == 0 || mech_loop_solve(&loop->loop, loop->wheels, loop->n) != BASE_OK) {
        return false;
    }
    put_words(s, loop, gear);
    return true;
}

static void add_loop(struct sided *s, const struct app_cage_gear *gear) {
    s->side.n_loops += put_loop(s, &s->side.loops[s->side.n_loops], gear) ? 1 : 0;
}

static void add_wheel(struct sided *s, int teeth, double x_mm, double y_mm, bool new_one, const char *code) {
    struct draw_side_wheel *wheel = &s->side.wheels[s->side.n_wheels++];
    *wheel = (struct draw_side_wheel){.teeth = teeth,
                                      .x_mm = x_mm,
                                      .y_mm = y_mm,
                                      .radius_mm = radius_of(teeth),
                                      .is_new = new_one,
                                      .title = app_figure_say(s->figure, code, explain_count(teeth))};
}

/* The largest ring with the largest sprocket, and the smallest with the smallest. */
static void find_extremes(const struct app_cage_gear **large, const struct app_cage_gear **small,
                          const struct app_chain *chain) {
    *large = *small = &chain->gears[0];
    for (size_t i = 1; i < chain->n_gears; i++) {
        const struct app_cage_gear *gear = &chain->gears[i];
        if (gear->ring + gear->sprocket > (*large)->ring + (*large)->sprocket) {
            *large = gear;
        }
        if (gear->ring + gear->sprocket < (*small)->ring + (*small)->sprocket) {
            *small = gear;
        }
    }
}

static void put_all(struct sided *s, const struct app_cage_gear *large, const struct app_cage_gear *small) {
    bool ring_new =
        is_new(s, TRADE_SLOT_OUTER_RING) || is_new(s, TRADE_SLOT_MIDDLE_RING) || is_new(s, TRADE_SLOT_INNER_RING);
    bool cassette_new = is_new(s, TRADE_SLOT_CASSETTE);
    s->side.axle_x_mm = large->axle.x_mm;
    s->side.axle_y_mm = large->axle.y_mm;
    s->side.axles_known = s->chain.known;
    s->side.largest_ring_mm = radius_of(large->ring);
    s->side.largest_sprocket_mm = radius_of(large->sprocket);
    add_loop(s, large);
    add_wheel(s, large->ring, 0.0, 0.0, ring_new, "draw.side.ring");
    add_wheel(s, large->sprocket, large->axle.x_mm, large->axle.y_mm, cassette_new, "draw.side.sprocket");
    if (small == large) {
        return;
    }
    add_loop(s, small);
    add_wheel(s, small->sprocket, small->axle.x_mm, small->axle.y_mm, cassette_new, "draw.side.sprocket");
    if (small->ring != large->ring) {
        add_wheel(s, small->ring, 0.0, 0.0, ring_new, "draw.side.ring");
    }
}

/* --- suspension ---------------------------------------------------------------------------------------------------- */

/* The gear with the axle elsewhere; false where no cage is reckoned there. */
static bool gear_at(struct app_cage_gear *out, const struct sided *s, const struct app_cage_gear *gear,
                    struct mech_point axle) {
    const int teeth[2] = {gear->ring, gear->sprocket};
    return !isnan(gear->cage_deg) && app_cage_at(out, &s->chain, s->figure->bike, s->figure->shown, teeth, axle) &&
           !isnan(out->cage_deg);
}

/* The axle from rest to full travel; false where the bike does not say how it goes, or it does not go so far. */
static bool put_path(struct draw_side *side, const struct trade_bike *bike) {
    const struct mech_suspension_frame *frame = bike->suspension;
    struct mech_suspension_state state;
    enum mech_suspension_why why;
    if (!frame || mech_suspension_rest(&state, &why, &frame->suspension) != BASE_OK) {
        return false;
    }
    for (size_t i = 0; i < DRAW_PATH_POINTS; i++) {
        double travel_mm = frame->travel_mm * (double)i / (DRAW_PATH_POINTS - 1);
        if (mech_suspension_move(&state, &why, &frame->suspension, travel_mm) != BASE_OK) {
            return false;
        }
        side->path[i] = state.axle;
    }
    side->travel_mm = frame->travel_mm;
    return true;
}

/* Where the bike says how its axle goes, both gears are drawn at rest, and the larger at full travel too. */
static void suspend(struct sided *s, struct app_cage_gear *large, struct app_cage_gear *small) {
    struct app_cage_gear rest[2], full;
    const struct mech_point *path = s->side.path;
    if (!put_path(&s->side, s->figure->bike) || !gear_at(&rest[0], s, large, path[0]) ||
        !gear_at(&rest[1], s, small, path[0]) || !gear_at(&full, s, large, path[DRAW_PATH_POINTS - 1]) ||
        !put_loop(s, &s->full, &full)) {
        return;
    }
    *large = rest[0];
    *small = rest[1];
    s->side.full = &s->full;
    s->full.title = app_figure_say(s->figure, "draw.side.full", explain_number(s->side.travel_mm, 0, "mm"),
                                   explain_count(large->ring), explain_count(large->sprocket));
}

static void put_foot(struct sided *s) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    for (size_t i = 0; i < s->side.n_loops; i++) {
        const struct explain_arg title = explain_words(s->side.loops[i].title);
        base_buffer_text(&text, i > 0 ? " " : "");
        explain_put(&text, i == 0 ? "draw.side.solid" : "draw.side.dashed", &title, 1);
    }
    if (s->side.full) {
        base_buffer_char(&text, ' ');
        explain_tell(&text, "draw.side.fine", explain_words(s->side.full->title));
    }
    if (s->side.n_loops > 0 && s->side.loops[0].n > 2) {
        base_buffer_char(&text, ' ');
        explain_say(&text, "draw.side.assumed");
    }
    s->side.head.answer = s->side.head.foot = app_figure_keep(s->figure, &text);
}

enum base_status app_figure_side(struct app_figure *figure) {
    struct fit_cases *cases = base_arena_alloc(figure->arena, 1, sizeof *cases);
    struct sided *s = base_arena_alloc(figure->arena, 1, sizeof *s);
    const struct app_cage_gear *large, *small;
    struct app_cage_gear gears[2];
    if (!cases || !s) {
        return BASE_NO_MEMORY;
    }
    s->figure = figure;
    s->side.head = figure->head;
    fit_cases_of(cases, figure->bike);
    app_chain_of(&s->chain, figure->bike, figure->shown, cases, !figure->way);
    if (app_cages_of(&s->chain, figure->arena, figure->bike, figure->shown) != BASE_OK) {
        return BASE_NO_MEMORY;
    }
    figure->open = s->chain.open;
    if (s->chain.n_gears == 0) {
        enum base_status status = put_bare(s);
        if (status != BASE_OK) {
            return status;
        }
    }
    find_extremes(&large, &small, &s->chain);
    gears[0] = *large;
    gears[1] = *small;
    suspend(s, &gears[0], &gears[1]);
    put_all(s, &gears[0], small == large ? &gears[0] : &gears[1]);
    put_foot(s);
    if (s->side.n_loops == 0) {
        return BASE_NO;
    }
    draw_side(figure->out, &figure->style, &s->side);
    return BASE_OK;
}
