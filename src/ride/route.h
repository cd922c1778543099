/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A route: what a track or a planned route tells, as points along the way.
 *
 * One idea: points come one by one, in the order of the file, and are kept only where they get on. A position that jumps
 * away and back is left out, so are those of a bike that stands. Where the track breaks off and goes on elsewhere, nobody
 * knows what was ridden: the break counts no metre, and the points on its two sides know nothing of each other. What was
 * left out is counted, so that it can be told.
 *
 * Memory: 24 bytes a kept point, in the caller's arena; points that are not kept take none.
 */
#ifndef RIDE_ROUTE_H
#define RIDE_ROUTE_H

#include "base/arena.h"
#include "ride/earth.h"

#define RIDE_HEIGHT_LEAST_M (-500.0) /* no road is lower; a recorded height beyond counts as none */
#define RIDE_HEIGHT_MOST_M 9000.0
#define RIDE_TRACK_LEG_M 2000.0  /* longest leg of a recorded track; beyond, the recorder was off */
#define RIDE_PLAN_LEG_M 100000.0 /* and of a planned route, whose points are far apart */

/* A position as it stands in the file. */
struct ride_fix {
    struct ride_position at;
    double height_m; /* NAN: none is given */
    double time_s;   /* since some fixed moment; NAN: none is given */
};

struct ride_point {
    double distance_m; /* from the start; breaks and heights are not in it */
    double height_m;   /* NAN: none is given, or one that is not of this earth */
    bool after_break;  /* nothing is known between the point before and this one */
};

struct ride_route {
    struct ride_point *points; /* owned by the arena */
    size_t n;
    size_t given;        /* fixes that came */
    size_t heights;      /* of these, with a height */
    size_t heights_wild; /* with one that is not of this earth */
    bool heights_differ; /* some height is not 0 */
    size_t times;        /* with a time */
    size_t times_back;   /* whose time lies before that of the one before */
    size_t first_back;   /* the first of these, from 1 */
    size_t astray;       /* left out: jumped away and back */
    size_t standing;     /* left out: the bike stood, or the point was the same */
    size_t breaks;       /* where nothing is known */
    double breaks_m;     /* and how long they are, straight across */
    double moving_s;     /* time between points that were kept, by the clock of the track */

    /* How far the reading has come. */
    struct base_arena *arena;
    size_t room;
    bool recorded;
    struct ride_fix kept, waiting; /* the last point that was kept, and one of which it is not known yet */
    double waiting_m;              /* from the one to the other */
    bool has_kept, has_waiting, waiting_broken, broken;
    double last_time_s;
};

/* A route without points. The arena is borrowed. recorded: a track of a receiver, whose points are near each other and
 * may be astray; else a planned route, whose points are taken as they are. Never fails. */
void ride_route_init(struct ride_route *out, struct base_arena *arena, bool recorded);

/* The next position; latitude and longitude in the ranges of ride_position. BASE_NO_MEMORY. */
enum base_status ride_route_add(struct ride_route *route, const struct ride_fix *fix) BASE_CHECKED;

/* What comes next begins a new piece: a break, unless it is near the end of the last one. */
void ride_route_new_piece(struct ride_route *route);

/* After the last position: only now the points are complete. BASE_NO_MEMORY. */
enum base_status ride_route_end(struct ride_route *route) BASE_CHECKED;

/* Length of the route, m: 0 without points. */
double ride_route_length_m(const struct ride_route *route);

#endif
