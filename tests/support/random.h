/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Random numbers for property tests: the same on every machine, from a seed that stands in the test.
 *
 * The generator is splitmix64 (Steele, Lea and Flood, Fast splittable pseudorandom number generators, 2014).
 */
#ifndef SUPPORT_RANDOM_H
#define SUPPORT_RANDOM_H

#include <stdint.h>

struct random_source {
    uint64_t state; /* any seed */
};

/* The next 64 bits. */
uint64_t random_bits(struct random_source *random);

/* A number from low up to, not including, high; low < high. */
double random_between(struct random_source *random, double low, double high);

/* A whole number from low to high, both included; low <= high. */
int random_int(struct random_source *random, int low, int high);

#endif
