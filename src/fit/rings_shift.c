/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rings between which the chain is to be shifted: wide and narrow teeth are made not to let it go. What stands so on the bike
 * is told, and stays; nothing of the kind is added.
 */
#include "fit/rings.h"
#include "fit/rules.h"

enum { OUTER, MIDDLE, INNER, OUTER_STAYS, MIDDLE_STAYS, INNER_STAYS, READS };
enum { SHIFT, HOLD_NEW, HOLD_OLD };

static struct fit_verdict judge(const struct fit_values *v) {
    unsigned rings = 0, new = 0, old = 0;
    for (unsigned i = 0; i < 3; i++) {
        bool holds = fit_known(v, OUTER + i) && fit_word(v, OUTER + i) == TRADE_PROFILE_WIDE_NARROW;
        rings += fit_has(v, OUTER + i);
        new += holds && !fit_stays(v, OUTER_STAYS + i);
        old += holds && fit_stays(v, OUTER_STAYS + i);
    }
    if (rings < 2) {
        return fit_silent();
    }
    return new > 0   ? fit_say(FIT_CLASH, HOLD_NEW)
           : old > 0 ? fit_say(FIT_DRAWBACK, HOLD_OLD)
                     : fit_say(FIT_FITS, SHIFT);
}

#define STAYS(SLOT) FIT_READ(SLOT, FIT_FITTED, FIT_EMPTY_OK)
#define PROFILE(SLOT) FIT_READ(SLOT, TRADE_RING_PROFILE, FIT_MAYBE)

const struct fit_rule fit_rings_shift = {
    .id = "rings-shift",
    .reads = {[OUTER] = PROFILE(TRADE_SLOT_OUTER_RING),
              [MIDDLE] = PROFILE(TRADE_SLOT_MIDDLE_RING),
              [INNER] = PROFILE(TRADE_SLOT_INNER_RING),
              [OUTER_STAYS] = STAYS(TRADE_SLOT_OUTER_RING),
              [MIDDLE_STAYS] = STAYS(TRADE_SLOT_MIDDLE_RING),
              [INNER_STAYS] = STAYS(TRADE_SLOT_INNER_RING)},
    .n_reads = READS,
    .reasons =
        {[SHIFT] = "rings-shift.shift", [HOLD_NEW] = "rings-shift.hold-new", [HOLD_OLD] = "rings-shift.hold-old"},
    .judge = judge,
    .source = "common practice",
};
