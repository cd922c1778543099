/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A shifter that is built into a brake lever: the two are one unit, stay together and come together.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { SEAT, STAYS, UNIT, CARRIES, LEVER_STAYS, LEVER_UNIT, READS };
enum { FITS, NO_LEVER, OLD_LEVER, GOES_TOO, OTHER_UNIT, ASK };

static struct fit_verdict judge_new(const struct fit_values *v) {
    if (!fit_known(v, UNIT) || !fit_known(v, LEVER_UNIT)) {
        return fit_say(FIT_CLASH, ASK);
    }
    bool one = trade_same(v->at[UNIT], v->at[LEVER_UNIT], TRADE_NAME);
    return fit_say(one ? FIT_FITS : FIT_CLASH, one ? FITS : OTHER_UNIT);
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_word(v, SEAT) != TRADE_SEAT_IN_LEVER) {
        return fit_silent();
    }
    bool stays = fit_stays(v, STAYS), lever_stays = fit_stays(v, LEVER_STAYS);
    if (stays && fit_has(v, LEVER_STAYS) && !lever_stays) {
        return fit_say(FIT_CLASH, GOES_TOO);
    }
    if (!stays && lever_stays) {
        return fit_say(FIT_CLASH, OLD_LEVER);
    }
    if (!fit_has(v, CARRIES) || (fit_known(v, CARRIES) && !fit_yes(v, CARRIES))) {
        return fit_say(FIT_CLASH, NO_LEVER);
    }
    return stays ? fit_say(FIT_FITS, FITS) : judge_new(v);
}

/* clang-format off */
#define SHIFTER_LEVER(SHIFTER, LEVER, SIDE)                                                                            \
    {                                                                                                                  \
        .id = "shifter-lever",                                                                                         \
        .variant = SIDE,                                                                                               \
        .reads = {                                                                                                     \
            [SEAT] = FIT_READ(SHIFTER, TRADE_SHIFTER_SEAT, FIT_NEEDED),                                                \
            [STAYS] = FIT_READ(SHIFTER, FIT_FITTED, FIT_NEEDED),                                                       \
            [UNIT] = FIT_READ(SHIFTER, TRADE_SHIFTER_UNIT, FIT_OPTIONAL),                                              \
            [CARRIES] = FIT_READ(LEVER, TRADE_BRAKE_LEVER_CARRIES_SHIFTER,\
FIT_EMPTY_OK | FIT_SHEET | FIT_TRIED),                              \
            [LEVER_STAYS] = FIT_READ(LEVER, FIT_FITTED, FIT_EMPTY_OK),                                                 \
            [LEVER_UNIT] = FIT_READ(LEVER, TRADE_BRAKE_LEVER_UNIT, FIT_MAYBE),                                         \
        },                                                                                                             \
        .n_reads = READS,                                                                                              \
        .reasons = {                                                                                                   \
            [FITS] = "shifter-lever.fits", [NO_LEVER] = "shifter-lever.no-lever",                                      \
            [OLD_LEVER] = "shifter-lever.old-lever", [GOES_TOO] = "shifter-lever.goes-too",                            \
            [OTHER_UNIT] = "shifter-lever.other-unit", [ASK] = "shifter-lever.ask",                                    \
        },                                                                                                             \
        .judge = judge,                                                                                                \
        .source = "common practice",                                                                                   \
    }
/* clang-format on */

const struct fit_rule fit_shifter_lever_right =
    SHIFTER_LEVER(TRADE_SLOT_RIGHT_SHIFTER, TRADE_SLOT_RIGHT_BRAKE_LEVER, TRADE_SIDE_RIGHT);
const struct fit_rule fit_shifter_lever_left =
    SHIFTER_LEVER(TRADE_SLOT_LEFT_SHIFTER, TRADE_SLOT_LEFT_BRAKE_LEVER, TRADE_SIDE_LEFT);
