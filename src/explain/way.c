/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/way.h"

#include "explain/bike.h"
#include "explain/finding.h"
#include "explain/message.h"
#include "explain/path.h"
#include "explain/value.h"

#include "mech/gear.h"
#include "plan/mass.h"

#include <math.h>

#define GIVES_UP_KMH 1.0      /* of top speed, below which nobody feels it */
#define RIDER_RPM 60.0        /* that a rider is told with: about the least that is pleasant uphill */
#define GIVES_UP_PERCENT 24.0 /* a step from which legs notice; common practice */

static const enum trade_slot ring_slots[3] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};

/* --- purposes ------------------------------------------------------------------------------------------------------ */

static const char *const purposes_short[PLAN_PURPOSES] = {[PLAN_LEAST_MONEY] = "purpose.least-money",
                                                          [PLAN_LEAST_CHANGE] = "purpose.least-change",
                                                          [PLAN_EASIEST] = "purpose.easiest",
                                                          [PLAN_FASTEST] = "purpose.fastest",
                                                          [PLAN_CLOSEST] = "purpose.closest",
                                                          [PLAN_CERTAIN] = "purpose.certain",
                                                          [PLAN_CLEAN] = "purpose.clean",
                                                          [PLAN_LIGHTEST] = "purpose.lightest",
                                                          [PLAN_MOST_IN_BAND] = "purpose.most-in-band",
                                                          [PLAN_LEAST_ON_FOOT] = "purpose.least-on-foot"};

const char *explain_purpose(const struct plan_way *way, enum plan_purpose purpose) {
    bool not_clean = purpose == PLAN_CLEAN && way->drawbacks != 0;
    return explain_message(not_clean ? "purpose.cleanest" : purposes_short[purpose]);
}

uint32_t explain_purposes(struct base_buffer *out, const struct plan_way *way, uint32_t purposes, size_t most,
                          bool capital) {
    size_t width = 0;
    for (unsigned p = 0; p < PLAN_PURPOSES; p++) {
        const char *text = explain_purpose(way, (enum plan_purpose)p);
        size_t needed = width + base_utf8_length(base_slice_of(text)) + (width > 0 ? 2 : 0);
        if (!(purposes >> p & 1) || (width > 0 && needed > most)) {
            continue;
        }
        base_buffer_text(out, width > 0 ? ", " : "");
        if (width == 0 && capital) {
            explain_put_capital(out, text);
        } else {
            base_buffer_text(out, text);
        }
        width = needed;
        purposes &= ~(UINT32_C(1) << p);
    }
    return purposes;
}

/* --- gears against now --------------------------------------------------------------------------------------------- */

static void put_change(struct base_buffer *out, int32_t way, int32_t now, const char *more, const char *less) {
    if (way <= 0 || now <= 0) {
        return;
    }
    double percent = round(100.0 * (way - now) / now);
    if (percent == 0) {
        explain_say(out, "change.same");
    } else {
        explain_tell(out, percent > 0 ? more : less, explain_number(fabs(percent), 0, "%"));
    }
}

void explain_lowest_change(struct base_buffer *out, int32_t way, int32_t now) {
    put_change(out, way, now, "change.harder", "change.easier");
}

void explain_highest_change(struct base_buffer *out, int32_t way, int32_t now) {
    put_change(out, way, now, "change.more", "change.less");
}

/* --- what becomes of a slot ---------------------------------------------------------------------------------------- */

unsigned explain_rings_of(const struct fit_build *build) {
    unsigned n = 0;
    for (size_t i = 0; i < 3; i++) {
        n += build->at[ring_slots[i]].kind != FIT_NONE;
    }
    return n;
}

enum explain_mark explain_slot_mark(const struct plan *plan, const struct fit_build *build, enum trade_slot slot) {
    bool had = trade_bike_has(plan->question.bike, slot);
    switch (build->at[slot].kind) {
    case FIT_NEW:
        return EXPLAIN_NEW;
    case FIT_KEEP:
        return EXPLAIN_STAYS;
    case FIT_NONE:
        break;
    }
    return had ? EXPLAIN_OFF : EXPLAIN_FITS;
}

/* Why a ring must go, as a code; NULL when it may stay. */
static const char *why_it_goes(const struct trade_bike *bike, enum trade_slot slot) {
    static const char *const codes[TRADE_CONDITION_COUNT] = {[TRADE_CONDITION_WORN] = "ring.worn",
                                                             [TRADE_CONDITION_SEIZED] = "ring.seized",
                                                             [TRADE_CONDITION_DAMAGED] = "ring.damaged"};
    int condition = trade_get_word(&bike->fitted[slot].part, TRADE_RING_CONDITION);
    return condition >= 0 ? codes[condition] : NULL;
}

/* First those that must go, then those that go with them. */
void explain_new_rings(struct base_buffer *out, const struct trade_bike *bike, const struct fit_build *build) {
    for (int must = 1; must >= 0; must--) {
        for (size_t i = 0; i < 3; i++) {
            enum trade_slot slot = ring_slots[i];
            bool had = trade_bike_has(bike, slot);
            const char *why = had ? why_it_goes(bike, slot) : NULL;
            if (build->at[slot].kind == FIT_NEW && (why != NULL) == (must == 1)) {
                base_buffer_text(out, out->n > 0 ? " " : "");
                explain_tell(out,
                             why   ? why
                             : had ? "ring.goes-too"
                                   : "ring.goes-on",
                             explain_words(explain_slot(slot)),
                             explain_number(trade_get_number(build->at[slot].part, TRADE_RING_TEETH), 0, "T"));
            }
        }
    }
}

/* --- what a way gives up ------------------------------------------------------------------------------------------- */

/* The rider's highest cadence, else the usual one. */
static double top_cadence(const struct trade_bike *bike) {
    const struct trade_value *band = trade_get(&bike->rider, TRADE_RIDER_CADENCE_RPM);
    if (trade_is_open(band)) {
        return trade_limits[TRADE_LIMIT_SPIN_OUT_RPM].value;
    }
    return band->counts->at[band->counts->n - 1];
}

/* The largest step of a build with one ring, from a sprocket to the next smaller one. */
static void put_largest_step(struct base_buffer *out, const struct plan_way *way) {
    const struct fit_choice *choice = &way->build.at[TRADE_SLOT_CASSETTE];
    if (choice->kind == FIT_NONE || explain_rings_of(&way->build) != 1 ||
        trade_is_open(trade_get(choice->part, TRADE_CASSETTE_SPROCKETS))) {
        return;
    }
    const struct trade_counts *teeth = trade_get(choice->part, TRADE_CASSETTE_SPROCKETS)->counts;
    double largest = 0;
    size_t at = 0;
    for (size_t i = 0; i + 1 < teeth->n; i++) {
        double step = mech_gear_step_percent(1.0 / teeth->at[i + 1], 1.0 / teeth->at[i]);
        at = step > largest ? i : at;
        largest = fmax(largest, step);
    }
    if (largest >= GIVES_UP_PERCENT) {
        explain_tell(out, "gives-up.step", explain_number(largest, 0, "%"), explain_count(teeth->at[at + 1]),
                     explain_count(teeth->at[at]));
    }
}

static void put_sentence(struct base_buffer *out, const struct base_buffer *sentence) {
    if (sentence->n > 0) {
        base_buffer_text(out, out->n > 0 ? "; " : "");
        base_buffer_text(out, explain_held(out, sentence));
    }
}

static void put_top_speed(struct base_buffer *out, const struct plan *plan, const struct plan_way *way) {
    double rpm = top_cadence(plan->question.bike);
    if (!plan->gears_known || plan->now_values.highest <= 0) {
        return;
    }
    double now = mech_gear_speed_kmh(plan->now_values.highest / 10000.0, rpm);
    double then = mech_gear_speed_kmh(way->values.highest / 10000.0, rpm);
    if (now - then >= GIVES_UP_KMH) {
        explain_tell(out, "gives-up.speed", explain_number(then, 0, "km/h"), explain_number(rpm, 0, "rpm"),
                     explain_number(now, 0, ""));
    }
}

void explain_gives_up(struct base_buffer *out, const struct plan *plan, const struct plan_way *way,
                      const struct plan_way *cheapest, const char *letter) {
    struct base_buffer all, one;
    base_buffer_init(&all, 0);
    base_buffer_init(&one, 0);
    put_top_speed(&one, plan, way);
    put_sentence(&all, &one);
    base_buffer_clear(&one);
    if (plan->now_values.lowest > 0 && round(100.0 * way->values.lowest / plan->now_values.lowest) > 100) {
        struct base_buffer change;
        base_buffer_init(&change, 0);
        explain_lowest_change(&change, way->values.lowest, plan->now_values.lowest);
        explain_tell(&one, "gives-up.lowest", explain_buffered(&change));
        put_sentence(&all, &one);
        base_buffer_clear(&change);
        base_buffer_clear(&one);
    }
    put_largest_step(&one, way);
    put_sentence(&all, &one);
    base_buffer_clear(&one);
    if (way != cheapest && way->values.cost_minor > cheapest->values.cost_minor) {
        explain_tell(&one, "gives-up.money",
                     explain_money(way->values.cost_minor - cheapest->values.cost_minor, plan->question.shop),
                     explain_words(letter));
        put_sentence(&all, &one);
        base_buffer_clear(&one);
    }
    base_buffer_text(out, explain_held(out, &all));
    base_buffer_clear(&all);
}

static void put_lowest_to_rider(struct base_buffer *out, int32_t then, int32_t now) {
    double percent = now > 0 && then > 0 ? round(100.0 * (then - now) / now) : NAN;
    if (isnan(percent)) {
        return;
    }
    if (percent == 0) {
        explain_say(out, "rider.same");
    } else {
        explain_tell(out, percent > 0 ? "rider.harder" : "rider.easier", explain_number(fabs(percent), 0, "%"),
                     explain_number(RIDER_RPM, 0, ""), explain_number(RIDER_RPM * now / then, 0, ""));
    }
}

void explain_to_rider(struct base_buffer *out, const struct plan *plan, const struct plan_way *way) {
    double rpm = top_cadence(plan->question.bike);
    put_lowest_to_rider(out, way->values.lowest, plan->now_values.lowest);
    if (!plan->gears_known || plan->now_values.highest <= 0 || way->values.highest <= 0) {
        return;
    }
    double now = mech_gear_speed_kmh(plan->now_values.highest / 10000.0, rpm);
    double then = mech_gear_speed_kmh(way->values.highest / 10000.0, rpm);
    if (fabs(now - then) >= GIVES_UP_KMH) {
        base_buffer_text(out, out->n > 0 ? " " : "");
        explain_tell(out, then < now ? "rider.slower" : "rider.faster", explain_number(rpm, 0, "rpm"),
                     explain_number(then, 0, "km/h"), explain_number(now, 0, "km/h"));
    }
}

/* Which parts' masses nobody knows. */
static void put_unweighed(struct base_buffer *out, const struct plan *plan, const struct fit_build *build) {
    struct base_buffer slots;
    uint32_t open = 0;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        struct plan_unweighed unweighed = plan_unweighed_at(plan, build, (enum trade_slot)s);
        open |= unweighed.old || unweighed.new ? UINT32_C(1) << s : 0;
    }
    base_buffer_init(&slots, 0);
    explain_slots(&slots, open);
    explain_tell(out, "mass.open", explain_buffered(&slots));
    base_buffer_clear(&slots);
}

void explain_mass(struct base_buffer *out, const struct plan *plan, const struct plan_way *way) {
    const struct plan_values *values = &way->values;
    int32_t size = values->mass_g < 0 ? -values->mass_g : values->mass_g;
    enum base_known known = values->mass_known;
    if (known == BASE_OPEN) {
        put_unweighed(out, plan, &way->build);
        return;
    }
    if (size == 0) {
        explain_say(out, "mass.same");
        return;
    }
    explain_tell(out, values->mass_g < 0 ? "mass.lighter" : "mass.heavier",
                 size >= 100 ? explain_known(size / 1000.0, 2, "kg", known) : explain_known(size, 0, "g", known));
}

/* --- the wish ------------------------------------------------------------------------------------------------------ */

static void put_part_of_wish(struct base_buffer *out, const char *code, const struct explain_arg *args, size_t n) {
    base_buffer_text(out, out->n > 0 ? ", " : "");
    explain_put(out, code, args, n);
}

#define WISH(OUT, CODE, ...)                                                                                           \
    put_part_of_wish(OUT, CODE, (const struct explain_arg[]){__VA_ARGS__},                                             \
                     sizeof((const struct explain_arg[]){__VA_ARGS__}) / sizeof(struct explain_arg))

static void put_allowed_sprockets(struct base_buffer *out, uint32_t sprockets) {
    struct base_buffer counts;
    base_buffer_init(&counts, 0);
    for (unsigned n = 0; n < 32; n++) {
        if (sprockets >> n & 1) {
            base_buffer_text(&counts, counts.n > 0 ? ", " : "");
            base_buffer_int(&counts, n);
        }
    }
    WISH(out, "wish.sprockets", explain_buffered(&counts));
    base_buffer_clear(&counts);
}

/* The hill from which the bound on the lowest gear came; nothing where another wish is stricter. */
static void put_climb(struct base_buffer *out, const struct trade_wish *wish) {
    for (size_t i = 0; i < wish->n_climbs; i++) {
        const struct trade_climb *climb = &wish->climbs[i];
        if (climb->lowest_m_max <= wish->lowest_m_max) {
            base_buffer_text(out, " ");
            explain_tell(out, "wish.for-climb", explain_number(climb->cadence_rpm, 0, "rpm"),
                         explain_gradient(climb->gradient_percent));
            return;
        }
    }
}

void explain_one_wish(struct base_buffer *out, const struct plan *plan, enum plan_wish_id id) {
    const struct trade_wish *wish = &plan->wish;
    if (id == PLAN_WISH_RINGS && wish->rings > 0) {
        WISH(out, "wish.rings", explain_spelt(wish->rings));
    } else if (id == PLAN_WISH_SPROCKETS && wish->sprockets != 0) {
        put_allowed_sprockets(out, wish->sprockets);
    } else if (id == PLAN_WISH_LOWEST && !isnan(wish->lowest_m_max) && plan->question.wish->given) {
        WISH(out, "wish.lowest", explain_number(wish->lowest_m_max, 2, "m"));
        put_climb(out, wish);
    } else if (id == PLAN_WISH_LOWEST && !isnan(wish->lowest_m_max)) {
        WISH(out, "wish.not-harder", explain_count(0));
    } else if (id == PLAN_WISH_HIGHEST && !isnan(wish->highest_m_min)) {
        WISH(out, "wish.highest", explain_number(wish->highest_m_min, 2, "m"));
    } else if (id == PLAN_WISH_BUDGET && wish->budget_minor >= 0) {
        WISH(out, "wish.budget", explain_money(wish->budget_minor, plan->question.shop));
    }
}

void explain_wish(struct base_buffer *out, const struct plan *plan) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    for (unsigned id = 0; id < PLAN_WISHES; id++) {
        explain_one_wish(&text, plan, (enum plan_wish_id)id);
    }
    base_buffer_text(out, explain_held(out, &text));
    base_buffer_clear(&text);
}

void explain_kept(struct base_buffer *out, const struct plan *plan) {
    if (plan->wish.keep != 0) {
        struct base_buffer slots;
        base_buffer_init(&slots, 0);
        explain_slots(&slots, plan->wish.keep);
        explain_tell(out, "wish.keep", explain_buffered(&slots));
        base_buffer_clear(&slots);
    }
}

void explain_objectives(struct base_buffer *out, const struct trade_wish *wish) {
    static const char *const codes[TRADE_OBJECTIVES] = {
        [TRADE_COST] = "objective.cost",       [TRADE_LOWEST] = "objective.lowest",
        [TRADE_HIGHEST] = "objective.highest", [TRADE_MASS] = "objective.mass",
        [TRADE_LINE_ERROR] = "objective.line", [TRADE_MINUTES] = "objective.minutes",
        [TRADE_CHANGED] = "objective.changed", [TRADE_IN_BAND] = "objective.in-band",
        [TRADE_WALKED] = "objective.walked"};
    const char *words[TRADE_OBJECTIVES] = {NULL};
    size_t n = 0;
    for (unsigned o = 0; o < TRADE_OBJECTIVES; o++) {
        if (wish->objectives >> o & 1) {
            words[n++] = explain_message(codes[o]);
        }
    }
    explain_put_list(out, words, n, "list.and");
}

/* --- small parts --------------------------------------------------------------------------------------------------- */

void explain_small_parts(struct base_buffer *out, uint32_t needed) {
    const char *words[TRADE_SMALL_PARTS];
    size_t n = 0;
    for (unsigned i = 0; i < TRADE_SMALL_PARTS; i++) {
        if (needed >> i & 1) {
            words[n++] = explain_message_of((const char *const[]){"small-part.", trade_small_part_rows[i].name}, 2);
        }
    }
    explain_put_list(out, words, n, "list.and");
}

/* --- what opens when a wish goes ----------------------------------------------------------------------------------- */

/* How far a gear of the relief lies beyond what was wished, percent. */
static double beyond(int32_t development, double wished_m) { return fabs(development / 10000.0 / wished_m - 1) * 100; }

static void put_given_up(struct base_buffer *out, const struct plan *plan, const struct plan_relief *relief,
                         enum plan_wish_id id) {
    const struct trade_wish *wish = &plan->wish;
    struct base_buffer slots;
    switch (id) {
    case PLAN_WISH_RINGS:
        explain_tell(out, "relief.rings", explain_spelt(explain_rings_of(&relief->build)));
        break;
    case PLAN_WISH_SPROCKETS:
        explain_say(out, "relief.sprockets");
        break;
    case PLAN_WISH_LOWEST:
        explain_tell(out, "relief.lowest", explain_number(relief->values.lowest / 10000.0, 2, "m"),
                     explain_number(beyond(relief->values.lowest, wish->lowest_m_max), 0, "%"));
        break;
    case PLAN_WISH_HIGHEST:
        explain_tell(out, "relief.highest", explain_number(relief->values.highest / 10000.0, 2, "m"),
                     explain_number(beyond(relief->values.highest, wish->highest_m_min), 0, "%"));
        break;
    case PLAN_WISH_BUDGET:
        explain_tell(out, "relief.budget",
                     explain_money(relief->values.cost_minor - wish->budget_minor, plan->question.shop));
        break;
    case PLAN_WISH_KEEP:
        base_buffer_init(&slots, 0);
        explain_slots(&slots, wish->keep & relief->values.changed);
        explain_tell(out, "relief.keep", explain_buffered(&slots));
        base_buffer_clear(&slots);
        break;
    case PLAN_WISHES:
        break;
    }
}

void explain_relief(struct base_buffer *out, const struct plan *plan, const struct plan_relief *relief) {
    struct base_buffer each[PLAN_WISHES];
    const char *words[PLAN_WISHES] = {NULL};
    size_t n = 0;
    for (unsigned w = 0; w < PLAN_WISHES; w++) {
        if (relief->given_up >> w & 1) {
            base_buffer_init(&each[n], 0);
            put_given_up(&each[n], plan, relief, (enum plan_wish_id)w);
            words[n] = explain_held(out, &each[n]);
            n++;
        }
    }
    explain_put_list(out, words, n, "list.and");
    while (n > 0) {
        base_buffer_clear(&each[--n]);
    }
}
