/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Largest sprocket and rear derailleur: the upper guide wheel must pass it. A hanger extender lowers the derailleur; the
 * gap screw gives a little more than the maker rates it for.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { LARGEST, STAYS, RATED, DERAILLEUR_STAYS, ADDS, READS };
enum { FITS, EXTENDED, SCREW, LARGE, ASK };

static struct fit_verdict with_teeth(enum fit_kind kind, unsigned reason, double largest, double reach) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_number(&out, largest, 0, "T");
    fit_add_number(&out, reach, 0, "T");
    return out;
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, LARGEST)) {
        bool together = fit_stays(v, STAYS) && fit_stays(v, DERAILLEUR_STAYS);
        return together ? fit_silent() : fit_lacks(v, STAYS, LARGEST, ASK);
    }
    double largest = fit_number(v, LARGEST), rated = fit_number(v, RATED);
    if (largest <= rated) {
        return with_teeth(FIT_FITS, FITS, largest, rated);
    }
    double reach = rated + (fit_has(v, ADDS) ? fit_number(v, ADDS) : 0.0);
    if (largest <= reach) {
        return with_teeth(FIT_ADAPTER, EXTENDED, largest, reach);
    }
    bool screw = largest <= reach + fit_limit(TRADE_LIMIT_LARGEST_OVER_RATED_TEETH);
    return with_teeth(screw ? FIT_DRAWBACK : FIT_CLASH, screw ? SCREW : LARGE, largest, reach);
}

const struct fit_rule fit_largest_sprocket = {
    .id = "largest-sprocket",
    .reads =
        {
            [LARGEST] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_LARGEST, FIT_SHEET),
            [STAYS] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_FITTED, FIT_NEEDED),
            [RATED] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_LARGEST_TEETH, FIT_NEEDED),
            [DERAILLEUR_STAYS] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, FIT_FITTED, FIT_NEEDED),
            [ADDS] = FIT_READ(TRADE_SLOT_HANGER_EXTENDER, TRADE_HANGER_EXTENDER_ADDS_TEETH, FIT_EMPTY_OK),
        },
    .n_reads = READS,
    .reasons =
        {
            [FITS] = "largest-sprocket.fits",
            [EXTENDED] = "largest-sprocket.extended",
            [SCREW] = "largest-sprocket.screw",
            [LARGE] = "largest-sprocket.large",
            [ASK] = "largest-sprocket.ask",
        },
    .judge = judge,
    .source = "Capacity of the rear derailleur, De Fietssite; common practice",
};
