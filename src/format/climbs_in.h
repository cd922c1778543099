/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Climbs as a person states them: `14 % for 600 m, 8 % for 1.2 km`, one after the other.
 */
#ifndef FORMAT_CLIMBS_IN_H
#define FORMAT_CLIMBS_IN_H

#include "base/fault.h"
#include "ride/profile.h"

#define FORMAT_CLIMBS_MAX 64
#define FORMAT_CLIMB_LEAST_M 10.0
#define FORMAT_CLIMB_MOST_M 100000.0

/* Reads at most FORMAT_CLIMBS_MAX climbs, as cells as long as the climbs; `for` and `%` may be left out, lengths are in m
 * or km along the road, gradients from -35 to 35 %. source: what faults name as their file. out (of FORMAT_CLIMBS_MAX) and
 * n are untouched unless BASE_OK; BASE_BAD_INPUT: faults has at least one more. */
enum base_status format_climbs_read(struct ride_cell *out, size_t *n, struct base_slice text, const char *source,
                                    struct base_faults *faults) BASE_CHECKED;

#endif
