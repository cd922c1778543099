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

/* Planes are distances from the bike's centre plane to the drive side, mm. */
struct draw_above_ring {
    int teeth;
    double plane_mm;
    enum base_known known;
    double radius_mm; /* of the pitch circle */
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
    size_t n_rings;
    const struct draw_above_ring *now; /* rings that go away, likewise */
    size_t n_now;
    const struct draw_above_sprocket *sprockets; /* the smallest first, at least 1 */
    size_t n_sprockets;
    enum base_known rear_known;
    bool cassette_new;
    struct draw_above_run runs[3]; /* into the largest sprocket, into the smallest, and one between */
    size_t n_runs;
    double hub_face_mm; /* NAN: open */
    enum base_known hub_known;
    double front_mm; /* the chain line */
    enum base_known front_known;
    double low_mm, high_mm; /* that the frame wants; NAN: open */
    const char *wants;      /* the same in words; "" where it is open */
    double stay_mm;         /* the stay's face beside the outermost ring's edge; NAN: open */
    double stay_behind_mm;  /* how far that is behind the crank axle */
    double room_mm;         /* between stay and that ring; NAN: open */
    enum base_known room_known;
};
/* Chain, rings and sprockets from above, and a section at the ring. */
void draw_above(struct base_buffer *out, const struct draw_style *style, const struct draw_above *above);

#endif
