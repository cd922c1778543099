/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "plan/brute.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const enum trade_slot rings_at[3] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};

/* --- choices of a slot --------------------------------------------------------------------------------------------- */

/* The property of this name, of any kind; open where the kind has none. */
static struct trade_value named(const struct trade_part *part, const char *name) {
    const struct trade_kind_row *kind = &trade_kind_rows[part->kind];
    for (size_t i = 0; i < kind->n; i++) {
        if (strcmp(trade_property_rows[kind->first + i].name, name) == 0) {
            return part->values[i];
        }
    }
    return trade_open();
}

static int sprockets_of(const struct trade_part *cassette) {
    struct trade_value list = named(cassette, "sprockets");
    return list.known == BASE_OPEN ? 0 : (int)list.counts->n;
}

/* Is a value that every rule insists on open? What may be open of a part on the bike may still not be of a new one. */
static bool wanted_and_open(const struct trade_part *part, const struct fit_read *read) {
    bool wanted = !(read->flags & FIT_OPTIONAL) || (read->flags & FIT_OF_NEW);
    bool ours = read->subject < TRADE_SLOTS && trade_slot_rows[read->subject].kind == part->kind;
    if (!wanted || !ours) {
        return false;
    }
    if (read->property >= TRADE_PROPERTIES) {
        bool of_list = read->property == FIT_SMALLEST || read->property == FIT_LARGEST || read->property == FIT_SPEEDS;
        return of_list && sprockets_of(part) == 0;
    }
    return part->values[read->property - trade_kind_rows[part->kind].first].known == BASE_OPEN;
}

/* A crank that does not say which places it has, or where a ring in one of them lies. */
static bool crank_is_vague(const struct trade_part *crank) {
    struct trade_value places = named(crank, "places");
    return places.known == BASE_OPEN ||
           ((places.words >> TRADE_PLACE_OUTER & 1) && named(crank, "outer_plane_mm").known == BASE_OPEN) ||
           ((places.words >> TRADE_PLACE_MIDDLE & 1) && named(crank, "middle_plane_mm").known == BASE_OPEN) ||
           ((places.words >> TRADE_PLACE_INNER & 1) && named(crank, "inner_plane_mm").known == BASE_OPEN);
}

/* A bracket that brings a spindle of square or splined ends and does not say how long it is. */
static bool bracket_is_vague(const struct trade_part *bracket) {
    struct trade_value spindle = named(bracket, "spindle");
    return spindle.known != BASE_OPEN && spindle.word <= TRADE_SPINDLE_SPLINED_10 &&
           named(bracket, "spindle_mm").known == BASE_OPEN;
}

/* Where a part lies that is not in hand can't be measured. */
static bool is_vague(const struct trade_part *part) {
    switch (part->kind) {
    case TRADE_KIND_CRANK:
        return crank_is_vague(part);
    case TRADE_KIND_BOTTOM_BRACKET:
        return bracket_is_vague(part);
    case TRADE_KIND_CASSETTE:
        return named(part, "stack_mm").known == BASE_OPEN;
    default:
        return false;
    }
}

static bool lacks(const struct trade_part *part) {
    for (size_t r = 0; r < fit_rules_n; r++) {
        for (unsigned i = 0; i < fit_rules[r]->n_reads; i++) {
            if (wanted_and_open(part, &fit_rules[r]->reads[i])) {
                return true;
            }
        }
    }
    return is_vague(part);
}

/* Does the part go to this side, or to this place? */
static bool goes_to(enum trade_slot slot, const struct trade_part *part) {
    switch (slot) {
    case TRADE_SLOT_RING_WASHERS:
        return named(part, "place").word == TRADE_SPACER_PLACE_RING_BOLTS && named(part, "place").known != BASE_OPEN;
    case TRADE_SLOT_CUP_SPACERS:
        return named(part, "place").word == TRADE_SPACER_PLACE_CUPS && named(part, "place").known != BASE_OPEN;
    case TRADE_SLOT_CASSETTE_SPACER:
        return named(part, "place").word == TRADE_SPACER_PLACE_CASSETTE && named(part, "place").known != BASE_OPEN;
    case TRADE_SLOT_RIGHT_SHIFTER:
    case TRADE_SLOT_RIGHT_BRAKE_LEVER:
        return named(part, "side").word != TRADE_SIDE_LEFT && named(part, "side").known != BASE_OPEN;
    case TRADE_SLOT_LEFT_SHIFTER:
    case TRADE_SLOT_LEFT_BRAKE_LEVER:
        return named(part, "side").word != TRADE_SIDE_RIGHT && named(part, "side").known != BASE_OPEN;
    default:
        return true;
    }
}

static bool sprockets_wished(const struct trade_wish *wish, enum trade_slot slot, const struct trade_part *part) {
    return slot != TRADE_SLOT_CASSETTE || wish->sprockets == 0 ||
           (sprockets_of(part) > 0 && (wish->sprockets >> sprockets_of(part) & 1));
}

static bool holds_part(const struct plan_question *question, enum trade_slot slot) {
    const struct trade_fitted *fitted = &question->bike->fitted[slot];
    int rings = 0;
    for (unsigned i = 0; i < 3; i++) {
        rings += question->bike->fitted[rings_at[i]].state == TRADE_THERE;
    }
    bool shifts_rings = slot == TRADE_SLOT_FRONT_DERAILLEUR || slot == TRADE_SLOT_LEFT_SHIFTER;
    bool taken = shifts_rings ? rings > 1 : trade_slot_rows[slot].absent == TRADE_ABSENT_THERE;
    return fitted->state == TRADE_THERE || (fitted->state == TRADE_NOT_LOOKED_AT && taken);
}

/* The ranks that a slot may have; how many. */
static size_t ranks_of(uint32_t *out, const struct plan_question *question, enum trade_slot slot,
                       const struct brute_beyond *beyond) {
    const struct trade_catalogue *catalogue = question->catalogue;
    const struct trade_slot_row *row = &trade_slot_rows[slot];
    const struct trade_fitted *fitted = &question->bike->fitted[slot];
    bool there = holds_part(question, slot);
    bool must_stay = (question->wish->keep >> slot & 1) != 0;
    struct trade_value condition = named(&fitted->part, "condition");
    bool bad = !(beyond->may_stay >> slot & 1) && condition.known != BASE_OPEN &&
               (condition.word == TRADE_CONDITION_WORN || condition.word == TRADE_CONDITION_SEIZED ||
                condition.word == TRADE_CONDITION_DAMAGED);
    size_t n = 0;
    if (there && !bad && sprockets_wished(question->wish, slot, &fitted->part)) {
        out[n++] = 0;
    }
    if (!there || (row->may_be_none && !must_stay)) {
        out[n++] = 1;
    }
    for (size_t i = 0; i < catalogue->n[row->kind] && !must_stay; i++) {
        const struct trade_part *part = &catalogue->parts[row->kind][i];
        if (goes_to(slot, part) && sprockets_wished(question->wish, slot, part) && !lacks(part)) {
            out[n++] = 2 + (uint32_t)i;
        }
    }
    return n;
}

static void build_of(struct fit_build *out, const struct plan_question *question, const uint32_t *rank) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        const struct trade_part *parts = question->catalogue->parts[trade_slot_rows[s].kind];
        out->at[s].kind = rank[s] == 0 ? FIT_KEEP : rank[s] == 1 ? FIT_NONE : FIT_NEW;
        out->at[s].part = rank[s] == 0 ? &question->bike->fitted[s].part : rank[s] == 1 ? NULL : &parts[rank[s] - 2];
    }
}

/* --- values -------------------------------------------------------------------------------------------------------- */

static int compare_numbers(const void *x, const void *y) {
    double a = *(const double *)x, b = *(const double *)y;
    return a < b ? -1 : a > b;
}

/* The middle mass of the kind's parts in the shop, the upper one of two; open when none says it. */
static struct trade_value usual_mass(const struct plan_question *question, enum trade_kind kind) {
    double masses[256];
    size_t n = 0;
    for (size_t i = 0; i < question->catalogue->n[kind] && n < 256; i++) {
        struct trade_value mass = named(&question->catalogue->parts[kind][i], "mass_g");
        if (mass.known != BASE_OPEN) {
            masses[n++] = mass.number;
        }
    }
    qsort(masses, n, sizeof *masses, compare_numbers);
    return n == 0 ? trade_open() : trade_number(masses[n / 2], BASE_ASSUMED);
}

static struct trade_value mass_of(const struct plan_question *question, const struct trade_part *part) {
    struct trade_value mass = named(part, "mass_g");
    return mass.known == BASE_OPEN ? usual_mass(question, part->kind) : mass;
}

/* One mass that nobody knows, and the whole change is not known: not even that it is 0. */
static void weigh(struct plan_values *out, const struct plan_question *question, const struct fit_build *build) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        struct trade_value none = trade_number(0, BASE_MEASURED), comes = none, goes = none;
        if (build->at[s].kind == FIT_NEW) {
            comes = mass_of(question, build->at[s].part);
        }
        if (build->at[s].kind != FIT_KEEP && holds_part(question, s)) {
            goes = mass_of(question, &question->bike->fitted[s].part);
        }
        out->mass_known = base_weakest(out->mass_known, base_weakest(comes.known, goes.known));
        out->mass_g += out->mass_known == BASE_OPEN ? 0 : (int32_t)lround(comes.number - goes.number);
    }
    if (out->mass_known == BASE_OPEN) {
        out->mass_g = 0;
    }
}

static bool on_plate(const struct plan_question *question, enum trade_slot slot) {
    return slot == TRADE_SLOT_FRONT_DERAILLEUR && holds_part(question, slot) &&
           trade_get_word(&question->bike->fitted[slot].part, TRADE_FRONT_DERAILLEUR_MOUNT) ==
               TRADE_FRONT_MOUNT_CUP_BRACKET;
}

/* Does this slot, which changes, call for the operation? What the table says of a bike that has a part somewhere is stated
 * here again, by what is done at the stand (common practice): no rotor is moved where there is none, no cup spacers are
 * placed with a new bracket where none lie there, no cable is renewed where there is none, and no body is changed where
 * none goes on: the old one went with its wheel. A front derailleur whose plate sits under the drive-side cup takes the
 * crank and the cup off with it. */
static bool called_by(const struct plan_question *question, const struct fit_build *build, enum trade_operation o,
                      enum trade_slot slot) {
    switch (o) {
    case TRADE_OPERATION_BODY:
        return slot == TRADE_SLOT_FREEHUB_BODY && build->at[slot].kind == FIT_NEW;
    case TRADE_OPERATION_ROTOR:
        return slot == TRADE_SLOT_REAR_ROTOR ||
               (slot == TRADE_SLOT_REAR_WHEEL && holds_part(question, TRADE_SLOT_REAR_ROTOR));
    case TRADE_OPERATION_CUP_SPACERS:
        return slot == TRADE_SLOT_CUP_SPACERS ||
               (slot == TRADE_SLOT_BOTTOM_BRACKET && holds_part(question, TRADE_SLOT_CUP_SPACERS));
    case TRADE_OPERATION_REAR_CABLE:
        return slot == TRADE_SLOT_CABLES || ((slot == TRADE_SLOT_RIGHT_SHIFTER || slot == TRADE_SLOT_REAR_DERAILLEUR) &&
                                             holds_part(question, TRADE_SLOT_CABLES));
    case TRADE_OPERATION_CRANK_OFF_ON:
    case TRADE_OPERATION_BOTTOM_BRACKET:
        return (trade_operation_rows[o].slots >> slot & 1) || on_plate(question, slot);
    default:
        return trade_operation_rows[o].slots >> slot & 1;
    }
}

/* Each operation that a changed slot calls for is paid once; its minutes count in whole tenths. */
static void charge(struct plan_values *out, const struct plan_question *question, const struct fit_build *build) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        enum fit_choice_kind same = holds_part(question, s) ? FIT_KEEP : FIT_NONE;
        out->changed |= build->at[s].kind != same ? 1u << s : 0;
        out->price_minor += build->at[s].kind == FIT_NEW ? build->at[s].part->price_minor : 0;
    }
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        bool called = false;
        for (unsigned s = 0; s < TRADE_SLOTS; s++) {
            called = called || ((out->changed >> s & 1) && called_by(question, build, o, s));
        }
        if (called) {
            out->labour_minor += question->shop->labour_minor[o];
            out->tenths += (int32_t)lround(question->shop->minutes[o] * 10);
        }
    }
    out->cost_minor = out->price_minor + out->labour_minor;
}

/* Development in tenths of a millimetre; ratio * 10,000 where nobody has measured the wheel. */
static int32_t turn(const struct plan_question *question, double ring, double sprocket) {
    struct trade_value rolling = named(&question->bike->wheel, "rolling_mm");
    double wheel = rolling.known == BASE_OPEN ? 1000 : rolling.number;
    return (int32_t)lround(ring / sprocket * wheel * 10);
}

static int32_t cap_of(const struct plan_question *question) {
    double cap = question->wish->highest_m_cap, cadence = 90;
    struct trade_value band = named(&question->bike->rider, "cadence_rpm");
    if (isinf(cap)) {
        return INT32_MAX;
    }
    if (!isnan(cap)) {
        return (int32_t)lround(cap * 10000);
    }
    if (band.known != BASE_OPEN) {
        cadence = band.counts->at[band.counts->n - 1];
    }
    return (int32_t)lround(45.0 * 1000 / 60 / cadence * 10000);
}

/* What the road of the question makes of the gears: every ring with every sprocket, in the order of their developments. */
static struct plan_score road(const struct plan_question *question, const struct fit_build *build,
                              const struct trade_counts *sprockets) {
    struct trade_value rolling = named(&question->bike->wheel, "rolling_mm");
    double developments_m[192];
    size_t n = 0;
    if (rolling.known == BASE_OPEN || !question->speeds) {
        return (struct plan_score){-1, -1};
    }
    for (unsigned i = 0; i < 3; i++) {
        const struct fit_choice *ring = &build->at[rings_at[i]];
        struct trade_value teeth = ring->kind == FIT_NONE ? trade_open() : named(ring->part, "teeth");
        for (size_t k = 0; k < sprockets->n && teeth.known != BASE_OPEN; k++) {
            developments_m[n++] = teeth.number / sprockets->at[k] * rolling.number / 1000;
        }
    }
    qsort(developments_m, n, sizeof *developments_m, compare_numbers);
    struct ride_score score = ride_score_of(question->speeds, developments_m, n);
    return (struct plan_score){(int32_t)lround(1000 * ride_score_in_band(&score)), (int32_t)lround(score.walked_m)};
}

/* False without a ring and a cassette whose teeth are known. */
static bool gear(struct plan_values *out, const struct plan_question *question, const struct fit_build *build) {
    double least = 0, most = 0;
    const struct fit_choice *cassette = &build->at[TRADE_SLOT_CASSETTE];
    for (unsigned i = 0; i < 3; i++) {
        const struct fit_choice *ring = &build->at[rings_at[i]];
        struct trade_value teeth = ring->kind == FIT_NONE ? trade_open() : named(ring->part, "teeth");
        if (teeth.known != BASE_OPEN) {
            least = least == 0 || teeth.number < least ? teeth.number : least;
            most = teeth.number > most ? teeth.number : most;
        }
    }
    if (least == 0 || cassette->kind == FIT_NONE || sprockets_of(cassette->part) == 0) {
        return false;
    }
    const struct trade_counts *counts = named(cassette->part, "sprockets").counts;
    int32_t cap = cap_of(question);
    out->lowest = turn(question, least, counts->at[counts->n - 1]);
    out->highest = turn(question, most, counts->at[0]);
    out->counted = out->highest > cap ? cap : out->highest;
    out->score = road(question, build, counts);
    return true;
}

/* The chain line's front: the ring; the middle of two; the middle one of three. */
static struct fit_sum front_line(const struct plan_question *question, const struct fit_build *build, unsigned rings) {
    struct fit_sum planes[3], there[3];
    unsigned n = 0;
    for (unsigned i = 0; i < 3; i++) {
        planes[i] = fit_measure_sum((enum fit_measure_id)(FIT_OUTER_PLANE + i), question->bike, build);
        if (build->at[rings_at[i]].kind != FIT_NONE) {
            there[n++] = planes[i];
        }
    }
    if (rings == 3) {
        return planes[1];
    }
    if (rings == 2) {
        there[0].mm = (there[0].mm + there[1].mm) / 2;
        there[0].known = base_weakest(there[0].known, there[1].known);
    }
    return there[0];
}

/* The window by hub width, use and rings. A row that names the use is nearer than one that names the rings. */
static bool window_of(double *low, double *high, const struct plan_question *question, unsigned rings) {
    struct trade_value first = named(&question->bike->frame, "new_line_low_mm");
    struct trade_value last = named(&question->bike->frame, "new_line_high_mm");
    struct trade_value width = named(&question->bike->frame, "hub_width_mm"), use = named(&question->bike->self, "use");
    int nearest = -1;
    if (first.known != BASE_OPEN || last.known != BASE_OPEN) {
        double a = first.known != BASE_OPEN ? first.number : last.number;
        double b = last.known != BASE_OPEN ? last.number : first.number;
        *low = a < b ? a : b;
        *high = a < b ? b : a;
        return true;
    }
    for (size_t i = 0; i < trade_line_windows_n && width.known != BASE_OPEN; i++) {
        const struct trade_line_windows_row *row = &trade_line_windows[i];
        bool of_use = row->use < 0 || (use.known != BASE_OPEN && row->use == (int)use.word);
        bool of_rings = row->rings < 0 || row->rings == (int)rings;
        int near = 2 * (row->use >= 0) + (row->rings >= 0);
        if (row->width_mm == width.number && of_use && of_rings && row->mark != TRADE_MARK_MEM_LOW && near > nearest) {
            nearest = near;
            *low = row->low_mm;
            *high = row->high_mm;
        }
    }
    return nearest >= 0;
}

/* In steps of 0.5 mm out of the window; -1 when front or window can't be told. */
static int32_t line_error(const struct plan_question *question, const struct fit_build *build, unsigned rings) {
    double low, high;
    struct fit_sum front = front_line(question, build, rings);
    if (front.known == BASE_OPEN) {
        return -1;
    }
    if (!window_of(&low, &high, question, rings)) {
        struct fit_sum rear = fit_measure_sum(FIT_REAR_MIDDLE, question->bike, build);
        if (rear.known == BASE_OPEN) {
            return -1;
        }
        low = rear.mm - 2; /* a chain line within 2 mm of the rear one is good; data/standards/limits.csv */
        high = rear.mm + 2;
    }
    double error = front.mm > high ? front.mm - high : front.mm < low ? low - front.mm : 0;
    return (int32_t)lround(error * 2);
}

/* --- one build ----------------------------------------------------------------------------------------------------- */

unsigned brute_code(const char *code) {
    unsigned n = 0;
    for (size_t r = 0; r < fit_rules_n; r++) {
        for (size_t i = 0; i < FIT_REASONS_MAX && fit_rules[r]->reasons[i]; i++, n++) {
            if (strcmp(fit_rules[r]->reasons[i], code) == 0) {
                return n;
            }
        }
    }
    fail_msg("no rule has the reason %s", code);
    return 0;
}

static void add_drawbacks(struct brute_codes *out, const struct fit_finding *finding) {
    for (unsigned i = 0; i < FIT_REASONS_MAX; i++) {
        if (finding->drawbacks >> i & 1) {
            unsigned code = brute_code(finding->rule->reasons[i]);
            assert_true(code < BRUTE_CODES_MAX);
            out->bits[code / 64] |= UINT64_C(1) << (code % 64);
        }
    }
}

/* Is what must be measured a property of a part that is still in the shop? */
static bool asks_of_the_shop(const struct fit_finding *finding, const struct fit_build *build) {
    unsigned subject = finding->ask_subject;
    return subject < TRADE_SLOTS && !finding->asks_now && build->at[subject].kind == FIT_NEW;
}

static void add_hang(struct brute_way *out, const struct fit_finding *finding) {
    uint32_t hang = (uint32_t)finding->ask_subject << 16 | finding->ask_property;
    size_t at = out->n_hangs;
    for (size_t i = 0; i < out->n_hangs; i++) {
        if (out->hangs[i] == hang) {
            return;
        }
    }
    assert_true(out->n_hangs < BRUTE_HANGS_MAX);
    for (; at > 0 && out->hangs[at - 1] > hang; at--) {
        out->hangs[at] = out->hangs[at - 1];
    }
    out->hangs[at] = hang;
    out->n_hangs++;
}

static bool is_empty(const struct fit_case_set *set) {
    for (size_t i = 0; i < FIT_CASE_WORDS; i++) {
        if (set->bits[i]) {
            return false;
        }
    }
    return true;
}

/* Takes one finding in; false when it forbids the build. */
static bool take(struct brute_way *out, const struct fit_finding *finding, const struct fit_build *build) {
    for (size_t i = 0; i < FIT_CASE_WORDS; i++) {
        out->cases.bits[i] &= finding->cases.bits[i];
    }
    if (is_empty(&out->cases) || (finding->hangs && asks_of_the_shop(finding, build))) {
        return false;
    }
    add_drawbacks(&out->drawbacks, finding);
    if (finding->hangs) {
        add_hang(out, finding);
    }
    return true;
}

static const struct brute_beyond nothing;

static bool judge(struct brute_way *out, const struct plan_question *question, const struct fit_cases *cases,
                  const struct fit_build *build, const struct brute_beyond *beyond) {
    static struct fit_finding findings[128];
    size_t n;
    assert_true(fit_rules_n <= 128);
    fit_judge_build(findings, &n, question->bike, build, cases, false);
    out->cases = cases->possible;
    for (size_t i = 0; i < n; i++) {
        bool waived = beyond->waived && beyond->waived(beyond->of, findings[i].rule->id);
        if (!waived && !take(out, &findings[i], build)) {
            return false;
        }
    }
    return true;
}

static bool meets_wish(const struct plan_values *values, const struct trade_wish *wish) {
    return !(wish->budget_minor >= 0 && values->cost_minor > wish->budget_minor) &&
           !(!isnan(wish->lowest_m_max) && values->lowest > lround(wish->lowest_m_max * 10000)) &&
           !(!isnan(wish->highest_m_min) && values->highest < lround(wish->highest_m_min * 10000));
}

/* The values that need no rule; false when the wish is not met. */
static bool value(struct brute_way *out, const struct plan_question *question, const struct fit_build *build) {
    unsigned rings = 0;
    for (unsigned i = 0; i < 3; i++) {
        rings += build->at[rings_at[i]].kind != FIT_NONE;
    }
    if (rings == 0 || (question->wish->rings != 0 && rings != question->wish->rings) ||
        !gear(&out->values, question, build)) {
        return false;
    }
    charge(&out->values, question, build);
    weigh(&out->values, question, build);
    out->values.line_steps = line_error(question, build, rings);
    return meets_wish(&out->values, question->wish);
}

static bool build_beyond(struct brute_way *out, const struct plan_question *question, const struct fit_cases *cases,
                         const uint32_t rank[TRADE_SLOTS], const struct brute_beyond *beyond) {
    struct fit_build build;
    memset(out, 0, sizeof *out);
    memcpy(out->rank, rank, sizeof out->rank);
    out->lists = 1;
    build_of(&build, question, rank);
    return value(out, question, &build) && judge(out, question, cases, &build, beyond);
}

bool brute_build(struct brute_way *out, const struct plan_question *question, const struct fit_cases *cases,
                 const uint32_t rank[TRADE_SLOTS]) {
    return build_beyond(out, question, cases, rank, &nothing);
}

/* --- all builds ---------------------------------------------------------------------------------------------------- */

static int order(int64_t a, int64_t b) { return (a > b) - (a < b); }

/* Lower is better: 1 when a is worse in this objective, -1 when it is better. */
static int compare_in(const struct plan_values *a, const struct plan_values *b, enum trade_objective objective) {
    switch (objective) {
    case TRADE_COST:
        return order(a->cost_minor, b->cost_minor);
    case TRADE_LOWEST:
        return order(a->lowest, b->lowest);
    case TRADE_HIGHEST:
        return order(b->counted, a->counted);
    case TRADE_MASS: /* an open one is worse than any */
        if (a->mass_known == BASE_OPEN || b->mass_known == BASE_OPEN) {
            return (a->mass_known == BASE_OPEN) - (b->mass_known == BASE_OPEN);
        }
        return order(a->mass_g, b->mass_g);
    case TRADE_LINE_ERROR: /* an open one is worse than any */
        return order((uint32_t)a->line_steps, (uint32_t)b->line_steps);
    case TRADE_MINUTES:
        return order(a->tenths, b->tenths);
    case TRADE_CHANGED:
        return order(__builtin_popcount(a->changed), __builtin_popcount(b->changed));
    case TRADE_IN_BAND: /* open in all ways or in none */
        return order(b->score.in_band, a->score.in_band);
    case TRADE_WALKED:
        return order(a->score.walked_m, b->score.walked_m);
    case TRADE_OBJECTIVES:
        break;
    }
    return 0;
}

static bool hangs_within(const struct brute_way *a, const struct brute_way *b) {
    for (size_t i = 0; i < a->n_hangs; i++) {
        bool found = false;
        for (size_t k = 0; k < b->n_hangs; k++) {
            found = found || a->hangs[i] == b->hangs[k];
        }
        if (!found) {
            return false;
        }
    }
    return true;
}

static bool cases_within(const struct fit_case_set *a, const struct fit_case_set *b) {
    for (size_t i = 0; i < FIT_CASE_WORDS; i++) {
        if (a->bits[i] & ~b->bits[i]) {
            return false;
        }
    }
    return true;
}

static bool codes_within(const struct brute_codes *a, const struct brute_codes *b) {
    for (size_t i = 0; i < BRUTE_CODES_MAX / 64; i++) {
        if (a->bits[i] & ~b->bits[i]) {
            return false;
        }
    }
    return true;
}

bool brute_as_good(const struct brute_way *a, const struct brute_way *b, uint32_t objectives) {
    for (unsigned o = 0; o < TRADE_OBJECTIVES; o++) {
        if ((objectives >> o & 1) && compare_in(&a->values, &b->values, (enum trade_objective)o) > 0) {
            return false;
        }
    }
    return cases_within(&b->cases, &a->cases) && codes_within(&a->drawbacks, &b->drawbacks) && hangs_within(a, b);
}

bool brute_beats(const struct brute_way *a, const struct brute_way *b, uint32_t objectives) {
    return brute_as_good(a, b, objectives) && !brute_as_good(b, a, objectives);
}

/* One result: as good as each other. Of those that only differ in a cost that nobody asked for, the dearer is none. */
static void add_result(struct brute *out, size_t *room, const struct brute_way *way, uint32_t objectives) {
    for (size_t i = 0; i < out->n_ways; i++) {
        struct brute_way *other = &out->ways[i];
        if (!brute_as_good(way, other, objectives) || !brute_as_good(other, way, objectives)) {
            continue;
        }
        int dearer = order(way->values.cost_minor, other->values.cost_minor);
        if (dearer < 0) {
            *other = *way;
        } else if (dearer == 0) {
            other->lists++; /* builds come in the order of their ranks: the first stays */
        }
        return;
    }
    if (out->n_ways == *room) {
        *room = *room ? *room * 2 : 64;
        out->ways = realloc(out->ways, *room * sizeof *out->ways);
        assert_non_null(out->ways);
    }
    out->ways[out->n_ways++] = *way;
}

static void drop_beaten(struct brute *out, uint32_t objectives) {
    size_t n = 0;
    bool *beaten = calloc(out->n_ways + 1, sizeof *beaten);
    assert_non_null(beaten);
    for (size_t b = 0; b < out->n_ways; b++) {
        for (size_t a = 0; a < out->n_ways && !beaten[b]; a++) {
            beaten[b] = brute_beats(&out->ways[a], &out->ways[b], objectives);
        }
    }
    for (size_t i = 0; i < out->n_ways; i++) {
        if (!beaten[i]) {
            out->ways[n++] = out->ways[i];
        }
    }
    out->n_ways = n;
    free(beaten);
}

struct choices {
    uint32_t *at[TRADE_SLOTS];
    size_t n[TRADE_SLOTS];
};

/* The next build in the order of ranks, the last slot fastest; false after the last. */
static bool next_build(size_t *at, uint32_t *rank, const struct choices *choices) {
    for (unsigned s = TRADE_SLOTS; s-- > 0;) {
        if (++at[s] < choices->n[s]) {
            rank[s] = choices->at[s][at[s]];
            return true;
        }
        at[s] = 0;
        rank[s] = choices->at[s][0];
    }
    return false;
}

static int compare_ranks(const void *x, const void *y) {
    const struct brute_way *a = x, *b = y;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (a->rank[s] != b->rank[s]) {
            return order(a->rank[s], b->rank[s]);
        }
    }
    return 0;
}

/* The wish that nobody gave: the lowest gear no harder than now. */
static struct trade_wish filled_in(const struct plan_question *question) {
    struct trade_wish wish = *question->wish;
    struct plan_values now = {0};
    struct fit_build build;
    uint32_t rank[TRADE_SLOTS];
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        rank[s] = holds_part(question, s) ? 0 : 1;
    }
    build_of(&build, question, rank);
    if (!wish.given && gear(&now, question, &build)) {
        wish.lowest_m_max = now.lowest / 10000.0;
    }
    return wish;
}

/* Strikes out the ranks that a slot may not have; how many are left. */
static size_t strike(uint32_t *ranks, size_t n, enum trade_slot slot, const struct brute_beyond *beyond) {
    size_t left = 0;
    for (size_t i = 0; i < n; i++) {
        if (!beyond->may || beyond->may(beyond->of, slot, ranks[i])) {
            ranks[left++] = ranks[i];
        }
    }
    return left;
}

void brute_front(struct brute *out, const struct plan_question *asked) { brute_front_beyond(out, asked, &nothing); }

void brute_front_beyond(struct brute *out, const struct plan_question *asked, const struct brute_beyond *beyond) {
    struct plan_question question = *asked;
    struct trade_wish wish = filled_in(asked);
    struct choices choices = {{NULL}, {0}};
    uint32_t rank[TRADE_SLOTS] = {0};
    size_t at[TRADE_SLOTS] = {0}, room = 0;
    struct fit_cases *cases = calloc(1, sizeof *cases);
    assert_non_null(cases);
    *out = (struct brute){0};
    question.wish = &wish;
    fit_cases_of(cases, question.bike);
    bool any = true;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        choices.at[s] = calloc(question.catalogue->n[trade_slot_rows[s].kind] + 2, sizeof **choices.at);
        assert_non_null(choices.at[s]);
        choices.n[s] = strike(choices.at[s], ranks_of(choices.at[s], &question, s, beyond), s, beyond);
        any = any && choices.n[s] > 0;
        rank[s] = choices.at[s][0];
    }
    while (any) {
        struct brute_way way;
        out->tried++;
        if (build_beyond(&way, &question, cases, rank, beyond)) {
            out->fitted++;
            add_result(out, &room, &way, wish.objectives);
        }
        any = next_build(at, rank, &choices);
    }
    drop_beaten(out, wish.objectives);
    if (out->n_ways > 0) {
        qsort(out->ways, out->n_ways, sizeof *out->ways, compare_ranks);
    }
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        free(choices.at[s]);
    }
    free(cases);
}

void brute_clear(struct brute *brute) {
    free(brute->ways);
    *brute = (struct brute){0};
}

/* --- comparing ----------------------------------------------------------------------------------------------------- */

void brute_of_plan(struct brute_way *out, const struct plan *plan, const struct plan_way *way) {
    memset(out, 0, sizeof *out);
    memcpy(out->rank, way->rank, sizeof out->rank);
    out->values = way->values;
    out->cases = way->cases;
    out->lists = way->equals == UINT64_MAX ? way->equals : way->equals + 1;
    for (unsigned i = 0; i < plan->n_drawbacks; i++) {
        if (way->drawbacks >> i & 1) {
            unsigned code = brute_code(plan->drawbacks[i]);
            out->drawbacks.bits[code / 64] |= UINT64_C(1) << (code % 64);
        }
    }
    for (unsigned i = 0; i < plan->n_hangs; i++) {
        struct fit_finding finding = {.ask_subject = plan->hangs[i].subject, .ask_property = plan->hangs[i].property};
        if (way->hangs >> i & 1) {
            add_hang(out, &finding);
        }
    }
}

const char *brute_difference(const struct brute_way *a, const struct brute_way *b) {
    const struct plan_values *v = &a->values, *w = &b->values;
    const struct {
        const char *what;
        bool same;
    } told[] = {
        {"parts", memcmp(a->rank, b->rank, sizeof a->rank) == 0},
        {"cost", v->cost_minor == w->cost_minor},
        {"price", v->price_minor == w->price_minor},
        {"labour", v->labour_minor == w->labour_minor},
        {"mass", v->mass_g == w->mass_g && v->mass_known == w->mass_known},
        {"lowest gear", v->lowest == w->lowest},
        {"highest gear", v->highest == w->highest && v->counted == w->counted},
        {"chain line", v->line_steps == w->line_steps},
        {"minutes", v->tenths == w->tenths},
        {"time in the band", v->score.in_band == w->score.in_band},
        {"metres on foot", v->score.walked_m == w->score.walked_m},
        {"changed slots", v->changed == w->changed},
        {"cases", memcmp(&a->cases, &b->cases, sizeof a->cases) == 0},
        {"drawbacks", memcmp(&a->drawbacks, &b->drawbacks, sizeof a->drawbacks) == 0},
        {"what it hangs on", a->n_hangs == b->n_hangs && memcmp(a->hangs, b->hangs, sizeof a->hangs) == 0},
        {"equals", a->lists == b->lists},
    };
    for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
        if (!told[i].same) {
            return told[i].what;
        }
    }
    return NULL;
}

static void tell_way(const char *whose, const struct brute_way *way) {
    const struct plan_values *v = &way->values;
    print_error("  %s: cost %ld mass %d%s lowest %d highest %d counted %d line %d in band %d walked %d tenths %d "
                "changed %x lists %lu cases %lx "
                "hangs %zu; ranks",
                whose, (long)v->cost_minor, v->mass_g, v->mass_known == BASE_OPEN ? " (open)" : "", v->lowest,
                v->highest, v->counted, v->line_steps, v->score.in_band, v->score.walked_m, v->tenths, v->changed,
                (unsigned long)way->lists, (unsigned long)way->cases.bits[0], way->n_hangs);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        print_error(" %u", way->rank[s]);
    }
    print_error("\n");
    for (size_t r = 0; r < fit_rules_n; r++) {
        for (size_t i = 0; i < FIT_REASONS_MAX && fit_rules[r]->reasons[i]; i++) {
            unsigned code = brute_code(fit_rules[r]->reasons[i]);
            if (way->drawbacks.bits[code / 64] >> (code % 64) & 1) {
                print_error("    %s\n", fit_rules[r]->reasons[i]);
            }
        }
    }
}

bool brute_agrees(const struct brute *brute, const struct plan *plan, bool quiet) {
    struct brute_way *ways = calloc(plan->n_ways + 1, sizeof *ways);
    const char *differs = brute->n_ways == plan->n_ways ? NULL : "number of ways";
    assert_non_null(ways);
    for (size_t i = 0; i < plan->n_ways; i++) {
        brute_of_plan(&ways[i], plan, &plan->ways[i]);
    }
    qsort(ways, plan->n_ways, sizeof *ways, compare_ranks);
    size_t n = brute->n_ways < plan->n_ways ? brute->n_ways : plan->n_ways, at = 0;
    for (const char *one = NULL; at < n; at++) {
        one = brute_difference(&ways[at], &brute->ways[at]);
        if (one) {
            differs = one;
            break;
        }
    }
    if (differs && !quiet) {
        print_error("%zu ways by the plan, %zu by brute force; differs: %s\n", plan->n_ways, brute->n_ways, differs);
        if (at < plan->n_ways) {
            tell_way("plan", &ways[at]);
        }
        if (at < brute->n_ways) {
            tell_way("brute", &brute->ways[at]);
        }
    }
    free(ways);
    return !differs;
}
