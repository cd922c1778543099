/* SPDX-License-Identifier: Apache-2.0 */
#include "support/random.h"

uint64_t random_bits(struct random_source *random) {
    uint64_t z = random->state += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

double random_between(struct random_source *random, double low, double high) {
    double share = (double)(random_bits(random) >> 11) * 0x1p-53;
    return low + share * (high - low);
}

int random_int(struct random_source *random, int low, int high) {
    uint64_t span = (uint64_t)((int64_t)high - low + 1);
    return (int)(low + (int64_t)(random_bits(random) % span));
}
