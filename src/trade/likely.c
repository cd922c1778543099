/* SPDX-License-Identifier: Apache-2.0 */
#include "trade/likely.h"

#include "trade/vocabulary.h"

#include <math.h>

/* A family is named by the number of its clicks. */
static bool clicks_agree(const struct trade_bike *bike, unsigned pull) {
    double positions = trade_get_number(&bike->fitted[TRADE_SLOT_RIGHT_SHIFTER].part, TRADE_SHIFTER_POSITIONS);
    const struct trade_pulls_row *row = trade_pulls_of(pull);
    return isnan(positions) || !row || row->speeds < 0 || fabs(row->speeds - positions) < 0.5;
}

/* Are there cassettes of so many sprockets with splines that slide on this body? */
static bool has_cassettes(unsigned body_spline, int sprockets) {
    for (size_t i = 0; i < trade_spline_fits_n; i++) {
        const struct trade_spline_fits_row *fits = &trade_spline_fits[i];
        bool slides = fits->verdict != TRADE_VERDICT_CLASH && (fits->speeds < 0 || fits->speeds == sprockets);
        for (size_t k = 0; k < trade_cassettes_n && slides && fits->body_spline == (int)body_spline; k++) {
            if (trade_cassettes[k].spline == fits->cassette_spline && trade_cassettes[k].speeds == sprockets) {
                return true;
            }
        }
    }
    return false;
}

static bool passes(unsigned body_spline, int smallest_teeth) {
    for (size_t i = 0; i < trade_bodies_n; i++) {
        if (trade_bodies[i].spline == (int)body_spline && trade_bodies[i].smallest_teeth > smallest_teeth) {
            return false;
        }
    }
    return true;
}

static bool body_agrees(const struct trade_bike *bike, unsigned spline) {
    const struct trade_part *cassette = &bike->fitted[TRADE_SLOT_CASSETTE].part;
    const struct trade_value *sprockets = trade_get(cassette, TRADE_CASSETTE_SPROCKETS);
    return trade_is_open(sprockets) ||
           (has_cassettes(spline, (int)sprockets->counts->n) && passes(spline, sprockets->counts->at[0]));
}

/* Does a ring of so many teeth go on this mount? */
static bool mount_takes(unsigned mount, double teeth) {
    for (size_t i = 0; i < trade_ring_mounts_n; i++) {
        const struct trade_ring_mounts_row *row = &trade_ring_mounts[i];
        if (row->ring_mount == (int)mount) {
            int least = row->special_smallest_teeth > 0 ? row->special_smallest_teeth : row->smallest_teeth;
            return isnan(teeth) || teeth > least - 0.5;
        }
    }
    return true;
}

static bool ring_agrees(const struct trade_bike *bike, enum trade_slot slot, unsigned mount) {
    return !trade_bike_has(bike, slot) ||
           mount_takes(mount, trade_get_number(&bike->fitted[slot].part, TRADE_RING_TEETH));
}

bool trade_may_stand(const struct trade_bike *bike, enum trade_slot slot, enum trade_property property,
                     const struct trade_value *value) {
    if (slot == TRADE_SLOT_RIGHT_SHIFTER && property == TRADE_SHIFTER_PULL) {
        return clicks_agree(bike, value->word);
    }
    switch (property) {
    case TRADE_FREEHUB_BODY_SPLINE:
        return body_agrees(bike, value->word);
    case TRADE_CRANK_MOUNT:
        return ring_agrees(bike, TRADE_SLOT_OUTER_RING, value->word) &&
               ring_agrees(bike, TRADE_SLOT_MIDDLE_RING, value->word);
    case TRADE_CRANK_INNER_MOUNT:
        return ring_agrees(bike, TRADE_SLOT_INNER_RING, value->word);
    default:
        return true;
    }
}
