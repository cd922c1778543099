/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The cage of a rear derailleur as a mechanism: for a chain of so many pitches, how far it turns in a gear.
 *
 * One idea: body and hanger put the pivot of the cage somewhere; guide and tension wheel turn about it as one. The path
 * round sprocket, ring, tension wheel and guide wheel (loop.h) grows as the cage turns back, so that a chain of given
 * length lets it stand at one angle only. The spring pulls it back: what the chain bears follows from how fast the path
 * grows, by virtual work.
 *
 * Representation: origin at the bottom bracket, x to the front, y up, mm, seen from the drive side. The cage's angle is that of
 * the line from guide wheel to tension wheel, from straight down, forward positive, in radians. The pivot lies on that
 * line. The chain is in one plane; teeth of the wheels between 6 and 20.
 *
 * What stays open: the chain is made of straight pitches, the path here goes by circles. Over all positions of the teeth
 * a real chain round four wheels needs up to 0.003 pitches more on average, and 0.02 (a quarter of a millimetre) more or
 * less at worst: far less than a spring takes up.
 *
 * Source: plane geometry and virtual work, derived here.
 */
#ifndef MECH_CAGE_H
#define MECH_CAGE_H

#include "base/status.h"
#include "mech/suspension.h"

/* How far a cage can turn before its body stops it, radians: as far as is looked. What stops it earlier is the chain. */
#define MECH_CAGE_FORWARD_MAX 1.745329251994329577 /* 100 degrees */
#define MECH_CAGE_BACK_MAX (-1.570796326794896619) /* 90 degrees */

/* Nearer than this to the chain on the guide wheel the lower run rubs on it, mm: two halves of a plate, 8.5 mm high. From
 * memory. */
#define MECH_CAGE_PLATE_MM 8.5

struct mech_cage {
    double apart_mm;  /* between the centres of guide and tension wheel, 20 to 200 */
    double offset_mm; /* from the guide wheel's centre down to the pivot, 0 to apart_mm; 0: the cage turns about it */
    int guide_teeth, tension_teeth;
    double spring_nmm; /* what the spring turns the cage back with, N mm, 0 to 10 000 */
};

/* A gear of a bike: where rear axle and pivot are. */
struct mech_cage_gear {
    int ring, sprocket;
    struct mech_point axle, pivot;
};

enum mech_cage_state {
    MECH_CAGE_FITS,
    MECH_CAGE_SLACK, /* as far back as it goes, the chain still hangs */
    MECH_CAGE_SHORT  /* as far forward as it goes, the chain does not reach */
};

struct mech_cage_fit {
    enum mech_cage_state state;
    double angle_rad;   /* where it stands; where it stops when slack or short */
    double slack_links; /* pitches that hang: above 0 when slack, below 0 when short, else 0 */
    double gap_mm;      /* between the tips of guide wheel and sprocket; below 0 they touch */
    double low_mm;      /* how far the chain on the tension wheel hangs below the rear axle; below 0: above */
    double ring_wrap_rad, sprocket_wrap_rad;
    double tension_n; /* of the lower run, from the spring alone; 0 when slack or short */
};

/* How a chain of `links` pitches (20 to 400) stands in the gear. near_rad: where to look first, such as the angle of a
 * neighbouring gear or travel; it can't change the answer by more than 1e-6 links. BASE_BAD_INPUT: a value out of range.
 * BASE_NO: at no angle is there a path, such as where the guide wheel would stand in the sprocket. out is untouched on
 * failure. */
enum base_status mech_cage_settle(struct mech_cage_fit *out, const struct mech_cage *cage,
                                  const struct mech_cage_gear *gear, double links, double near_rad) BASE_CHECKED;

/* The least pitches that the gear needs, and the most that the cage takes up, not rounded: with the cage as far forward
 * and as far back as the chain lets it. Errors as above. */
enum base_status mech_cage_range(double *least_links, double *most_links, const struct mech_cage *cage,
                                 const struct mech_cage_gear *gear) BASE_CHECKED;

/* Where the pivot stands when the guide wheel's tips keep gap_mm from those of the sprocket in the direction toward_rad
 * (from straight down, forward positive), the wheel standing at the pivot. Teeth as above. */
enum base_status mech_cage_pivot(struct mech_point *out, struct mech_point axle, int sprocket, int guide_teeth,
                                 double gap_mm, double toward_rad) BASE_CHECKED;

#endif
