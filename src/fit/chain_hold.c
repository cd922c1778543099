/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What holds the chain on a single ring: its teeth, a clutch, a guide; and how much it takes depends on the ground.
 *
 * Nothing else guides the chain once the front derailleur is gone. No clutch alone is no clash: on tarmac the teeth do.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { OUTER, MIDDLE, INNER, USE, CLUTCH, GUIDE, READS };
enum { HELD, GUIDED, NO_CLUTCH, WANTS_GUIDE, PLAIN, RAMPED, PLAIN_OFF, RAMPED_OFF };
enum ground { TARMAC, GRAVEL, ROUGH };

static enum ground ground_of(unsigned use) {
    return use == TRADE_USE_GRAVEL ? GRAVEL : use == TRADE_USE_OFF_ROAD ? ROUGH : TARMAC;
}

static struct fit_verdict judge_wide_narrow(enum ground ground, bool clutch) {
    if (clutch || ground == TARMAC) {
        return fit_say(FIT_FITS, HELD);
    }
    return fit_say(FIT_DRAWBACK, ground == GRAVEL ? NO_CLUTCH : WANTS_GUIDE);
}

static struct fit_verdict judge(const struct fit_values *v) {
    unsigned n = 0, profile = 0;
    for (unsigned i = OUTER; i <= INNER; i++) {
        if (fit_has(v, i)) {
            n++;
            profile = fit_word(v, i);
        }
    }
    if (n != 1) {
        return fit_silent();
    }
    if (fit_there(v, GUIDE)) {
        return fit_say(FIT_FITS, GUIDED);
    }
    enum ground ground = ground_of(fit_word(v, USE));
    if (profile == TRADE_PROFILE_WIDE_NARROW) {
        return judge_wide_narrow(ground, fit_known_yes(v, CLUTCH));
    }
    bool plain = profile == TRADE_PROFILE_PLAIN;
    return ground == TARMAC ? fit_say(FIT_DRAWBACK, plain ? PLAIN : RAMPED)
                            : fit_say(FIT_CLASH, plain ? PLAIN_OFF : RAMPED_OFF);
}

const struct fit_rule fit_chain_hold = {
    .id = "chain-hold",
    .reads = {[OUTER] = FIT_READ(TRADE_SLOT_OUTER_RING, TRADE_RING_PROFILE, FIT_EMPTY_OK),
              [MIDDLE] = FIT_READ(TRADE_SLOT_MIDDLE_RING, TRADE_RING_PROFILE, FIT_EMPTY_OK),
              [INNER] = FIT_READ(TRADE_SLOT_INNER_RING, TRADE_RING_PROFILE, FIT_EMPTY_OK),
              [USE] = FIT_READ(FIT_BIKE, TRADE_BIKE_USE, FIT_NEEDED),
              [CLUTCH] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_CLUTCH, FIT_OPTIONAL),
              [GUIDE] = FIT_READ(TRADE_SLOT_CHAIN_GUIDE, FIT_PRESENT, FIT_EMPTY_OK)},
    .n_reads = READS,
    .reasons = {[HELD] = "chain-hold.held",
                [GUIDED] = "chain-hold.guided",
                [NO_CLUTCH] = "chain-hold.no-clutch",
                [WANTS_GUIDE] = "chain-hold.wants-guide",
                [PLAIN] = "chain-hold.plain",
                [RAMPED] = "chain-hold.ramped",
                [PLAIN_OFF] = "chain-hold.plain-off-tarmac",
                [RAMPED_OFF] = "chain-hold.ramped-off-tarmac"},
    .judge = judge,
    .source = "common practice",
};
