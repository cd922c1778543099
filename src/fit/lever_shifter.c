/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A brake lever that carries a shifter of its own, and the shifter on that side of the bar.
 *
 * Beside such a lever there is no room for another shifter on the bar; what sits elsewhere, in the end of the bar or on
 * the frame, works, and the lever's own is left idle. A shifter that is built in does not come off alone.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { CARRIES, STAYS, SEAT, HAD, READS };
enum { IDLE, BESIDE, NOWHERE, BUILT_IN };

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_yes(v, CARRIES)) {
        return fit_silent();
    }
    if (!fit_has(v, SEAT)) {
        bool taken_out = fit_stays(v, STAYS) && fit_there(v, HAD);
        return taken_out ? fit_say(FIT_CLASH, BUILT_IN) : fit_say(FIT_DRAWBACK, IDLE);
    }
    unsigned seat = fit_word(v, SEAT);
    if (seat == TRADE_SEAT_IN_LEVER) {
        return fit_silent(); /* shifter-lever judges whether it is this lever */
    }
    bool elsewhere = seat == TRADE_SEAT_BAR_END || seat == TRADE_SEAT_DOWN_TUBE;
    struct fit_verdict out = fit_say(elsewhere ? FIT_DRAWBACK : FIT_CLASH, elsewhere ? BESIDE : NOWHERE);
    fit_add_word(&out, TRADE_DOMAIN_SEAT, seat);
    return out;
}

/* clang-format off */
#define LEVER_SHIFTER(LEVER, SHIFTER, SIDE)                                                                            \
    {                                                                                                                  \
        .id = "lever-shifter",                                                                                         \
        .variant = SIDE,                                                                                               \
        .reads = {                                                                                                     \
            [CARRIES] = FIT_READ(LEVER, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, FIT_NEEDED),                                \
            [STAYS] = FIT_READ(LEVER, FIT_FITTED, FIT_NEEDED),                                                         \
            [SEAT] = FIT_READ(SHIFTER, TRADE_SHIFTER_SEAT, FIT_EMPTY_OK),                                              \
            [HAD] = FIT_READ(FIT_NOW + SHIFTER, FIT_PRESENT, FIT_EMPTY_OK),                                            \
        },                                                                                                             \
        .n_reads = READS,                                                                                              \
        .reasons = {                                                                                                   \
            [IDLE] = "lever-shifter.idle", [BESIDE] = "lever-shifter.beside", [NOWHERE] = "lever-shifter.nowhere",     \
            [BUILT_IN] = "lever-shifter.built-in",                                                                     \
        },                                                                                                             \
        .judge = judge,                                                                                                \
        .source = "common practice",                                                                                   \
    }
/* clang-format on */

const struct fit_rule fit_lever_shifter_right =
    LEVER_SHIFTER(TRADE_SLOT_RIGHT_BRAKE_LEVER, TRADE_SLOT_RIGHT_SHIFTER, TRADE_SIDE_RIGHT);
const struct fit_rule fit_lever_shifter_left =
    LEVER_SHIFTER(TRADE_SLOT_LEFT_BRAKE_LEVER, TRADE_SLOT_LEFT_SHIFTER, TRADE_SIDE_LEFT);
