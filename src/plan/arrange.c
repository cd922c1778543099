/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A slot is decided at a stage. A rule is asked at the first stage at which every slot that it reads is decided; the
 * slots that never vary count as decided from the start.
 */
#include "plan/arrange.h"

#include "plan/labour.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const enum trade_slot stages[] = {TRADE_SLOT_CRANK,       TRADE_SLOT_BOTTOM_BRACKET, TRADE_SLOT_OUTER_RING,
                                         TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING,     TRADE_SLOT_RING_WASHERS,
                                         TRADE_SLOT_CUP_SPACERS};
#define STAGES (sizeof stages / sizeof stages[0])
enum { CRANK, BRACKET, OUTER, MIDDLE, INNER, WASHERS, CUPS };

#define RULES_MAX 128
#define GEARS_MAX 64
#define SETS_MAX (1u << STAGES)

struct choices {
    struct fit_choice *at;
    size_t n, room;
};

struct search {
    const struct plan_arrange_question *q;
    struct base_arena *arena;
    struct plan_arrangements *out;
    struct choices choices[STAGES];
    const struct fit_rule *rules[STAGES][RULES_MAX]; /* asked at each stage */
    uint16_t drawbacks[STAGES][RULES_MAX];           /* that each has of the bike as it stands */
    size_t n_rules[STAGES];
    unsigned rings;                /* on the bike */
    double sprocket_mm[GEARS_MAX]; /* planes, from the smallest */
    size_t n_sprockets;
    struct plan_arrangement now; /* the combination in hand */
    struct fit_finding finding;
    struct plan_arrangement found[SETS_MAX]; /* the best for each set of slots that change, in order */
    size_t n_found;
};

/* --- what may stand in each slot ----------------------------------------------------------------------------------- */

static enum base_status add_choice(struct search *s, unsigned stage, enum fit_choice_kind kind,
                                   const struct trade_part *part) {
    struct choices *c = &s->choices[stage];
    struct fit_choice *at = base_arena_grow(s->arena, c->at, c->n, &c->room, c->n + 1, sizeof *at);
    if (!at) {
        return BASE_NO_MEMORY;
    }
    c->at = at;
    c->at[c->n++] = (struct fit_choice){kind, part};
    return BASE_OK;
}

/* What is there now. */
static enum base_status add_now(struct search *s, unsigned stage) {
    const struct fit_choice *now = &s->now.build.at[stages[stage]];
    return add_choice(s, stage, now->kind, now->part);
}

/* Bottom brackets are made for each width of shell, and one for this one is meant. */
static void make_for_shell(struct trade_part *bracket, const struct trade_value *width) {
    if (!trade_is_open(width)) {
        trade_set(bracket, TRADE_BOTTOM_BRACKET_LEAST_SHELL_MM, trade_number(width->number, BASE_TABLE));
        trade_set(bracket, TRADE_BOTTOM_BRACKET_WIDEST_SHELL_MM, trade_number(width->number, BASE_TABLE));
    }
}

/* A part like one that is there, but for a number. */
static enum base_status add_made(struct search *s, unsigned stage, const struct trade_part *like, enum trade_kind kind,
                                 enum trade_property property, double number) {
    struct trade_part *part = base_arena_alloc(s->arena, 1, sizeof *part);
    if (!part || trade_part_init(part, s->arena, kind) != BASE_OK) {
        return BASE_NO_MEMORY;
    }
    if (like) {
        memcpy(part->values, like->values, trade_kind_rows[kind].n * sizeof *part->values);
    }
    trade_set(part, property, trade_number(number, BASE_TABLE));
    if (kind == TRADE_KIND_BOTTOM_BRACKET) {
        make_for_shell(part, trade_get(&s->q->bike->frame, TRADE_FRAME_SHELL_WIDTH_MM));
    }
    return add_choice(s, stage, FIT_NEW, part);
}

static enum base_status add_cranks(struct search *s) {
    enum base_status status = add_now(s, CRANK);
    size_t n = s->q->catalogue ? s->q->catalogue->n[TRADE_KIND_CRANK] : 0;
    for (size_t i = 0; i < n && status == BASE_OK; i++) {
        status = add_choice(s, CRANK, FIT_NEW, &s->q->catalogue->parts[TRADE_KIND_CRANK][i]);
    }
    return status;
}

/* Spindle lengths that occur, on a bottom bracket like the one that is there. */
static enum base_status add_lengths(struct search *s) {
    const struct trade_part *bracket = s->now.build.at[TRADE_SLOT_BOTTOM_BRACKET].part;
    const struct trade_property_row *row = &trade_property_rows[TRADE_BOTTOM_BRACKET_SPINDLE_MM];
    double length = bracket ? trade_get_number(bracket, TRADE_BOTTOM_BRACKET_SPINDLE_MM) : NAN;
    for (size_t i = 0; i < row->n_usual && !isnan(length); i++) {
        if (row->usual[i] < length || row->usual[i] > length) {
            enum base_status status = add_made(s, BRACKET, bracket, TRADE_KIND_BOTTOM_BRACKET,
                                               TRADE_BOTTOM_BRACKET_SPINDLE_MM, row->usual[i]);
            if (status != BASE_OK) {
                return status;
            }
        }
    }
    return BASE_OK;
}

static enum base_status add_brackets(struct search *s) {
    enum base_status status = add_now(s, BRACKET);
    if (!s->q->catalogue) {
        return status == BASE_OK ? add_lengths(s) : status;
    }
    for (size_t i = 0; i < s->q->catalogue->n[TRADE_KIND_BOTTOM_BRACKET] && status == BASE_OK; i++) {
        status = add_choice(s, BRACKET, FIT_NEW, &s->q->catalogue->parts[TRADE_KIND_BOTTOM_BRACKET][i]);
    }
    return status;
}

/* Offsets that occur on the mount of this ring; none where it bolts to arms. */
static enum base_status add_offsets(struct search *s, unsigned stage, const struct trade_part *ring) {
    int mount = trade_get_word(ring, TRADE_RING_MOUNT);
    double offset = trade_get_number(ring, TRADE_RING_OFFSET_MM), before = NAN;
    for (size_t i = 0; i < trade_ring_offsets_n && !isnan(offset); i++) {
        const struct trade_ring_offsets_row *row = &trade_ring_offsets[i];
        bool same = fabs(row->offset_mm - offset) < 0.001 || fabs(row->offset_mm - before) < 0.001;
        if (row->ring_mount != mount || same) {
            continue;
        }
        before = row->offset_mm;
        enum base_status status = add_made(s, stage, ring, TRADE_KIND_RING, TRADE_RING_OFFSET_MM, row->offset_mm);
        if (status != BASE_OK) {
            return status;
        }
    }
    return BASE_OK;
}

/* Other rings in the stead of this one: with as many teeth. */
static enum base_status add_rings_like(struct search *s, unsigned stage, const struct trade_part *ring) {
    const struct trade_catalogue *shop = s->q->catalogue;
    double teeth = trade_get_number(ring, TRADE_RING_TEETH);
    if (!shop) {
        return add_offsets(s, stage, ring);
    }
    for (size_t i = 0; i < shop->n[TRADE_KIND_RING] && !isnan(teeth); i++) {
        const struct trade_part *other = &shop->parts[TRADE_KIND_RING][i];
        if (fabs(trade_get_number(other, TRADE_RING_TEETH) - teeth) < 0.5 &&
            add_choice(s, stage, FIT_NEW, other) != BASE_OK) {
            return BASE_NO_MEMORY;
        }
    }
    return BASE_OK;
}

/* A single ring may go to any place, and leave its own; of several each stays in its place. */
static enum base_status add_rings(struct search *s) {
    const struct trade_part *single = NULL;
    for (unsigned stage = OUTER; stage <= INNER && s->rings == 1; stage++) {
        const struct trade_part *there = s->now.build.at[stages[stage]].part;
        single = there ? there : single;
    }
    for (unsigned stage = OUTER; stage <= INNER; stage++) {
        const struct trade_part *here = s->now.build.at[stages[stage]].part;
        enum base_status status = add_now(s, stage);
        if (status == BASE_OK && single) {
            status = here ? add_choice(s, stage, FIT_NONE, NULL) : add_choice(s, stage, FIT_NEW, single);
        }
        if (status == BASE_OK && (here || single)) {
            status = add_rings_like(s, stage, here ? here : single);
        }
        if (status != BASE_OK) {
            return status;
        }
    }
    return BASE_OK;
}

/* Spacers of one place: of the shop, or `step` and its multiples up to `most`. */
static enum base_status add_spacers(struct search *s, unsigned stage, enum trade_spacer_place place, double step,
                                    double most) {
    const struct trade_catalogue *shop = s->q->catalogue;
    enum base_status status = add_now(s, stage);
    if (status == BASE_OK && s->now.build.at[stages[stage]].part) {
        status = add_choice(s, stage, FIT_NONE, NULL);
    }
    for (size_t i = 0; shop && i < shop->n[TRADE_KIND_SPACER] && status == BASE_OK; i++) {
        const struct trade_part *part = &shop->parts[TRADE_KIND_SPACER][i];
        if (trade_get_word(part, TRADE_SPACER_PLACE) == (int)place) {
            status = add_choice(s, stage, FIT_NEW, part);
        }
    }
    for (int k = 1; !shop && k * step <= most + 0.001 && status == BASE_OK; k++) {
        status = add_made(s, stage, NULL, TRADE_KIND_SPACER, TRADE_SPACER_THICKNESS_MM, k * step);
    }
    return status;
}

static enum base_status add_all(struct search *s) {
    enum base_status status = add_cranks(s);
    status = status == BASE_OK ? add_brackets(s) : status;
    status = status == BASE_OK ? add_rings(s) : status;
    if (status == BASE_OK) {
        status = add_spacers(s, WASHERS, TRADE_SPACER_PLACE_RING_BOLTS, trade_limits[TRADE_LIMIT_WASHER_STEP_MM].value,
                             trade_limits[TRADE_LIMIT_WASHERS_MOST_MM].value);
    }
    double cup = trade_limits[TRADE_LIMIT_CUP_SPACER_STEP_MM].value;
    return status == BASE_OK ? add_spacers(s, CUPS, TRADE_SPACER_PLACE_CUPS, cup, 2 * cup) : status;
}

/* --- rules --------------------------------------------------------------------------------------------------------- */

static void place_rules(struct search *s) {
    uint32_t decided[STAGES], later = 0;
    for (unsigned stage = STAGES; stage-- > 0;) {
        decided[stage] = ~later;
        later |= 1u << stages[stage];
    }
    for (size_t r = 0; r < fit_rules_n; r++) {
        uint32_t slots = fit_rule_slots(fit_rules[r]);
        for (unsigned stage = 0; stage < STAGES && (slots & later); stage++) {
            if (!(slots & ~decided[stage]) && s->n_rules[stage] < RULES_MAX) {
                fit_judge_rule(&s->finding, fit_rules[r], s->q->bike, &s->now.build, s->q->cases, true);
                s->drawbacks[stage][s->n_rules[stage]] = s->finding.drawbacks;
                s->rules[stage][s->n_rules[stage]++] = fit_rules[r];
                break;
            }
        }
    }
}

/* A new part that doesn't say what a rule wants to know of it can't be ordered by; one that is made after what is on the
 * bike can be asked for there. */
static bool lacks(const struct search *s, const struct fit_finding *finding) {
    if (!finding->hangs || finding->ask_subject >= TRADE_SLOTS) {
        return false;
    }
    const struct fit_choice *choice = &s->now.build.at[finding->ask_subject];
    return choice->kind == FIT_NEW && choice->part->id != NULL;
}

/* Do the rules of this stage let the combination be? Notes what they say of it. */
static bool allowed(struct search *s, unsigned stage) {
    for (size_t r = 0; r < s->n_rules[stage]; r++) {
        struct fit_finding *finding = &s->finding;
        fit_judge_rule(finding, s->rules[stage][r], s->q->bike, &s->now.build, s->q->cases, false);
        if (finding->verdict.kind == FIT_SILENT && !finding->hangs) {
            continue;
        }
        if (fit_no_case(&finding->cases) || lacks(s, finding)) {
            return false;
        }
        s->now.drawback = s->now.drawback || (finding->drawbacks & ~s->drawbacks[stage][r]) != 0;
        if ((finding->conditional || finding->hangs) && !s->now.asks) {
            s->now.asks = true;
            s->now.ask_subject = finding->ask_subject;
            s->now.ask_property = finding->ask_property;
        }
    }
    return true;
}

/* --- what a combination is worth ----------------------------------------------------------------------------------- */

static double crooked(const struct search *s, const struct plan_line *line) {
    double sum = 0, weights = 0;
    size_t gear = 0;
    for (unsigned ring = 0; ring < 3; ring++) {
        for (size_t k = 0; k < s->n_sprockets && line->present[ring]; k++, gear++) {
            double weight = s->q->weights ? s->q->weights[gear] : 1;
            double offset = line->ring[ring].known == BASE_OPEN ? NAN : line->ring[ring].mm - s->sprocket_mm[k];
            sum += weight * fabs(offset);
            weights += weight;
        }
    }
    return weights > 0 ? sum / weights : NAN;
}

static bool moved_ring(const struct search *s, const struct trade_part *part) {
    for (unsigned stage = OUTER; stage <= INNER; stage++) {
        if (&s->q->bike->fitted[stages[stage]].part == part) {
            return true;
        }
    }
    return false;
}

static struct plan_change change_at(const struct search *s, unsigned stage) {
    static const enum trade_property numbers[STAGES] = {[BRACKET] = TRADE_BOTTOM_BRACKET_SPINDLE_MM,
                                                        [OUTER] = TRADE_RING_OFFSET_MM,
                                                        [MIDDLE] = TRADE_RING_OFFSET_MM,
                                                        [INNER] = TRADE_RING_OFFSET_MM,
                                                        [WASHERS] = TRADE_SPACER_THICKNESS_MM,
                                                        [CUPS] = TRADE_SPACER_THICKNESS_MM};
    static const enum plan_means means[STAGES] = {
        [CRANK] = PLAN_BY_CRANK,  [BRACKET] = PLAN_BY_SPINDLE, [OUTER] = PLAN_BY_OFFSET,    [MIDDLE] = PLAN_BY_OFFSET,
        [INNER] = PLAN_BY_OFFSET, [WASHERS] = PLAN_BY_WASHERS, [CUPS] = PLAN_BY_CUP_SPACERS};
    const struct fit_choice *choice = &s->now.build.at[stages[stage]];
    struct plan_change change = {means[stage], stages[stage], choice->part, 0};
    if (choice->part) {
        change.value_mm = stage == CRANK ? NAN : trade_get_number(choice->part, numbers[stage]);
    }
    if (change.means == PLAN_BY_OFFSET && !trade_bike_has(s->q->bike, stages[stage])) {
        change.means = PLAN_BY_PLACE;
    }
    return change;
}

/* What changes, slot by slot. The place that a moved ring leaves is not told apart. */
static void list_changes(struct search *s) {
    uint32_t changed = fit_changed(&s->now.build, s->q->bike);
    s->now.n_changes = 0;
    for (unsigned stage = 0; stage < STAGES; stage++) {
        bool left = stage >= OUTER && stage <= INNER && s->now.build.at[stages[stage]].kind == FIT_NONE;
        if ((changed >> stages[stage] & 1) && !left) {
            s->now.changes[s->now.n_changes++] = change_at(s, stage);
        }
    }
}

/* Parts and labour. A ring that only moves costs no more than the labour. */
static void set_cost(struct search *s) {
    const struct trade_shop *shop = s->q->shop;
    uint32_t operations = plan_build_operations(s->q->bike, &s->now.build);
    s->now.priced = shop != NULL;
    s->now.cost_minor = 0;
    for (size_t i = 0; i < s->now.n_changes; i++) {
        const struct trade_part *part = s->now.changes[i].part;
        bool bought = part && !moved_ring(s, part);
        s->now.priced = s->now.priced && (!bought || part->id);
        s->now.cost_minor += bought ? part->price_minor : 0;
    }
    for (unsigned o = 0; o < TRADE_OPERATIONS && s->now.priced; o++) {
        s->now.cost_minor += operations >> o & 1 ? shop->labour_minor[o] : 0;
    }
    s->now.cost_minor = s->now.priced ? s->now.cost_minor : 0;
}

static long long micrometres(double mm) { return isnan(mm) ? 0 : llround(fabs(mm) * 1000); }

static int by_number(double a, double b) { return (a > b) - (a < b); }

static int by_parts(const struct fit_build *a, const struct fit_build *b) {
    for (unsigned stage = 0; stage < STAGES; stage++) {
        const struct fit_choice *x = &a->at[stages[stage]], *y = &b->at[stages[stage]];
        if (x->kind != y->kind) {
            return x->kind < y->kind ? -1 : 1;
        }
        const char *x_id = x->part && x->part->id ? x->part->id : "", *y_id = y->part && y->part->id ? y->part->id : "";
        int order = strcmp(x_id, y_id);
        if (order) {
            return order;
        }
    }
    return 0;
}

static int by_sizes(const struct plan_arrangement *a, const struct plan_arrangement *b) {
    if (a->n_changes != b->n_changes) {
        return a->n_changes < b->n_changes ? -1 : 1;
    }
    for (size_t i = 0; i < a->n_changes; i++) {
        const struct plan_change *x = &a->changes[i], *y = &b->changes[i];
        if (x->slot != y->slot || x->means != y->means) {
            return x->slot != y->slot ? (x->slot < y->slot ? -1 : 1) : (x->means < y->means ? -1 : 1);
        }
        int order = by_number(x->value_mm, y->value_mm);
        if (order) {
            return order;
        }
    }
    return 0;
}

static int by_count(long long a, long long b) { return (a > b) - (a < b); }

int plan_arrangement_order(const struct plan_arrangement *a, const struct plan_arrangement *b, bool weighted) {
    const int orders[] = {by_count(a->drawback, b->drawback),
                          weighted ? by_count(micrometres(a->crooked_mm), micrometres(b->crooked_mm)) : 0,
                          by_count(micrometres(a->error_mm), micrometres(b->error_mm)),
                          by_count((long long)a->n_changes, (long long)b->n_changes),
                          by_count(!a->priced, !b->priced),
                          by_count(a->cost_minor, b->cost_minor),
                          by_count(a->asks, b->asks),
                          by_parts(&a->build, &b->build),
                          by_sizes(a, b)};
    for (size_t i = 0; i < sizeof orders / sizeof orders[0]; i++) {
        if (orders[i]) {
            return orders[i];
        }
    }
    return 0;
}

/* --- the list of the best ------------------------------------------------------------------------------------------ */

/* Slots that an arrangement changes; bit set. */
static uint32_t slots_of(const struct plan_arrangement *a) {
    uint32_t slots = 0;
    for (size_t i = 0; i < a->n_changes; i++) {
        slots |= 1u << a->changes[i].slot;
    }
    return slots;
}

/* Puts the combination in hand into the list, in the stead of a worse one that changes the same slots. */
static void enlist(struct search *s) {
    bool weighted = s->q->weights != NULL;
    size_t at = 0;
    while (at < s->n_found && slots_of(&s->found[at]) != slots_of(&s->now)) {
        at++;
    }
    if (at == s->n_found) {
        s->n_found++;
    } else if (plan_arrangement_order(&s->now, &s->found[at], weighted) >= 0) {
        return;
    }
    for (; at > 0 && plan_arrangement_order(&s->now, &s->found[at - 1], weighted) < 0; at--) {
        s->found[at] = s->found[at - 1];
    }
    s->found[at] = s->now;
}

/* Keeps those that are not a better one with more changed. */
static void keep_best(struct plan_arrangements *out, const struct search *s) {
    for (size_t i = 0; i < s->n_found && out->n < PLAN_ARRANGEMENTS_MAX; i++) {
        bool needless = false;
        for (size_t k = 0; k < i; k++) {
            needless = needless || !(slots_of(&s->found[k]) & ~slots_of(&s->found[i]));
        }
        if (!needless) {
            out->best[out->n++] = s->found[i];
        }
    }
}

/* With weights an arrangement is nearer when its gears run straighter, else when the line is nearer to the window. */
static bool nearer(const struct search *s) {
    if (s->q->weights) {
        return micrometres(s->now.crooked_mm) < micrometres(s->out->crooked_mm);
    }
    return micrometres(s->now.error_mm) < micrometres(s->out->now.error_mm);
}

static void weigh(struct search *s) {
    struct plan_line line;
    s->out->reached++;
    plan_line_of(&line, s->q->bike, &s->now.build);
    s->now.error_mm = line.error_mm;
    s->now.crooked_mm = crooked(s, &line);
    s->now.by_mm = line.front.mm - s->out->now.front.mm;
    if (isnan(line.error_mm) || (s->q->weights && isnan(s->now.crooked_mm)) || !nearer(s)) {
        return;
    }
    bool cups = fit_changed(&s->now.build, s->q->bike) >> TRADE_SLOT_CUP_SPACERS & 1;
    bool drawback = s->now.drawback;
    s->now.drawback = drawback || cups;
    list_changes(s);
    set_cost(s);
    enlist(s);
    s->now.drawback = drawback;
}

/* One ring stays one ring. */
static bool as_many_rings(const struct search *s) {
    unsigned n = 0;
    for (unsigned stage = OUTER; stage <= INNER; stage++) {
        n += s->now.build.at[stages[stage]].kind != FIT_NONE;
    }
    return n == s->rings;
}

/* As deep as there are slots. */
static void descend(struct search *s, unsigned stage) {
    if (stage == STAGES) {
        weigh(s);
        return;
    }
    struct fit_choice *here = &s->now.build.at[stages[stage]];
    const struct fit_choice before = *here;
    const bool drawback = s->now.drawback, asks = s->now.asks;
    for (size_t i = 0; i < s->choices[stage].n; i++) {
        *here = s->choices[stage].at[i];
        s->now.drawback = drawback;
        s->now.asks = asks;
        if ((stage != INNER || as_many_rings(s)) && allowed(s, stage)) {
            descend(s, stage + 1);
        }
    }
    *here = before;
}

static void place_sprockets(struct search *s) {
    const struct trade_part *cassette = s->now.build.at[TRADE_SLOT_CASSETTE].part;
    const struct trade_value *list = cassette ? trade_get(cassette, TRADE_CASSETTE_SPROCKETS) : NULL;
    s->n_sprockets = list && !trade_is_open(list) && list->counts->n <= GEARS_MAX ? list->counts->n : 0;
    for (size_t k = 0; k < s->n_sprockets; k++) {
        s->sprocket_mm[k] = plan_sprocket_plane_mm(s->q->bike, &s->now.build, k);
    }
}

enum base_status plan_arrange(struct plan_arrangements *out, const struct plan_arrange_question *question,
                              struct base_arena *arena) {
    struct search *s = base_arena_alloc(arena, 1, sizeof *s);
    if (!s) {
        return BASE_NO_MEMORY;
    }
    memset(s, 0, sizeof *s);
    memset(out, 0, sizeof *out);
    s->q = question;
    s->arena = arena;
    s->out = out;
    s->rings = trade_bike_rings(question->bike);
    fit_build_now(&s->now.build, question->bike);
    plan_line_of(&out->now, question->bike, &s->now.build);
    place_sprockets(s);
    out->crooked_mm = crooked(s, &out->now);
    if (isnan(out->now.error_mm) || (question->weights && isnan(out->crooked_mm))) {
        return BASE_OK;
    }
    enum base_status status = add_all(s);
    if (status == BASE_OK) {
        place_rules(s);
        descend(s, 0);
        keep_best(out, s);
    }
    return status;
}
