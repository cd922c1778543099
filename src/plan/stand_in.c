/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/stand_in.h"

#include "plan/choice.h"
#include "plan/values.h"

#include <string.h>

/* What the rules say of a build, as far as ways are told apart by it. */
struct judged {
    struct fit_finding findings[PLAN_RULES_MAX];
    size_t n;
    struct fit_case_set cases;
};

static void judge(struct judged *out, const struct plan *plan, const struct fit_build *build) {
    fit_judge_build(out->findings, &out->n, plan->question.bike, build, &plan->cases, false);
    out->cases = fit_all_cases(&plan->cases);
    for (size_t i = 0; i < out->n; i++) {
        for (size_t w = 0; w < FIT_CASE_WORDS; w++) {
            out->cases.bits[w] &= out->findings[i].cases.bits[w];
        }
    }
}

/* Does b say all that a says: the same drawbacks of the same rules, and what it hangs on? */
static bool says_all(const struct judged *a, const struct judged *b) {
    bool all = true;
    for (size_t i = 0; i < a->n && all; i++) {
        const struct fit_finding *x = &a->findings[i];
        bool found = x->drawbacks == 0 && !x->hangs;
        for (size_t k = 0; k < b->n && !found; k++) {
            const struct fit_finding *y = &b->findings[k];
            found = x->rule == y->rule && x->drawbacks == y->drawbacks && x->hangs == y->hangs &&
                    (!x->hangs || (x->ask_subject == y->ask_subject && x->ask_property == y->ask_property));
        }
        all = found;
    }
    return all;
}

static bool same_values(const struct plan_values *a, const struct plan_values *b, uint32_t objectives) {
    return a->cost_minor == b->cost_minor && a->lowest == b->lowest && a->counted == b->counted &&
           (!(objectives >> TRADE_MASS & 1) || (a->mass_g == b->mass_g && a->mass_known == b->mass_known)) &&
           (!(objectives >> TRADE_LINE_ERROR & 1) || a->line_steps == b->line_steps) &&
           (!(objectives & TRADE_OF_ROAD) ||
            (a->score.in_band == b->score.in_band && a->score.walked_m == b->score.walked_m)) &&
           a->tenths == b->tenths;
}

static bool would_do(const struct plan *plan, const struct plan_way *way, const struct judged *now,
                     enum trade_slot slot, const struct trade_part *part) {
    struct fit_build build = way->build;
    struct plan_values values;
    struct judged then;
    build.at[slot].part = part;
    plan_values_of(&values, &plan->question, &build, plan->shelf->usual_mass_g,
                   plan_cap(&plan->wish, plan->question.bike));
    if (!same_values(&way->values, &values, plan->wish.objectives)) {
        return false;
    }
    judge(&then, plan, &build);
    return memcmp(&now->cases, &then.cases, sizeof now->cases) == 0 && says_all(now, &then) && says_all(&then, now);
}

const struct trade_part *plan_stand_in(const struct plan *plan, const struct plan_way *way, enum trade_slot slot) {
    const struct fit_choice *choice = &way->build.at[slot];
    enum trade_kind kind = trade_slot_rows[slot].kind;
    struct judged now;
    if (choice->kind != FIT_NEW || choice->part->stock != 0) {
        return NULL;
    }
    judge(&now, plan, &way->build);
    for (uint32_t rank = 2; rank < plan_ranks(plan, slot); rank++) {
        const struct trade_part *part = &plan->question.catalogue->parts[kind][rank - 2];
        if (part->stock > 0 && part->price_minor == choice->part->price_minor && plan_may(plan, slot, rank) &&
            would_do(plan, way, &now, slot, part)) {
            return part;
        }
    }
    return NULL;
}
