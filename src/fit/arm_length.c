/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The arms keep their length: a crank for a grown-up fits every joint of a child's bike and still is the wrong one.
 */
#include "fit/rule.h"
#include "fit/rules.h"

#include <math.h>

enum { ARM, STAYS, NOW, READS };
enum { SAME, UNREAD, OTHER, FAR, ASK };

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_stays(v, STAYS)) {
        return fit_silent();
    }
    if (!fit_known(v, ARM)) {
        return fit_ask(ARM, ASK);
    }
    double arm = fit_number(v, ARM);
    struct fit_verdict out;
    if (!fit_known(v, NOW)) {
        out = fit_say(FIT_FITS, UNREAD);
        fit_add_read_mm(&out, arm);
        return out;
    }
    double change = fabs(arm - fit_number(v, NOW));
    if (change <= 0) {
        out = fit_say(FIT_FITS, SAME);
    } else if (change <= fit_limit(TRADE_LIMIT_ARM_CHANGE_MM)) {
        out = fit_say(FIT_DRAWBACK, OTHER);
    } else {
        out = fit_say(FIT_CLASH, FAR);
    }
    fit_add_read_mm(&out, arm);
    fit_add_read_mm(&out, fit_number(v, NOW));
    return out;
}

const struct fit_rule fit_arm_length = {
    .id = "arm-length",
    .reads = {[ARM] = FIT_READ(TRADE_SLOT_CRANK, TRADE_CRANK_ARM_MM, FIT_SHEET),
              [STAYS] = FIT_READ(TRADE_SLOT_CRANK, FIT_FITTED, FIT_NEEDED),
              [NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_CRANK, TRADE_CRANK_ARM_MM, FIT_MAYBE)},
    .n_reads = READS,
    .reasons = {[SAME] = "arm-length.same",
                [UNREAD] = "arm-length.unread",
                [OTHER] = "arm-length.other",
                [FAR] = "arm-length.far",
                [ASK] = "arm-length.ask"},
    .judge = judge,
    .source = "common practice",
};
