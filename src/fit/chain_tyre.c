/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Chain and tyre: on the largest sprocket and the innermost ring the chain runs nearest to the tyre.
 *
 * Seen from above it is a straight line from the sprocket's plane to the ring's. It passes the widest part of the tyre
 * where it crosses the circle of the tyre's middle, at the height of the sprocket's top: the true run climbs or falls a
 * little towards the ring, which moves that place by a centimetre or two, and the line there by less than a millimetre.
 */
#include "fit/rings.h"
#include "fit/rule.h"
#include "fit/rules.h"
#include "mech/sprocket.h"

#include <math.h>

enum {
    REAR,
    OUTER_PLANE,
    MIDDLE_PLANE,
    INNER_PLANE,
    OUTER,
    MIDDLE,
    INNER,
    LARGEST,
    CHAIN_WIDTH,
    STAY,
    BEAD_SEAT,
    TYRE,
    READS
};
enum { FITS, NEAR, RUBS };

/* The read that holds the plane of the innermost ring; READS when there is no ring. */
static unsigned innermost(const struct fit_values *v) {
    return fit_there(v, INNER)    ? INNER_PLANE
           : fit_there(v, MIDDLE) ? MIDDLE_PLANE
           : fit_there(v, OUTER)  ? OUTER_PLANE
                                  : READS;
}

static bool all_known(const struct fit_values *v, unsigned ring) {
    return ring != READS && fit_known(v, REAR) && fit_known(v, ring) && fit_known(v, LARGEST) &&
           fit_known(v, CHAIN_WIDTH) && fit_known(v, STAY) && fit_known(v, BEAD_SEAT) && fit_known(v, TYRE);
}

/* Chain's inner side to the tyre's side, mm; NAN when the chain passes above the tyre's middle. */
static double clearance_mm(const struct fit_values *v, unsigned ring) {
    double height, middle = (fit_number(v, BEAD_SEAT) + fit_number(v, TYRE)) / 2.0;
    if (mech_sprocket_pitch_radius_mm(&height, fit_count(v, LARGEST)) != BASE_OK || height >= middle) {
        return NAN;
    }
    double ahead = fmin(sqrt(middle * middle - height * height) / fit_number(v, STAY), 1.0);
    double line = fit_number(v, REAR) + (fit_number(v, ring) - fit_number(v, REAR)) * ahead;
    return line - fit_number(v, CHAIN_WIDTH) / 2.0 - fit_number(v, TYRE) / 2.0;
}

static struct fit_verdict judge(const struct fit_values *v) {
    unsigned ring = innermost(v);
    double clear = all_known(v, ring) ? clearance_mm(v, ring) : NAN, least = fit_limit(TRADE_LIMIT_CHAIN_TO_TYRE_MM);
    if (isnan(clear)) {
        return fit_silent();
    }
    unsigned reason = clear >= least ? FITS : clear > 0.0 ? NEAR : RUBS;
    struct fit_verdict out = fit_say(reason == FITS ? FIT_FITS : reason == NEAR ? FIT_DRAWBACK : FIT_CLASH, reason);
    fit_add_number(&out, clear, 1, "mm");
    fit_add_number(&out, least, 1, "mm");
    return out;
}

const struct fit_rule fit_chain_tyre = {
    .id = "chain-tyre",
    .reads =
        {
            [REAR] = FIT_READ(FIT_MEASURE + FIT_REAR_LARGEST, FIT_VALUE, FIT_OPTIONAL),
            [OUTER_PLANE] = FIT_READ(FIT_MEASURE + FIT_OUTER_PLANE, FIT_VALUE, FIT_OPTIONAL),
            [MIDDLE_PLANE] = FIT_READ(FIT_MEASURE + FIT_MIDDLE_PLANE, FIT_VALUE, FIT_OPTIONAL),
            [INNER_PLANE] = FIT_READ(FIT_MEASURE + FIT_INNER_PLANE, FIT_VALUE, FIT_OPTIONAL),
            FIT_RING_PRESENT(OUTER, MIDDLE, INNER),
            [LARGEST] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_LARGEST, FIT_OPTIONAL),
            [CHAIN_WIDTH] = FIT_READ(TRADE_SLOT_CHAIN, TRADE_CHAIN_WIDTH_MM, FIT_OPTIONAL),
            [STAY] = FIT_READ(FIT_FRAME, TRADE_FRAME_CHAINSTAY_MM, FIT_OPTIONAL),
            [BEAD_SEAT] = FIT_READ(FIT_WHEEL, TRADE_WHEEL_BEAD_SEAT_MM, FIT_OPTIONAL),
            [TYRE] = FIT_READ(FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM, FIT_OPTIONAL),
        },
    .n_reads = READS,
    .reasons = {[FITS] = "chain-tyre.fits", [NEAR] = "chain-tyre.near", [RUBS] = "chain-tyre.rubs"},
    .judge = judge,
    .source = "geometry; the least is common practice",
};
