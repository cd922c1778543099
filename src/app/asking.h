/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What several commands ask in the same way. Only files of this folder include it.
 */
#ifndef APP_ASKING_H
#define APP_ASKING_H

#include "app/load.h"
#include "app/ride.h"

/* A sentence of the catalogue on reply->err, {0} what was found, {1} what is allowed ("" for none), and the status. */
void app_say(struct app_reply *reply, enum app_exit status, const char *code, const char *found, const char *allowed);
/* The same, as bad usage, of a name that is none of these n. */
void app_say_none_called(struct app_reply *reply, const char *code, const char *found, const char *const *names,
                         size_t n);

/* Does a name of a file end so, with something before it? */
bool app_ends_with(const char *path, const char *ending);

/* Keeps the first failure, but goes on while only the input is bad, so that all faults are told in one go. */
static inline enum base_status app_first_of(enum base_status a, enum base_status b) { return a != BASE_OK ? a : b; }

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
