/* SPDX-License-Identifier: Apache-2.0 */
/*
 * From the rider of a bike's file to the figures that src/ride reckons with.
 *
 * What was given goes first; then what follows from it (power from a known climb, air from the weather), then the tables
 * and usual values, each marked as what it is.
 */
#ifndef APP_RIDER_H
#define APP_RIDER_H

#include "ride/climb.h"
#include "trade/bike.h"

/* What a rider's power was taken from, the best first. */
enum app_power_from {
    APP_POWER_GIVEN,
    APP_POWER_CLIMB,   /* a climb that was timed */
    APP_POWER_PER_KG,  /* watts for each kilogram that were given */
    APP_POWER_TRAINING /* the state of training, given or assumed */
};

/* The rider of a bike on which trade_bike_complete_rider was called. No figure that the road load asks for is open. Returns
 * what the power was taken from. */
enum app_power_from app_rider_of(struct ride_rider *out, const struct trade_bike *bike);

/* Its drive: the rider's fixed efficiency, or the usual friction of a chain and the wheels of this derailleur's cage. */
struct ride_drive app_drive_of(const struct ride_rider *rider, const struct trade_bike *bike);

#endif
