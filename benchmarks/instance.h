/* SPDX-License-Identifier: Apache-2.0 */
/*
 * An instance without any trade in it.
 *
 * Eight slots in a row take some parts each. Eleven interfaces join them: each slot with the next (seven), and slots 0 and
 * 2, 2 and 4, 4 and 6, 5 and 7 (four). A part has one of three values at each interface of its slot, drawn evenly; two
 * parts go together when their values are equal. A part has two or three whole objectives, which add up over the slots
 * and are to be small: the second falls as the first rises, with scatter; the third is drawn by itself.
 */
#ifndef BENCHMARKS_INSTANCE_H
#define BENCHMARKS_INSTANCE_H

#include <stdint.h>

#define INSTANCE_SLOTS 8
#define INSTANCE_INTERFACES 11
#define INSTANCE_OBJECTIVES_MAX 3
#define INSTANCE_PARTS_MAX 1000

extern const int instance_ends[INSTANCE_INTERFACES][2]; /* the two slots of each, the lower first */

struct instance_part {
    int worth[INSTANCE_OBJECTIVES_MAX]; /* unused ones are 0 */
    int value[INSTANCE_INTERFACES];     /* -1: not an interface of its slot */
};

struct instance {
    int parts, objectives;
    struct instance_part part[INSTANCE_SLOTS][INSTANCE_PARTS_MAX];
};

/* From a seed; 1 to INSTANCE_PARTS_MAX parts, 2 or 3 objectives. */
void instance_make(struct instance *out, int parts, int objectives, uint64_t seed);

#endif
