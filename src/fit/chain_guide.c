/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A chain guide: where the frame holds it, and the rings that run in it.
 */
#include "fit/rings.h"
#include "fit/rules.h"

enum { OUTER, MIDDLE, INNER, MOUNT, LEAST, MOST, SINGLE_ONLY, MOUNTS, READS };
enum { FITS, NO_MOUNT, ONE_RING, SMALL, LARGE };

static struct fit_verdict with_teeth(unsigned reason, int ring, double limit) {
    struct fit_verdict out = fit_say(FIT_CLASH, reason);
    fit_add_number(&out, ring, 0, "T");
    fit_add_number(&out, limit, 0, "T");
    return out;
}

static struct fit_verdict judge(const struct fit_values *v) {
    struct fit_rings rings = fit_rings_of(v, OUTER);
    if (rings.n == 0) {
        return fit_silent();
    }
    if (!fit_among(v, MOUNTS, fit_word(v, MOUNT))) {
        struct fit_verdict clash = fit_say(FIT_CLASH, NO_MOUNT);
        fit_add_word(&clash, TRADE_DOMAIN_GUIDE_MOUNT, fit_word(v, MOUNT));
        return clash;
    }
    if (rings.n > 1 && fit_known_yes(v, SINGLE_ONLY)) {
        return fit_say(FIT_CLASH, ONE_RING);
    }
    if (fit_known(v, LEAST) && rings.smallest < fit_count(v, LEAST)) {
        return with_teeth(SMALL, rings.smallest, fit_number(v, LEAST));
    }
    if (fit_known(v, MOST) && rings.largest > fit_count(v, MOST)) {
        return with_teeth(LARGE, rings.largest, fit_number(v, MOST));
    }
    return fit_say(FIT_FITS, FITS);
}

const struct fit_rule fit_chain_guide = {
    .id = "chain-guide",
    .reads = {FIT_RING_TEETH(OUTER, MIDDLE, INNER, FIT_EMPTY_OK),
              [MOUNT] = FIT_READ(TRADE_SLOT_CHAIN_GUIDE, TRADE_CHAIN_GUIDE_MOUNT, FIT_NEEDED),
              [LEAST] = FIT_READ(TRADE_SLOT_CHAIN_GUIDE, TRADE_CHAIN_GUIDE_LEAST_TEETH, FIT_OPTIONAL),
              [MOST] = FIT_READ(TRADE_SLOT_CHAIN_GUIDE, TRADE_CHAIN_GUIDE_MOST_TEETH, FIT_OPTIONAL),
              [SINGLE_ONLY] = FIT_READ(TRADE_SLOT_CHAIN_GUIDE, TRADE_CHAIN_GUIDE_SINGLE_ONLY, FIT_OPTIONAL),
              [MOUNTS] = FIT_READ(FIT_FRAME, TRADE_FRAME_GUIDE_MOUNTS, FIT_NEEDED)},
    .n_reads = READS,
    .reasons = {[FITS] = "chain-guide.fits",
                [NO_MOUNT] = "chain-guide.no-mount",
                [ONE_RING] = "chain-guide.one-ring",
                [SMALL] = "chain-guide.small",
                [LARGE] = "chain-guide.large"},
    .judge = judge,
    .source = "common practice",
};
