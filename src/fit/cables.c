/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Gear cable: a new shifter or rear derailleur gets a new cable and housing, for its kind of bar.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { STAYS, USE, BAR, ACTUATION, SHIFTER_STAYS, DERAILLEUR_STAYS, READS };
enum { FITS, NONE, OLD, OTHER, ASK };

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_word(v, ACTUATION) == TRADE_ACTUATION_ELECTRONIC) {
        return fit_silent();
    }
    if (!fit_has(v, STAYS)) {
        return fit_say(FIT_CLASH, NONE);
    }
    if (fit_stays(v, STAYS)) {
        bool all_stay = fit_stays(v, SHIFTER_STAYS) && fit_stays(v, DERAILLEUR_STAYS);
        return all_stay ? fit_say(FIT_FITS, FITS) : fit_say(FIT_CLASH, OLD);
    }
    if (!fit_known(v, USE)) {
        return fit_say(FIT_CLASH, ASK); /* a new one that does not say */
    }
    bool drop = fit_word(v, BAR) == TRADE_BAR_DROP, for_drop = fit_word(v, USE) == TRADE_CABLE_USE_DROP_BAR;
    if (drop == for_drop) {
        return fit_say(FIT_FITS, FITS);
    }
    struct fit_verdict clash = fit_say(FIT_CLASH, OTHER);
    fit_add_word(&clash, TRADE_DOMAIN_CABLE_USE, fit_word(v, USE));
    fit_add_word(&clash, TRADE_DOMAIN_BAR, fit_word(v, BAR));
    return clash;
}

const struct fit_rule fit_cables = {
    .id = "cables",
    .reads =
        {
            [STAYS] = FIT_READ(TRADE_SLOT_CABLES, FIT_FITTED, FIT_EMPTY_OK),
            [USE] = FIT_READ(TRADE_SLOT_CABLES, TRADE_CABLE_SET_USE, FIT_SHEET | FIT_EMPTY_OK),
            [BAR] = FIT_READ(FIT_FRAME, TRADE_FRAME_BAR, FIT_NEEDED),
            [ACTUATION] = FIT_READ(TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_ACTUATION, FIT_NEEDED),
            [SHIFTER_STAYS] = FIT_READ(TRADE_SLOT_RIGHT_SHIFTER, FIT_FITTED, FIT_NEEDED),
            [DERAILLEUR_STAYS] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, FIT_FITTED, FIT_NEEDED),
        },
    .n_reads = READS,
    .reasons =
        {
            [FITS] = "cables.fits",
            [NONE] = "cables.none",
            [OLD] = "cables.old",
            [OTHER] = "cables.other",
            [ASK] = "cables.ask",
        },
    .judge = judge,
    .source = "common practice",
};
