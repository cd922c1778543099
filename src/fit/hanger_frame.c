/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Hanger on frame. A hanger is made for its frame: a new one is of the kind that is there now, or the long direct-mount
 * form of a standard one. A claw sits on a slotted dropout that has no hanger, never on a thru-axle.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { KIND, STAYS, NOW, REPLACEABLE, AXLE, READS };
enum { SAME, LONGER, OTHER, FIXED, CLAW };

/* A claw holds where the frame has no hanger of its own and the dropout is open. */
static struct fit_verdict judge_claw(const struct fit_values *v) {
    bool slotted = !fit_known(v, AXLE) || fit_word(v, AXLE) != TRADE_AXLE_THRU_12;
    bool bare = fit_word(v, NOW) == TRADE_HANGER_KIND_AXLE_CLAW;
    return fit_say(slotted && bare ? FIT_FITS : FIT_CLASH, slotted && bare ? SAME : CLAW);
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_stays(v, STAYS)) {
        return fit_silent();
    }
    if (fit_known(v, REPLACEABLE) && !fit_yes(v, REPLACEABLE)) {
        return fit_say(FIT_CLASH, FIXED);
    }
    unsigned kind = fit_word(v, KIND), now = fit_word(v, NOW);
    if (kind == TRADE_HANGER_KIND_AXLE_CLAW) {
        return judge_claw(v);
    }
    bool longer = kind == TRADE_HANGER_KIND_LONG_DIRECT && now == TRADE_HANGER_KIND_STANDARD;
    struct fit_verdict out = fit_say(kind == now || longer ? FIT_FITS : FIT_CLASH, kind == now ? SAME
                                                                                   : longer    ? LONGER
                                                                                               : OTHER);
    if (kind != now) {
        fit_add_word(&out, TRADE_DOMAIN_HANGER_KIND, now);
        fit_add_word(&out, TRADE_DOMAIN_HANGER_KIND, kind);
    }
    return out;
}

const struct fit_rule fit_hanger_frame = {
    .id = "hanger-frame",
    .reads =
        {
            [KIND] = FIT_READ(TRADE_SLOT_HANGER, TRADE_HANGER_KIND, FIT_NEEDED),
            [STAYS] = FIT_READ(TRADE_SLOT_HANGER, FIT_FITTED, FIT_NEEDED),
            [NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_HANGER, TRADE_HANGER_KIND, FIT_NEEDED),
            [REPLACEABLE] = FIT_READ(FIT_NOW + TRADE_SLOT_HANGER, TRADE_HANGER_REPLACEABLE, FIT_OPTIONAL),
            [AXLE] = FIT_READ(FIT_FRAME, TRADE_FRAME_AXLE, FIT_OPTIONAL),
        },
    .n_reads = READS,
    .reasons =
        {
            [SAME] = "hanger-frame.same",
            [LONGER] = "hanger-frame.longer",
            [OTHER] = "hanger-frame.other",
            [FIXED] = "hanger-frame.fixed",
            [CLAW] = "hanger-frame.claw",
        },
    .judge = judge,
    .source = "common practice",
};
