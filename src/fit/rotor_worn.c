/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A rotor that is worn thin goes, whatever else happens to the bike.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { THICKNESS, READS };
enum { FITS, THIN };

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, THICKNESS)) {
        return fit_silent();
    }
    double least = fit_limit(TRADE_LIMIT_ROTOR_LEAST_MM), thickness = fit_number(v, THICKNESS);
    struct fit_verdict out = fit_say(thickness >= least ? FIT_FITS : FIT_CLASH, thickness >= least ? FITS : THIN);
    fit_add_number(&out, thickness, 2, "mm");
    fit_add_number(&out, least, 2, "mm");
    return out;
}

const struct fit_rule fit_rotor_worn = {
    .id = "rotor-worn",
    .reads = {[THICKNESS] = FIT_READ(TRADE_SLOT_REAR_ROTOR, TRADE_ROTOR_THICKNESS_MM, FIT_OPTIONAL)},
    .n_reads = READS,
    .safety = true,
    .as_it_stands = true,
    .reasons = {[FITS] = "rotor-worn.fits", [THIN] = "rotor-worn.thin"},
    .judge = judge,
    .source = "common practice",
};
