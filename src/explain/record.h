/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Entries of a job's record in words.
 */
#ifndef EXPLAIN_RECORD_H
#define EXPLAIN_RECORD_H

#include "base/text.h"
#include "work/record.h"

/* 'pinch_bolts 13.0 (12.0 to 14.0)', and of one outside its limits that it is, and why. Of a measured value only. */
void explain_measured(struct base_buffer *out, const struct work_entry *entry);
/* Any entry but ticks, minutes and signatures, of which nothing is said, in sentences with its reason. */
void explain_entry(struct base_buffer *out, const struct work_entry *entry);

#endif
