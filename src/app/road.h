/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The way that a request names, and its rider on it before any gears: what `ride` rides, and what the scores of a plan are
 * read from.
 */
#ifndef APP_ROAD_H
#define APP_ROAD_H

#include "app/rider.h"
#include "ride/score.h"

/* A way to ride: a route that was read to its end, or climbs that were stated (where route is NULL). */
struct app_way {
    const struct ride_route *route;
    const char *file;
    bool is_track; /* recorded, not planned */
    const struct ride_cell *climbs;
    size_t n_climbs;
};

struct app_road {
    struct ride_profile profile;
    struct ride_rider rider;
    enum app_power_from power_from;
    struct ride_habits habits;
    struct ride_machine machine; /* bike as it stands, with rider and load */
    enum base_known known;       /* of speeds: the weakest figure of all */
    struct ride_speeds *speeds;  /* of a ride without gears */
};

/* Of a bike on which trade_bike_complete_rider was called. arena owns the profile; app_road_clear frees the rest. BASE_NO: no
 * part of the route has both a length and heights. BASE_NO_MEMORY. There is nothing to clear then. */
enum base_status app_road_of(struct app_road *out, struct base_arena *arena, const struct trade_bike *bike,
                             const struct app_way *way) BASE_CHECKED;
void app_road_clear(struct app_road *road);

#endif
