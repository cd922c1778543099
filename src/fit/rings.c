/* SPDX-License-Identifier: Apache-2.0 */
#include "fit/rings.h"

struct fit_rings fit_rings_of(const struct fit_values *v, unsigned first) {
    struct fit_rings out = {.n = 0};
    for (unsigned i = first; i < first + 3; i++) {
        if (!fit_has(v, i)) {
            continue;
        }
        out.n++;
        if (!fit_known(v, i)) {
            out.open = true;
            continue;
        }
        int teeth = fit_count(v, i);
        out.largest = teeth > out.largest ? teeth : out.largest;
        out.smallest = out.smallest == 0 || teeth < out.smallest ? teeth : out.smallest;
    }
    return out;
}

unsigned fit_rings_there(const struct fit_values *v, unsigned first) {
    unsigned n = 0;
    for (unsigned i = first; i < first + 3; i++) {
        n += fit_there(v, i);
    }
    return n;
}

const struct trade_ring_mounts_row *fit_ring_mount_row(unsigned mount) {
    size_t i = 0;
    while (trade_ring_mounts[i].ring_mount != (int)mount) {
        i++;
    }
    return &trade_ring_mounts[i];
}
