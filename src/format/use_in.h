/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How long each gear is used: one JSON object, described in full by docs/schema/gear_use.schema.json.
 */
#ifndef FORMAT_USE_IN_H
#define FORMAT_USE_IN_H

#include "base/fault.h"
#include "base/text.h"

#include <stddef.h>

#define FORMAT_USE_GEARS_MAX 64

struct format_use {
    struct {
        int ring, sprocket; /* teeth */
        double share;       /* of anything that is alike in all: minutes, metres, percent; 0 to 1e6 */
    } at[FORMAT_USE_GEARS_MAX];
    size_t n; /* 1 or more; some share is above 0, and no gear stands there twice */
};

/* Reads it. out is untouched unless BASE_OK. BASE_BAD_INPUT: faults has at least one more; BASE_NO_MEMORY. */
enum base_status format_use_read(struct format_use *out, struct base_slice bytes, const char *file,
                                 struct base_faults *faults) BASE_CHECKED;

#endif
