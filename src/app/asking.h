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

/* All that the request names: the bike, the way that is ridden where it names one, wish and catalogue where it names a
 * catalogue. Errors as app_load_bike. */
enum base_status app_load_ride(struct app_loaded *loaded) BASE_CHECKED;

/* The plan of what was read, where a catalogue is given, else NULL. *plan is the caller's, also when it fails. */
enum base_status app_plan_for(struct plan **plan, const struct app_loaded *loaded) BASE_CHECKED;

/* The day of the request, or today. BASE_SYSTEM: the clock does not tell. */
enum base_status app_day_of(int32_t *day, const struct app_loaded *loaded) BASE_CHECKED;

#endif
