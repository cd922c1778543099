/* SPDX-License-Identifier: Apache-2.0 */
#include "app/figure.h"

#include "mech/sprocket.h"

#include <math.h>
#include <string.h>

#define RINGS 3
#define DEFAULT_STAY_BEHIND_MM 70.0 /* where an unread stay is shown when the ring's size is not known either */

static const enum trade_slot places[RINGS] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};

/* The pitch radius; 0 for teeth that no wheel has. */
static double radius_of(int teeth) {
    double radius_mm;
    return mech_sprocket_pitch_radius_mm(&radius_mm, teeth) == BASE_OK ? radius_mm : 0.0;
}

static double number_or(const struct trade_part *part, enum trade_property property, double other) {
    double number = trade_get_number(part, property);
    return isnan(number) ? other : number;
}

/* --- rings --------------------------------------------------------------------------------------------------------- */

/* The rings of a build from the outermost on; 0 where a plane or a count is open. */
static size_t rings_of(struct draw_above_ring out[RINGS], const struct trade_bike *bike,
                       const struct fit_build *build) {
    struct plan_line line;
    size_t n = 0;
    plan_line_of(&line, bike, build);
    for (size_t i = 0; i < RINGS; i++) {
        const struct fit_choice *choice = &build->at[places[i]];
        if (!line.present[i]) {
            continue;
        }
        double teeth = choice->part ? trade_get_number(choice->part, TRADE_RING_TEETH) : NAN;
        if (isnan(teeth) || line.ring[i].known == BASE_OPEN) {
            return 0;
        }
        out[n++] = (struct draw_above_ring){.teeth = (int)teeth,
                                            .plane_mm = line.ring[i].mm,
                                            .known = line.ring[i].known,
                                            .radius_mm = radius_of((int)teeth),
                                            .thickness_mm = number_or(choice->part, TRADE_RING_THICKNESS_MM, 2.0),
                                            .is_new = choice->kind == FIT_NEW};
    }
    return n;
}

/* The rings of now that the way does not have in the same plane. */
static size_t gone_of(struct draw_above_ring out[RINGS], const struct draw_above_ring *now, size_t n_now,
                      const struct draw_above *shown) {
    size_t n = 0;
    for (size_t i = 0; i < n_now; i++) {
        bool stays = false;
        for (size_t k = 0; k < shown->n_rings; k++) {
            stays = stays || (!shown->rings[k].is_new && shown->rings[k].teeth == now[i].teeth &&
                              fabs(shown->rings[k].plane_mm - now[i].plane_mm) < 0.01);
        }
        if (!stays) {
            out[n++] = now[i];
        }
    }
    return n;
}

/* --- sprockets and chain ------------------------------------------------------------------------------------------- */

/* The sprockets, the smallest first; BASE_NO where planes are open. */
static enum base_status put_sprockets(struct draw_above *out, struct app_figure *figure) {
    const struct fit_choice *cassette = &figure->shown->at[TRADE_SLOT_CASSETTE];
    const struct trade_value *teeth = cassette->part ? trade_get(cassette->part, TRADE_CASSETTE_SPROCKETS) : NULL;
    if (!teeth || trade_is_open(teeth)) {
        return BASE_NO;
    }
    size_t n = teeth->counts->n;
    struct draw_above_sprocket *sprockets = base_arena_alloc(figure->arena, n, sizeof *sprockets);
    if (!sprockets) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < n; i++) {
        double plane_mm = plan_sprocket_plane_mm(figure->bike, figure->shown, i);
        if (isnan(plane_mm)) {
            return BASE_NO;
        }
        sprockets[i] = (struct draw_above_sprocket){teeth->counts->at[i], plane_mm, radius_of(teeth->counts->at[i])};
    }
    out->sprockets = sprockets;
    out->n_sprockets = n;
    out->cassette_new = cassette->kind == FIT_NEW;
    return BASE_OK;
}

/* The chain between a ring and a sprocket. */
static struct draw_above_run run_of(const struct draw_above *of, const struct app_line *line, size_t ring,
                                    size_t sprocket) {
    struct draw_above_run run = {.ring = of->rings[ring].teeth,
                                 .sprocket = of->sprockets[sprocket].teeth,
                                 .ring_mm = of->rings[ring].plane_mm,
                                 .sprocket_mm = of->sprockets[sprocket].plane_mm,
                                 .angle_deg = NAN,
                                 .known = BASE_OPEN};
    for (size_t i = 0; i < line->n_angles; i++) {
        if (line->angles[i].ring == run.ring && line->angles[i].sprocket == run.sprocket) {
            run.angle_deg = line->angles[i].angle_deg;
            run.known = line->angles[i].known;
        }
    }
    return run;
}

/* The innermost ring with the largest sprocket, the outermost with the smallest; and the middle of both. */
static void put_runs(struct draw_above *of, const struct app_line *line) {
    of->runs[0] = run_of(of, line, of->n_rings - 1, of->n_sprockets - 1);
    of->runs[1] = run_of(of, line, 0, 0);
    of->n_runs = 2;
    if (of->n_sprockets > 2) {
        of->runs[of->n_runs++] = run_of(of, line, of->n_rings / 2, of->n_sprockets / 2);
    }
}

/* --- the stay ------------------------------------------------------------------------------------------------------ */

/* What the rule of the stay says of the outermost ring: the room that it has. */
static void put_stay(struct draw_above *of, struct app_figure *figure) {
    struct fit_cases *cases = base_arena_alloc(figure->arena, 1, sizeof *cases);
    struct fit_finding finding;
    double diameter_mm;
    of->stay_mm = of->room_mm = NAN;
    of->stay_behind_mm = of->rings[0].radius_mm > 0.0 ? of->rings[0].radius_mm : DEFAULT_STAY_BEHIND_MM;
    if (mech_sprocket_outside_diameter_mm(&diameter_mm, of->rings[0].teeth) == BASE_OK) {
        of->stay_behind_mm = diameter_mm / 2.0;
    }
    if (!cases) {
        figure->out->status = BASE_NO_MEMORY;
        return;
    }
    fit_cases_of(cases, figure->bike);
    for (size_t i = 0; i < fit_rules_n; i++) {
        const struct fit_rule *rule = fit_rules[i];
        if (strcmp(rule->id, "stay-clearance") != 0 || figure->shown->at[rule->reads[0].subject].kind == FIT_NONE) {
            continue;
        }
        fit_judge_rule(&finding, rule, figure->bike, figure->shown, cases, true);
        bool measured = finding.verdict.n_facts == 2 && finding.verdict.kind != FIT_SILENT;
        if (measured) {
            of->room_mm = finding.verdict.facts[0].number;
            of->room_known = finding.known;
            of->stay_mm = of->rings[0].plane_mm - of->rings[0].thickness_mm / 2.0 - of->room_mm;
        }
        return; /* the first place that holds a ring is the outermost */
    }
}

/* --- the whole ----------------------------------------------------------------------------------------------------- */

static void put_window(struct draw_above *of, struct app_figure *figure, const struct plan_line *line) {
    enum base_known known = line->target == PLAN_TARGET_REAR ? line->rear.known : BASE_TABLE;
    of->low_mm = line->low_mm;
    of->high_mm = line->high_mm;
    of->wants = isnan(line->low_mm)
                    ? ""
                    : app_figure_say(
                          figure, "draw.above.wants",
                          explain_number(line->low_mm, explain_decimals(TRADE_FRAME_NEW_LINE_LOW_MM, line->low_mm), ""),
                          explain_known(line->high_mm, explain_decimals(TRADE_FRAME_NEW_LINE_LOW_MM, line->high_mm),
                                        "mm", known == BASE_ASSUMED ? BASE_MEASURED : known));
}

static void put_hub(struct draw_above *of, const struct trade_bike *bike) {
    const struct trade_value *width = trade_get(&bike->frame, TRADE_FRAME_HUB_WIDTH_MM);
    const struct trade_value *offset = trade_get(&bike->frame, TRADE_FRAME_REAR_OFFSET_MM);
    of->hub_face_mm = NAN;
    if (!trade_is_open(width)) {
        of->hub_face_mm = width->number / 2.0 + (trade_is_open(offset) ? 0.0 : offset->number);
        of->hub_known = width->known;
    }
}

static const char *answer_of(struct app_figure *figure, const struct draw_above *of) {
    static const char degree[] = "\xc2\xb0";
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, "draw.above.answer", explain_known(round(of->front_mm * 2.0) / 2.0, 1, "mm", of->front_known),
                 explain_words(of->wants), explain_count(of->runs[0].sprocket),
                 explain_known(fabs(of->runs[0].angle_deg), 1, degree, of->runs[0].known),
                 explain_count(of->runs[1].sprocket),
                 explain_known(fabs(of->runs[1].angle_deg), 1, degree, of->runs[1].known));
    if (!isnan(of->room_mm)) {
        base_buffer_char(&text, ' ');
        explain_tell(&text, "draw.above.answer-room", explain_known(of->room_mm, 1, "mm", of->room_known));
    }
    return app_figure_keep(figure, &text);
}

/* What the figure waits for; false where nothing is open. */
static bool waits(struct app_figure *figure, const struct draw_above *of, const struct app_line *line) {
    figure->open = line->open;
    return of->n_rings == 0 || of->n_sprockets == 0 || isnan(line->axles_mm) || line->line.front.known == BASE_OPEN;
}

enum base_status app_figure_above(struct app_figure *figure) {
    struct draw_above of = {.head = figure->head};
    struct draw_above_ring rings[RINGS], now[RINGS], gone[RINGS];
    struct app_line *line = base_arena_alloc(figure->arena, 1, sizeof *line);
    enum base_status status = line ? app_line_of(line, figure->arena, figure->bike, figure->shown) : BASE_NO_MEMORY;
    if (status == BASE_OK) {
        status = put_sprockets(&of, figure);
    }
    if (status == BASE_NO_MEMORY) {
        return status;
    }
    of.rings = rings;
    of.n_rings = rings_of(rings, figure->bike, figure->shown);
    if (waits(figure, &of, line)) {
        return BASE_NO;
    }
    of.axles_mm = line->axles_mm;
    of.front_mm = line->line.front.mm;
    of.front_known = line->line.front.known;
    of.rear_known = line->line.rear.known;
    if (figure->mode == APP_MODE_BOTH) {
        of.now = gone;
        of.n_now = gone_of(gone, now, rings_of(now, figure->bike, &figure->now), &of);
    }
    put_runs(&of, line);
    put_hub(&of, figure->bike);
    put_window(&of, figure, &line->line);
    put_stay(&of, figure);
    of.head.answer = answer_of(figure, &of);
    of.head.foot = explain_message(of.n_now > 0 ? "draw.above.foot-both" : "draw.above.foot");
    draw_above(figure->out, &figure->style, &of);
    return BASE_OK;
}
