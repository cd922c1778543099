/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rear wheel and brake: a rim brake needs a brake track, a disc brake a place for the rotor.
 */
#include "fit/brakes.h"
#include "fit/rule.h"
#include "fit/rules.h"

enum { TRACK, MOUNT, STAYS, BRAKE, READS };
enum { FITS, NO_TRACK, NO_MOUNT, IN_HUB, ASK };

static struct fit_verdict with_brake(enum fit_kind kind, unsigned reason, const struct fit_values *v) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_word(&out, TRADE_DOMAIN_BRAKE, fit_word(v, BRAKE));
    return out;
}

static struct fit_verdict judge_wheel(const struct fit_values *v, unsigned read, bool suits, unsigned otherwise) {
    if (!fit_known(v, read)) {
        return fit_say(FIT_CLASH, ASK); /* a new wheel that does not say */
    }
    return suits ? with_brake(FIT_FITS, FITS, v) : with_brake(FIT_CLASH, otherwise, v);
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_stays(v, STAYS)) {
        return fit_silent();
    }
    switch ((enum trade_brake_track)fit_brake_row(fit_word(v, BRAKE))->brake_track) {
    case TRADE_BRAKE_TRACK_RIM:
        return judge_wheel(v, TRACK, fit_known_yes(v, TRACK), NO_TRACK);
    case TRADE_BRAKE_TRACK_DISC:
        return judge_wheel(v, MOUNT, fit_known(v, MOUNT) && fit_word(v, MOUNT) != TRADE_ROTOR_MOUNT_NONE, NO_MOUNT);
    case TRADE_BRAKE_TRACK_HUB:
        return with_brake(FIT_CLASH, IN_HUB, v);
    case TRADE_BRAKE_TRACK_NONE:
    case TRADE_BRAKE_TRACK_COUNT:
        break;
    }
    return fit_silent();
}

const struct fit_rule fit_wheel_brake = {
    .id = "wheel-brake",
    .reads =
        {
            [TRACK] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_RIM_BRAKE, FIT_OPTIONAL),
            [MOUNT] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_ROTOR_MOUNT, FIT_OPTIONAL),
            [STAYS] = FIT_READ(TRADE_SLOT_REAR_WHEEL, FIT_FITTED, FIT_NEEDED),
            [BRAKE] = FIT_READ(FIT_FRAME, TRADE_FRAME_BRAKE, FIT_NEEDED),
        },
    .n_reads = READS,
    .safety = true,
    .reasons =
        {
            [FITS] = "wheel-brake.fits",
            [NO_TRACK] = "wheel-brake.no-track",
            [NO_MOUNT] = "wheel-brake.no-mount",
            [IN_HUB] = "wheel-brake.in-hub",
            [ASK] = "wheel-brake.ask",
        },
    .judge = judge,
    .source = "common practice",
};
