/* SPDX-License-Identifier: Apache-2.0 */
#include "app/answers.h"

#include "mech/chain.h"
#include "mech/gear.h"
#include "mech/index.h"
#include "mech/line.h"
#include "mech/loop.h"
#include "mech/sprocket.h"

#include <math.h>
#include <string.h>

static const enum trade_slot ring_slots[3] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};

/* --- what an answer waits for -------------------------------------------------------------------------------------- */

void app_wait_for(struct app_open *open, unsigned subject, unsigned property) {
    for (size_t i = 0; i < open->n; i++) {
        if (open->at[i].subject == subject && open->at[i].property == property) {
            return;
        }
    }
    if (open->n < APP_OPEN_MAX) {
        open->at[open->n].subject = (uint8_t)subject;
        open->at[open->n++].property = (uint16_t)property;
    }
}

/* A number of what a slot holds: NAN and waited for when it is open, NAN alone when the slot is empty. */
static double slot_number(struct app_open *open, enum base_known *known, const struct fit_build *build,
                          enum trade_slot slot, enum trade_property property) {
    const struct trade_part *part = build->at[slot].part;
    if (!part) {
        return NAN;
    }
    const struct trade_value *value = trade_get(part, property);
    if (trade_is_open(value)) {
        app_wait_for(open, slot, property);
        return NAN;
    }
    *known = base_weakest(*known, value->known);
    return value->number;
}

static double frame_number(struct app_open *open, enum base_known *known, const struct trade_bike *bike,
                           enum trade_property property) {
    const struct trade_value *value = trade_get(&bike->frame, property);
    if (trade_is_open(value)) {
        app_wait_for(open, FIT_FRAME, property);
        return NAN;
    }
    *known = base_weakest(*known, value->known);
    return value->number;
}

/* --- teeth --------------------------------------------------------------------------------------------------------- */

struct teeth {
    int rings[3];
    size_t n_rings;
    unsigned place[3];                    /* of each ring: 0 outer, 1 middle, 2 inner */
    const struct trade_counts *sprockets; /* NULL when open */
};

/* NULL, and waited for, when nobody has counted them. */
static const struct trade_counts *sprockets_of(struct app_open *open, const struct fit_build *build) {
    const struct trade_part *cassette = build->at[TRADE_SLOT_CASSETTE].part;
    if (!cassette || trade_is_open(trade_get(cassette, TRADE_CASSETTE_SPROCKETS))) {
        app_wait_for(open, TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SPROCKETS);
        return NULL;
    }
    return trade_get(cassette, TRADE_CASSETTE_SPROCKETS)->counts;
}

static struct teeth teeth_of(struct app_open *open, enum base_known *known, const struct fit_build *build) {
    struct teeth t = {.n_rings = 0};
    for (unsigned i = 0; i < 3; i++) {
        double teeth = slot_number(open, known, build, ring_slots[i], TRADE_RING_TEETH);
        if (!isnan(teeth)) {
            t.place[t.n_rings] = i;
            t.rings[t.n_rings++] = (int)teeth;
        }
    }
    t.sprockets = sprockets_of(open, build);
    if (t.n_rings == 0) {
        app_wait_for(open, TRADE_SLOT_OUTER_RING, TRADE_RING_TEETH);
    }
    return t;
}

static void extremes(int *least, int *most, const int *list, size_t n) {
    *least = list[0];
    *most = list[0];
    for (size_t i = 1; i < n; i++) {
        *least = list[i] < *least ? list[i] : *least;
        *most = list[i] > *most ? list[i] : *most;
    }
}

/* --- gears --------------------------------------------------------------------------------------------------------- */

/* Rooms for n gears; false when memory is spent. */
static bool make_room(struct app_gears *out, struct base_arena *arena, size_t n) {
    out->gears = base_arena_alloc(arena, n, sizeof *out->gears);
    out->development_m = base_arena_alloc(arena, n, sizeof *out->development_m);
    out->steps_percent = base_arena_alloc(arena, n, sizeof *out->steps_percent);
    return out->gears && out->development_m && out->steps_percent;
}

static enum base_status list_gears(struct app_gears *out, struct base_arena *arena, const struct teeth *t) {
    int *sprockets = base_arena_alloc(arena, t->sprockets->n, sizeof *sprockets);
    if (!sprockets || !make_room(out, arena, t->n_rings * t->sprockets->n)) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < t->sprockets->n; i++) {
        sprockets[i] = t->sprockets->at[i];
    }
    enum base_status status = mech_gear_table(out->gears, t->rings, t->n_rings, sprockets, t->sprockets->n);
    out->n = status == BASE_OK ? t->n_rings * t->sprockets->n : 0;
    out->sprockets = t->sprockets->n;
    return status;
}

enum base_status app_gears_of(struct app_gears *out, struct base_arena *arena, const struct trade_bike *bike,
                              const struct fit_build *build) {
    *out = (struct app_gears){.range_percent = NAN, .lowest_m = NAN, .highest_m = NAN};
    struct teeth t = teeth_of(&out->open, &out->known, build);
    const struct trade_value *rolling = trade_get(&bike->wheel, TRADE_WHEEL_ROLLING_MM);
    if (trade_is_open(rolling)) {
        app_wait_for(&out->open, FIT_WHEEL, TRADE_WHEEL_ROLLING_MM);
    }
    out->rings = (unsigned)t.n_rings;
    if (t.n_rings == 0 || !t.sprockets) {
        return BASE_OK;
    }
    enum base_status status = list_gears(out, arena, &t);
    if (status != BASE_OK) {
        return status;
    }
    out->known = base_weakest(out->known, rolling->known);
    for (size_t i = 0; i < out->n; i++) {
        bool open = trade_is_open(rolling);
        out->development_m[i] = open ? NAN : mech_gear_development_m(out->gears[i].ratio, rolling->number);
        if (i > 0) {
            out->steps_percent[i - 1] = mech_gear_step_percent(out->gears[i - 1].ratio, out->gears[i].ratio);
        }
    }
    out->lowest_m = out->development_m[0];
    out->highest_m = out->development_m[out->n - 1];
    out->range_percent = mech_gear_range_percent(out->gears[0].ratio, out->gears[out->n - 1].ratio);
    out->repeats = mech_gear_repeats(out->gears, out->n, trade_limits[TRADE_LIMIT_REPEATED_STEP_PERCENT].value);
    out->differ = out->n - out->repeats;
    return BASE_OK;
}

/* --- chain line ---------------------------------------------------------------------------------------------------- */

static int compare_angles(const struct app_angle *a, const struct app_angle *b) {
    int across = a->ring * b->sprocket - b->ring * a->sprocket;
    return across ? across : a->ring - b->ring;
}

/* Rising ratio, the smaller ring first: as gears are listed. */
static void sort_angles(struct app_angle *list, size_t n) {
    for (size_t i = 1; i < n; i++) {
        struct app_angle moved = list[i];
        size_t at = i;
        for (; at > 0 && compare_angles(&moved, &list[at - 1]) < 0; at--) {
            list[at] = list[at - 1];
        }
        list[at] = moved;
    }
}

static void fill_angles(struct app_line *out, const struct trade_bike *bike, const struct fit_build *build,
                        const struct teeth *t) {
    for (size_t r = 0; r < t->n_rings; r++) {
        const struct fit_sum *plane = &out->line.ring[t->place[r]];
        for (size_t k = 0; k < t->sprockets->n; k++) {
            struct app_angle *angle = &out->angles[out->n_angles++];
            double sprocket = plan_sprocket_plane_mm(bike, build, k);
            *angle = (struct app_angle){t->rings[r], t->sprockets->at[k], NAN, NAN, BASE_OPEN};
            if (plane->known == BASE_OPEN || isnan(sprocket)) {
                continue;
            }
            angle->offset_mm = plane->mm - sprocket;
            angle->known = base_weakest(plane->known, out->line.rear.known);
            if (!isnan(out->axles_mm) &&
                mech_line_angle_deg(&angle->angle_deg, angle->offset_mm, out->axles_mm) != BASE_OK) {
                angle->angle_deg = NAN;
            }
        }
    }
    sort_angles(out->angles, out->n_angles);
}

static void wait_for_sum(struct app_open *open, enum fit_measure_id id, const struct trade_bike *bike) {
    struct fit_read read = fit_measure_asks(id, bike);
    app_wait_for(open, read.subject >= FIT_NOW ? read.subject - FIT_NOW : read.subject, read.property);
}

/* What the chain line waits for. */
static void line_waits(struct app_line *out, const struct trade_bike *bike, const struct fit_build *build) {
    enum base_known known = BASE_MEASURED;
    for (unsigned i = 0; i < 3; i++) {
        if (out->line.present[i] && out->line.ring[i].known == BASE_OPEN) {
            wait_for_sum(&out->open, (enum fit_measure_id)(FIT_OUTER_PLANE + i), bike);
        }
    }
    frame_number(&out->open, &known, bike, TRADE_FRAME_HUB_WIDTH_MM);
    if (out->line.rear.known == BASE_OPEN) {
        frame_number(&out->open, &known, bike, TRADE_FRAME_RECESS_MM);
        slot_number(&out->open, &known, build, TRADE_SLOT_CASSETTE, TRADE_CASSETTE_STACK_MM);
        slot_number(&out->open, &known, build, TRADE_SLOT_CASSETTE_SPACER, TRADE_SPACER_THICKNESS_MM);
    }
    frame_number(&out->open, &known, bike, TRADE_FRAME_CHAINSTAY_MM);
    if (out->line.target != PLAN_TARGET_NEW && trade_is_open(trade_get(&bike->self, TRADE_BIKE_USE))) {
        app_wait_for(&out->open, FIT_BIKE, TRADE_BIKE_USE);
    }
}

enum base_status app_line_of(struct app_line *out, struct base_arena *arena, const struct trade_bike *bike,
                             const struct fit_build *build) {
    memset(out, 0, sizeof *out);
    enum base_known known = BASE_MEASURED;
    struct teeth t = teeth_of(&out->open, &known, build);
    plan_line_of(&out->line, bike, build);
    out->axles_mm = plan_axles_mm(bike);
    line_waits(out, bike, build);
    out->gap_assumed = trade_get(&bike->frame, TRADE_FRAME_GAP_MM)->known == BASE_ASSUMED;
    out->rear_per_gap_mm = 1; /* the rear line is the hub's half less the gap and what follows */
    out->angle_per_gap_deg = NAN;
    if (!isnan(out->axles_mm) && mech_line_angle_deg(&out->angle_per_gap_deg, 1, out->axles_mm) != BASE_OK) {
        out->angle_per_gap_deg = NAN;
    }
    if (!t.sprockets) {
        return BASE_OK;
    }
    out->angles = base_arena_alloc(arena, t.n_rings * t.sprockets->n, sizeof *out->angles);
    if (!out->angles) {
        return BASE_NO_MEMORY;
    }
    fill_angles(out, bike, build, &t);
    return BASE_OK;
}

enum base_status app_line_arrange(struct app_line *out, struct base_arena *arena, const struct trade_bike *bike,
                                  const struct trade_catalogue *catalogue, const struct trade_shop *shop,
                                  const double *weights) {
    struct fit_cases *cases = base_arena_alloc(arena, 1, sizeof *cases);
    struct plan_arrangements *arranged = base_arena_alloc(arena, 1, sizeof *arranged);
    if (!cases || !arranged) {
        return BASE_NO_MEMORY;
    }
    fit_cases_of(cases, bike);
    plan_tolerances_of(&out->tolerances, bike, &out->line);
    out->arranged = arranged;
    out->weighted = weights != NULL;
    const struct plan_arrange_question question = {bike, cases, catalogue, shop, weights};
    return plan_arrange(arranged, &question, arena);
}

/* Where a gear stands among the gears; -1 when the bike has it not. */
static int gear_at(const struct teeth *t, int ring, int sprocket) {
    for (size_t r = 0; r < t->n_rings; r++) {
        for (size_t k = 0; k < t->sprockets->n; k++) {
            if (t->rings[r] == ring && t->sprockets->at[k] == sprocket) {
                return (int)(r * t->sprockets->n + k);
            }
        }
    }
    return -1;
}

static void tell_no_gear(struct base_faults *faults, const char *file, size_t i, int ring, int sprocket) {
    struct base_buffer path, found;
    base_buffer_init(&path, 0);
    base_buffer_init(&found, 0);
    base_buffer_text(&path, "/gears/");
    base_buffer_int(&path, (int64_t)i);
    base_buffer_int(&found, ring);
    base_buffer_char(&found, '/');
    base_buffer_int(&found, sprocket);
    base_faults_add(faults, &(struct base_fault){.file = file,
                                                 .path = path.at ? path.at : "",
                                                 .found = found.at ? found.at : "",
                                                 .allowed = "a gear of the bike"});
    base_buffer_clear(&path);
    base_buffer_clear(&found);
}

enum base_status app_line_weights(const double **out, struct base_arena *arena, const struct fit_build *build,
                                  const struct format_use *use, const char *file, struct base_faults *faults) {
    struct app_open open = {.n = 0};
    enum base_known known = BASE_MEASURED;
    struct teeth t = teeth_of(&open, &known, build);
    *out = NULL;
    if (open.n > 0 || !t.sprockets) {
        return BASE_OK;
    }
    double *weights = base_arena_alloc(arena, t.n_rings * t.sprockets->n, sizeof *weights);
    if (!weights) {
        return BASE_NO_MEMORY;
    }
    bool good = true;
    for (size_t i = 0; i < use->n; i++) {
        int at = gear_at(&t, use->at[i].ring, use->at[i].sprocket);
        if (at < 0) {
            tell_no_gear(faults, file, i, use->at[i].ring, use->at[i].sprocket);
            good = false;
        } else {
            weights[at] = use->at[i].share;
        }
    }
    *out = good ? weights : NULL;
    return good ? BASE_OK : BASE_BAD_INPUT;
}

/* --- the rules behind an answer ------------------------------------------------------------------------------------ */

static enum fit_kind kind_of(const struct fit_finding *finding) {
    enum fit_kind kind = (enum fit_kind)finding->verdict.kind;
    return finding->conditional || (finding->hangs && kind != FIT_CLASH) ? FIT_ASK : kind;
}

/* Judges the rules of these ids; returns the worst. */
static enum fit_kind judge(struct fit_finding *out, size_t *n, size_t room, const char *const *ids, size_t n_ids,
                           const struct trade_bike *bike, const struct fit_build *build, const struct fit_cases *cases,
                           bool as_it_stands) {
    enum fit_kind worst = FIT_FITS;
    for (size_t r = 0; r < fit_rules_n; r++) {
        for (size_t i = 0; i < n_ids && *n < room; i++) {
            if (strcmp(fit_rules[r]->id, ids[i]) != 0) {
                continue;
            }
            fit_judge_rule(&out[*n], fit_rules[r], bike, build, cases, as_it_stands);
            if (out[*n].verdict.kind != FIT_SILENT) {
                worst = kind_of(&out[*n]) > worst ? kind_of(&out[*n]) : worst;
                ++*n;
            }
        }
    }
    return worst;
}

const char *app_verdict_name(const struct fit_finding *finding) {
    static const char *const names[] = {[FIT_SILENT] = "fits",       [FIT_FITS] = "fits",   [FIT_ADAPTER] = "adapter",
                                        [FIT_DRAWBACK] = "drawback", [FIT_ASK] = "measure", [FIT_CLASH] = "clash"};
    return names[kind_of(finding)];
}

/* --- chain --------------------------------------------------------------------------------------------------------- */

static bool is_word(const struct trade_part *part, enum trade_property property, unsigned word) {
    return part && trade_get_word(part, property) == (int)word;
}

/* No derailleur: no rule of one holds, and nothing is taken for known. */
static enum base_known rule_known(const struct trade_bike *bike, const struct trade_part *derailleur) {
    enum base_known suspension = trade_get(&bike->frame, TRADE_FRAME_SUSPENSION)->known;
    return derailleur ? base_weakest(suspension, trade_get(derailleur, TRADE_REAR_DERAILLEUR_CHAIN_RULE)->known)
                      : suspension;
}

static void add_taut(struct app_chain *chain, int links) {
    struct app_taut taut = {links, links % 2 != 0, NAN};
    if (mech_loop_bare_axle_mm(&taut.stay_mm, chain->ring, chain->sprocket, links) == BASE_OK) {
        chain->taut[chain->n_taut++] = taut;
    }
}

/* Without a derailleur the axle goes forward or back until the chain is taut. A half link only where the teeth are plain, or
 * may be, and where it is the nearest that is long enough. */
static void single_length(struct app_chain *out, const struct fit_build *build) {
    int profile = -1, even, whole;
    for (size_t i = 0; i < 3; i++) {
        const struct trade_part *ring = build->at[ring_slots[i]].part;
        profile = ring ? trade_get_word(ring, TRADE_RING_PROFILE) : profile;
    }
    if (mech_chain_single_links(&even, out->bare_links, false) != BASE_OK ||
        mech_chain_single_links(&whole, out->bare_links, true) != BASE_OK) {
        return;
    }
    out->rule_links = out->links = even;
    out->half_if_plain = profile < 0;
    add_taut(out, even - 2);
    if (whole % 2 != 0 && (profile < 0 || profile == TRADE_PROFILE_PLAIN)) {
        add_taut(out, whole);
    }
    add_taut(out, even);
}

static void chain_length(struct app_chain *out, const struct trade_bike *bike, const struct fit_build *build) {
    const struct trade_part *derailleur = build->at[TRADE_SLOT_REAR_DERAILLEUR].part;
    out->rule_known = rule_known(bike, derailleur);
    out->suspended = is_word(&bike->frame, TRADE_FRAME_SUSPENSION, TRADE_YES_NO_YES);
    out->wide_single = is_word(derailleur, TRADE_REAR_DERAILLEUR_CHAIN_RULE, TRADE_CHAIN_RULE_WIDE_SINGLE);
    out->stay_mm = frame_number(&out->open, &out->known, bike,
                                out->suspended ? TRADE_FRAME_CHAINSTAY_LONGEST_MM : TRADE_FRAME_CHAINSTAY_MM);
    if (out->ring == 0 || out->sprocket == 0 || isnan(out->stay_mm) ||
        mech_loop_bare_links(&out->bare_links, out->ring, out->sprocket, out->stay_mm) != BASE_OK) {
        out->bare_links = NAN;
        return;
    }
    if (out->single) {
        single_length(out, build);
        return;
    }
    enum mech_chain_rule rule = MECH_CHAIN_ORDINARY;
    if (out->wide_single) {
        rule = out->suspended ? MECH_CHAIN_WIDE_SUSPENDED : MECH_CHAIN_WIDE_RIGID;
    }
    if (mech_chain_rule_links(&out->rule_links, out->bare_links, rule) != BASE_OK ||
        mech_chain_links_to_cut(&out->links, out->bare_links, rule) != BASE_OK) {
        out->rule_links = out->links = 0;
    }
}

void app_chain_of(struct app_chain *out, const struct trade_bike *bike, const struct fit_build *build,
                  const struct fit_cases *cases, bool as_it_stands) {
    static const char *const ids[] = {"chain-length", "capacity", "chain-sprockets", "single-cage", "cage-ground"};
    memset(out, 0, sizeof *out);
    out->bare_links = NAN;
    out->capacity = -1;
    int small_ring = 0, small_sprocket = 0;
    struct teeth t = teeth_of(&out->open, &out->known, build);
    if (t.n_rings > 0 && t.sprockets) {
        extremes(&small_ring, &out->ring, t.rings, t.n_rings);
        small_sprocket = t.sprockets->at[0];
        out->sprocket = t.sprockets->at[t.sprockets->n - 1];
        out->capacity_needed = mech_chain_capacity_needed(out->ring, small_ring, out->sprocket, small_sprocket);
        out->single = t.n_rings == 1 && t.sprockets->n == 1 && !build->at[TRADE_SLOT_REAR_DERAILLEUR].part;
    }
    chain_length(out, bike, build);
    double capacity = slot_number(&out->open, &out->capacity_known, build, TRADE_SLOT_REAR_DERAILLEUR,
                                  TRADE_REAR_DERAILLEUR_CAPACITY_TEETH);
    out->capacity = isnan(capacity) ? -1 : (int)capacity;
    out->quick_link = !is_word(build->at[TRADE_SLOT_CHAIN].part, TRADE_CHAIN_JOINING, TRADE_JOINING_PIN);
    out->verdict = judge(out->findings, &out->n_findings, sizeof out->findings / sizeof out->findings[0], ids,
                         sizeof ids / sizeof ids[0], bike, build, cases, as_it_stands);
}

/* --- indexing ------------------------------------------------------------------------------------------------------ */

void app_shift_of(struct app_shift *out, const struct trade_bike *bike, const struct fit_build *build,
                  const struct fit_cases *cases, bool as_it_stands) {
    static const char *const ids[] = {"shift-family", "shift-steps"};
    const struct trade_part *shifter = build->at[TRADE_SLOT_RIGHT_SHIFTER].part;
    memset(out, 0, sizeof *out);
    out->step_mm = out->pitch_mm = out->error_mm_total = out->pull_mm = out->ratio = NAN;
    const struct trade_counts *sprockets = sprockets_of(&out->open, build);
    out->sprockets = sprockets ? (int)sprockets->n : 0;
    out->pitch_mm = slot_number(&out->open, &out->known, build, TRADE_SLOT_CASSETTE, TRADE_CASSETTE_PITCH_MM);
    if (!is_word(shifter, TRADE_SHIFTER_ACTUATION, TRADE_ACTUATION_FRICTION) &&
        !is_word(shifter, TRADE_SHIFTER_ACTUATION, TRADE_ACTUATION_ELECTRONIC)) {
        out->pull_mm = slot_number(&out->open, &out->known, build, TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_PULL_MM);
        out->ratio =
            slot_number(&out->open, &out->known, build, TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_RATIO);
    }
    if (!isnan(out->pull_mm) && !isnan(out->ratio)) {
        out->step_mm = mech_index_move_mm(out->pull_mm, out->ratio);
    }
    if (!isnan(out->step_mm) && !isnan(out->pitch_mm) && out->sprockets > 0) {
        out->error_mm_total = mech_index_total_error_mm(out->sprockets, out->pull_mm, out->ratio, out->pitch_mm);
    }
    out->verdict = judge(out->findings, &out->n_findings, sizeof out->findings / sizeof out->findings[0], ids,
                         sizeof ids / sizeof ids[0], bike, build, cases, as_it_stands);
}

uint32_t app_goes(const struct trade_bike *bike) {
    uint32_t goes = 0;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        bool has = trade_bike_has(bike, (enum trade_slot)s);
        goes |= has && !trade_may_stay(&bike->fitted[s].part) ? UINT32_C(1) << s : 0;
    }
    return goes;
}

const char *app_no_way(const struct plan *plan) {
    return plan->complete ? "plan.none-at-all" : plan->stopped ? "plan.none-in-time" : "plan.none-in-limit";
}

enum base_status app_make_plan(struct app_plan_shown *shown, struct plan **plan, const struct plan_question *question,
                               bool why) {
    enum base_status status = plan_new(plan, question);
    if (status != BASE_OK) {
        return status;
    }
    shown->plan = *plan;
    shown->why = why;
    if (!(*plan)->stopped) {
        status = plan_keep_rings(&shown->kept, *plan);
    }
    if (status == BASE_OK && (*plan)->n_ways == 0 && (*plan)->complete) {
        status =
            plan_reliefs(shown->reliefs, &shown->n_reliefs, sizeof shown->reliefs / sizeof shown->reliefs[0], *plan);
    }
    return status;
}
