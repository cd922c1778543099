/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A hanger that stands crooked spoils every shift, whatever else is new.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { STRAIGHT, STAYS, REPLACEABLE, MATERIAL, READS };
enum { FITS, REPLACE, SET, CARE };

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_stays(v, STAYS) || !fit_known(v, STRAIGHT)) {
        return fit_silent(); /* a new one is straight */
    }
    if (fit_yes(v, STRAIGHT)) {
        return fit_say(FIT_FITS, FITS);
    }
    if (fit_known_yes(v, REPLACEABLE)) {
        return fit_say(FIT_DRAWBACK, REPLACE);
    }
    bool steel = fit_known(v, MATERIAL) && fit_word(v, MATERIAL) == TRADE_MATERIAL_STEEL;
    return fit_say(FIT_DRAWBACK, steel ? SET : CARE);
}

const struct fit_rule fit_hanger_straight = {
    .id = "hanger-straight",
    .reads =
        {
            [STRAIGHT] = FIT_READ(TRADE_SLOT_HANGER, TRADE_HANGER_STRAIGHT, FIT_OPTIONAL),
            [STAYS] = FIT_READ(TRADE_SLOT_HANGER, FIT_FITTED, FIT_NEEDED),
            [REPLACEABLE] = FIT_READ(TRADE_SLOT_HANGER, TRADE_HANGER_REPLACEABLE, FIT_OPTIONAL),
            [MATERIAL] = FIT_READ(FIT_FRAME, TRADE_FRAME_MATERIAL, FIT_OPTIONAL),
        },
    .n_reads = READS,
    .as_it_stands = true,
    .reasons =
        {
            [FITS] = "hanger-straight.fits",
            [REPLACE] = "hanger-straight.replace",
            [SET] = "hanger-straight.set",
            [CARE] = "hanger-straight.care",
        },
    .judge = judge,
    .source = "common practice",
};
