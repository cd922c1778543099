/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The bench sheet of a build as data: its operations in order, what is read with which of them against which limits, and
 * what nobody has read yet and must be read before which of them.
 *
 * Steps are numbered from 0 here; people count from 1. Nothing here allocates for its caller: a sheet is one value.
 */
#ifndef WORK_SHEET_H
#define WORK_SHEET_H

#include "work/order.h"

#define WORK_READINGS_MAX 96
#define WORK_ASKS_MAX 48

/* A value that is written down when a step is done. */
struct work_reading {
    size_t step;
    int check;             /* enum trade_check; -1: it is a torque */
    int torque;            /* row of trade_torques; -1: it is a check */
    const char *unit;      /* "mm", "N·m", "pitches", "turns" */
    double low, high;      /* limits, inclusive; NAN where there is none */
    double expected;       /* what was worked out; NAN when nothing was */
    enum base_known known; /* of limits and expected: the weakest */
};

/* A value that the build leans on and that nobody has read on this bike. */
struct work_ask {
    size_t before;     /* the step before which it is read, as soon as it can be: nothing new is on yet */
    uint8_t subject;   /* as in fit_read */
    uint16_t property; /* enum trade_property, or FIT_VALUE of a measure */
    int dim;           /* in the question's cases; -1: no usual readings */
    uint32_t stands;   /* readings of the dimension with which the build stands; bit set */
    bool decides;      /* with another reading the build falls; else it was only assumed */
};

struct work_question {
    const struct trade_bike *bike;
    const struct fit_build *build;
    const struct trade_shop *shop;
    const struct fit_cases *cases; /* of the bike */
    int links;                     /* pitches to cut the chain to; 0: open */
    enum base_known links_known;
    size_t limit_sets; /* of work_order; 0: WORK_SETS_MAX */
};

struct work_sheet {
    struct work_list steps; /* in order */
    bool least;             /* the order was proved the best; false: there was too much to try, and it is the table's */
    struct work_cost cost;
    struct work_list found; /* what strip-down may bring to light */
    uint32_t charged;       /* bit set of enum trade_operation */
    struct work_minutes minutes;
    struct work_reading readings[WORK_READINGS_MAX]; /* by step */
    size_t n_readings;
    struct work_ask asks[WORK_ASKS_MAX]; /* by step, those that decide first */
    size_t n_asks;
};

/* BASE_NO_MEMORY: out is untouched. */
enum base_status work_sheet_of(struct work_sheet *out, const struct work_question *question) BASE_CHECKED;

/* Limits of a check on a build, and what was worked out; step is 0. False where it does not apply: the rotor of a build
 * without one, a chain line without a window. */
bool work_check_of(struct work_reading *out, enum trade_check check, const struct work_question *question);

/* Is a reading within its limits? A value at a limit is. */
bool work_in_limits(const struct work_reading *reading, double value);

#endif
