/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What each figure is told: a small struct of numbers and words. A figure computes where things stand on the page, and
 * nothing that is true of a bike.
 *
 * Two layouts: narrow, 360 units wide, for a phone, and wide, 720; three modes: the bike now, a way, or the way over now.
 * Texts are borrowed, UTF-8. A number that nobody knows is NAN, and is drawn as open.
 */
#ifndef DRAW_FIGURES_H
#define DRAW_FIGURES_H

#include "draw/svg.h"
#include "mech/loop.h"
#include "mech/suspension.h"

/* How a figure is asked for. */
struct draw_style {
    bool wide;
    enum draw_ground ground;
};

/* --- hills each gear serves ---------------------------------------------------------------------------------------- */

/* A gear, from the gradient where the cadence falls under the top of the rider's band to the one where it falls under what
 * the rider bears; percent, from < to. */
struct draw_hills_gear {
    int ring, sprocket; /* teeth */
    double from_percent, to_percent;
};

/* A steep pitch of a route. */
struct draw_hills_pitch {
    double percent, length_m;
};
#define DRAW_PITCHES_MAX 8

struct draw_hills {
    struct draw_head head;
    const struct draw_hills_gear *gears; /* the steepest first within a ring; rings together, the smallest first */
    size_t n;                            /* at least 1 */
    size_t rings;                        /* with several, a label is 'ring/sprocket' */
    const struct draw_hills_gear *now;   /* from the first to the last gear of now; NULL: not drawn */
    const char *now_label;               /* beside it: 'now, 18 gears' */
    double high_rpm, least_rpm;          /* at the two ends of a bar */
    struct draw_hills_pitch pitches[DRAW_PITCHES_MAX];
    size_t n_pitches;
};
/* Appends the figure; a failure to grow stays in out->status. So for all. */
void draw_hills(struct base_buffer *out, const struct draw_style *style, const struct draw_hills *hills);

/* --- steps --------------------------------------------------------------------------------------------------------- */

struct draw_stair_gear {
    int ring, sprocket;  /* teeth */
    double metres;       /* a turn of the cranks, above 0 */
    double step_percent; /* to the next; NAN behind the last */
    bool repeats;        /* the next is no other gear to the rider; false of the last */
};
struct draw_stair {
    const struct draw_stair_gear *gears; /* rising */
    size_t n;                            /* at least 1 */
    size_t rings;
};

struct draw_steps {
    struct draw_head head;
    struct draw_stair shown;
    bool shown_is_now;
    const struct draw_stair *now; /* beside it; NULL: not drawn */
};
/* The gears as stairs that climb to the right. */
void draw_steps(struct base_buffer *out, const struct draw_style *style, const struct draw_steps *steps);

/* --- from above ---------------------------------------------------------------------------------------------------- */

#define DRAW_RINGS_MAX 3

/* Planes are distances from the bike's centre plane to the drive side, mm. */
struct draw_above_ring {
    int teeth;
    double plane_mm;       /* NAN: open */
    enum base_known known; /* BASE_OPEN: the ring is drawn as an open box where the frame wants it */
    double radius_mm;      /* of the pitch circle */
    double thickness_mm;
    bool is_new;
};
struct draw_above_sprocket {
    int teeth;
    double plane_mm, radius_mm;
};
/* The chain between a ring and a sprocket. */
struct draw_above_run {
    int ring, sprocket; /* teeth */
    double ring_mm, sprocket_mm;
    double angle_deg; /* of either sign */
    enum base_known known;
};

struct draw_above {
    struct draw_head head;
    double axles_mm;                     /* between the axles, seen from above */
    const struct draw_above_ring *rings; /* the outermost first, at least 1 */
    size_t n_rings;                      /* up to DRAW_RINGS_MAX */
    const struct draw_above_ring *now;   /* rings that go away, likewise; none with an open plane */
    size_t n_now;
    const struct draw_above_sprocket *sprockets; /* the smallest first, at least 1 */
    size_t n_sprockets;
    enum base_known rear_known;
    bool cassette_new;
    struct draw_above_run runs[3]; /* into the largest sprocket, into the smallest, and one between */
    size_t n_runs;
    double hub_face_mm; /* NAN: open */
    enum base_known hub_known;
    double front_mm; /* the chain line; NAN: open */
    enum base_known front_known;
    double low_mm, high_mm; /* that the frame wants; NAN: open */
    const char *wants;      /* the same in words; "" where it is open */
    double stay_mm;         /* the stay's face beside the outermost ring's edge; NAN: open */
    double stay_behind_mm;  /* how far that is behind the crank axle */
    double room_mm;         /* between stay and that ring; NAN: open */
    enum base_known room_known;
    double
        offset_mm; /* of a single ring: how far its teeth lie nearer to the frame than the face it is held against; 0: not */
    enum base_known offset_known;
    double washers_mm; /* thickness of the spacers under its bolts; 0: none */
    enum base_known washers_known;
    bool washers_new, washers_inside; /* inside: between the ring and the frame, as in the outer place */
};
/* Chain, rings and sprockets from above, and a section at the ring. */
void draw_above(struct base_buffer *out, const struct draw_style *style, const struct draw_above *above);

/* --- what changes -------------------------------------------------------------------------------------------------- */

#define DRAW_ROWS_MAX 24

/* A part: what becomes of it and, beside that, the worst of what no joint can show. */
struct draw_changes_row {
    const char *word;   /* the slot */
    const char *detail; /* name and price of a new part; "" for none */
    enum explain_mark mark, beside;
    const char *title; /* all of it in words */
};
/* A joint between two rows of a column, or across: from a row of the left column to one of the right. */
struct draw_changes_joint {
    size_t from, to;
    bool across;
    enum explain_mark mark;
    const char *title;
};
struct draw_changes_column {
    const struct draw_changes_row *rows;
    size_t n; /* up to DRAW_ROWS_MAX, at least 1 */
    const struct draw_changes_joint *joints;
    size_t n_joints;
};

struct draw_changes {
    struct draw_head head;
    struct draw_changes_column columns[2];
};
/* The parts and their joints as a diagram of two columns. */
void draw_changes(struct base_buffer *out, const struct draw_style *style, const struct draw_changes *changes);

/* --- choices ------------------------------------------------------------------------------------------------------- */

#define DRAW_DOTS_MAX 200 /* ways without a letter that are drawn: the first of them */

struct draw_choices_way {
    char letter;       /* of one that is shown; 0: one of the others */
    double cost;       /* in whole units of the currency */
    double lowest;     /* gear, metres a turn or a ratio: above 0 */
    bool certain;      /* it waits for no measurement */
    const char *title; /* of one that is shown, in words */
};

struct draw_choices {
    struct draw_head head;
    const struct draw_choices_way *ways; /* at least 1, in rising cost */
    size_t n;
    double now_lowest;         /* the lowest gear of now */
    double budget, lowest_max; /* that are wished; NAN: none */
    const char *now_title;
    const char *gear_label, *cost_label; /* of the two axes */
};
/* Every way that no other beats: cost against lowest gear. */
void draw_choices(struct base_buffer *out, const struct draw_style *style, const struct draw_choices *choices);

/* --- from the side ------------------------------------------------------------------------------------------------- */

/* Places are mm from the bottom bracket, x to the front, y up. */
struct draw_side_wheel {
    int teeth;
    double x_mm, y_mm, radius_mm;
    bool is_new;
    const char *title;
};
/* The chain in one gear, round the wheels in its order: sprocket, ring and, with a derailleur, tension and guide wheel. */
struct draw_side_loop {
    struct mech_loop_wheel wheels[4];
    size_t n; /* 2 or 4 */
    struct mech_loop loop;
    const char *title;
    const char *slack; /* what hangs or is missing, in words; "" for nothing */
};

#define DRAW_PATH_POINTS 9

struct draw_side {
    struct draw_head head;
    struct draw_side_loop loops[2]; /* the largest ring and sprocket, drawn solid; the smallest, dashed */
    size_t n_loops;
    struct draw_side_wheel wheels[4];
    size_t n_wheels;
    double axle_x_mm, axle_y_mm; /* the rear axle */
    enum base_known axles_known;
    double largest_ring_mm, largest_sprocket_mm; /* radii */
    const struct draw_side_loop *full;           /* the first loop at full travel of the suspension; NULL: none */
    struct mech_point path[DRAW_PATH_POINTS];    /* of the axle then, from rest to there */
    double travel_mm;
};
/* The chain from the side in the two extreme gears. */
void draw_side(struct base_buffer *out, const struct draw_style *style, const struct draw_side *side);

/* --- route --------------------------------------------------------------------------------------------------------- */

/* Distances are metres along the road from the start. */
struct draw_route_point {
    double at_m, height_m;
};
struct draw_route_pitch {
    double from_m, to_m;
    const char *label;
};
enum draw_route_state {
    DRAW_ROUTE_BELOW, /* no gear is low enough */
    DRAW_ROUTE_ABOVE, /* none is high enough */
    DRAW_ROUTE_FOOT,
    DRAW_ROUTE_STATES
};
struct draw_route_stretch {
    enum draw_route_state state;
    double from_m, to_m;
    const char *title;
};
/* Where the gears of a bike do not do. */
struct draw_route_lane {
    const char *label;
    const struct draw_route_stretch *stretches;
    size_t n;
    bool is_now;
};
#define DRAW_LANES_MAX 2

/* A stretch that is pedalled in one gear. */
struct draw_route_gear {
    int ring, sprocket; /* teeth */
    double from_m, to_m;
};

struct draw_route {
    struct draw_head head;
    double length_m;
    const struct draw_route_point *points; /* rising, at least 2 */
    size_t n;
    struct draw_route_pitch pitches[DRAW_PITCHES_MAX];
    size_t n_pitches;
    struct draw_route_lane lanes[DRAW_LANES_MAX];
    size_t n_lanes;
    const struct draw_route_gear
        *gears; /* in use on the bike of the last lane, along the road; in the wide layout only */
    size_t n_gears;
};
/* The profile of a route, and a lane for each bike. */
void draw_route(struct base_buffer *out, const struct draw_style *style, const struct draw_route *route);

#endif
