/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A rear derailleur made for one ring moves straight across and has no slant for a second one.
 */
#include "fit/rings.h"
#include "fit/rules.h"

enum { OUTER, MIDDLE, INNER, SINGLE_ONLY, READS };
enum { FITS, SEVERAL };

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known_yes(v, SINGLE_ONLY) || fit_rings_there(v, OUTER) == 0) {
        return fit_silent();
    }
    return fit_rings_there(v, OUTER) == 1 ? fit_say(FIT_FITS, FITS) : fit_say(FIT_CLASH, SEVERAL);
}

const struct fit_rule fit_single_cage = {
    .id = "single-cage",
    .reads = {FIT_RING_PRESENT(OUTER, MIDDLE, INNER), [SINGLE_ONLY] =
                                                          FIT_READ(TRADE_SLOT_REAR_DERAILLEUR,
                                                                   TRADE_REAR_DERAILLEUR_SINGLE_ONLY, FIT_OPTIONAL)},
    .n_reads = READS,
    .reasons = {[FITS] = "single-cage.fits", [SEVERAL] = "single-cage.several"},
    .judge = judge,
    .source = "common practice",
};
