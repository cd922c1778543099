/* SPDX-License-Identifier: Apache-2.0 */
/* The same on other worlds, searched with hardly any work to save work: what is left when that does not suffice. */
#define FIRST_SEED 100001
#define WORLDS 1000
#define MOST_BUILDS 2000

#include "test_brute.c"
