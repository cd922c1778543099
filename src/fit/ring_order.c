/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The rings among themselves: the larger one lies further out.
 */
#include "fit/rings.h"
#include "fit/rules.h"

enum { OUTER, MIDDLE, INNER, READS };
enum { FITS, ORDER };

static struct fit_verdict judge(const struct fit_values *v) {
    int before = 0;
    unsigned n = 0;
    for (unsigned i = OUTER; i <= INNER; i++) {
        if (!fit_has(v, i)) {
            continue;
        }
        int teeth = fit_count(v, i);
        if (n > 0 && teeth >= before) {
            struct fit_verdict clash = fit_say(FIT_CLASH, ORDER);
            fit_add_number(&clash, teeth, 0, "T");
            fit_add_number(&clash, before, 0, "T");
            return clash;
        }
        before = teeth;
        n++;
    }
    return n < 2 ? fit_silent() : fit_say(FIT_FITS, FITS);
}

const struct fit_rule fit_ring_order = {
    .id = "ring-order",
    .reads = {FIT_RING_TEETH(OUTER, MIDDLE, INNER, FIT_EMPTY_OK)},
    .n_reads = READS,
    .reasons = {[FITS] = "ring-order.fits", [ORDER] = "ring-order.order"},
    .judge = judge,
    .source = "common practice",
};
