/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What one build is worth, computed on its own, without the search: the search's sums must come to the same.
 */
#ifndef PLAN_VALUES_H
#define PLAN_VALUES_H

#include "plan/plan.h"

/* usual_mass_g: of each kind, for old parts that were not weighed; NAN where nobody knows. cap_mm10: the most that the
 * highest gear counts, 0.1 mm. */
void plan_values_of(struct plan_values *out, const struct plan_question *question, const struct fit_build *build,
                    const double usual_mass_g[TRADE_KINDS], int32_t cap_mm10);

/* Development in 0.1 mm; ratio * 10,000 where the rolling circumference is open. */
int32_t plan_development(int ring, int sprocket, const struct trade_bike *bike);

/* The cap on the highest gear in 0.1 mm: the wish's own, else what the top of the rider's cadence band turns at 45 km/h,
 * else 90 rpm at 45 km/h. */
int32_t plan_cap(const struct trade_wish *wish, const struct trade_bike *bike);

#endif
