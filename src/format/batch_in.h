/* SPDX-License-Identifier: Apache-2.0 */
/*
 * One line of a batch: a JSON object with a bike and, where it has one of its own, a wish.
 */
#ifndef FORMAT_BATCH_IN_H
#define FORMAT_BATCH_IN_H

#include "base/fault.h"
#include "base/text.h"

/* Appends the two documents, as JSON texts, each for its own reader; wish stays empty where the line has none. file: as faults
 * name it. BASE_BAD_INPUT: faults has at least one more; BASE_NO_MEMORY. */
enum base_status format_batch_line(struct base_buffer *bike, struct base_buffer *wish, struct base_slice line,
                                   const char *file, struct base_faults *faults) BASE_CHECKED;

#endif
