/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rotor on hub: six bolts or a centre spline.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { MOUNT, STAYS, HUB_MOUNT, WHEEL_STAYS, READS };
enum { FITS, OTHER, ASK };

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, MOUNT)) {
        bool together = fit_stays(v, STAYS) && fit_stays(v, WHEEL_STAYS);
        return together ? fit_silent() : fit_lacks(v, STAYS, MOUNT, ASK);
    }
    bool same = fit_word(v, MOUNT) == fit_word(v, HUB_MOUNT);
    struct fit_verdict out = fit_say(same ? FIT_FITS : FIT_CLASH, same ? FITS : OTHER);
    fit_add_word(&out, TRADE_DOMAIN_ROTOR_MOUNT, fit_word(v, MOUNT));
    if (!same) {
        fit_add_word(&out, TRADE_DOMAIN_ROTOR_MOUNT, fit_word(v, HUB_MOUNT));
    }
    return out;
}

const struct fit_rule fit_rotor_mount = {
    .id = "rotor-mount",
    .reads =
        {
            [MOUNT] = FIT_READ(TRADE_SLOT_REAR_ROTOR, TRADE_ROTOR_MOUNT, FIT_SHEET),
            [STAYS] = FIT_READ(TRADE_SLOT_REAR_ROTOR, FIT_FITTED, FIT_NEEDED),
            [HUB_MOUNT] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_ROTOR_MOUNT, FIT_NEEDED),
            [WHEEL_STAYS] = FIT_READ(TRADE_SLOT_REAR_WHEEL, FIT_FITTED, FIT_NEEDED),
        },
    .n_reads = READS,
    .safety = true,
    .reasons = {[FITS] = "rotor-mount.fits", [OTHER] = "rotor-mount.other", [ASK] = "rotor-mount.ask"},
    .judge = judge,
    .source = "Centre mount against six bolt, One2Ride",
};
