/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A part as a mechanic calls it: what it is, then maker and model.
 */
#ifndef EXPLAIN_PART_H
#define EXPLAIN_PART_H

#include "base/text.h"
#include "plan/plan.h"
#include "trade/bike.h"

/* '32 T, wide and narrow teeth, Pellmar 104-32'. What the model's own name says is not said twice. */
void explain_part(struct base_buffer *out, const struct trade_part *part);

/* Maker and model, 'Pellmar 104-32'; the id where neither is given. */
void explain_part_name(struct base_buffer *out, const struct trade_part *part);

/* Teeth of the smallest and the largest sprocket, '11–46', or all of them, '11 13 15'; false, and nothing, when open. */
bool explain_sprocket_range(struct base_buffer *out, const struct trade_part *cassette);

/* The part that the bike has in a slot, with gaps: what is asked for and open shows as an empty box, all else that is
 * open is left out. asked: properties of subjects as in fit_read. No faults (explain/bike.h). */
void explain_fitted(struct base_buffer *out, const struct trade_bike *bike, enum trade_slot slot,
                    const struct plan_hang *asked, size_t n_asked);

/* The frame and the wheel in the same way. */
void explain_frame(struct base_buffer *out, const struct trade_bike *bike, const struct plan_hang *asked,
                   size_t n_asked);
void explain_wheel(struct base_buffer *out, const struct trade_bike *bike, const struct plan_hang *asked,
                   size_t n_asked);

#endif
