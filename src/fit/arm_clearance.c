/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Crank arms and chain stays, by the width over the arms.
 *
 * The frame's least width has the clearance of the arms in it. Where nobody has read it, arms no narrower than those of
 * now clear as these do; narrower ones are told, since they have to be held up to the stays.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { Q, STAYS, LEAST, NOW, READS };
enum { CLEARS, NARROWER, CLOSE };

static struct fit_verdict with_widths(enum fit_kind kind, unsigned reason, const struct fit_values *v, unsigned other) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_read_mm(&out, fit_number(v, Q));
    fit_add_read_mm(&out, fit_number(v, other));
    return out;
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, Q) || fit_stays(v, STAYS)) {
        return fit_silent();
    }
    if (fit_known(v, LEAST)) {
        bool clears = fit_number(v, Q) >= fit_number(v, LEAST);
        return with_widths(clears ? FIT_FITS : FIT_CLASH, clears ? CLEARS : CLOSE, v, LEAST);
    }
    if (!fit_known(v, NOW)) {
        return fit_silent();
    }
    return with_widths(FIT_FITS, fit_number(v, Q) >= fit_number(v, NOW) ? CLEARS : NARROWER, v, NOW);
}

const struct fit_rule fit_arm_clearance = {
    .id = "arm-clearance",
    .reads = {[Q] = FIT_READ(TRADE_SLOT_CRANK, TRADE_CRANK_Q_MM, FIT_OPTIONAL),
              [STAYS] = FIT_READ(TRADE_SLOT_CRANK, FIT_FITTED, FIT_NEEDED),
              [LEAST] = FIT_READ(FIT_FRAME, TRADE_FRAME_LEAST_Q_MM, FIT_OPTIONAL),
              [NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_CRANK, TRADE_CRANK_Q_MM, FIT_MAYBE)},
    .n_reads = READS,
    .reasons =
        {[CLEARS] = "arm-clearance.clears", [NARROWER] = "arm-clearance.narrower", [CLOSE] = "arm-clearance.close"},
    .judge = judge,
    .source = "common practice",
};
