/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The work at the bench in words: operations with their cautions, tools, torques, and what is read against which limits.
 */
#ifndef EXPLAIN_BENCH_H
#define EXPLAIN_BENCH_H

#include "base/text.h"
#include "work/red.h"

/* What is done, a line without a point; and the caution that goes with it, sentences, NULL where there is none. */
const char *explain_bench(enum trade_bench operation);
const char *explain_bench_caution(enum trade_bench operation);

/* Tools, 'hex key 5, chain tool'. tools: bit set of enum trade_tool; nothing when there are none. */
void explain_tools(struct base_buffer *out, uint64_t tools);

/* How tight, '35–45 N·m*', of two kinds of bolts each; 'as marked on the part'. Nothing where nothing is tightened. */
void explain_torques(struct base_buffer *out, enum trade_bench operation);

/* Which way the thread turns and what goes on it: 'left-hand thread, greased'. Nothing where nothing need be said: a right-hand
 * thread is what everybody expects. A shell that nobody has read: 'which way it turns nobody has read'. */
void explain_thread(struct base_buffer *out, enum trade_bench operation, const struct trade_bike *bike);

/* What is read, 'B-gap on the largest sprocket', and its limits, 'at least 3 mm', '5–6 mm*', '114 links'; 'as marked on the
 * part' where a torque has none. */
void explain_reading_name(struct base_buffer *out, const struct work_reading *reading);
void explain_limits(struct base_buffer *out, const struct work_reading *reading);

/* What spoils the job when it is missed, a sentence each. How many; these buffers are set up and the caller's to clear. */
#define EXPLAIN_RED_MAX 16
size_t explain_red(struct base_buffer out[EXPLAIN_RED_MAX], const struct work_red *red);

#endif
