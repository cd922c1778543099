/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Two or three rings want a front derailleur and a left shifter. Judged also where nothing changes: a bike that lacks one of
 * them does not work as it stands.
 */
#include "fit/rings.h"
#include "fit/rules.h"

enum { OUTER, MIDDLE, INNER, DERAILLEUR, SHIFTER, READS };
enum { THERE, NO_DERAILLEUR, NO_SHIFTER };

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_rings_there(v, OUTER) < 2) {
        return fit_silent();
    }
    if (!fit_there(v, DERAILLEUR)) {
        return fit_say(FIT_CLASH, NO_DERAILLEUR);
    }
    return fit_there(v, SHIFTER) ? fit_say(FIT_FITS, THERE) : fit_say(FIT_CLASH, NO_SHIFTER);
}

const struct fit_rule fit_front_parts = {
    .id = "front-parts",
    .reads = {FIT_RING_PRESENT(OUTER, MIDDLE, INNER),
              [DERAILLEUR] = FIT_READ(TRADE_SLOT_FRONT_DERAILLEUR, FIT_PRESENT, FIT_EMPTY_OK),
              [SHIFTER] = FIT_READ(TRADE_SLOT_LEFT_SHIFTER, FIT_PRESENT, FIT_EMPTY_OK)},
    .n_reads = READS,
    .as_it_stands = true,
    .reasons = {[THERE] = "front-parts.there",
                [NO_DERAILLEUR] = "front-parts.no-derailleur",
                [NO_SHIFTER] = "front-parts.no-shifter"},
    .judge = judge,
    .source = "common practice",
};
