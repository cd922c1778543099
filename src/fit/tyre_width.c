/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Tyre on rim, by width: the rim's maker says which tyres it takes.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { LEAST, WIDEST, STAYS, TYRE, READS };
enum { FITS, NARROW, WIDE, ASK };

static struct fit_verdict with_limit(enum fit_kind kind, unsigned reason, const struct fit_values *v, unsigned limit) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_number(&out, fit_number(v, TYRE), 0, "mm");
    fit_add_number(&out, fit_number(v, limit), 0, "mm");
    return out;
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, LEAST) || !fit_known(v, WIDEST) || !fit_known(v, TYRE)) {
        bool of_tyre = fit_known(v, LEAST) && fit_known(v, WIDEST);
        return fit_stays(v, STAYS) ? fit_silent() : of_tyre ? fit_ask(TYRE, ASK) : fit_say(FIT_CLASH, ASK);
    }
    if (fit_number(v, TYRE) < fit_number(v, LEAST)) {
        return with_limit(FIT_CLASH, NARROW, v, LEAST);
    }
    if (fit_number(v, TYRE) > fit_number(v, WIDEST)) {
        return with_limit(FIT_CLASH, WIDE, v, WIDEST);
    }
    return with_limit(FIT_FITS, FITS, v, WIDEST);
}

const struct fit_rule fit_tyre_width = {
    .id = "tyre-width",
    .reads =
        {
            [LEAST] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_LEAST_TYRE_MM, FIT_SHEET),
            [WIDEST] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_WIDEST_TYRE_MM, FIT_SHEET),
            [STAYS] = FIT_READ(TRADE_SLOT_REAR_WHEEL, FIT_FITTED, FIT_NEEDED),
            [TYRE] = FIT_READ(FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM, FIT_OPTIONAL),
        },
    .n_reads = READS,
    .reasons =
        {
            [FITS] = "tyre-width.fits",
            [NARROW] = "tyre-width.narrow",
            [WIDE] = "tyre-width.wide",
            [ASK] = "tyre-width.ask",
        },
    .judge = judge,
    .source = "the rim maker's sheet; common practice",
};
