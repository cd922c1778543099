/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A fault of what was read, as one line: where it is, what was found, what is allowed, and what was probably meant.
 */
#ifndef EXPLAIN_FAULT_H
#define EXPLAIN_FAULT_H

#include "base/fault.h"

/* 'bike.json: /frame/hub_width_mm: found 1350, allowed 100 to 200. Is it 135.0?', without an end of line. */
void explain_fault(struct base_buffer *out, const struct base_fault *fault);

/* '7 more lines like these.' when not all faults were kept; else nothing. */
void explain_faults_left(struct base_buffer *out, const struct base_faults *faults);

#endif
