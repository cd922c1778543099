/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Brake lever on handlebar: the clamp is for a flat bar or for a drop bar.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { MADE_FOR, STAYS, BAR, READS };
enum { FITS, OTHER, ASK };

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, MADE_FOR)) {
        return fit_stays(v, STAYS) ? fit_silent() : fit_say(FIT_CLASH, ASK);
    }
    bool same = fit_word(v, MADE_FOR) == fit_word(v, BAR);
    struct fit_verdict out = fit_say(same ? FIT_FITS : FIT_CLASH, same ? FITS : OTHER);
    fit_add_word(&out, TRADE_DOMAIN_BAR, fit_word(v, MADE_FOR));
    if (!same) {
        fit_add_word(&out, TRADE_DOMAIN_BAR, fit_word(v, BAR));
    }
    return out;
}

/* clang-format off */
#define LEVER_BAR(SLOT, SIDE)                                                                                          \
    {                                                                                                                  \
        .id = "lever-bar",                                                                                             \
        .variant = SIDE,                                                                                               \
        .reads = {                                                                                                     \
            [MADE_FOR] = FIT_READ(SLOT, TRADE_BRAKE_LEVER_BAR, FIT_SHEET),                                             \
            [STAYS] = FIT_READ(SLOT, FIT_FITTED, FIT_NEEDED),                                                          \
            [BAR] = FIT_READ(FIT_FRAME, TRADE_FRAME_BAR, FIT_NEEDED),                                                  \
        },                                                                                                             \
        .n_reads = READS,                                                                                              \
        .safety = true,                                                                                                \
        .reasons = {[FITS] = "lever-bar.fits", [OTHER] = "lever-bar.other", [ASK] = "lever-bar.ask"},                  \
        .judge = judge,                                                                                                \
        .source = "Handlebar dimensions (Sheldon Brown table), Love City Cycles",                                      \
    }
/* clang-format on */

const struct fit_rule fit_lever_bar_right = LEVER_BAR(TRADE_SLOT_RIGHT_BRAKE_LEVER, TRADE_SIDE_RIGHT);
const struct fit_rule fit_lever_bar_left = LEVER_BAR(TRADE_SLOT_LEFT_BRAKE_LEVER, TRADE_SIDE_LEFT);
