/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A rider: what is known of the person, the bicycle as it is ridden, the air and the ground, and how each is known.
 *
 * One idea: every figure carries how it is known, so that a result can say what it rests on. Which figures a rider has who
 * gave none stands under data/, and whoever fills this struct takes them from there as assumed; a figure that nobody gave
 * and that has no usual value stays open. Of an open figure the value is NAN.
 */
#ifndef RIDE_RIDER_H
#define RIDE_RIDER_H

#include "base/known.h"
#include "ride/load.h"

/* A figure and how it is known. */
struct ride_figure {
    double value;
    enum base_known known;
};

/* The cadences that a rider likes, turns of the cranks a minute: low <= high. */
struct ride_band {
    double low_rpm;
    double high_rpm;
    enum base_known known;
};

struct ride_rider {
    struct ride_figure mass_kg;            /* with clothes and what is carried on the body: 10..250 */
    struct ride_figure bike_mass_kg;       /* with its load: 3..120 */
    struct ride_figure power_w;            /* that the rider holds, at the cranks: 10..1000 */
    struct ride_band flat;                 /* on the flat */
    struct ride_band climb;                /* seated, uphill */
    struct ride_figure least_rpm;          /* below this the rider gets off: 20..200 */
    struct ride_figure drag_area_m2;       /* drag coefficient x area: 0.1..1.5 */
    struct ride_figure wheel_drag_area_m2; /* of the turning wheels: 0..0.1 */
    struct ride_figure crr;                /* rolling resistance: 0..0.3 */
    struct ride_figure air_density_kg_m3;  /* 0.3..2 */
    struct ride_figure drive_efficiency;   /* a fixed share of the power, 0.5..1; open: by the losses of the chain */
    struct ride_figure crank_mm;           /* 90..220; may be open */
    struct ride_figure com_forward_mm;     /* centre of mass before the rear axle; may be open */
    struct ride_figure com_height_mm;      /* and above the ground; may be open */
    struct ride_figure grip;               /* of the rear tyre, tangent of the angle at which it slips; may be open */
};

/* A figure that is known; one that nobody gave. */
struct ride_figure ride_figure_of(double value, enum base_known known);
struct ride_figure ride_figure_open(void);

/* A rider of whom nothing is known: every figure open. */
void ride_rider_init(struct ride_rider *out);

/* Rider and bicycle together; as known as the weaker of the two. */
struct ride_figure ride_rider_total_kg(const struct ride_rider *rider);

/* What the road load asks for. The figures of mass, drag, rolling and air must not be open. The wheels and their
 * bearings are those of load.h. known: of the weakest figure that went in. */
struct ride_machine ride_rider_machine(const struct ride_rider *rider, enum base_known *known);

#endif
