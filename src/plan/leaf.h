/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Leaves: one slot's message, a label for each part that the slot may hold.
 */
#ifndef PLAN_LEAF_H
#define PLAN_LEAF_H

#include "plan/message.h"

/* All leaves, and what each consumer can see of each slot (s->leaves, s->glimpses). */
void plan_make_leaves(struct plan_searching *s);
/* The message that joins without a change: no slot, one empty state. */
void plan_unit(struct plan_searching *s, struct plan_message *out, struct base_arena *arena);

#endif
