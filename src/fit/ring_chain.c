/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Ring and chain: the chains that the ring is made for, and teeth in turn wide and narrow, whose count is even.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { CHAINS, PROFILE, TEETH, STAYS, FAMILY, CHAIN_STAYS, READS };
enum { FITS, HOLDS_LESS, ODD, OTHER, ASK };

static bool wide_narrow(const struct fit_values *v) {
    return fit_known(v, PROFILE) && fit_word(v, PROFILE) == TRADE_PROFILE_WIDE_NARROW;
}

static struct fit_verdict with_chain(enum fit_kind kind, unsigned reason, unsigned family) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_word(&out, TRADE_DOMAIN_CHAIN_FAMILY, family);
    return out;
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (wide_narrow(v) && fit_known(v, TEETH) && fit_count(v, TEETH) % 2 != 0) {
        struct fit_verdict clash = fit_say(FIT_CLASH, ODD);
        fit_add_number(&clash, fit_number(v, TEETH), 0, "T");
        return clash;
    }
    if (!fit_known(v, CHAINS) || !fit_known(v, FAMILY)) {
        bool together = fit_stays(v, STAYS) && fit_stays(v, CHAIN_STAYS);
        return together ? fit_silent() : fit_ask(fit_known(v, CHAINS) ? FAMILY : CHAINS, ASK);
    }
    unsigned family = fit_word(v, FAMILY);
    if (fit_among(v, CHAINS, family)) {
        return with_chain(FIT_FITS, FITS, family);
    }
    /* The wide teeth of a ring for narrow chains leave room in the widest derailleur chain: it runs, but is held less. */
    bool runs = wide_narrow(v) && family == TRADE_CHAIN_FAMILY_UP_TO_8 && fit_among(v, CHAINS, TRADE_CHAIN_FAMILY_NINE);
    return with_chain(runs ? FIT_DRAWBACK : FIT_CLASH, runs ? HOLDS_LESS : OTHER, family);
}

/* clang-format off */
#define RING_CHAIN(SLOT, PLACE_WORD)                                                                                   \
    {                                                                                                                  \
        .id = "ring-chain",                                                                                            \
        .variant = PLACE_WORD,                                                                                         \
        .reads = {                                                                                                     \
            [CHAINS] = FIT_READ(SLOT, TRADE_RING_CHAINS, FIT_SHEET),                                                \
            [PROFILE] = FIT_READ(SLOT, TRADE_RING_PROFILE, FIT_OPTIONAL),                                              \
            [TEETH] = FIT_READ(SLOT, TRADE_RING_TEETH, FIT_OPTIONAL),                                                  \
            [STAYS] = FIT_READ(SLOT, FIT_FITTED, FIT_NEEDED),                                                          \
            [FAMILY] = FIT_READ(TRADE_SLOT_CHAIN, TRADE_CHAIN_FAMILY, FIT_SHEET),                                   \
            [CHAIN_STAYS] = FIT_READ(TRADE_SLOT_CHAIN, FIT_FITTED, FIT_NEEDED),                                        \
        },                                                                                                             \
        .n_reads = READS,                                                                                              \
        .reasons = {                                                                                                   \
            [FITS] = "ring-chain.fits", [HOLDS_LESS] = "ring-chain.holds-less", [ODD] = "ring-chain.odd",              \
            [OTHER] = "ring-chain.other", [ASK] = "ring-chain.ask",                                                    \
        },                                                                                                             \
        .judge = judge,                                                                                                \
        .source = "common practice; chain widths: Bicycle drive chain standard dimensions, BikeGremlin (web article)", \
    }
/* clang-format on */

const struct fit_rule fit_ring_chain_outer = RING_CHAIN(TRADE_SLOT_OUTER_RING, TRADE_PLACE_OUTER);
const struct fit_rule fit_ring_chain_middle = RING_CHAIN(TRADE_SLOT_MIDDLE_RING, TRADE_PLACE_MIDDLE);
const struct fit_rule fit_ring_chain_inner = RING_CHAIN(TRADE_SLOT_INNER_RING, TRADE_PLACE_INNER);
