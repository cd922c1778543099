/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What several commands ask in the same way. Only files of this folder include it.
 */
#ifndef APP_ASKING_H
#define APP_ASKING_H

#include "app/load.h"
#include "app/ride.h"

/* A bike that is turned down is answered with the reason and what can still be done; true then. */
bool app_turned_down(struct app_reply *reply, const struct app_loaded *loaded);

/* All that the request names: the bike, the route or the climbs where it names some, wish and catalogue where it names
 * a catalogue. way is empty without a route and climbs. Errors as app_load_bike. */
enum base_status app_load_ride(struct app_loaded *loaded, struct app_ride_way *way, bool *is_track,
                               struct base_arena *arena) BASE_CHECKED;

/* The plan of what was read, where a catalogue is given, else NULL. *plan is the caller's, also when it fails. */
enum base_status app_plan_for(struct plan **plan, const struct app_loaded *loaded) BASE_CHECKED;

/* app_ride_of, with a fault told for a route without heights: BASE_BAD_INPUT. */
enum base_status app_ride_over(struct app_ride *out, struct base_arena *arena, struct app_loaded *loaded,
                               const struct app_ride_way *way, const struct plan *plan) BASE_CHECKED;

#endif
