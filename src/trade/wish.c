/* SPDX-License-Identifier: Apache-2.0 */
#include "trade/wish.h"

#include <math.h>

const char *const trade_objective_names[TRADE_OBJECTIVES] = {
    [TRADE_COST] = "cost",       [TRADE_LOWEST] = "lowest",         [TRADE_HIGHEST] = "highest",
    [TRADE_MASS] = "mass",       [TRADE_LINE_ERROR] = "line_error", [TRADE_MINUTES] = "minutes",
    [TRADE_CHANGED] = "changed", [TRADE_IN_BAND] = "in_band",       [TRADE_WALKED] = "walked",
};

void trade_wish_init(struct trade_wish *out) {
    *out = (struct trade_wish){
        .rings = 1,
        .lowest_m_max = NAN,
        .highest_m_min = NAN,
        .highest_m_cap = NAN,
        .budget_minor = -1,
        .objectives = 1u << TRADE_COST | 1u << TRADE_LOWEST | 1u << TRADE_HIGHEST,
        .least_difference = 0.03,
    };
}
