/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How much work the search spends to save work. Chosen by measuring; they change the time, never the result. Tests set them
 * so small, or so large, that small shops meet every path (tests/plan/meson.build).
 */
#ifndef PLAN_TUNING_H
#define PLAN_TUNING_H

/* Answers that are worked out to put together what one consumer has seen at one join: so many for each state, and no more than
 * that; of them for what is left when sums that the answer rises with have been put together. */
#ifndef PLAN_ANSWERS_A_STATE
#define PLAN_ANSWERS_A_STATE 8
#endif
#ifndef PLAN_ANSWERS_MOST
#define PLAN_ANSWERS_MOST 524288
#endif
#ifndef PLAN_ANSWERS_LEFT
#define PLAN_ANSWERS_LEFT 512
#endif

/* Ways outside that are worth it for each number seen; what is put together to see how many there are, for each of them. */
#ifndef PLAN_WAYS_A_NUMBER
#define PLAN_WAYS_A_NUMBER 16
#endif
#ifndef PLAN_TRIES_A_WAY
#define PLAN_TRIES_A_WAY 2
#endif

/* Entries of an open consumer's table up to which it is filled before the pairs are made. */
#ifndef PLAN_SMALL_TABLE
#define PLAN_SMALL_TABLE 64
#endif

/* States that one is held against. */
#ifndef PLAN_RIVALS_MOST
#define PLAN_RIVALS_MOST 64
#endif

/* Sets of caveats with which least costs are kept, at most 64. */
#ifndef PLAN_LEAST_KNOWN
#define PLAN_LEAST_KNOWN 64
#endif

/* Line errors told apart where the least cost is kept, in steps; a larger one counts as the last. Entries of all its rows. */
#ifndef PLAN_LEAST_LINES
#define PLAN_LEAST_LINES 64
#endif
#ifndef PLAN_LEAST_ENTRIES
#define PLAN_LEAST_ENTRIES (1u << 21) /* 16 MiB */
#endif

#endif
