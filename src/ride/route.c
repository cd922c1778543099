/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/route.h"

#include <math.h>
#include <string.h>

#define STEP_LEAST_M 3.0    /* nearer to the last point: the bike stands, or it is the scatter of the receiver */
#define SPEED_LEAST_MPS 0.3 /* slower, by the track's own times: it drifts while it stands, ... */
#define DRIFT_MOST_M 20.0   /* ... up to so far */
#define SPEED_MOST_MPS 40.0 /* faster, by these times: the position jumped */
#define BRIDGED_M 200.0     /* a new piece that begins so near goes on from the last: the recorder paused */
#define ASTRAY_TIMES 10.0   /* a point is astray when the way by it is so many times as long as past it ... */
#define ASTRAY_M 200.0      /* ... and this much longer at least */

void ride_route_init(struct ride_route *out, struct base_arena *arena, bool recorded) {
    memset(out, 0, sizeof *out);
    out->arena = arena;
    out->recorded = recorded;
    out->last_time_s = (double)NAN;
}

double ride_route_length_m(const struct ride_route *route) {
    return route->n > 0 ? route->points[route->n - 1].distance_m : 0.0;
}

void ride_route_new_piece(struct ride_route *route) { route->broken = true; }

static enum base_status put(struct ride_route *route, double leg_m, bool after_break) {
    if (route->n == route->room) {
        void *grown =
            base_arena_grow(route->arena, route->points, route->n, &route->room, route->n + 1, sizeof *route->points);
        if (!grown) {
            return BASE_NO_MEMORY;
        }
        route->points = grown;
    }
    route->points[route->n] = (struct ride_point){.distance_m = ride_route_length_m(route) + leg_m,
                                                  .height_m = route->waiting.height_m,
                                                  .after_break = after_break};
    route->n++;
    route->kept = route->waiting;
    route->has_kept = true;
    return BASE_OK;
}

/* Does the bike stand between two positions this far apart? */
static bool stands(const struct ride_fix *from, const struct ride_fix *to, double leg_m) {
    double took_s = to->time_s - from->time_s; /* not a number without times: then only the leg counts */
    return leg_m < STEP_LEAST_M || (leg_m < DRIFT_MOST_M && leg_m < SPEED_LEAST_MPS * took_s);
}

/* A longer leg is a break. */
static double longest_leg_m(const struct ride_route *route, bool new_piece) {
    return new_piece ? BRIDGED_M : route->recorded ? RIDE_TRACK_LEG_M : RIDE_PLAN_LEG_M;
}

/* Keeps the point that waits, unless the bike stands there. */
static enum base_status settle(struct ride_route *route) {
    bool new_piece = route->waiting_broken;
    route->has_waiting = false;
    route->waiting_broken = false;
    if (!route->has_kept) {
        return put(route, 0.0, false);
    }
    double leg_m = route->waiting_m;
    if (leg_m > longest_leg_m(route, new_piece)) {
        route->breaks++;
        route->breaks_m += leg_m;
        return put(route, 0.0, true);
    }
    if (stands(&route->kept, &route->waiting, leg_m)) {
        route->standing++;
        return BASE_OK;
    }
    double took_s = route->waiting.time_s - route->kept.time_s;
    route->moving_s += took_s > 0.0 && !new_piece ? took_s : 0.0;
    return put(route, leg_m, false);
}

/* The point that waits lies far off the way from the last one to the next, and the times do not allow it. */
static bool is_astray(const struct ride_route *route, const struct ride_fix *next) {
    if (!route->recorded || !route->has_kept || route->waiting_broken || route->broken ||
        route->waiting_m < ASTRAY_M / 4.0) { /* both legs of a jump are about as long: most points end here */
        return false;
    }
    double by_m = route->waiting_m + ride_leg_m(route->waiting.at, next->at);
    if (by_m < ASTRAY_M || by_m < SPEED_MOST_MPS * (next->time_s - route->kept.time_s)) {
        return false;
    }
    double past_m = ride_leg_m(route->kept.at, next->at);
    return by_m > ASTRAY_TIMES * past_m && by_m > past_m + ASTRAY_M;
}

/* Counts what the file gave, and takes away a height that can't be. */
static void count(struct ride_route *route, struct ride_fix *fix) {
    route->given++;
    if (!isnan(fix->height_m)) {
        bool wild = !(fix->height_m >= RIDE_HEIGHT_LEAST_M && fix->height_m <= RIDE_HEIGHT_MOST_M);
        route->heights++;
        route->heights_wild += wild;
        route->heights_differ = route->heights_differ || (!wild && fix->height_m != 0.0);
        fix->height_m = wild ? (double)NAN : fix->height_m;
    }
    if (!isnan(fix->time_s)) {
        route->times++;
        if (fix->time_s < route->last_time_s) {
            route->first_back = route->times_back == 0 ? route->given : route->first_back;
            route->times_back++;
        }
        route->last_time_s = fix->time_s;
    }
}

enum base_status ride_route_add(struct ride_route *route, const struct ride_fix *fix) {
    struct ride_fix next = *fix;
    count(route, &next);
    if (route->has_waiting) {
        if (is_astray(route, &next)) {
            route->astray++;
            route->has_waiting = false;
        } else {
            enum base_status status = settle(route);
            if (status != BASE_OK) {
                return status;
            }
        }
    }
    route->waiting = next;
    route->waiting_m = route->has_kept ? ride_leg_m(route->kept.at, next.at) : 0.0;
    route->has_waiting = true;
    route->waiting_broken = route->broken;
    route->broken = false;
    return BASE_OK;
}

enum base_status ride_route_end(struct ride_route *route) {
    route->broken = false;
    return route->has_waiting ? settle(route) : BASE_OK;
}
