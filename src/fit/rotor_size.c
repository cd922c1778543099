/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rotor and frame: what the frame's maker allows, at least what is on it now. A larger size than today's wants the caliper
 * further out, by an adapter; to a smaller one most mounts can't come down, and it brakes less: never for a gearing.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { SIZE, STAYS, LARGEST, SIZE_NOW, READS };
enum { FITS, CHANGES, SMALL, LARGE, ASK };

static struct fit_verdict with_sizes(enum fit_kind kind, unsigned reason, const struct fit_values *v, unsigned other) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_number(&out, fit_number(v, SIZE), 0, "mm");
    fit_add_number(&out, fit_number(v, other), 0, "mm");
    return out;
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_stays(v, STAYS)) {
        return fit_silent();
    }
    if (!fit_known(v, SIZE)) {
        return fit_say(FIT_CLASH, ASK); /* a new rotor that does not say */
    }
    bool no_larger = fit_known(v, SIZE_NOW) && fit_number(v, SIZE) <= fit_number(v, SIZE_NOW);
    if (!no_larger && !fit_known(v, LARGEST)) {
        return fit_ask(LARGEST, ASK);
    }
    if (!no_larger && fit_number(v, SIZE) > fit_number(v, LARGEST)) {
        return with_sizes(FIT_CLASH, LARGE, v, LARGEST);
    }
    if (!fit_known(v, SIZE_NOW)) {
        return with_sizes(FIT_FITS, FITS, v, LARGEST);
    }
    if (fit_number(v, SIZE) < fit_number(v, SIZE_NOW)) {
        return with_sizes(FIT_CLASH, SMALL, v, SIZE_NOW);
    }
    return with_sizes(no_larger ? FIT_FITS : FIT_DRAWBACK, no_larger ? FITS : CHANGES, v, SIZE_NOW);
}

const struct fit_rule fit_rotor_size = {
    .id = "rotor-size",
    .reads =
        {
            [SIZE] = FIT_READ(TRADE_SLOT_REAR_ROTOR, TRADE_ROTOR_SIZE_MM, FIT_SHEET),
            [STAYS] = FIT_READ(TRADE_SLOT_REAR_ROTOR, FIT_FITTED, FIT_NEEDED),
            [LARGEST] = FIT_READ(FIT_FRAME, TRADE_FRAME_LARGEST_ROTOR_MM, FIT_OPTIONAL),
            [SIZE_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_REAR_ROTOR, TRADE_ROTOR_SIZE_MM, FIT_MAYBE),
        },
    .n_reads = READS,
    .safety = true,
    .reasons =
        {
            [FITS] = "rotor-size.fits",
            [CHANGES] = "rotor-size.changes",
            [SMALL] = "rotor-size.small",
            [LARGE] = "rotor-size.large",
            [ASK] = "rotor-size.ask",
        },
    .judge = judge,
    .source = "Disc brake mounts and adaptors, a shop's page (name withheld); common practice",
};
