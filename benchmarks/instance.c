/* SPDX-License-Identifier: Apache-2.0 */
#include "instance.h"

#include "support/random.h"

#include <stdbool.h>

#define VALUES 3

const int instance_ends[INSTANCE_INTERFACES][2] = {{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 5}, {5, 6},
                                                   {6, 7}, {0, 2}, {2, 4}, {4, 6}, {5, 7}};

void instance_make(struct instance *out, int parts, int objectives, uint64_t seed) {
    struct random_source random = {seed};
    out->parts = parts;
    out->objectives = objectives;
    for (int slot = 0; slot < INSTANCE_SLOTS; slot++) {
        for (int p = 0; p < parts; p++) {
            struct instance_part *part = &out->part[slot][p];
            int dear = random_int(&random, 0, 20);
            part->worth[0] = 10 + dear + random_int(&random, 0, 20);
            part->worth[1] = 30 - dear + random_int(&random, 0, 20);
            part->worth[2] = objectives > 2 ? random_int(&random, 1, 30) : 0;
            for (int i = 0; i < INSTANCE_INTERFACES; i++) {
                bool own = instance_ends[i][0] == slot || instance_ends[i][1] == slot;
                part->value[i] = own ? random_int(&random, 0, VALUES - 1) : -1;
            }
        }
    }
}
