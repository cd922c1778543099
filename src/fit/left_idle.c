/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A left shifter that is built into the brake lever has nothing to do on one ring, and can't come off without it.
 */
#include "fit/rings.h"
#include "fit/rules.h"

enum { OUTER, MIDDLE, INNER, SEAT, READS };
enum { IDLE };

static struct fit_verdict judge(const struct fit_values *v) {
    bool built_in = fit_known(v, SEAT) && fit_word(v, SEAT) == TRADE_SEAT_IN_LEVER;
    bool idle = fit_rings_there(v, OUTER) == 1 && built_in;
    return idle ? fit_say(FIT_DRAWBACK, IDLE) : fit_silent();
}

const struct fit_rule fit_left_idle = {
    .id = "left-idle",
    .reads = {FIT_RING_PRESENT(OUTER, MIDDLE, INNER), [SEAT] = FIT_READ(TRADE_SLOT_LEFT_SHIFTER, TRADE_SHIFTER_SEAT,
                                                                        FIT_OPTIONAL)},
    .n_reads = READS,
    .reasons = {[IDLE] = "left-idle.idle"},
    .judge = judge,
    .source = "common practice",
};
