/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Will these gears do on this route? The bike as it stands and the picks of a plan, each ridden over the whole route by one
 * rider; and the other way round, what each ring would make of it.
 */
#ifndef APP_RIDE_H
#define APP_RIDE_H

#include "app/answers.h"
#include "app/road.h"
#include "app/text.h"
#include "ride/pitch.h"

#define APP_RIDE_PITCHES 3
#define APP_RIDE_RINGS 6
#define APP_RIDE_BIKES (1 + PLAN_PURPOSES) /* as it stands, and the picks */

/* One bike on the route. */
struct app_ride_bike {
    const struct plan_way *way; /* NULL: as it stands */
    char letter;                /* of the way; 0 for the bike as it stands */
    const struct mech_gear *gears;
    const struct ride_choice *choices; /* of each gear */
    size_t n;                          /* 0: some of rings, sprockets and wheel is open */
    enum base_known known;             /* of the developments */
    struct ride_run run;
    struct ride_stretch pitches[APP_RIDE_PITCHES];
    double below_rpm;   /* mean over what is ridden below the band; NAN where nothing is */
    double now_rpm;     /* and what the bike as it stands makes of the same; NAN where it walks or coasts there */
    double down_lost_s; /* what the ride downhill takes longer than now; below 0: less long */
    double saved_s;     /* of all, by gears that lose less or do more; below 0: it takes longer than now */
};

/* A ring alone with the cassette of now, by the speeds of a ride without gears. */
struct app_ride_ring {
    int ring;
    double lowest_m, highest_m;
    struct ride_score score;
};

/* A way that nothing beats, by the speeds of a ride without gears. */
struct app_ride_scored {
    const struct plan_way *way;
    double lowest_m, highest_m;
    struct ride_score score;
};

struct app_ride {
    const struct app_way *way;
    const struct app_road *road;
    const struct ride_route *route; /* without points where climbs were stated */
    size_t n_stated;                /* climbs; 0: a route */
    struct ride_pitch pitches[APP_RIDE_PITCHES];
    size_t n_pitches;
    double steepest;                            /* gradient of the steepest cell */
    struct app_ride_bike bikes[APP_RIDE_BIKES]; /* the first as it stands */
    size_t n_bikes;
    double
        needed_m; /* development that keeps the rider in the band for 95 % of the time uphill; NAN: nothing is climbed */
    double highest_m;                           /* and past which they pedal for 1 % of the time only */
    struct app_ride_ring rings[APP_RIDE_RINGS]; /* falling */
    size_t n_rings;
    const struct plan *plan;       /* NULL: none */
    struct app_ride_scored *front; /* every way of the plan in its order, where its gears are known */
    size_t n_front;
    const struct app_ride_scored *most_in_band; /* of these; the first of equals. NULL: none */
    struct app_open open;                       /* what gears wait for */
};

/* Rides a way with a bike as it stands, and with the picks of a plan of it (NULL: none); scores all its ways. road is of this
 * bike and way; all are borrowed. BASE_NO_MEMORY. */
enum base_status app_ride_of(struct app_ride *out, struct base_arena *arena, const struct trade_bike *bike,
                             const struct app_way *way, const struct app_road *road,
                             const struct plan *plan) BASE_CHECKED;

/* As a person reads it, and as a program does. */
void app_text_ride(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                   const struct app_ride *ride);
void app_json_ride(struct base_buffer *out, const struct app_ride *ride);

#endif
