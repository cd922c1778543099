/* SPDX-License-Identifier: Apache-2.0 */
/* The same on other worlds, searched with no bound to the work that saves work: whatever can be put together is. */
#define FIRST_SEED 200001
#define WORLDS 1000
#define MOST_BUILDS 2000

#include "test_brute.c"
