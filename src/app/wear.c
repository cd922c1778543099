/* SPDX-License-Identifier: Apache-2.0 */
#include "app/wear.h"

#include "explain/finding.h"
#include "explain/message.h"
#include "fit/rules.h"
#include "fit/wear.h"
#include "mech/chain.h"
#include "trade/vocabulary.h"

#include <math.h>
#include <string.h>

static double limit(enum trade_limit which) { return trade_limits[which].value; }

/* --- the chain ----------------------------------------------------------------------------------------------------- */

static void wait_for(struct app_open *open, enum trade_slot slot, enum trade_property property) {
    open->at[open->n].subject = (uint8_t)slot;
    open->at[open->n++].property = (uint16_t)property;
}

static void read_chain(struct app_wear *out, const struct trade_part *chain) {
    const struct trade_value *worn = trade_get(chain, TRADE_CHAIN_WORN_PERCENT);
    out->known = worn->known;
    out->worn_percent = trade_get_number(chain, TRADE_CHAIN_WORN_PERCENT);
    out->family = trade_get_word(chain, TRADE_CHAIN_FAMILY);
    if (isnan(out->worn_percent)) {
        wait_for(&out->open, TRADE_SLOT_CHAIN, TRADE_CHAIN_WORN_PERCENT);
    }
    if (out->family < 0) {
        wait_for(&out->open, TRADE_SLOT_CHAIN, TRADE_CHAIN_FAMILY);
    }
}

static void find_limits(struct app_wear *out, bool by_rule) {
    out->limit_percent = fit_chain_limit_percent(out->family);
    out->sprockets_percent = limit(TRADE_LIMIT_SPROCKETS_WORN_PERCENT);
    out->new_sprockets_percent = out->limit_percent * limit(TRADE_LIMIT_CHAIN_HALF_WORN_SHARE);
    out->new_mm = mech_chain_worn_mm(0, APP_WEAR_PITCHES);
    out->over_mm = mech_chain_worn_mm(out->worn_percent, APP_WEAR_PITCHES);
    out->limit_mm = mech_chain_worn_mm(out->limit_percent, APP_WEAR_PITCHES);
    out->band_percent = NAN;
    if (by_rule) {
        out->band_percent = 100 * limit(TRADE_LIMIT_RULE_READING_MM) / out->new_mm;
        out->too_near = fabs(out->worn_percent - out->limit_percent) < out->band_percent;
    }
}

/* --- what may stay ------------------------------------------------------------------------------------------------- */

static enum trade_condition condition_of(const struct trade_part *part) {
    int property = trade_find_property(part->kind, base_slice_of("condition"));
    int word = property < 0 ? -1 : trade_get_word(part, (enum trade_property)property);
    return word < 0 ? TRADE_CONDITION_NOT_LOOKED_AT : (enum trade_condition)word;
}

/* The part as a new one: the rules of wear look at nothing of it. */
static void make_new(struct fit_build *build, enum trade_slot slot) {
    build->at[slot].kind = build->at[slot].part ? FIT_NEW : build->at[slot].kind;
}

static struct app_worn judge(enum trade_slot slot, const struct fit_rule *rule, const struct trade_bike *bike,
                             const struct fit_build *build, const struct fit_cases *cases) {
    struct app_worn out = {.slot = slot, .mark = EXPLAIN_STAYS};
    fit_judge_rule(&out.finding, rule, bike, build, cases, true);
    if (out.finding.verdict.kind != FIT_SILENT && explain_mark_of(&out.finding) != EXPLAIN_FITS) {
        enum explain_mark mark = explain_mark_of(&out.finding);
        out.mark = mark == EXPLAIN_CLASH ? EXPLAIN_OFF : mark;
    }
    return out;
}

/* What was seen on the part itself, where that lets it go and no figure does so already. */
static void look_at(struct app_worn *worn, const struct trade_part *part) {
    static const char *const codes[TRADE_CONDITION_COUNT] = {[TRADE_CONDITION_WORN] = "worn.worn",
                                                             [TRADE_CONDITION_SEIZED] = "worn.seized",
                                                             [TRADE_CONDITION_DAMAGED] = "worn.damaged"};
    if (worn->mark != EXPLAIN_OFF && !trade_may_stay(part)) {
        worn->code = codes[condition_of(part)];
        worn->mark = EXPLAIN_OFF;
    }
}

/* Cassette and rings under a new chain. What nobody looked at stays unless the old chain tells otherwise: where that was
 * not measured, nothing does. */
static void judge_under_new(struct app_wear *out, const struct trade_bike *bike, const struct fit_build *now,
                            const struct fit_cases *cases) {
    static const struct {
        enum trade_slot slot;
        const struct fit_rule *rule;
    } parts[APP_WORN_MAX] = {{TRADE_SLOT_CASSETTE, &fit_wear},
                             {TRADE_SLOT_OUTER_RING, &fit_ring_wear_outer},
                             {TRADE_SLOT_MIDDLE_RING, &fit_ring_wear_middle},
                             {TRADE_SLOT_INNER_RING, &fit_ring_wear_inner}};
    struct fit_build build = *now;
    make_new(&build, TRADE_SLOT_CHAIN);
    for (size_t i = 0; i < APP_WORN_MAX; i++) {
        const struct trade_part *part = now->at[parts[i].slot].part;
        if (!part) {
            continue;
        }
        struct app_worn *worn = &out->under_new[out->n++];
        *worn = judge(parts[i].slot, parts[i].rule, bike, &build, cases);
        look_at(worn, part);
        bool unseen = condition_of(part) == TRADE_CONDITION_NOT_LOOKED_AT;
        if (isnan(out->worn_percent) && worn->mark != EXPLAIN_OFF && (unseen || worn->mark == EXPLAIN_MEASURE)) {
            worn->code = unseen ? "worn.look" : "worn.measure";
            worn->mark = EXPLAIN_MEASURE;
        }
    }
}

void app_wear_of(struct app_wear *out, const struct trade_bike *bike, const struct fit_build *now,
                 const struct fit_cases *cases, bool by_rule) {
    memset(out, 0, sizeof *out);
    read_chain(out, &bike->fitted[TRADE_SLOT_CHAIN].part);
    find_limits(out, by_rule);
    struct fit_build build = *now;
    out->chain = judge(TRADE_SLOT_CHAIN, &fit_wear, bike, &build, cases);
    look_at(&out->chain, &bike->fitted[TRADE_SLOT_CHAIN].part);
    if (isnan(out->worn_percent) && out->chain.mark == EXPLAIN_STAYS) {
        out->chain.mark = EXPLAIN_MEASURE;
    }
    make_new(&build, TRADE_SLOT_CASSETTE);
    out->new_sprockets = judge(TRADE_SLOT_CASSETTE, &fit_wear, bike, &build, cases);
    if (out->chain.mark == EXPLAIN_OFF) {
        out->new_sprockets.code = "worn.ruins";
        out->new_sprockets.mark = EXPLAIN_OFF;
    }
    judge_under_new(out, bike, now, cases);
}

void app_worn_reason(struct base_buffer *out, const struct app_worn *worn) {
    if (worn->code) {
        explain_say(out, worn->code);
    } else if (worn->finding.verdict.kind == FIT_SILENT) {
        explain_say(out, "worn.nothing");
    } else {
        explain_finding(out, &worn->finding);
    }
}
