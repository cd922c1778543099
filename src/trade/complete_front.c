/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What frame, bottom bracket, crank and rings of a bike tell of each other. Square tapers are never told this way: the
 * two look alike, sit differently, and are told apart by measuring only.
 */
#include "trade/complete.h"

#include <math.h>

static const struct {
    enum trade_slot slot;
    enum trade_place place;
    enum trade_property mount; /* of the crank, for this place */
    enum trade_property plane;
} ring_places[] = {
    {TRADE_SLOT_OUTER_RING, TRADE_PLACE_OUTER, TRADE_CRANK_MOUNT, TRADE_CRANK_OUTER_PLANE_MM},
    {TRADE_SLOT_MIDDLE_RING, TRADE_PLACE_MIDDLE, TRADE_CRANK_MOUNT, TRADE_CRANK_MIDDLE_PLANE_MM},
    {TRADE_SLOT_INNER_RING, TRADE_PLACE_INNER, TRADE_CRANK_INNER_MOUNT, TRADE_CRANK_INNER_PLANE_MM},
};
enum { RING_PLACES = sizeof ring_places / sizeof ring_places[0] };

/* A ring that stands in a place is one for that place. */
static void say_places(struct trade_bike *bike) {
    for (size_t i = 0; i < RING_PLACES; i++) {
        struct trade_part *ring = trade_part_in(bike, ring_places[i].slot);
        if (ring) {
            trade_fill(ring, TRADE_RING_PLACE, trade_word(ring_places[i].place, BASE_TABLE));
        }
    }
}

/* Rings prove their places. That there are no more is sure only of three. */
static void fill_places(struct trade_bike *bike, struct trade_part *crank) {
    struct trade_value places = {.words = 0, .known = BASE_TABLE};
    for (size_t i = 0; i < RING_PLACES; i++) {
        if (trade_part_in(bike, ring_places[i].slot)) {
            places.words |= UINT64_C(1) << ring_places[i].place;
        } else {
            places.known = BASE_ASSUMED;
        }
    }
    if (places.words != 0) {
        trade_fill(crank, TRADE_CRANK_PLACES, places);
    }
}

/* Offset that a direct-mount ring usually has on a hub of this width. */
static void fill_direct_offset(const struct trade_bike *bike, struct trade_part *ring) {
    const struct trade_value *width = trade_get(&bike->frame, TRADE_FRAME_HUB_WIDTH_MM);
    struct trade_said offset = {0};
    for (size_t i = 0; i < trade_ring_offsets_n && !trade_is_open(width); i++) {
        const struct trade_ring_offsets_row *row = &trade_ring_offsets[i];
        if (trade_has_word(ring, TRADE_RING_MOUNT, (unsigned)row->ring_mount) &&
            trade_near(row->hub_width_mm, width->number)) {
            trade_hear(&offset, row->offset_mm, row->mark);
        }
    }
    trade_fill(ring, TRADE_RING_OFFSET_MM, trade_said_number(&offset, width->known));
}

/* A ring on arms lies in its place: the one defines the plane of the other, and it has no offset of its own. */
static void fill_offset(const struct trade_part *crank, struct trade_part *ring, enum trade_property place_plane) {
    int mount = trade_get_word(ring, TRADE_RING_MOUNT);
    enum base_known known = trade_get(ring, TRADE_RING_PLANE_MM)->known;
    if (known == BASE_OPEN) {
        known = trade_get(crank, place_plane)->known;
    }
    if (mount >= 0 && known != BASE_OPEN && !trade_direct_mount(mount)) {
        trade_fill(ring, TRADE_RING_OFFSET_MM, trade_number(0, known));
    }
}

/* The plane of a ring, and the plane of its place as it is read on the bike, are one: that of the teeth. */
static void fill_plane(struct trade_part *crank, const struct trade_part *ring, enum trade_property place_plane) {
    const struct trade_value *plane = trade_get(ring, TRADE_RING_PLANE_MM);
    if (!trade_is_open(plane)) {
        trade_fill(crank, place_plane, *plane);
    }
}

static void fit_rings(struct trade_bike *bike) {
    struct trade_part *crank = trade_part_in(bike, TRADE_SLOT_CRANK);
    if (!crank) {
        return;
    }
    fill_places(bike, crank);
    for (size_t i = 0; i < RING_PLACES; i++) {
        struct trade_part *ring = trade_part_in(bike, ring_places[i].slot);
        if (ring) {
            trade_share(crank, ring_places[i].mount, ring, TRADE_RING_MOUNT);
            if (trade_bike_rings(bike) == 1) {
                fill_direct_offset(bike, ring);
            }
            fill_offset(crank, ring, ring_places[i].plane);
            if (trade_get_word(ring, TRADE_RING_MOUNT) < 0) {
                trade_fill_default(ring, TRADE_RING_OFFSET_MM);
            }
            fill_plane(crank, ring, ring_places[i].plane);
        }
    }
}

/* Spindles that are part of the bottom bracket and not of the crank. */
static bool in_bracket(int spindle) {
    switch (spindle) {
    case TRADE_SPINDLE_SQUARE_JIS:
    case TRADE_SPINDLE_SQUARE_ISO:
    case TRADE_SPINDLE_SPLINED_8_SHALLOW:
    case TRADE_SPINDLE_SPLINED_8_DEEP:
    case TRADE_SPINDLE_SPLINED_10:
        return true;
    default:
        return false;
    }
}

/* Adds a number of a part that may be missing. */
static void add(struct trade_value *sum, const struct trade_part *part, enum trade_property property) {
    if (part && !trade_is_open(trade_get(part, property))) {
        sum->number += trade_get(part, property)->number;
        sum->known = base_weakest(sum->known, trade_get(part, property)->known);
    }
}

/* The maker of a crank states its chain line for a length of spindle. Another length moves the drive side by half the
 * difference; what the spindle stands out further there, or a plate under the bracket's flange, by all of it (common
 * practice). */
static void add_spindle(struct trade_value *line, const struct trade_bike *bike) {
    const struct trade_part *crank = &bike->fitted[TRADE_SLOT_CRANK].part;
    const struct trade_part *bracket = &bike->fitted[TRADE_SLOT_BOTTOM_BRACKET].part;
    const struct trade_value *length = trade_get(bracket, TRADE_BOTTOM_BRACKET_SPINDLE_MM);
    const struct trade_value *stated = trade_get(crank, TRADE_CRANK_SPINDLE_MM);
    if (trade_is_open(length) || trade_is_open(stated)) {
        line->known = BASE_ASSUMED;
    } else {
        line->number += (length->number - stated->number) / 2;
        line->known = base_weakest(line->known, base_weakest(length->known, stated->known));
    }
    add(line, bracket, TRADE_BOTTOM_BRACKET_RIGHT_OVERHANG_MM);
    add(line, &bike->fitted[TRADE_SLOT_FRONT_DERAILLEUR].part, TRADE_FRONT_DERAILLEUR_BRACKET_MM);
}

/* The crank's places from its chain line, as it lies on this bike with this bracket and these spacers. */
static void place_crank(struct trade_bike *bike) {
    struct trade_part *crank = trade_part_in(bike, TRADE_SLOT_CRANK);
    if (!crank) {
        return;
    }
    struct trade_value line = *trade_get(crank, TRADE_CRANK_LINE_MM);
    int spindle = trade_get_word(crank, TRADE_CRANK_SPINDLE);
    if (!trade_is_open(&line)) {
        if (spindle < 0) {
            line.known = BASE_ASSUMED;
        } else if (in_bracket(spindle)) {
            add_spindle(&line, bike);
        }
        add(&line, trade_part_in(bike, TRADE_SLOT_CUP_SPACERS), TRADE_SPACER_THICKNESS_MM);
    }
    trade_complete_planes(crank, line);
}

static struct trade_value matching_spindle(const struct trade_value *spindle, bool of_bracket) {
    struct trade_said said = {0};
    for (size_t i = 0; i < trade_spindle_fits_n && !trade_is_open(spindle); i++) {
        const struct trade_spindle_fits_row *row = &trade_spindle_fits[i];
        int given = of_bracket ? row->crank_spindle : row->bracket_spindle;
        if (given == (int)spindle->word && row->verdict == TRADE_VERDICT_FITS) {
            trade_hear(&said, of_bracket ? row->bracket_spindle : row->crank_spindle, row->mark);
        }
    }
    bool square = said.any && (trade_near(said.value, TRADE_SPINDLE_SQUARE_JIS) ||
                               trade_near(said.value, TRADE_SPINDLE_SQUARE_ISO));
    return square ? trade_open() : trade_said_word(&said, spindle->known);
}

static void fit_bracket(struct trade_bike *bike) {
    struct trade_part *crank = trade_part_in(bike, TRADE_SLOT_CRANK);
    struct trade_part *bracket = trade_part_in(bike, TRADE_SLOT_BOTTOM_BRACKET);
    trade_share(&bike->frame, TRADE_FRAME_SHELL, bracket, TRADE_BOTTOM_BRACKET_SHELL);
    if (crank && bracket) {
        struct trade_value of_crank = *trade_get(crank, TRADE_CRANK_SPINDLE);
        trade_fill(crank, TRADE_CRANK_SPINDLE,
                   matching_spindle(trade_get(bracket, TRADE_BOTTOM_BRACKET_SPINDLE), false));
        trade_fill(bracket, TRADE_BOTTOM_BRACKET_SPINDLE, matching_spindle(&of_crank, true));
    }
}

/* Of several rings the chain is shifted onto the larger ones by ramps, and none of them holds it by wide and narrow teeth;
 * the smallest needs neither (common practice). */
static void fill_profiles(struct trade_bike *bike) {
    bool smaller = false;
    for (size_t i = RING_PLACES; i-- > 0 && trade_bike_rings(bike) > 1;) {
        struct trade_part *ring = trade_part_in(bike, ring_places[i].slot);
        if (ring) {
            trade_fill(ring, TRADE_RING_PROFILE,
                       trade_word(smaller ? TRADE_PROFILE_RAMPED : TRADE_PROFILE_PLAIN, BASE_ASSUMED));
            smaller = true;
        }
    }
}

/* Inner width of a family of chains, mm; NAN when the table has none. */
static double inner_mm(unsigned family) {
    for (size_t i = 0; i < trade_chains_n; i++) {
        if (trade_chains[i].chain_family == (int)family) {
            return trade_chains[i].inner_mm;
        }
    }
    return NAN;
}

/* A ring carries the chain that runs on it, and, most likely, every chain that is as wide inside: its teeth fill that width
 * (common practice). */
static void fill_chains(struct trade_bike *bike) {
    const struct trade_part *chain = trade_part_in(bike, TRADE_SLOT_CHAIN);
    if (!chain || trade_is_open(trade_get(chain, TRADE_CHAIN_FAMILY))) {
        return;
    }
    unsigned family = trade_get(chain, TRADE_CHAIN_FAMILY)->word;
    struct trade_value chains = {.words = UINT64_C(1) << family, .known = BASE_ASSUMED};
    for (unsigned other = 0; other < TRADE_CHAIN_FAMILY_COUNT; other++) {
        chains.words |= trade_near(inner_mm(other), inner_mm(family)) ? UINT64_C(1) << other : 0;
    }
    for (size_t i = 0; i < RING_PLACES; i++) {
        struct trade_part *ring = trade_part_in(bike, ring_places[i].slot);
        if (ring) {
            trade_fill(ring, TRADE_RING_CHAINS, chains);
        }
    }
}

void trade_complete_front(struct trade_bike *bike) {
    say_places(bike);
    fill_profiles(bike);
    fill_chains(bike);
    fit_bracket(bike);
    fit_rings(bike);
    place_crank(bike);
}
