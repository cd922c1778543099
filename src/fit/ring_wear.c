/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A ring that stays under a new chain, where the old one had been run so long that rings are usually worn with it. Somebody
 * who looked at the teeth is believed; worn rings go by their condition.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { RING_STAYS, CONDITION, CHAIN_STAYS, WORN, READS };
enum { LOOK };

static bool looked_at(const struct fit_values *v) {
    return fit_known(v, CONDITION) && fit_word(v, CONDITION) != TRADE_CONDITION_NOT_LOOKED_AT;
}

static struct fit_verdict judge(const struct fit_values *v) {
    double too = fit_limit(TRADE_LIMIT_SPROCKETS_WORN_PERCENT);
    bool meets_new_chain = fit_stays(v, RING_STAYS) && !fit_stays(v, CHAIN_STAYS);
    if (!meets_new_chain || looked_at(v) || !fit_known(v, WORN) || fit_number(v, WORN) < too) {
        return fit_silent();
    }
    struct fit_verdict out = fit_say(FIT_DRAWBACK, LOOK);
    fit_add_number(&out, fit_number(v, WORN), 2, "%");
    fit_add_number(&out, too, 2, "%");
    return out;
}

/* clang-format off */
#define RING_WEAR(SLOT, PLACE_WORD)                                                                                    \
    {                                                                                                                  \
        .id = "ring-wear",                                                                                             \
        .variant = PLACE_WORD,                                                                                         \
        .reads = {                                                                                                     \
            [RING_STAYS] = FIT_READ(SLOT, FIT_FITTED, FIT_NEEDED),                                                     \
            [CONDITION] = FIT_READ(SLOT, TRADE_RING_CONDITION, FIT_OPTIONAL),                                          \
            [CHAIN_STAYS] = FIT_READ(TRADE_SLOT_CHAIN, FIT_FITTED, FIT_NEEDED),                                        \
            [WORN] = FIT_READ(FIT_NOW + TRADE_SLOT_CHAIN, TRADE_CHAIN_WORN_PERCENT, FIT_OPTIONAL),                     \
        },                                                                                                             \
        .n_reads = READS,                                                                                              \
        .reasons = {[LOOK] = "ring-wear.look"},                                                                        \
        .judge = judge,                                                                                                \
        .source = "Old and new chains at 12 inches, a personal photo page, 2011; common practice",                     \
    }
/* clang-format on */

const struct fit_rule fit_ring_wear_outer = RING_WEAR(TRADE_SLOT_OUTER_RING, TRADE_PLACE_OUTER);
const struct fit_rule fit_ring_wear_middle = RING_WEAR(TRADE_SLOT_MIDDLE_RING, TRADE_PLACE_MIDDLE);
const struct fit_rule fit_ring_wear_inner = RING_WEAR(TRADE_SLOT_INNER_RING, TRADE_PLACE_INNER);
