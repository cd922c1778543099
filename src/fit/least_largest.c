/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Largest sprocket and rear derailleur, the other way: a cage for very large sprockets hangs too far from small ones.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { LARGEST, LEAST, READS };
enum { FITS, SMALL };

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, LARGEST) || !fit_known(v, LEAST) || fit_number(v, LEAST) <= 0) {
        return fit_silent();
    }
    bool enough = fit_number(v, LARGEST) >= fit_number(v, LEAST);
    struct fit_verdict out = fit_say(enough ? FIT_FITS : FIT_DRAWBACK, enough ? FITS : SMALL);
    fit_add_number(&out, fit_number(v, LARGEST), 0, "T");
    fit_add_number(&out, fit_number(v, LEAST), 0, "T");
    return out;
}

const struct fit_rule fit_least_largest = {
    .id = "least-largest",
    .reads =
        {
            [LARGEST] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_LARGEST, FIT_OPTIONAL),
            [LEAST] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_LEAST_LARGEST_TEETH, FIT_OPTIONAL),
        },
    .n_reads = READS,
    .reasons = {[FITS] = "least-largest.fits", [SMALL] = "least-largest.small"},
    .judge = judge,
    .source = "common practice",
};
