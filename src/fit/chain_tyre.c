/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Chain and tyre: on the largest sprocket the chain runs nearest to the tyre. Each ring is judged by itself, so that the
 * innermost decides and an empty place says nothing.
 *
 * Seen from above it is a straight line from the sprocket's plane to the ring's. It passes the widest part of the tyre
 * where it crosses the circle of the tyre's middle, at the height of the sprocket's top: the true run climbs or falls a
 * little towards the ring, which moves that place by a centimetre or two, and the line there by less than a millimetre.
 */
#include "fit/rule.h"
#include "fit/rules.h"
#include "mech/sprocket.h"

#include <math.h>

enum { REAR, PLANE, RING, LARGEST, CHAIN_WIDTH, STAY, BEAD_SEAT, TYRE, READS };
enum { FITS, NEAR, RUBS };

static bool all_known(const struct fit_values *v) {
    for (unsigned i = 0; i < READS; i++) {
        if (!fit_known(v, i)) {
            return false;
        }
    }
    return true;
}

/* Chain's inner side to the tyre's side, mm; NAN when the chain passes above the tyre's middle. */
static double clearance_mm(const struct fit_values *v) {
    double height, middle = (fit_number(v, BEAD_SEAT) + fit_number(v, TYRE)) / 2.0;
    if (mech_sprocket_pitch_radius_mm(&height, fit_count(v, LARGEST)) != BASE_OK || height >= middle) {
        return NAN;
    }
    double ahead = fmin(sqrt(middle * middle - height * height) / fit_number(v, STAY), 1.0);
    double line = fit_number(v, REAR) + (fit_number(v, PLANE) - fit_number(v, REAR)) * ahead;
    return line - fit_number(v, CHAIN_WIDTH) / 2.0 - fit_number(v, TYRE) / 2.0;
}

static struct fit_verdict judge(const struct fit_values *v) {
    double clear = all_known(v) ? clearance_mm(v) : NAN, least = fit_limit(TRADE_LIMIT_CHAIN_TO_TYRE_MM);
    if (isnan(clear)) {
        return fit_silent();
    }
    unsigned reason = clear >= least ? FITS : clear > 0.0 ? NEAR : RUBS;
    struct fit_verdict out = fit_say(reason == FITS ? FIT_FITS : reason == NEAR ? FIT_DRAWBACK : FIT_CLASH, reason);
    fit_add_number(&out, clear, 1, "mm");
    fit_add_number(&out, least, 1, "mm");
    return out;
}

/* clang-format off */
#define CHAIN_TYRE(SLOT, PLACE_WORD, MEASURE)                                                                          \
    {                                                                                                                  \
        .id = "chain-tyre",                                                                                            \
        .variant = PLACE_WORD,                                                                                         \
        .reads = {                                                                                                     \
            [REAR] = FIT_READ(FIT_MEASURE + FIT_REAR_LARGEST, FIT_VALUE, FIT_OPTIONAL | FIT_RISING),                                \
            [PLANE] = FIT_READ(FIT_MEASURE + MEASURE, FIT_VALUE, FIT_OPTIONAL | FIT_RISING),                                        \
            [RING] = FIT_READ(SLOT, FIT_FITTED, FIT_NEEDED),                                                           \
            [LARGEST] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_LARGEST, FIT_OPTIONAL),                                      \
            [CHAIN_WIDTH] = FIT_READ(TRADE_SLOT_CHAIN, TRADE_CHAIN_WIDTH_MM, FIT_OPTIONAL),                            \
            [STAY] = FIT_READ(FIT_FRAME, TRADE_FRAME_CHAINSTAY_MM, FIT_OPTIONAL),                                      \
            [BEAD_SEAT] = FIT_READ(FIT_WHEEL, TRADE_WHEEL_BEAD_SEAT_MM, FIT_OPTIONAL),                                 \
            [TYRE] = FIT_READ(FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM, FIT_OPTIONAL),                                     \
        },                                                                                                             \
        .n_reads = READS,                                                                                              \
        .reasons = {[FITS] = "chain-tyre.fits", [NEAR] = "chain-tyre.near", [RUBS] = "chain-tyre.rubs"},               \
        .judge = judge,                                                                                                \
        .source = "geometry; the least is common practice",                                                            \
    }
/* clang-format on */

const struct fit_rule fit_chain_tyre_outer = CHAIN_TYRE(TRADE_SLOT_OUTER_RING, TRADE_PLACE_OUTER, FIT_OUTER_PLANE);
const struct fit_rule fit_chain_tyre_middle = CHAIN_TYRE(TRADE_SLOT_MIDDLE_RING, TRADE_PLACE_MIDDLE, FIT_MIDDLE_PLANE);
const struct fit_rule fit_chain_tyre_inner = CHAIN_TYRE(TRADE_SLOT_INNER_RING, TRADE_PLACE_INNER, FIT_INNER_PLANE);
