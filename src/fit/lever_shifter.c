/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A brake lever that carries a shifter of its own, and the shifter on that side of the bar.
 *
 * Beside such a lever there is no room for another shifter on the bar; what sits elsewhere, in the end of the bar or on
 * the frame, works, and the lever's own is left idle. A shifter that is built in does not come off alone; one that nobody
 * has looked at may be such a one.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { CARRIES, STAYS, SEAT, SEAT_NOW, READS };
enum { IDLE, BESIDE, NOWHERE, BUILT_IN, UNREAD, ASK };

/* Does a shifter leave the lever that stays, about which nobody knows where it sits? */
static bool leaves_unread(const struct fit_values *v) {
    return !fit_has(v, SEAT) && fit_stays(v, STAYS) && fit_has(v, SEAT_NOW) && !fit_known(v, SEAT_NOW);
}

/* The lever's own shifter, with no other on this side. */
static struct fit_verdict judge_alone(const struct fit_values *v) {
    bool taken_out = fit_stays(v, STAYS) && fit_known(v, SEAT_NOW) && fit_word(v, SEAT_NOW) == TRADE_SEAT_IN_LEVER;
    return taken_out ? fit_say(FIT_CLASH, BUILT_IN) : fit_say(FIT_DRAWBACK, IDLE);
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_known(v, CARRIES) && !fit_yes(v, CARRIES)) {
        return fit_silent();
    }
    if (leaves_unread(v)) {
        return fit_say(FIT_FITS, UNREAD);
    }
    if (!fit_known(v, CARRIES)) {
        return fit_lacks(v, STAYS, CARRIES, ASK);
    }
    if (!fit_has(v, SEAT)) {
        return judge_alone(v);
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
            [CARRIES] = FIT_READ(LEVER, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, FIT_SHEET | FIT_TRIED),                                \
            [STAYS] = FIT_READ(LEVER, FIT_FITTED, FIT_NEEDED),                                                         \
            [SEAT] = FIT_READ(SHIFTER, TRADE_SHIFTER_SEAT, FIT_EMPTY_OK),                                              \
            [SEAT_NOW] = FIT_READ(FIT_NOW + SHIFTER, TRADE_SHIFTER_SEAT, FIT_MAYBE),                                   \
        },                                                                                                             \
        .n_reads = READS,                                                                                              \
        .reasons = {                                                                                                   \
            [IDLE] = "lever-shifter.idle", [BESIDE] = "lever-shifter.beside", [NOWHERE] = "lever-shifter.nowhere",     \
            [BUILT_IN] = "lever-shifter.built-in", [UNREAD] = "lever-shifter.unread", [ASK] = "lever-shifter.ask",                                  \
        },                                                                                                             \
        .judge = judge,                                                                                                \
        .source = "common practice",                                                                                   \
    }
/* clang-format on */

const struct fit_rule fit_lever_shifter_right =
    LEVER_SHIFTER(TRADE_SLOT_RIGHT_BRAKE_LEVER, TRADE_SLOT_RIGHT_SHIFTER, TRADE_SIDE_RIGHT);
const struct fit_rule fit_lever_shifter_left =
    LEVER_SHIFTER(TRADE_SLOT_LEFT_BRAKE_LEVER, TRADE_SLOT_LEFT_SHIFTER, TRADE_SIDE_LEFT);
