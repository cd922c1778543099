/* SPDX-License-Identifier: Apache-2.0 */
#include "app/road.h"

#include <math.h>
#include <string.h>

static void set_rider(struct app_road *road, const struct trade_bike *bike) {
    road->power_from = app_rider_of(&road->rider, bike);
    road->habits = ride_habits_of(&road->rider);
    if (road->rider.drive_efficiency.known == BASE_OPEN) { /* where there are no gears to tell */
        road->habits.efficiency = trade_limits[TRADE_LIMIT_DRIVE_EFFICIENCY_RATIO].value;
    }
    road->machine = ride_rider_machine(&road->rider, &road->known);
    road->known = base_weakest(road->known, road->rider.power_w.known);
    road->known = base_weakest(
        road->known, isnan(road->rider.drive_efficiency.value) ? BASE_ASSUMED : road->rider.drive_efficiency.known);
}

/* Rides it without gears. The run itself is not kept. */
static enum base_status set_speeds(struct app_road *road) {
    const struct ride_gearing none = {NULL, 0};
    const struct ride_profile *p = &road->profile;
    struct base_arena arena;
    struct ride_run run;
    base_arena_init(&arena, 0);
    enum base_status status = ride_simulate(&run, &arena, &road->machine, &road->habits, none, p->cells, p->n);
    if (status == BASE_OK) {
        status = ride_speeds_new(&road->speeds, &run, &road->habits, p->cells, p->n);
    }
    base_arena_clear(&arena);
    return status;
}

enum base_status app_road_of(struct app_road *out, struct base_arena *arena, const struct trade_bike *bike,
                             const struct app_way *way) {
    memset(out, 0, sizeof *out);
    enum base_status status = way->route ? ride_profile_of(&out->profile, arena, way->route)
                                         : ride_profile_of_climbs(&out->profile, arena, way->climbs, way->n_climbs);
    if (status != BASE_OK) {
        return status;
    }
    set_rider(out, bike);
    return set_speeds(out);
}

void app_road_clear(struct app_road *road) { ride_speeds_free(road->speeds); }
