/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/score.h"

#include "base/number.h"
#include "mech/gear.h"

#include <math.h>
#include <stdlib.h>

enum { SPROCKETS_MOST = 64 }; /* bits of a set */

static int compare_developments(const void *x, const void *y) {
    double a = *(const double *)x, b = *(const double *)y;
    return (a > b) - (a < b);
}

/* Developments, rising; how many. */
static size_t list_gears(double *out, const int rings[3], uint64_t sprockets, double rolling_mm) {
    size_t n = 0;
    for (unsigned i = 0; i < 3; i++) {
        for (int teeth = 1; teeth < SPROCKETS_MOST && rings[i] > 0; teeth++) {
            if (sprockets >> teeth & 1) {
                out[n++] = mech_gear_development_m(mech_gear_ratio(rings[i], teeth), rolling_mm);
            }
        }
    }
    qsort(out, n, sizeof *out, compare_developments);
    return n;
}

struct plan_score plan_score_of(const struct ride_speeds *speeds, const int rings[3], uint64_t sprockets,
                                const struct trade_bike *bike) {
    double developments_m[3 * SPROCKETS_MOST] = {0};
    double rolling_mm = trade_get_number(&bike->wheel, TRADE_WHEEL_ROLLING_MM);
    size_t n = speeds && !isnan(rolling_mm) ? list_gears(developments_m, rings, sprockets, rolling_mm) : 0;
    if (n == 0) {
        return (struct plan_score){PLAN_NO_SCORE, PLAN_NO_SCORE};
    }
    struct ride_score score = ride_score_of(speeds, developments_m, n);
    return (struct plan_score){(int32_t)base_round(1000.0 * ride_score_in_band(&score)),
                               (int32_t)base_round(score.walked_m)};
}
