/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Why a part goes: the old one is put back in its slot, all else as the way has it, and what then goes wrong is told.
 */
#include "explain/way.h"

#include "explain/bike.h"
#include "explain/finding.h"
#include "explain/message.h"
#include "explain/part.h"
#include "explain/path.h"

#include "plan/line.h"
#include "plan/values.h"
#include "trade/vocabulary.h"

#include <math.h>
#include <string.h>

/* The way with the old part, or with nothing where there was none. */
struct tried {
    const struct plan *plan;
    const struct plan_way *way;
    enum trade_slot slot;
    struct fit_build build;
    struct plan_values values;
};

static void try_old(struct tried *out, const struct plan *plan, const struct plan_way *way, enum trade_slot slot) {
    double unknown[TRADE_KINDS];
    out->plan = plan;
    out->way = way;
    out->slot = slot;
    out->build = way->build;
    out->build.at[slot] = plan->now.at[slot];
    if (slot == TRADE_SLOT_REAR_WHEEL) {
        out->build.at[TRADE_SLOT_FREEHUB_BODY] = plan->now.at[TRADE_SLOT_FREEHUB_BODY]; /* goes with its hub */
    }
    for (size_t k = 0; k < TRADE_KINDS; k++) {
        unknown[k] = NAN;
    }
    plan_values_of(&out->values, &plan->question, &out->build, unknown, plan_cap(&plan->wish, plan->question.bike));
}

/* --- the old part itself ------------------------------------------------------------------------------------------- */

static bool put_condition(struct base_buffer *out, const struct tried *t) {
    static const char *const codes[TRADE_CONDITION_COUNT] = {[TRADE_CONDITION_WORN] = "change.worn",
                                                             [TRADE_CONDITION_SEIZED] = "change.seized",
                                                             [TRADE_CONDITION_DAMAGED] = "change.damaged"};
    const struct trade_part *old = t->plan->now.at[t->slot].part;
    int property = old ? trade_find_property(old->kind, base_slice_of("condition")) : -1;
    int condition = property < 0 ? -1 : trade_get_word(old, (enum trade_property)property);
    if (condition < 0 || !codes[condition]) {
        return false;
    }
    explain_tell(out, codes[condition], explain_count(trade_slot_rows[t->slot].plural ? 2 : 1));
    return true;
}

/* --- the wish ------------------------------------------------------------------------------------------------------ */

static bool is_ring(enum trade_slot slot) {
    return slot == TRADE_SLOT_OUTER_RING || slot == TRADE_SLOT_MIDDLE_RING || slot == TRADE_SLOT_INNER_RING;
}

/* The old ring or cassette as one calls it: 'the old 36 T', 'the old 11–36'. */
static void put_old_teeth(struct base_buffer *out, const struct tried *t) {
    const struct trade_part *old = t->plan->now.at[t->slot].part;
    if (t->slot == TRADE_SLOT_CASSETTE) {
        explain_sprocket_range(out, old);
    } else {
        struct explain_arg teeth = explain_number(trade_get_number(old, TRADE_RING_TEETH), 0, "T");
        explain_put_arg(out, &teeth);
    }
}

static void put_gear_with_old(struct base_buffer *out, const struct tried *t, const char *code, int32_t development,
                              double wished_m) {
    struct base_buffer old;
    const char *unit = t->plan->gears_known ? "m" : "";
    base_buffer_init(&old, 0);
    put_old_teeth(&old, t);
    explain_tell(out, code, explain_buffered(&old), explain_number(development / 10000.0, 2, unit),
                 explain_number(wished_m, 2, unit));
    base_buffer_clear(&old);
}

/* One ring is wished; or with the old teeth the gears would not be those that are wished. */
static bool put_wish(struct base_buffer *out, const struct tried *t) {
    const struct trade_wish *wish = &t->plan->wish;
    unsigned rings = explain_rings_of(&t->build);
    bool had = t->plan->now.at[t->slot].kind == FIT_KEEP;
    if (is_ring(t->slot) && wish->rings > 0 && rings != wish->rings) {
        explain_tell(out, "change.rings-wished", explain_spelt(wish->rings));
        return true;
    }
    if (!had || (!is_ring(t->slot) && t->slot != TRADE_SLOT_CASSETTE) || t->values.lowest <= 0) {
        return false;
    }
    if (!isnan(wish->lowest_m_max) && t->values.lowest > wish->lowest_m_max * 10000 + 0.5) {
        put_gear_with_old(out, t, "change.lowest-wished", t->values.lowest, wish->lowest_m_max);
        return true;
    }
    if (!isnan(wish->highest_m_min) && t->values.highest < wish->highest_m_min * 10000 - 0.5) {
        put_gear_with_old(out, t, "change.highest-wished", t->values.highest, wish->highest_m_min);
        return true;
    }
    return false;
}

/* --- the rules ----------------------------------------------------------------------------------------------------- */

/* How a rule answers on a build: the worst of its findings that has a kind, or that hangs. */
static bool judges(struct fit_finding *out, const struct fit_rule *rule, const struct tried *t, enum fit_kind kind) {
    fit_judge_rule(out, rule, t->plan->question.bike, &t->build, &t->plan->cases, false);
    bool waits = out->conditional || out->hangs;
    if (kind == FIT_ASK) {
        return waits;
    }
    return out->verdict.kind == kind && !waits;
}

/* Does the way have this drawback too? */
static bool way_has(const struct tried *t, const char *code) {
    for (size_t i = 0; i < t->plan->n_drawbacks; i++) {
        if ((t->way->drawbacks >> i & 1) && strcmp(t->plan->drawbacks[i], code) == 0) {
            return true;
        }
    }
    return false;
}

/* 'With the old one: ', 'Without it: ' */
static void put_before(struct base_buffer *out, const struct tried *t) {
    bool had = t->plan->now.at[t->slot].kind == FIT_KEEP, plural = trade_slot_rows[t->slot].plural;
    explain_say(out, !had ? "change.without" : plural ? "change.with-old-ones" : "change.with-old-one");
    base_buffer_text(out, " ");
}

/* A sentence that goes on behind a colon. Names of threads keep their capital, as do letters that stand alone. */
static void put_small(struct base_buffer *out, const char *sentence) {
    static const char *const names[] = {"English", "French", "Italian", "Swiss"};
    bool keeps = !(sentence[0] >= 'A' && sentence[0] <= 'Z') ||
                 !(sentence[1] == ' ' || (sentence[1] >= 'a' && sentence[1] <= 'z'));
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        keeps = keeps || strncmp(sentence, names[i], strlen(names[i])) == 0;
    }
    if (keeps) {
        base_buffer_text(out, sentence);
    } else {
        base_buffer_char(out, (char)(sentence[0] - 'A' + 'a'));
        base_buffer_text(out, sentence + 1);
    }
}

/* 'With the old one: largest sprocket 46 T, ...'; a sentence that speaks of the old one itself stands alone. */
static void put_with_old(struct base_buffer *out, const struct tried *t, const char *sentence) {
    static const char speaks[] = "The old ";
    if (strncmp(sentence, speaks, sizeof speaks - 1) == 0) {
        base_buffer_text(out, sentence);
    } else {
        put_before(out, t);
        put_small(out, sentence);
    }
}

/* The first rule that looks at the slot and answers so on the build with the old part. */
static bool put_rule(struct base_buffer *out, const struct tried *t, enum fit_kind kind) {
    for (size_t r = 0; r < fit_rules_n; r++) {
        struct fit_finding finding;
        if (!(fit_rule_slots(fit_rules[r]) >> t->slot & 1) || !judges(&finding, fit_rules[r], t, kind)) {
            continue;
        }
        if (kind == FIT_ASK && !t->way->certain) {
            continue; /* the way waits for a measurement itself */
        }
        if (kind == FIT_DRAWBACK && way_has(t, finding.rule->reasons[finding.verdict.reason])) {
            continue;
        }
        if (kind == FIT_ASK) {
            struct base_buffer name;
            base_buffer_init(&name, 0);
            put_before(out, t);
            explain_name(&name, finding.ask_subject, finding.ask_property);
            explain_tell(out, "change.to-measure", explain_buffered(&name));
            base_buffer_clear(&name);
        } else {
            struct base_buffer reason;
            base_buffer_init(&reason, 0);
            explain_reason(&reason, &finding);
            put_with_old(out, t, explain_held(out, &reason));
            base_buffer_clear(&reason);
        }
        return true;
    }
    return false;
}

/* --- what the new one is better at --------------------------------------------------------------------------------- */

static bool by_mass(const struct plan *plan) { return (plan->wish.objectives >> TRADE_MASS & 1) != 0; }

static bool put_gain(struct base_buffer *out, const struct tried *t) {
    const struct plan_values *with = &t->values, *way = &t->way->values;
    const char *unit = t->plan->gears_known ? "m" : "";
    if (with->lowest > way->lowest && way->lowest > 0) {
        explain_tell(out, "change.lowers", explain_number(with->lowest / 10000.0, 2, ""),
                     explain_number(way->lowest / 10000.0, 2, unit));
    } else if (with->highest < way->highest && with->highest > 0) {
        explain_tell(out, "change.raises", explain_number(with->highest / 10000.0, 2, ""),
                     explain_number(way->highest / 10000.0, 2, unit));
    } else if (with->line_steps > way->line_steps && way->line_steps >= 0) {
        explain_tell(out, "change.straighter", explain_number((with->line_steps - way->line_steps) * 0.5, 1, "mm"));
    } else if (by_mass(t->plan) && with->mass_g > way->mass_g) {
        explain_tell(out, "change.lighter", explain_number(with->mass_g - way->mass_g, 0, "g"));
    } else if (with->cost_minor > way->cost_minor) {
        explain_tell(out, "change.cheaper", explain_money(with->cost_minor - way->cost_minor, t->plan->question.shop));
    } else {
        return false;
    }
    return true;
}

void explain_change(struct base_buffer *out, const struct plan *plan, const struct plan_way *way,
                    enum trade_slot slot) {
    struct tried t;
    try_old(&t, plan, way, slot);
    /* Rings that can't leave their crank go with it, whatever is wished. */
    bool rules_first = is_ring(slot) && way->build.at[TRADE_SLOT_CRANK].kind == FIT_NEW;
    (void)(put_condition(out, &t) || (rules_first && put_rule(out, &t, FIT_CLASH)) || put_wish(out, &t) ||
           put_rule(out, &t, FIT_CLASH) || put_rule(out, &t, FIT_ASK) || put_rule(out, &t, FIT_DRAWBACK) ||
           put_gain(out, &t));
}
