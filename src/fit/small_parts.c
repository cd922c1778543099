/* SPDX-License-Identifier: Apache-2.0 */
#include "fit/small_parts.h"

#include "fit/rings.h"

#include <math.h>

/* What a condition is asked of: a slot that calls for the part, in a build of a bike. */
struct call {
    const struct trade_bike *bike;
    const struct fit_build *build;
    enum trade_slot slot;
};

/* --- ring bolts ---------------------------------------------------------------------------------------------------- */

/* One set of bolts holds the rings of the outer and the middle place, and the inner one where it sits on the same circle.
 * Did they hold several, and do they hold one now? */
static bool one_is_left(const struct call *c, bool inner_too) {
    unsigned before = 0, after = 0;
    for (unsigned slot = TRADE_SLOT_OUTER_RING; slot <= (inner_too ? TRADE_SLOT_INNER_RING : TRADE_SLOT_MIDDLE_RING);
         slot++) {
        before += trade_bike_has(c->bike, slot);
        after += c->build->at[slot].kind != FIT_NONE;
    }
    return before > 1 && after == 1;
}

/* The bolts stay with the crank. unread: is it so as far as it has been read, and not for certain? */
static bool one_on_arms(const struct call *c, bool unread) {
    const struct fit_choice *crank = &c->build->at[TRADE_SLOT_CRANK];
    if (crank->kind != FIT_KEEP) {
        return false;
    }
    int mount = trade_get_word(crank->part, TRADE_CRANK_MOUNT);
    int inner = trade_get_word(crank->part, TRADE_CRANK_INNER_MOUNT);
    if (mount >= 0 && !(fit_ring_mount_row((unsigned)mount)->arms > 0)) {
        return false;
    }
    bool both_read = mount >= 0 && inner >= 0;
    bool apart = one_is_left(c, false), together = one_is_left(c, true);
    bool may_be = both_read ? (mount == inner ? together : apart) : apart || together;
    bool certain = may_be && mount >= 0 && (both_read || (apart && together));
    return unread ? may_be && !certain : certain;
}

/* --- chain --------------------------------------------------------------------------------------------------------- */

/* Is the joining link of this family closed once only? */
static bool closed_once(int family) {
    for (size_t i = 0; i < trade_chains_n; i++) {
        const struct trade_chains_row *row = &trade_chains[i];
        if (row->chain_family == family && row->for_speeds_n > 0) {
            return row->for_speeds[0] >= fit_limit(TRADE_LIMIT_JOINING_LINK_ONCE_SPROCKETS);
        }
    }
    return false;
}

/* A pin that was pressed out is not pressed in again; a new chain has its joining link in the box, or is a pinned one. */
static bool joining_spent(const struct fit_choice *chain) {
    if (chain->kind == FIT_NONE) {
        return false;
    }
    bool opened = chain->kind == FIT_KEEP && closed_once(trade_get_word(chain->part, TRADE_CHAIN_FAMILY));
    return opened || trade_get_word(chain->part, TRADE_CHAIN_JOINING) == TRADE_JOINING_PIN;
}

/* --- controls ------------------------------------------------------------------------------------------------------ */

static bool twists(const struct trade_part *shifter) {
    return shifter && trade_get_word(shifter, TRADE_SHIFTER_SEAT) == TRADE_SEAT_TWIST;
}

static const struct trade_part *now_at(const struct call *c) {
    return trade_bike_has(c->bike, c->slot) ? &c->bike->fitted[c->slot].part : NULL;
}

static bool lever_pulls(const struct call *c, enum trade_lever_pull one, enum trade_lever_pull other) {
    int pull = trade_get_word(c->build->at[c->slot].part, TRADE_BRAKE_LEVER_PULL);
    return pull == (int)one || pull == (int)other;
}

/* Is the new wheel's hub of another width than the frame? */
static bool other_width(const struct call *c) {
    double hub = trade_get_number(c->build->at[c->slot].part, TRADE_REAR_WHEEL_HUB_WIDTH_MM);
    double frame = trade_get_number(&c->bike->frame, TRADE_FRAME_HUB_WIDTH_MM);
    return fabs(hub - frame) > fit_limit(TRADE_LIMIT_HUB_WIDTH_TOLERANCE_MM) &&
           trade_get_word(c->build->at[c->slot].part, TRADE_REAR_WHEEL_OTHER_CAPS) == TRADE_YES_NO_YES;
}

/* --- rows ---------------------------------------------------------------------------------------------------------- */

static bool holds(enum trade_needed_if condition, const struct call *c) {
    int route = trade_get_word(&c->bike->frame, TRADE_FRAME_FRONT_CABLE);
    switch (condition) {
    case TRADE_NEEDED_IF_ALWAYS:
        return true;
    case TRADE_NEEDED_IF_ONE_ON_ARMS:
        return one_on_arms(c, false);
    case TRADE_NEEDED_IF_ONE_ON_ARMS_UNREAD:
        return one_on_arms(c, true);
    case TRADE_NEEDED_IF_HYDRAULIC_LEVER:
        return lever_pulls(c, TRADE_LEVER_PULL_MINERAL, TRADE_LEVER_PULL_DOT);
    case TRADE_NEEDED_IF_CABLE_LEVER:
        return lever_pulls(c, TRADE_LEVER_PULL_SHORT, TRADE_LEVER_PULL_LONG);
    case TRADE_NEEDED_IF_OTHER_CAPS:
        return other_width(c);
    case TRADE_NEEDED_IF_NO_HOUSING:
        return trade_get_word(c->build->at[c->slot].part, TRADE_CABLE_SET_HOUSING) != TRADE_YES_NO_YES;
    case TRADE_NEEDED_IF_DROP_BAR:
        return trade_get_word(&c->bike->frame, TRADE_FRAME_BAR) == TRADE_BAR_DROP;
    case TRADE_NEEDED_IF_CABLE_INSIDE:
        return route == TRADE_CABLE_ROUTE_INSIDE;
    case TRADE_NEEDED_IF_CABLE_ROUTE_UNREAD:
        return route < 0;
    case TRADE_NEEDED_IF_JOINING_SPENT:
        return joining_spent(&c->build->at[TRADE_SLOT_CHAIN]);
    case TRADE_NEEDED_IF_TWIST_GOES:
        return twists(now_at(c)) && !twists(c->build->at[c->slot].part);
    case TRADE_NEEDED_IF_TWIST_COMES:
        return !twists(now_at(c)) && twists(c->build->at[c->slot].part);
    case TRADE_NEEDED_IF_COUNT:
        break;
    }
    return false;
}

/* Does what becomes of the slot call for the part? */
static bool calls(const struct trade_small_part_row *row, const struct call *c) {
    enum fit_choice_kind kind = c->build->at[c->slot].kind;
    if (kind == (trade_bike_has(c->bike, c->slot) ? FIT_KEEP : FIT_NONE)) {
        return false;
    }
    uint32_t slots = row->slots | (kind == FIT_NEW ? row->new_slots : row->off_slots);
    return (slots >> c->slot & 1) != 0 && holds(row->needed_if, c);
}

uint32_t fit_small_parts(const struct trade_bike *bike, const struct fit_build *build) {
    uint32_t needed = 0;
    for (unsigned i = 0; i < TRADE_SMALL_PARTS; i++) {
        for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
            const struct call call = {bike, build, (enum trade_slot)slot};
            needed |= calls(&trade_small_part_rows[i], &call) ? UINT32_C(1) << i : 0;
        }
    }
    return needed;
}
