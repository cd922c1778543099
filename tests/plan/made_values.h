/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a made build is worth where nothing is known of its mass, for tests of labour and price.
 */
#ifndef PLAN_MADE_VALUES_H
#define PLAN_MADE_VALUES_H

#include "plan/values.h"

#include <math.h>

static inline struct plan_values made_values(const struct trade_bike *bike, const struct fit_build *build,
                                             const struct trade_shop *shop) {
    struct trade_wish wish;
    struct trade_catalogue catalogue;
    struct plan_values values;
    double usual[TRADE_KINDS];
    for (unsigned k = 0; k < TRADE_KINDS; k++) {
        usual[k] = NAN;
    }
    trade_wish_init(&wish);
    trade_catalogue_init(&catalogue);
    const struct plan_question question = {.bike = bike, .wish = &wish, .shop = shop, .catalogue = &catalogue};
    plan_values_of(&values, &question, build, usual, INT32_MAX);
    return values;
}

#endif
