/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Chain and sprockets. The table names the pairs; what it does not name does not go together.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { FAMILY, WANTED, STAYS, CASSETTE_STAYS, READS };
enum { FITS, NARROWER, OTHER, ASK };

static int verdict_of(unsigned family, unsigned wanted) {
    for (size_t i = 0; i < trade_chain_fits_n; i++) {
        if (trade_chain_fits[i].chain_family == (int)family && trade_chain_fits[i].cassette_chain == (int)wanted) {
            return trade_chain_fits[i].verdict;
        }
    }
    return TRADE_VERDICT_CLASH;
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, FAMILY) || !fit_known(v, WANTED)) {
        bool together = fit_stays(v, STAYS) && fit_stays(v, CASSETTE_STAYS);
        return together ? fit_silent() : fit_ask(fit_known(v, FAMILY) ? WANTED : FAMILY, ASK);
    }
    unsigned family = fit_word(v, FAMILY), wanted = fit_word(v, WANTED);
    int verdict = verdict_of(family, wanted);
    struct fit_verdict out = fit_say(FIT_CLASH, OTHER);
    if (verdict == TRADE_VERDICT_FITS) {
        out = fit_say(FIT_FITS, FITS);
    } else if (verdict == TRADE_VERDICT_DRAWBACK) {
        out = fit_say(FIT_DRAWBACK, NARROWER);
    }
    fit_add_word(&out, TRADE_DOMAIN_CHAIN_FAMILY, family);
    fit_add_word(&out, TRADE_DOMAIN_CHAIN_FAMILY, wanted);
    return out;
}

const struct fit_rule fit_chain_sprockets = {
    .id = "chain-sprockets",
    .reads = {[FAMILY] = FIT_READ(TRADE_SLOT_CHAIN, TRADE_CHAIN_FAMILY, FIT_SHEET),
              [WANTED] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_CHAIN, FIT_SHEET),
              [STAYS] = FIT_READ(TRADE_SLOT_CHAIN, FIT_FITTED, FIT_NEEDED),
              [CASSETTE_STAYS] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_FITTED, FIT_NEEDED)},
    .n_reads = READS,
    .reasons = {[FITS] = "chain-sprockets.fits",
                [NARROWER] = "chain-sprockets.narrower",
                [OTHER] = "chain-sprockets.other",
                [ASK] = "chain-sprockets.ask"},
    .judge = judge,
    .source = "Cog confusion 7/8/9 speeds, a folding-bicycle service corner; common practice",
};
