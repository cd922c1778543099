/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Bare geometry: wheels that a chain runs round, and a rear suspension. One JSON object each, described in full by
 * docs/schema/path_input.schema.json and docs/schema/suspension_input.schema.json.
 */
#ifndef FORMAT_GEOMETRY_IN_H
#define FORMAT_GEOMETRY_IN_H

#include "base/fault.h"
#include "format/item.h"
#include "mech/loop.h"
#include "mech/suspension.h"

struct format_wheels {
    struct mech_loop_wheel at[MECH_LOOP_WHEELS_MAX]; /* in the order in which the chain meets them */
    int teeth[MECH_LOOP_WHEELS_MAX];                 /* 0: given by its radius */
    size_t n;
};

/* Reads wheels. out is untouched unless BASE_OK. BASE_BAD_INPUT: faults has at least one more; BASE_NO_MEMORY. */
enum base_status format_wheels_read(struct format_wheels *out, struct base_slice bytes, const char *file,
                                    struct base_faults *faults) BASE_CHECKED;

#define FORMAT_TRAVELS_MAX 1000

struct format_suspension {
    struct mech_suspension suspension;
    struct mech_suspension_drive drive;
    int new_ring, new_sprocket;           /* of the gear that is to take its place; new_ring 0: none is asked about */
    double sag_mm;                        /* travel that the rider's weight takes; NAN: not given */
    double travel_mm[FORMAT_TRAVELS_MAX]; /* as given */
    size_t n;
};

/* Reads a suspension. The axle at rest is put among measured points; without it their first is the axle at rest. out is
 * untouched unless BASE_OK. Errors as above. */
enum base_status format_suspension_read(struct format_suspension *out, struct base_slice bytes, const char *file,
                                        struct base_faults *faults) BASE_CHECKED;

/* Reads what a bike's file says of its rear suspension: how the axle goes, the travel, sag and idler. item: the object, place: its
 * own. False with faults told, and out untouched. */
bool format_suspension_in_bike(struct mech_suspension_frame *out, const struct format_place *place,
                               const struct format_item *item) BASE_CHECKED;

#endif
