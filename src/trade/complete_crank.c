/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Where the ring places of a crank lie. Neighbouring places are one spacing apart, and the crank's chain line is in the
 * middle of them: one place lies on it, two half a spacing beside it, of three the middle one on it (How is chainline
 * measured?, general Q&A page).
 */
#include "trade/complete.h"

static const enum trade_property planes[TRADE_PLACE_COUNT] = {
    [TRADE_PLACE_OUTER] = TRADE_CRANK_OUTER_PLANE_MM,
    [TRADE_PLACE_MIDDLE] = TRADE_CRANK_MIDDLE_PLANE_MM,
    [TRADE_PLACE_INNER] = TRADE_CRANK_INNER_PLANE_MM,
};

/* A plane and where it lies, in spacings outboard of the middle of all places. */
struct anchor {
    struct trade_value plane;
    double at;
};

/* Where each place lies; returns how many places there are. */
static unsigned spread(double at[TRADE_PLACE_COUNT], uint64_t places) {
    unsigned n = 0, before = 0;
    for (unsigned place = 0; place < TRADE_PLACE_COUNT; place++) {
        n += (places >> place & 1) != 0;
    }
    for (unsigned place = 0; place < TRADE_PLACE_COUNT; place++) {
        at[place] = (n - 1) / 2.0 - before;
        before += (places >> place & 1) != 0;
    }
    return n;
}

/* A place whose plane is known goes before the nominal line: it was measured on this bike. */
static struct anchor anchor_of(const struct trade_part *crank, struct trade_value line, const double *at,
                               uint64_t places) {
    for (unsigned place = 0; place < TRADE_PLACE_COUNT; place++) {
        const struct trade_value *plane = trade_get(crank, planes[place]);
        if ((places >> place & 1) != 0 && !trade_is_open(plane)) {
            return (struct anchor){*plane, at[place]};
        }
    }
    return (struct anchor){line, 0};
}

static struct trade_value plane_from(struct anchor anchor, const struct trade_value *spacing, double at) {
    struct trade_value plane = trade_follows(&anchor.plane);
    double steps = at - anchor.at;
    if (trade_near(steps, 0)) {
        return plane;
    }
    if (trade_is_open(spacing) || trade_is_open(&anchor.plane)) {
        return trade_open();
    }
    return trade_number(plane.number + steps * spacing->number, base_weakest(plane.known, spacing->known));
}

void trade_complete_planes(struct trade_part *crank, struct trade_value line) {
    const struct trade_value *places = trade_get(crank, TRADE_CRANK_PLACES);
    double at[TRADE_PLACE_COUNT];
    if (trade_is_open(places) || spread(at, places->words) == 0) {
        return;
    }
    struct anchor anchor = anchor_of(crank, line, at, places->words);
    for (unsigned place = 0; place < TRADE_PLACE_COUNT; place++) {
        if ((places->words >> place & 1) != 0) {
            trade_fill(crank, planes[place], plane_from(anchor, trade_get(crank, TRADE_CRANK_SPACING_MM), at[place]));
        }
    }
}

void trade_complete_crank(struct trade_part *crank) {
    trade_complete_planes(crank, *trade_get(crank, TRADE_CRANK_LINE_MM));
}

bool trade_direct_mount(int ring_mount) {
    return ring_mount == TRADE_RING_MOUNT_DIRECT_3_BOLT || ring_mount == TRADE_RING_MOUNT_DIRECT_8_BOLT ||
           ring_mount == TRADE_RING_MOUNT_DIRECT_LOCKRING;
}
