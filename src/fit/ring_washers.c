/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Washers under the ring bolts: they move a single ring out in the outer place and in in the inner one, by a millimetre
 * or so, where the ring bolts to arms and has no raised threads or recessed tabs.
 */
#include "fit/rings.h"
#include "fit/rules.h"

enum { THICKNESS, OUTER, MIDDLE, INNER, OUTER_TAKES, INNER_TAKES, OUTER_MOUNT, INNER_MOUNT, READS };
enum { FITS, NO_PLACE, SEVERAL, NO_BOLTS, TAKES_NONE, THICK };

static bool bolted(const struct fit_values *v, unsigned mount) {
    return !fit_known(v, mount) || fit_ring_mount_row(fit_word(v, mount))->arms > 0;
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_rings_there(v, OUTER) != 1) {
        return fit_rings_there(v, OUTER) == 0 ? fit_silent() : fit_say(FIT_CLASH, SEVERAL);
    }
    if (fit_there(v, MIDDLE)) {
        return fit_say(FIT_CLASH, NO_PLACE);
    }
    bool outer = fit_there(v, OUTER);
    if (!bolted(v, outer ? OUTER_MOUNT : INNER_MOUNT)) {
        return fit_say(FIT_CLASH, NO_BOLTS);
    }
    unsigned takes = outer ? OUTER_TAKES : INNER_TAKES;
    if (fit_known(v, takes) && !fit_yes(v, takes)) {
        return fit_say(FIT_CLASH, TAKES_NONE);
    }
    double most = fit_limit(TRADE_LIMIT_WASHERS_MOST_MM), thickness = fit_number(v, THICKNESS);
    struct fit_verdict out = fit_say(thickness > most ? FIT_CLASH : FIT_ADAPTER, thickness > most ? THICK : FITS);
    fit_add_number(&out, thickness, 1, "mm");
    if (thickness > most) {
        fit_add_number(&out, most, 1, "mm");
    }
    return out;
}

const struct fit_rule fit_ring_washers = {
    .id = "ring-washers",
    .reads = {[THICKNESS] = FIT_READ(TRADE_SLOT_RING_WASHERS, TRADE_SPACER_THICKNESS_MM, FIT_NEEDED),
              FIT_RING_PRESENT(OUTER, MIDDLE, INNER),
              [OUTER_TAKES] = FIT_READ(TRADE_SLOT_OUTER_RING, TRADE_RING_TAKES_WASHERS, FIT_MAYBE),
              [INNER_TAKES] = FIT_READ(TRADE_SLOT_INNER_RING, TRADE_RING_TAKES_WASHERS, FIT_MAYBE),
              [OUTER_MOUNT] = FIT_READ(TRADE_SLOT_OUTER_RING, TRADE_RING_MOUNT, FIT_MAYBE),
              [INNER_MOUNT] = FIT_READ(TRADE_SLOT_INNER_RING, TRADE_RING_MOUNT, FIT_MAYBE)},
    .n_reads = READS,
    .reasons = {[FITS] = "ring-washers.fits",
                [NO_PLACE] = "ring-washers.no-place",
                [SEVERAL] = "ring-washers.several",
                [NO_BOLTS] = "ring-washers.no-bolts",
                [TAKES_NONE] = "ring-washers.takes-none",
                [THICK] = "ring-washers.thick"},
    .judge = judge,
    .source = "common practice",
};
