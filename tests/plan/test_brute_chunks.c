/* SPDX-License-Identifier: Apache-2.0 */
/* The same on other worlds, with the arena as it is released, where blocks share chunks. It is linked in place of the
 * library's. */
#define FIRST_SEED 30001
#define WORLDS 200

#undef BASE_ARENA_SINGLE
#include "base/arena.c"
#include "test_brute.c"
