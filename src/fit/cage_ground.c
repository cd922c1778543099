/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rear derailleur and ground: a long cage on a small wheel hangs low.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { REACH, BEAD_SEAT, TYRE, READS };
enum { FITS, LOW, DRAGS };

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, REACH) || !fit_known(v, BEAD_SEAT) || !fit_known(v, TYRE)) {
        return fit_silent();
    }
    double radius = fit_number(v, BEAD_SEAT) / 2.0 + fit_number(v, TYRE);
    double left = radius - fit_number(v, REACH), least = fit_limit(TRADE_LIMIT_CAGE_TO_GROUND_MM);
    unsigned reason = left >= least ? FITS : left > 0.0 ? LOW : DRAGS;
    struct fit_verdict out = fit_say(reason == FITS ? FIT_FITS : reason == LOW ? FIT_DRAWBACK : FIT_CLASH, reason);
    fit_add_number(&out, left, 0, "mm");
    fit_add_number(&out, least, 0, "mm");
    return out;
}

const struct fit_rule fit_cage_ground = {
    .id = "cage-ground",
    .reads =
        {
            [REACH] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_REACH_MM, FIT_OPTIONAL),
            [BEAD_SEAT] = FIT_READ(FIT_WHEEL, TRADE_WHEEL_BEAD_SEAT_MM, FIT_OPTIONAL),
            [TYRE] = FIT_READ(FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM, FIT_OPTIONAL),
        },
    .n_reads = READS,
    .reasons = {[FITS] = "cage-ground.fits", [LOW] = "cage-ground.low", [DRAGS] = "cage-ground.drags"},
    .judge = judge,
    .source = "geometry; the least is from memory",
};
