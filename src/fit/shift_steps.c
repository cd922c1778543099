/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Positions of the right shifter against the number of sprockets.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { ACTUATION, POSITIONS, STAYS, SPEEDS, CASSETTE_STAYS, READS };
enum { FITS, SPARE, FEW, ASK };

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_word(v, ACTUATION) != TRADE_ACTUATION_INDEXED) {
        return fit_silent(); /* friction has no positions, an electronic set is judged by its name */
    }
    if (!fit_known(v, POSITIONS) || !fit_known(v, SPEEDS)) {
        bool together = fit_stays(v, STAYS) && fit_stays(v, CASSETTE_STAYS);
        return together                  ? fit_silent()
               : fit_known(v, POSITIONS) ? fit_lacks(v, CASSETTE_STAYS, SPEEDS, ASK)
                                         : fit_lacks(v, STAYS, POSITIONS, ASK);
    }
    int positions = fit_count(v, POSITIONS), speeds = fit_count(v, SPEEDS);
    struct fit_verdict out = positions == speeds  ? fit_say(FIT_FITS, FITS)
                             : positions > speeds ? fit_say(FIT_DRAWBACK, SPARE)
                                                  : fit_say(FIT_CLASH, FEW);
    fit_add_number(&out, positions, 0, "");
    fit_add_number(&out, speeds, 0, "");
    return out;
}

const struct fit_rule fit_shift_steps = {
    .id = "shift-steps",
    .reads =
        {
            [ACTUATION] = FIT_READ(TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_ACTUATION, FIT_NEEDED),
            [POSITIONS] = FIT_READ(TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_POSITIONS, FIT_OPTIONAL),
            [STAYS] = FIT_READ(TRADE_SLOT_RIGHT_SHIFTER, FIT_FITTED, FIT_NEEDED),
            [SPEEDS] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_SPEEDS, FIT_SHEET),
            [CASSETTE_STAYS] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_FITTED, FIT_NEEDED),
        },
    .n_reads = READS,
    .reasons =
        {
            [FITS] = "shift-steps.fits",
            [SPARE] = "shift-steps.spare",
            [FEW] = "shift-steps.few",
            [ASK] = "shift-steps.ask",
        },
    .judge = judge,
    .source = "Cassette compatibility, BikeRadar forum Workshop FAQs, 2013",
};
