/* SPDX-License-Identifier: Apache-2.0 */
#include "app/figure.h"

#include "explain/path.h"
#include "fit/stay.h"
#include "mech/sprocket.h"

#include <math.h>
#include <string.h>

#define DEFAULT_STAY_BEHIND_MM 70.0 /* where an unread stay is shown when the ring's size is not known either */

static const enum trade_slot places[DRAW_RINGS_MAX] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING,
                                                       TRADE_SLOT_INNER_RING};

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

/* The rings of a build from the outermost on; 0 where a count is open. An open plane is NAN. */
static size_t rings_of(struct draw_above_ring out[DRAW_RINGS_MAX], const struct trade_bike *bike,
                       const struct fit_build *build) {
    struct plan_line line;
    size_t n = 0;
    plan_line_of(&line, bike, build);
    for (size_t i = 0; i < DRAW_RINGS_MAX; i++) {
        const struct fit_choice *choice = &build->at[places[i]];
        if (!line.present[i]) {
            continue;
        }
        double teeth = choice->part ? trade_get_number(choice->part, TRADE_RING_TEETH) : NAN;
        if (isnan(teeth)) {
            return 0;
        }
        bool is_open = line.ring[i].known == BASE_OPEN;
        out[n++] = (struct draw_above_ring){.teeth = (int)teeth,
                                            .plane_mm = is_open ? (double)NAN : line.ring[i].mm,
                                            .known = line.ring[i].known,
                                            .radius_mm = radius_of((int)teeth),
                                            .thickness_mm = number_or(choice->part, TRADE_RING_THICKNESS_MM, 2.0),
                                            .is_new = choice->kind == FIT_NEW};
    }
    return n;
}

/* The rings of now that the way does not have in the same plane; without those of an open plane. */
static size_t gone_of(struct draw_above_ring out[DRAW_RINGS_MAX], const struct draw_above_ring *now, size_t n_now,
                      const struct draw_above *shown) {
    size_t n = 0;
    for (size_t i = 0; i < n_now; i++) {
        bool stays = now[i].known == BASE_OPEN;
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
    for (size_t i = 0; i < of->n_rings; i++) {
        if (of->rings[i].known == BASE_OPEN) {
            return;
        }
    }
    of->n_runs = 2;
    if (of->n_sprockets > 2) {
        of->runs[of->n_runs++] = run_of(of, line, of->n_rings / 2, of->n_sprockets / 2);
    }
}

/* --- the stay ------------------------------------------------------------------------------------------------------ */

/* The stay's face beside the outermost ring, as it was read, and the room to the ring where its plane is known. */
static void put_face(struct draw_above *of, const struct trade_bike *bike) {
    static const enum trade_property reads[FIT_STAY_POINTS] = {TRADE_FRAME_STAY_60_MM, TRADE_FRAME_STAY_70_MM,
                                                               TRADE_FRAME_STAY_80_MM, TRADE_FRAME_STAY_100_MM};
    double faces_mm[FIT_STAY_POINTS];
    enum base_known known = of->rings[0].known;
    for (size_t i = 0; i < FIT_STAY_POINTS; i++) {
        const struct trade_value *face = trade_get(&bike->frame, reads[i]);
        faces_mm[i] = trade_is_open(face) ? (double)NAN : face->number;
        known = trade_is_open(face) ? known : base_weakest(known, face->known);
    }
    of->stay_mm = fit_stay_face_mm(faces_mm, of->stay_behind_mm);
    of->room_mm = of->rings[0].plane_mm - of->rings[0].thickness_mm / 2.0 - of->stay_mm;
    of->room_known = isnan(of->room_mm) ? BASE_OPEN : known;
}

/* What the rule of the stay says of the outermost ring: the room that it has. It is silent of it where the ring turns now. */
static void put_stay(struct draw_above *of, struct app_figure *figure) {
    struct fit_cases *cases = base_arena_alloc(figure->arena, 1, sizeof *cases);
    struct fit_finding finding;
    double diameter_mm;
    of->stay_behind_mm = of->rings[0].radius_mm > 0.0 ? of->rings[0].radius_mm : DEFAULT_STAY_BEHIND_MM;
    if (mech_sprocket_outside_diameter_mm(&diameter_mm, of->rings[0].teeth) == BASE_OK) {
        of->stay_behind_mm = diameter_mm / 2.0;
    }
    put_face(of, figure->bike);
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

/* --- how a single ring is held ------------------------------------------------------------------------------------ */

/* Its offset, and the spacers under its bolts: between the ring and the frame in the outer place, beyond it in the inner. */
static void put_mount(struct draw_above *of, const struct fit_build *build) {
    const struct fit_choice *washers = &build->at[TRADE_SLOT_RING_WASHERS];
    if (of->n_rings != 1) {
        return;
    }
    for (size_t i = 0; i < DRAW_RINGS_MAX; i++) {
        const struct fit_choice *ring = &build->at[places[i]];
        if (ring->kind == FIT_NONE || !ring->part || trade_is_open(trade_get(ring->part, TRADE_RING_OFFSET_MM))) {
            continue;
        }
        of->offset_mm = trade_get_number(ring->part, TRADE_RING_OFFSET_MM);
        of->offset_known = trade_get(ring->part, TRADE_RING_OFFSET_MM)->known;
        of->washers_inside = places[i] == TRADE_SLOT_OUTER_RING;
    }
    if (washers->kind != FIT_NONE && washers->part) {
        of->washers_mm = number_or(washers->part, TRADE_SPACER_THICKNESS_MM, 0.0);
        of->washers_known = trade_get(washers->part, TRADE_SPACER_THICKNESS_MM)->known;
        of->washers_new = washers->kind == FIT_NEW;
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

/* What the chain line waits for, by name. */
static const char *open_of(struct app_figure *figure) {
    const char *names[APP_OPEN_MAX];
    struct base_buffer text;
    for (size_t i = 0; i < figure->open.n; i++) {
        base_buffer_init(&text, 0);
        explain_name(&text, figure->open.at[i].subject, figure->open.at[i].property);
        names[i] = app_figure_keep(figure, &text);
    }
    base_buffer_init(&text, 0);
    explain_put_list(&text, names, figure->open.n, "list.and");
    return app_figure_keep(figure, &text);
}

static const char *answer_of(struct app_figure *figure, const struct draw_above *of) {
    if (of->n_runs == 0) {
        return of->wants[0] ? app_figure_say(figure, "draw.above.answer-open", explain_words(open_of(figure)),
                                             explain_words(of->wants))
                            : app_figure_say(figure, "draw.above.answer-open-bare", explain_words(open_of(figure)));
    }
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

/* Another sentence behind those so far. */
static void add_sentence(struct base_buffer *text, const char *code) {
    base_buffer_char(text, ' ');
    explain_say(text, code);
}

/* How to read it: what is dashed, open, offset or hatched, where there is such a thing. */
static const char *foot_of(struct app_figure *figure, const struct draw_above *of) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_say(&text, of->n_now > 0 ? "draw.above.foot-both" : "draw.above.foot");
    if (of->n_runs > 0) {
        add_sentence(&text, "draw.above.foot-chain");
    } else {
        base_buffer_char(&text, ' ');
        explain_tell(&text, "draw.above.foot-open", explain_words(open_of(figure)));
    }
    if (fabs(of->offset_mm) > 0.0) {
        add_sentence(&text, of->offset_mm > 0.0 ? "draw.above.foot-offset" : "draw.above.foot-offset-out");
    }
    if (of->washers_mm > 0.0) {
        add_sentence(&text, "draw.above.foot-washers");
    }
    return app_figure_keep(figure, &text);
}

/* Does the figure wait for something that it can't be drawn without? */
static bool waits(struct app_figure *figure, const struct draw_above *of, const struct app_line *line) {
    figure->open = line->open;
    return of->n_rings == 0 || of->n_sprockets == 0 || isnan(line->axles_mm);
}

enum base_status app_figure_above(struct app_figure *figure) {
    struct draw_above of = {.head = figure->head};
    struct draw_above_ring rings[DRAW_RINGS_MAX], now[DRAW_RINGS_MAX], gone[DRAW_RINGS_MAX];
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
    of.front_known = line->line.front.known;
    of.front_mm = of.front_known == BASE_OPEN ? (double)NAN : line->line.front.mm;
    of.rear_known = line->line.rear.known;
    if (figure->mode == APP_MODE_BOTH) {
        of.now = gone;
        of.n_now = gone_of(gone, now, rings_of(now, figure->bike, &figure->now), &of);
    }
    put_runs(&of, line);
    put_hub(&of, figure->bike);
    put_window(&of, figure, &line->line);
    put_stay(&of, figure);
    put_mount(&of, figure->shown);
    of.head.answer = answer_of(figure, &of);
    of.head.foot = foot_of(figure, &of);
    draw_above(figure->out, &figure->style, &of);
    return BASE_OK;
}
