/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Small parts that a job needs beside those of the slots: bolts, pads, a hose end. They are in no catalogue and carry no
 * price; data/small_parts.csv says which slots call for each, and on what condition (the words of needed_if).
 *
 * Listed is what the trade is sure of. Where it hangs on something that nobody has looked at, a row of its own says so.
 */
#ifndef FIT_SMALL_PARTS_H
#define FIT_SMALL_PARTS_H

#include "fit/judge.h"

/* What this build of the bike needs; bit set of enum trade_small_part. Pure. */
uint32_t fit_small_parts(const struct trade_bike *bike, const struct fit_build *build);

#endif
