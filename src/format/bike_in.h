/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A bike file: one JSON object, described in full by docs/schema/bike.schema.json.
 */
#ifndef FORMAT_BIKE_IN_H
#define FORMAT_BIKE_IN_H

#include "base/fault.h"
#include "trade/bike.h"
#include "trade/names.h"

/* A rule as far as a bike's file may overrule it. */
struct format_rule {
    const char *id;
    uint32_t slots; /* bit set of those that it looks at */
    bool safety;    /* it can't be overruled */
};

/* Reads a bike and completes it from the tables. bytes are borrowed for the call only; file is how the user named it.
 * names keeps the bike's names and must outlive it. rules: those that an overruled finding may name, each id once. out is untouched
 * unless BASE_OK; clear it with trade_bike_clear. BASE_BAD_INPUT: faults has at least one more; BASE_NO_MEMORY.
 * What contradicts itself across properties is no fault here but a finding of src/fit. */
enum base_status format_bike_read(struct trade_bike *out, struct base_slice bytes, const char *file,
                                  struct trade_names *names, const struct format_rule *rules, size_t n_rules,
                                  struct base_faults *faults) BASE_CHECKED;

#endif
