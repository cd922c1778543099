/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Crank and bottom bracket, by their spindle. The table names the pairs; what it does not name does not go together.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { CRANK, BRACKET, CRANK_STAYS, BRACKET_STAYS, CRANK_NOW, READS };
enum { FITS, TRY, SLEEVES, MIXED, OTHER };

static const struct trade_spindle_fits_row *row_of(unsigned crank, unsigned bracket) {
    for (size_t i = 0; i < trade_spindle_fits_n; i++) {
        const struct trade_spindle_fits_row *row = &trade_spindle_fits[i];
        if (row->crank_spindle == (int)crank && row->bracket_spindle == (int)bracket) {
            return row;
        }
    }
    return NULL;
}

static struct fit_verdict with_spindles(enum fit_kind kind, unsigned reason, const struct fit_values *v) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_word(&out, TRADE_DOMAIN_SPINDLE, fit_word(v, CRANK));
    fit_add_word(&out, TRADE_DOMAIN_SPINDLE, fit_word(v, BRACKET));
    return out;
}

/* A new crank of the old one's kind, on the bottom bracket that the old one turned on, turns there too. */
static bool as_now(const struct fit_values *v) {
    return !fit_stays(v, CRANK_STAYS) && fit_stays(v, BRACKET_STAYS) && fit_known(v, CRANK_NOW) &&
           fit_word(v, CRANK_NOW) == fit_word(v, CRANK);
}

/* A known pair that has to be measured on the bike is no pair to order by: it clashes until somebody has tried it and
 * says so. Where only weak memory says so, it is a thing to know. Sleeves are no slot, so that their price is not in
 * the sum: a thing to know as well. */
static struct fit_verdict judge(const struct fit_values *v) {
    const struct trade_spindle_fits_row *row = row_of(fit_word(v, CRANK), fit_word(v, BRACKET));
    if (as_now(v) || (row && row->verdict == TRADE_VERDICT_FITS)) {
        return with_spindles(FIT_FITS, FITS, v);
    }
    if (!row || row->verdict == TRADE_VERDICT_CLASH) {
        return with_spindles(FIT_CLASH, OTHER, v);
    }
    if (row->verdict == TRADE_VERDICT_ADAPTER) {
        return with_spindles(FIT_DRAWBACK, SLEEVES, v);
    }
    bool proven = row->verdict == TRADE_VERDICT_MEASURE && row->mark != TRADE_MARK_MEM_LOW;
    return with_spindles(proven ? FIT_CLASH : FIT_DRAWBACK, proven ? MIXED : TRY, v);
}

const struct fit_rule fit_spindle = {
    .id = "spindle",
    .reads = {[CRANK] = FIT_READ(TRADE_SLOT_CRANK, TRADE_CRANK_SPINDLE, FIT_NEEDED),
              [BRACKET] = FIT_READ(TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE, FIT_NEEDED),
              [CRANK_STAYS] = FIT_READ(TRADE_SLOT_CRANK, FIT_FITTED, FIT_NEEDED),
              [BRACKET_STAYS] = FIT_READ(TRADE_SLOT_BOTTOM_BRACKET, FIT_FITTED, FIT_NEEDED),
              [CRANK_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_CRANK, TRADE_CRANK_SPINDLE, FIT_MAYBE)},
    .n_reads = READS,
    .reasons = {[FITS] = "spindle.fits",
                [TRY] = "spindle.try",
                [SLEEVES] = "spindle.sleeves",
                [MIXED] = "spindle.mixed",
                [OTHER] = "spindle.other"},
    .judge = judge,
    .source = "Square taper bottom brackets, a cyclist's blog, 2022, against JIS taper and ISO taper, replica2st blog, "
              "2014; common practice",
};
