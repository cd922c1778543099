/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Which operations a build calls for at the stand, and how long each takes.
 *
 * One idea: an operation is called for slot by slot, by what a slot holds in the build and by fixed facts of the bike, and
 * is done once however many slots call for it. So whoever adds up labour asks here, for one slot or for all of them.
 */
#ifndef PLAN_LABOUR_H
#define PLAN_LABOUR_H

#include "fit/judge.h"
#include "trade/shop.h"

/* Slots that can call for an operation on this bike; bit set of slots. A wheel that goes calls for the rotor only where
 * the bike has one. */
uint32_t plan_slots_calling(const struct trade_bike *bike, enum trade_operation operation);

/* Operations that a slot with this choice calls for; bit set of operations, none where the slot stays as it is. */
uint32_t plan_slot_operations(const struct trade_bike *bike, enum trade_slot slot, const struct fit_choice *choice);

/* The same for a whole build. */
uint32_t plan_build_operations(const struct trade_bike *bike, const struct fit_build *build);

/* Bench time of an operation in 0.1 minutes, rounded once, so that it can be added up in any order. */
int32_t plan_operation_tenths(const struct trade_shop *shop, enum trade_operation operation);

#endif
