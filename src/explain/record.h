/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Entries of a job's record in words.
 */
#ifndef EXPLAIN_RECORD_H
#define EXPLAIN_RECORD_H

#include "base/text.h"
#include "work/record.h"

/* What is allowed of a measured value: '12 to 14', 'at least 3', 'at most 2'; nothing where it has no limits. */
void explain_allowed(struct base_buffer *out, const struct work_entry *entry);
/* 'crank pinch bolts 13.0 N·m; allowed is 12.0 to 14.0.', and of one outside its limits that it is, and why. Of a measured value
 * only; what: its name in words; unit: as a number carries it. */
void explain_measured(struct base_buffer *out, const struct work_entry *entry, const char *what, const char *unit);
/* Any other entry but ticks, minutes and signatures, of which nothing is said, in sentences with its reason. */
void explain_entry(struct base_buffer *out, const struct work_entry *entry);

#endif
