/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A disc brake needs a rotor.
 */
#include "fit/brakes.h"
#include "fit/rule.h"
#include "fit/rules.h"

enum { ROTOR, ROTOR_NOW, WHEEL_STAYS, BRAKE, READS };
enum { FITS, NONE };

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_brake_row(fit_word(v, BRAKE))->brake_track != TRADE_BRAKE_TRACK_DISC) {
        return fit_silent();
    }
    if (fit_there(v, ROTOR)) {
        return fit_say(FIT_FITS, FITS);
    }
    /* The brake works today, so that a rotor is there, recorded or not: it goes with the wheel that it sits on. */
    bool unrecorded = fit_stays(v, WHEEL_STAYS) && !fit_there(v, ROTOR_NOW);
    return unrecorded ? fit_silent() : fit_say(FIT_CLASH, NONE);
}

const struct fit_rule fit_rotor_needed = {
    .id = "rotor-needed",
    .reads =
        {
            [ROTOR] = FIT_READ(TRADE_SLOT_REAR_ROTOR, FIT_PRESENT, FIT_EMPTY_OK),
            [ROTOR_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_REAR_ROTOR, FIT_PRESENT, FIT_EMPTY_OK),
            [WHEEL_STAYS] = FIT_READ(TRADE_SLOT_REAR_WHEEL, FIT_FITTED, FIT_NEEDED),
            [BRAKE] = FIT_READ(FIT_FRAME, TRADE_FRAME_BRAKE, FIT_NEEDED),
        },
    .n_reads = READS,
    .safety = true,
    .reasons = {[FITS] = "rotor-needed.fits", [NONE] = "rotor-needed.none"},
    .judge = judge,
    .source = "common practice",
};
