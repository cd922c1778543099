/* SPDX-License-Identifier: Apache-2.0 */
#include "app/ride.h"

#include <math.h>
#include <string.h>

#define CLIMB_SHARE 0.95 /* of the time uphill, for which a gear is low enough */
#define SAME_SHARE 0.001 /* shares of time that nobody tells apart */
#define PEDAL_SHARE 0.99 /* of the time pedalled, for which one is high enough */
enum { SPROCKETS_MOST = 32 };

/* --- the gears of a bike ------------------------------------------------------------------------------------------- */

/* The chain's angle in a gear; 0, as straight, where the chain line is open. */
static double angle_of(const struct app_line *line, const struct mech_gear *gear) {
    for (size_t i = 0; i < line->n_angles; i++) {
        const struct app_angle *at = &line->angles[i];
        if (at->ring == gear->ring && at->sprocket == gear->sprocket && !isnan(at->angle_deg)) {
            return fabs(at->angle_deg);
        }
    }
    return 0.0;
}

/* What the drive hands on in a gear, at the rider's power and in the middle of the band. The cadence of the moment would
 * move it by 0.1 % at most between the ends of the band, up at the one and down at the other, and the time of a ride by
 * less; a weak rider's by twice as much. */
static double efficiency_of(const struct app_ride *ride, const struct ride_drive *drive, const struct mech_gear *gear,
                            double angle_deg) {
    if (!isnan(drive->efficiency)) {
        return drive->efficiency;
    }
    double middle_rpm = sqrt(ride->road->habits.flat.low_rpm * ride->road->habits.flat.high_rpm);
    double tension_n = mech_drive_tension_n(ride->road->habits.power_w, gear->ring, middle_rpm);
    struct mech_drive_loss loss = mech_drive_loss_of(&drive->chain, gear->ring, gear->sprocket, tension_n, angle_deg);
    return mech_drive_efficiency(&loss);
}

/* Numbers of teeth as places, from the smallest. */
static unsigned place_of(const struct app_gears *gears, int teeth, bool ring) {
    int seen[SPROCKETS_MOST];
    unsigned n = 0;
    for (size_t i = 0; i < gears->n; i++) {
        int other = ring ? gears->gears[i].ring : gears->gears[i].sprocket;
        bool is_new = other < teeth;
        for (unsigned k = 0; k < n && is_new; k++) {
            is_new = seen[k] != other;
        }
        if (is_new && n < SPROCKETS_MOST) {
            seen[n++] = other;
        }
    }
    return n;
}

static enum base_status list_gears(struct app_ride_bike *out, struct app_ride *ride, struct base_arena *arena,
                                   const struct trade_bike *bike, const struct fit_build *build) {
    const struct ride_drive drive = app_drive_of(&ride->road->rider, bike);
    struct app_line *line = base_arena_alloc(arena, 1, sizeof *line);
    struct app_gears gears;
    enum base_status status = line ? app_gears_of(&gears, arena, bike, build) : BASE_NO_MEMORY;
    if (status == BASE_OK) {
        status = app_line_of(line, arena, bike, build);
    }
    if (status != BASE_OK) {
        return status;
    }
    if (!out->way) {
        ride->open = gears.open;
    }
    struct ride_choice *choices = base_arena_alloc(arena, gears.n, sizeof *choices);
    if (!choices) {
        return BASE_NO_MEMORY;
    }
    out->known = gears.known;
    out->gears = gears.gears;
    out->choices = choices;
    out->n = isnan(gears.lowest_m) ? 0 : gears.n;
    for (size_t i = 0; i < out->n; i++) {
        const struct mech_gear *gear = &gears.gears[i];
        choices[i] = (struct ride_choice){.development_m = gears.development_m[i],
                                          .efficiency = efficiency_of(ride, &drive, gear, angle_of(line, gear)),
                                          .ring = place_of(&gears, gear->ring, true),
                                          .sprocket = place_of(&gears, gear->sprocket, false)};
    }
    return BASE_OK;
}

/* --- one bike on the route ----------------------------------------------------------------------------------------- */

/* Below the band, and how the bike as it stands goes over the same cells. */
static void compare_below(struct app_ride_bike *bike, const struct ride_run *now, size_t n) {
    double turns = 0.0, time_s = 0.0, now_turns = 0.0, now_s = 0.0;
    bool now_rides = true;
    for (size_t i = 0; i < n; i++) {
        if (bike->run.moments[i].mode == RIDE_MODE_BELOW) {
            turns += bike->run.moments[i].rpm * bike->run.moments[i].time_s;
            time_s += bike->run.moments[i].time_s;
            now_turns += now->moments[i].rpm * now->moments[i].time_s;
            now_s += now->moments[i].time_s;
            now_rides = now_rides && now->moments[i].rpm > 0.0F;
        }
    }
    bike->below_rpm = time_s > 0.0 ? turns / time_s : NAN;
    bike->now_rpm = time_s > 0.0 && now_rides ? now_turns / now_s : NAN;
}

static double time_downhill(const struct ride_run *run, const struct ride_cell *cells, size_t n) {
    double time_s = 0.0;
    for (size_t i = 0; i < n; i++) {
        time_s += cells[i].gradient < 0.0 ? run->moments[i].time_s : 0.0F;
    }
    return time_s;
}

static enum base_status ride_bike(struct app_ride *ride, struct base_arena *arena, const struct trade_bike *bike,
                                  const struct fit_build *build, const struct plan_way *way) {
    struct app_ride_bike *out = &ride->bikes[ride->n_bikes];
    const struct ride_profile *p = &ride->road->profile;
    *out = (struct app_ride_bike){.way = way, .letter = way ? (char)('A' + ride->n_bikes - 1) : '\0'};
    enum base_status status = list_gears(out, ride, arena, bike, build);
    if (status == BASE_OK) {
        const struct ride_gearing gearing = {out->choices, out->n};
        status = ride_simulate(&out->run, arena, &ride->road->machine, &ride->road->habits, gearing, p->cells, p->n);
    }
    if (status != BASE_OK) {
        return status;
    }
    const struct ride_run *now = &ride->bikes[0].run;
    for (size_t i = 0; i < ride->n_pitches; i++) {
        out->pitches[i] = ride_stretch_of(&out->run, p->cells, ride->pitches[i].first, ride->pitches[i].n);
    }
    compare_below(out, now, p->n);
    out->down_lost_s = time_downhill(&out->run, p->cells, p->n) - time_downhill(now, p->cells, p->n);
    out->saved_s = now->time_s - out->run.time_s;
    ride->n_bikes++;
    return BASE_OK;
}

/* --- the other way round: which gears, which ring ------------------------------------------------------------------ */

/* The sprockets of now, the largest first, so that the developments of a ring rise. */
static size_t sprockets_of(int *out, const struct app_ride_bike *now) {
    size_t n = 0;
    for (size_t i = 0; i < now->n && n < SPROCKETS_MOST; i++) {
        if (now->gears[i].ring == now->gears[0].ring) {
            out[n++] = now->gears[i].sprocket;
        }
    }
    return n;
}

/* Even rings, as most are made, from the smallest that leaves nothing of the highest gear to be wished for, downward past
 * the one that is low enough. */
static void list_rings(struct app_ride *ride, const struct ride_speeds *speeds) {
    const int least = (int)trade_limits[TRADE_LIMIT_RING_LEAST_TEETH].value,
              most = (int)trade_limits[TRADE_LIMIT_RING_MOST_TEETH].value,
              step = (int)trade_limits[TRADE_LIMIT_RING_STEP_TEETH].value;
    int sprockets[SPROCKETS_MOST];
    const struct app_ride_bike *now = &ride->bikes[0];
    size_t n = sprockets_of(sprockets, now);
    double per_tooth_m = now->choices[0].development_m / now->gears[0].ring; /* of the lowest gear */
    int enough = isnan(ride->needed_m) ? most : (int)floor(ride->needed_m / per_tooth_m + 1e-9);
    int first = enough - enough % step + 2 * step;
    first = first > most ? most : first < least + step ? least + step : first;
    for (int ring = first; ring >= least && ride->n_rings < APP_RIDE_RINGS; ring -= step) {
        struct app_ride_ring *out = &ride->rings[ride->n_rings++];
        double developments_m[SPROCKETS_MOST];
        for (size_t i = 0; i < n; i++) {
            developments_m[i] = per_tooth_m * ring * sprockets[0] / sprockets[i];
        }
        *out = (struct app_ride_ring){ring, developments_m[0], developments_m[n - 1],
                                      ride_score_of(speeds, developments_m, n)};
    }
}

/* --- every way of a plan ------------------------------------------------------------------------------------------- */

/* In the band longer than the other (NULL: none), or as long as far as anybody reads it and a pick, where that is none. */
static bool stays_longer(const struct app_ride_scored *way, const struct app_ride_scored *other) {
    double more = other ? ride_score_in_band(&way->score) - ride_score_in_band(&other->score) : 1.0;
    bool alike = fabs(more) < SAME_SHARE;
    return alike ? way->way->purposes != 0 && other->way->purposes == 0 : more > 0.0;
}

static enum base_status score_way(struct app_ride *ride, const struct ride_speeds *speeds,
                                  const struct trade_bike *bike, const struct plan_way *way) {
    struct base_arena arena;
    struct app_gears gears;
    base_arena_init(&arena, 0);
    enum base_status status = app_gears_of(&gears, &arena, bike, &way->build);
    if (status == BASE_OK && !isnan(gears.lowest_m)) {
        struct app_ride_scored *out = &ride->front[ride->n_front++];
        *out = (struct app_ride_scored){way, gears.lowest_m, gears.highest_m,
                                        ride_score_of(speeds, gears.development_m, gears.n)};
        if (stays_longer(out, ride->most_in_band)) {
            ride->most_in_band = out;
        }
    }
    base_arena_clear(&arena);
    return status;
}

static enum base_status score_front(struct app_ride *ride, struct base_arena *arena, const struct ride_speeds *speeds,
                                    const struct trade_bike *bike) {
    size_t n = ride->plan ? ride->plan->n_ways : 0;
    ride->front = base_arena_alloc(arena, n, sizeof *ride->front);
    enum base_status status = ride->front ? BASE_OK : BASE_NO_MEMORY;
    for (size_t i = 0; i < n && status == BASE_OK; i++) {
        status = score_way(ride, speeds, bike, &ride->plan->ways[i]);
    }
    return status;
}

static enum base_status score(struct app_ride *ride, struct base_arena *arena, const struct trade_bike *bike) {
    const struct ride_speeds *speeds = ride->road->speeds;
    const struct ride_habits *habits = &ride->road->habits;
    double climbing_mps = ride_speeds_climbing_mps(speeds, CLIMB_SHARE);
    ride->needed_m = climbing_mps > 0.0 ? 60.0 * climbing_mps / habits->climb.low_rpm : NAN;
    ride->highest_m = 60.0 * ride_speeds_pedalled_mps(speeds, PEDAL_SHARE) / habits->flat.high_rpm;
    if (ride->bikes[0].n > 0) {
        list_rings(ride, speeds);
    }
    return score_front(ride, arena, speeds, bike);
}

/* --- the whole ----------------------------------------------------------------------------------------------------- */

static void set_hills(struct app_ride *ride) {
    const struct ride_profile *p = &ride->road->profile;
    ride->n_pitches = ride_pitches_of(ride->pitches, APP_RIDE_PITCHES, p->cells, p->n);
    ride->steepest = -1.0;
    for (size_t i = 0; i < p->n; i++) {
        ride->steepest = fmax(ride->steepest, p->cells[i].gradient);
    }
}

enum base_status app_ride_of(struct app_ride *out, struct base_arena *arena, const struct trade_bike *bike,
                             const struct app_way *way, const struct app_road *road, const struct plan *plan) {
    static const struct ride_route no_route;
    struct fit_build now;
    memset(out, 0, sizeof *out);
    out->way = way;
    out->road = road;
    out->route = way->route ? way->route : &no_route;
    out->n_stated = way->route ? 0 : way->n_climbs;
    out->plan = plan;
    set_hills(out);
    fit_build_now(&now, bike);
    enum base_status status = ride_bike(out, arena, bike, &now, NULL);
    for (size_t i = 0; plan && i < plan->n_picks && status == BASE_OK; i++) {
        const struct plan_way *pick = &plan->ways[plan->picks[i]];
        status = ride_bike(out, arena, bike, &pick->build, pick);
    }
    return status == BASE_OK ? score(out, arena, bike) : status;
}
