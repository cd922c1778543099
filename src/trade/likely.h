/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Which of the values that usually occur can stand on a bike, by what the tables say of the parts around it.
 */
#ifndef TRADE_LIKELY_H
#define TRADE_LIKELY_H

#include "trade/bike.h"

/* Can the part that the bike has in this slot have this value of a property that nobody has read? True where the tables
 * say nothing against it. Looked at: the family of the right shifter against its positions; the splines of the freehub body
 * against the number of sprockets and the smallest of them; the mounts of the crank against the teeth of the rings on them.
 * The bike is complete (trade_bike_complete). */
bool trade_may_stand(const struct trade_bike *bike, enum trade_slot slot, enum trade_property property,
                     const struct trade_value *value);

#endif
