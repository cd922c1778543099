/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Why not, in words: what stands against each other, what opens without one of them, and what is better than a way.
 */
#ifndef EXPLAIN_STOP_H
#define EXPLAIN_STOP_H

#include "base/text.h"
#include "plan/conflict.h"

/* One thing that stands in the way: 'parts and labour up to GBP 300.00', 'the rear wheel must stay', 'the outer ring is
 * worn and goes', or the words for a joint, 'cassette on the body'. No point at its end. */
void explain_stop(struct base_buffer *out, const struct plan *plan, const struct plan_stop *stop);

/* What would be without it, one sentence: of a wish what opens a way, 'Instead: GBP 41.00 more, from GBP 341.00.'; of a rule
 * what it says where all else would do. */
void explain_without(struct base_buffer *out, const struct plan *plan, const struct plan_stop *stop);

/* What a way has over another that it beats: 'GBP 12.00 less and one drawback less'. Both of one plan. */
void explain_better(struct base_buffer *out, const struct plan *plan, const struct plan_way *better,
                    const struct plan_way *worse);

#endif
