/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Will these gears climb it? A hill of one gradient, in every gear of a bike; and the other way round, the gear and the
 * ring that a cadence on that hill takes.
 */
#ifndef APP_CLIMB_H
#define APP_CLIMB_H

#include "app/answers.h"
#include "app/rider.h"
#include "app/text.h"
#include "trade/wish.h"

/* One gear on the hill. Where the wheel is open neither development nor cadence are known. */
struct app_climb_gear {
    struct ride_gear gear;
    struct ride_in_gear in; /* valid where the development is known */
    bool walked;            /* slower than the rider bears */
};

/* A ring alone, with the cassette that is there. */
struct app_climb_ring {
    int ring;
    double lowest_m;
    double cadence_rpm; /* on the hill, in the lowest gear */
    bool serves;        /* at or above the cadence that was asked for */
    double highest_m;
    double top_kmh;          /* in the highest gear, at the top of the band on the flat */
    double than_now_percent; /* the highest gear against that of now; below 0: lower */
};

#define APP_CLIMB_RINGS 6

struct app_climb {
    double gradient_percent;
    double length_m;    /* along the road; NAN: not stated */
    double cadence_rpm; /* that was asked for: the low end of the band, or what the question names */
    struct ride_rider rider;
    enum app_power_from power_from;
    struct ride_band band;
    enum base_known known;        /* of speed and cadences: the weakest figure of all */
    double speed_mps;             /* in the gear that is taken; without gears, with a usual drive */
    struct ride_load load;        /* at that speed */
    double drive_loss_w;          /* between cranks and wheel, at that speed */
    double needed_m;              /* development for the cadence that was asked for */
    double pedal_force_n;         /* mean, in the gear that is taken; NAN while arms or gears are open */
    double lift_percent;          /* NAN: open */
    double slip_percent;          /* NAN: open, or never */
    bool never_slips;             /* before the front lifts */
    struct app_climb_gear *gears; /* rising ratio */
    size_t n;
    bool has_cadences; /* gears and wheel are known */
    size_t taken;      /* index of the gear that the rider takes; where has_cadences */
    int largest_ring;  /* that serves with this cassette; 0: open, or no ring does */
    int largest_sprocket;
    struct app_climb_ring rings[APP_CLIMB_RINGS]; /* falling, about the largest that serves */
    size_t n_rings;
    struct app_open open;        /* what gears and cadences wait for */
    struct app_open limits_open; /* what the limits of front and rear wheel wait for */
};

/* gradient_percent -30..60; cadence_rpm 20..200, NAN: the low end of the rider's band uphill. Of a bike on which
 * trade_bike_complete_rider was called. BASE_NO_MEMORY; BASE_BAD_INPUT: a figure out of its range. */
enum base_status app_climb_of(struct app_climb *out, struct base_arena *arena, const struct trade_bike *bike,
                              const struct fit_build *build, double gradient_percent, double cadence_rpm) BASE_CHECKED;

/* Turns the climbs of a wish into a bound on the lowest gear, by the rider, mass and losses of the bike as it stands: the
 * least of them, and of the bound that was wished beside them. Each climb keeps the bound that it asked for. Errors as above.
 */
enum base_status app_climb_bound(struct trade_wish *wish, const struct trade_bike *bike) BASE_CHECKED;

/* As a person reads it, and as a program does. */
void app_text_climb(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                    const struct app_climb *climb);
void app_json_climb(struct base_buffer *out, const struct app_climb *climb);
/* Climbs whose lengths were stated, one after the other. */
void app_json_climbs(struct base_buffer *out, const struct app_climb *climbs, size_t n);

#endif
