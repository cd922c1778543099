/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rear wheel and tyre, by the bead seat: the tyre that is there goes on the new rim. The front wheel may differ.
 */
#include "fit/rule.h"
#include "fit/rules.h"

#include <math.h>

enum { SEAT, STAYS, TYRE_SEAT, SEAT_NOW, READS };
enum { FITS, OTHER, ASK };

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_stays(v, STAYS)) {
        return fit_silent();
    }
    unsigned wanted = fit_known(v, TYRE_SEAT) || !fit_known(v, SEAT_NOW) ? TYRE_SEAT : SEAT_NOW;
    if (!fit_known(v, wanted) || !fit_known(v, SEAT)) {
        return fit_known(v, wanted) ? fit_say(FIT_CLASH, ASK) : fit_ask(wanted, ASK);
    }
    /* Bead seats are whole millimetres by ISO 5775. */
    bool same = lround(fit_number(v, SEAT)) == lround(fit_number(v, wanted));
    struct fit_verdict out = fit_say(same ? FIT_FITS : FIT_CLASH, same ? FITS : OTHER);
    fit_add_number(&out, fit_number(v, SEAT), 0, "mm");
    if (!same) {
        fit_add_number(&out, fit_number(v, wanted), 0, "mm");
    }
    return out;
}

const struct fit_rule fit_wheel_size = {
    .id = "wheel-size",
    .reads =
        {
            [SEAT] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_BEAD_SEAT_MM, FIT_SHEET),
            [STAYS] = FIT_READ(TRADE_SLOT_REAR_WHEEL, FIT_FITTED, FIT_NEEDED),
            [TYRE_SEAT] = FIT_READ(FIT_WHEEL, TRADE_WHEEL_BEAD_SEAT_MM, FIT_OPTIONAL),
            [SEAT_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_BEAD_SEAT_MM, FIT_MAYBE),
        },
    .n_reads = READS,
    .reasons = {[FITS] = "wheel-size.fits", [OTHER] = "wheel-size.other", [ASK] = "wheel-size.ask"},
    .judge = judge,
    .source = "ISO 5775",
};
