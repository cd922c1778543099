/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How the cage of the rear derailleur stands in every gear. Its shape is that of its class: assumed.
 */
#include "app/answers.h"
#include "app/geometry.h"

#include "mech/cage.h"
#include "mech/constants.h"

#include <math.h>

/* Up to these capacities a cage is usually short or medium; from memory. */
enum { SHORT_TEETH = 33, MEDIUM_TEETH = 39 };

/* The class that is said, else by the capacity; a medium one where neither is known. */
enum trade_cage app_cage_class(const struct trade_part *derailleur) {
    int said = trade_get_word(derailleur, TRADE_REAR_DERAILLEUR_CAGE);
    double teeth = trade_get_number(derailleur, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH);
    if (said >= 0) {
        return (enum trade_cage)said;
    }
    if (isnan(teeth)) {
        return TRADE_CAGE_MEDIUM;
    }
    return teeth <= SHORT_TEETH ? TRADE_CAGE_SHORT : teeth <= MEDIUM_TEETH ? TRADE_CAGE_MEDIUM : TRADE_CAGE_LONG;
}

const struct trade_cage_shapes_row *app_cage_shape(enum trade_cage cage) {
    for (size_t i = 0; i < trade_cage_shapes_n; i++) {
        if (trade_cage_shapes[i].cage == (int)cage) {
            return &trade_cage_shapes[i];
        }
    }
    return NULL;
}

struct mech_point app_axle_of(const struct trade_bike *bike, double stay_mm) {
    double drop_mm = trade_get_number(&bike->frame, TRADE_FRAME_BOTTOM_BRACKET_DROP_MM);
    drop_mm = isnan(drop_mm) || fabs(drop_mm) >= stay_mm ? 0 : drop_mm;
    return (struct mech_point){-sqrt((stay_mm - drop_mm) * (stay_mm + drop_mm)), drop_mm};
}

/* The pivot goes straight from its place at the largest sprocket to that at the smallest: as a slanted body does. */
static bool find_pivot(struct mech_point *out, const struct trade_cage_shapes_row *shape, struct mech_point axle,
                       const struct trade_counts *sprockets, size_t k) {
    struct mech_point small, large;
    int teeth = (int)shape->wheel_teeth;
    double toward = mech_radians(shape->body_deg), last = (double)sprockets->n - 1;
    double share = last > 0 ? (double)k / last : 0;
    if (mech_cage_pivot(&small, axle, sprockets->at[0], teeth, last > 0 ? shape->gap_small_mm : shape->gap_large_mm,
                        toward) != BASE_OK ||
        mech_cage_pivot(&large, axle, sprockets->at[sprockets->n - 1], teeth, shape->gap_large_mm, toward) != BASE_OK) {
        return false;
    }
    *out = (struct mech_point){small.x_mm + share * (large.x_mm - small.x_mm),
                               small.y_mm + share * (large.y_mm - small.y_mm)};
    return true;
}

/* Radius of the rear wheel with its tyre under load; NAN while neither its turn nor its size is known. */
static double wheel_mm(const struct trade_bike *bike) {
    double rolling = trade_get_number(&bike->wheel, TRADE_WHEEL_ROLLING_MM);
    double bead_seat = trade_get_number(&bike->wheel, TRADE_WHEEL_BEAD_SEAT_MM);
    double tyre = trade_get_number(&bike->wheel, TRADE_WHEEL_TYRE_WIDTH_MM);
    return isnan(rolling) ? bead_seat / 2 + tyre : rolling / (2 * MECH_PI);
}

static void settle(struct app_cage_gear *out, const struct app_chain *chain, const struct mech_cage *cage,
                   const struct mech_cage_gear *gear, double wheel_radius_mm) {
    struct mech_cage_fit fit;
    double least, most;
    if (mech_cage_range(&least, &most, cage, gear) != BASE_OK) {
        return;
    }
    out->path_links = least;
    if (chain->links == 0 || mech_cage_settle(&fit, cage, gear, chain->links, 0) != BASE_OK) {
        return;
    }
    out->cage_deg = mech_degrees(fit.angle_rad);
    out->gap_mm = fit.gap_mm;
    out->slack_links = fit.slack_links;
    out->ring_wrap_deg = mech_degrees(fit.ring_wrap_rad);
    out->sprocket_wrap_deg = mech_degrees(fit.sprocket_wrap_rad);
    out->tension_n = fit.tension_n;
    out->ground_mm = wheel_radius_mm - fit.low_mm - MECH_CAGE_PLATE_MM / 2;
    out->verdict = fit.state == MECH_CAGE_FITS && fit.gap_mm > 0 ? FIT_FITS : FIT_ASK;
}

/* The same chain at rest, where a suspended rear end leaves it most slack. */
static void settle_at_rest(struct app_cage_gear *out, const struct app_chain *chain, const struct mech_cage *cage,
                           const struct mech_cage_gear *gear) {
    struct mech_cage_fit fit;
    if (chain->links > 0 && mech_cage_settle(&fit, cage, gear, chain->links, 0) == BASE_OK) {
        out->rest_deg = mech_degrees(fit.angle_rad);
        out->rest_slack_links = fit.slack_links;
        out->verdict = fit.state == MECH_CAGE_FITS ? out->verdict : FIT_ASK;
    }
}

/* What the travel does to the gear, where the bike says how its axle goes. */
static enum base_status add_travel(struct app_cage_gear *out, struct base_arena *arena, const struct trade_bike *bike) {
    struct app_suspension suspension;
    static const int none[2] = {0, 0};
    const int gear[2] = {out->ring, out->sprocket};
    enum base_status status = app_suspension_of_bike(&suspension, arena, bike, gear, none);
    if (status == BASE_OK && !suspension.reason) {
        const struct app_suspension_gear *at = &suspension.gears[0];
        out->growth_links = at->longest_links - at->rest.loop_links;
        out->longest_mm = at->longest_mm;
        out->kick_deg = mech_degrees(at->full.chain.kick_held_rad);
        out->anti_squat_percent = at->sag.chain.anti_squat_percent;
    }
    return status == BASE_NO ? BASE_OK : status;
}

static int compare_gears(const struct app_cage_gear *a, const struct app_cage_gear *b) {
    int across = a->ring * b->sprocket - b->ring * a->sprocket;
    return across ? across : a->ring - b->ring;
}

/* Rising ratio, the smaller ring first: as gears are listed. */
static void add_gear(struct app_chain *chain, const struct app_cage_gear *gear) {
    size_t at = chain->n_gears++;
    for (; at > 0 && compare_gears(gear, &chain->gears[at - 1]) < 0; at--) {
        chain->gears[at] = chain->gears[at - 1];
    }
    chain->gears[at] = *gear;
}

/* What is alike in every gear. */
struct stand {
    const struct trade_cage_shapes_row *shape;
    struct mech_point axle, rest; /* at the longest chain stay, and at rest; rest.x_mm is NAN for a rigid rear end */
    double wheel_mm;
};

static struct mech_cage cage_of(const struct trade_cage_shapes_row *shape) {
    return (struct mech_cage){.apart_mm = shape->apart_mm,
                              .guide_teeth = (int)shape->wheel_teeth,
                              .tension_teeth = (int)shape->wheel_teeth,
                              .spring_nmm = shape->spring_nmm};
}

/* A gear with nothing found out yet. */
static struct app_cage_gear unsettled(int ring, int sprocket, struct mech_point axle) {
    return (struct app_cage_gear){ring, sprocket, NAN, NAN, NAN, NAN, NAN,  NAN,        NAN,    NAN,
                                  NAN,  NAN,      NAN, NAN, NAN, NAN, axle, {NAN, NAN}, FIT_ASK};
}

/* As the cage stands with the axle there; what is reckoned at rest stays out. */
static struct app_cage_gear settled(const struct app_chain *chain, const struct stand *stand, int ring,
                                    const struct trade_counts *sprockets, size_t k) {
    const struct mech_cage cage = cage_of(stand->shape);
    struct app_cage_gear out = unsettled(ring, sprockets->at[k], stand->axle);
    struct mech_cage_gear gear = {.ring = ring, .sprocket = sprockets->at[k], .axle = stand->axle};
    if (find_pivot(&gear.pivot, stand->shape, gear.axle, sprockets, k)) {
        out.pivot = gear.pivot;
        settle(&out, chain, &cage, &gear, stand->wheel_mm);
    }
    return out;
}

static void add_sprocket(struct app_chain *chain, const struct stand *stand, int ring,
                         const struct trade_counts *sprockets, size_t k) {
    const struct mech_cage cage = cage_of(stand->shape);
    struct app_cage_gear out = settled(chain, stand, ring, sprockets, k);
    struct mech_cage_gear gear = {.ring = ring, .sprocket = sprockets->at[k], .axle = stand->rest};
    if (!isnan(gear.axle.x_mm) && find_pivot(&gear.pivot, stand->shape, gear.axle, sprockets, k)) {
        settle_at_rest(&out, chain, &cage, &gear);
    }
    add_gear(chain, &out);
}

bool app_cage_at(struct app_cage_gear *out, const struct app_chain *chain, const struct trade_bike *bike,
                 const struct fit_build *build, const int gear[2], struct mech_point axle) {
    const struct trade_part *cassette = build->at[TRADE_SLOT_CASSETTE].part;
    const struct trade_value *sprockets = cassette ? trade_get(cassette, TRADE_CASSETTE_SPROCKETS) : NULL;
    const struct stand stand = {.shape = app_cage_shape(chain->cage), .axle = axle, .wheel_mm = wheel_mm(bike)};
    for (size_t k = 0; stand.shape && sprockets && !trade_is_open(sprockets) && k < sprockets->counts->n; k++) {
        if (sprockets->counts->at[k] == gear[1]) {
            *out = settled(chain, &stand, gear[0], sprockets->counts, k);
            return true;
        }
    }
    return false;
}

enum base_status app_cages_of(struct app_chain *chain, struct base_arena *arena, const struct trade_bike *bike,
                              const struct fit_build *build) {
    static const enum trade_slot slots[3] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};
    const struct trade_part *derailleur = build->at[TRADE_SLOT_REAR_DERAILLEUR].part;
    const struct trade_part *cassette = build->at[TRADE_SLOT_CASSETTE].part;
    chain->gears = NULL;
    chain->n_gears = 0;
    if (!derailleur || !cassette || trade_is_open(trade_get(cassette, TRADE_CASSETTE_SPROCKETS)) ||
        isnan(chain->stay_mm)) {
        return BASE_OK;
    }
    const struct trade_counts *sprockets = trade_get(cassette, TRADE_CASSETTE_SPROCKETS)->counts;
    chain->cage = app_cage_class(derailleur);
    const struct trade_cage_shapes_row *shape = app_cage_shape(chain->cage);
    chain->gears = base_arena_alloc(arena, 3 * sprockets->n, sizeof *chain->gears);
    if (!chain->gears) {
        return BASE_NO_MEMORY;
    }
    double rest_mm = chain->suspended ? trade_get_number(&bike->frame, TRADE_FRAME_CHAINSTAY_MM) : NAN;
    const struct stand stand = {.shape = shape,
                                .axle = app_axle_of(bike, chain->stay_mm),
                                .rest = app_axle_of(bike, rest_mm),
                                .wheel_mm = wheel_mm(bike)};
    for (size_t i = 0; i < 3 && shape; i++) {
        const struct trade_part *ring = build->at[slots[i]].part;
        double teeth = ring ? trade_get_number(ring, TRADE_RING_TEETH) : NAN;
        for (size_t k = 0; k < sprockets->n && !isnan(teeth); k++) {
            add_sprocket(chain, &stand, (int)teeth, sprockets, k);
        }
    }
    enum base_status status = BASE_OK;
    for (size_t i = 0; i < chain->n_gears && status == BASE_OK; i++) {
        status = add_travel(&chain->gears[i], arena, bike);
    }
    return status;
}
