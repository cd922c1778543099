/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the gears of a build make of the road that the question brings: the scores of a ride, as objectives.
 *
 * They hang on the developments alone, and so on rings, sprockets and wheel: the speeds of the road are those of the bike as
 * it stands. In whole numbers, as all that is compared.
 */
#ifndef PLAN_SCORE_H
#define PLAN_SCORE_H

#include "ride/score.h"
#include "trade/bike.h"

struct plan_score {
    int32_t in_band;  /* thousandths of the time that is not coasted; PLAN_NO_SCORE: open */
    int32_t walked_m; /* PLAN_NO_SCORE: open */
};
#define PLAN_NO_SCORE (-1)

/* rings: teeth, 0 for none. sprockets: as FIT_TEETH has them. Open without speeds (NULL), where no ring or no sprocket is there,
 * and where the rolling circumference is open. */
struct plan_score plan_score_of(const struct ride_speeds *speeds, const int rings[3], uint64_t sprockets,
                                const struct trade_bike *bike);

#endif
