/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The rings of a build taken together, for rules that look at all three places.
 */
#ifndef FIT_RINGS_H
#define FIT_RINGS_H

#include "fit/rule.h"

struct fit_rings {
    unsigned n;            /* rings in the three places, 0..3 */
    bool open;             /* the teeth of one of them are not known; largest and smallest are of the others then */
    int largest, smallest; /* teeth; 0 when there is none */
};

/* Teeth of the outer, middle and inner ring stand in the reads first, first + 1 and first + 2, each FIT_EMPTY_OK. */
struct fit_rings fit_rings_of(const struct fit_values *v, unsigned first);

/* The reads that fit_rings_of wants, for designated initializers; FLAGS is FIT_EMPTY_OK or FIT_MAYBE. */
#define FIT_RING_TEETH(OUTER, MIDDLE, INNER, FLAGS)                                                                    \
    [OUTER] = FIT_READ(TRADE_SLOT_OUTER_RING, TRADE_RING_TEETH, FLAGS),                                                \
    [MIDDLE] = FIT_READ(TRADE_SLOT_MIDDLE_RING, TRADE_RING_TEETH, FLAGS),                                              \
    [INNER] = FIT_READ(TRADE_SLOT_INNER_RING, TRADE_RING_TEETH, FLAGS)

/* Number of rings where first .. first + 2 read FIT_PRESENT of the three places. */
unsigned fit_rings_there(const struct fit_values *v, unsigned first);

#define FIT_RING_PRESENT(OUTER, MIDDLE, INNER)                                                                         \
    [OUTER] = FIT_READ(TRADE_SLOT_OUTER_RING, FIT_PRESENT, FIT_EMPTY_OK),                                              \
    [MIDDLE] = FIT_READ(TRADE_SLOT_MIDDLE_RING, FIT_PRESENT, FIT_EMPTY_OK),                                            \
    [INNER] = FIT_READ(TRADE_SLOT_INNER_RING, FIT_PRESENT, FIT_EMPTY_OK)

/* The row of a ring mount; every word of ring_mount has one. */
const struct trade_ring_mounts_row *fit_ring_mount_row(unsigned mount);

#endif
