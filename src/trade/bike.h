/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A bike as it stands: measured, with a part, nothing, or something that nobody has looked at in each slot.
 */
#ifndef TRADE_BIKE_H
#define TRADE_BIKE_H

#include "trade/part.h"

enum trade_fitted_state {
    TRADE_NOT_LOOKED_AT = 0, /* the slot does not stand in the file; slots.csv says when a part is taken to be there */
    TRADE_EMPTY,             /* known to be empty */
    TRADE_THERE
};

struct trade_fitted {
    enum trade_fitted_state state;
    /* Valid in every state. Unless it is TRADE_THERE, all its values are open until trade_bike_complete has filled what
     * follows from the rest of the bike. */
    struct trade_part part;
};

/* A finding that a mechanic has overruled, with name and reason, for the parts that the bike has in these slots. */
struct trade_overruled {
    const char *rule; /* the rule's id */
    uint32_t slots;   /* bit set of slots; 0 is every slot of the rule */
    const char *by;   /* who */
    const char *reason;
};

struct mech_suspension_frame; /* carried for the formulas, never looked into here */

struct trade_bike {
    struct base_arena arena; /* owns everything below */
    const char *label;
    const struct mech_suspension_frame *suspension; /* as drawn or measured; NULL: not in the file */
    struct trade_part self;                         /* kind bike: its use */
    struct trade_part frame;
    struct trade_part wheel; /* rolling circumference and tyre of the rear wheel */
    struct trade_part rider;
    struct trade_fitted fitted[TRADE_SLOTS];
    struct trade_overruled *overruled;
    size_t n_overruled;
};

/* A bike on which nobody has looked at anything. BASE_NO_MEMORY: out stays untouched. */
enum base_status trade_bike_init(struct trade_bike *out) BASE_CHECKED;
/* Frees what the bike owns; nothing is known of it any more. */
void trade_bike_clear(struct trade_bike *bike);

/* Is there a part in this slot now? One that nobody has looked at counts where slots.csv takes one to be there: a chain
 * always, what shifts the rings where there are several (common practice). */
bool trade_bike_has(const struct trade_bike *bike, enum trade_slot slot);

/* Fills what the file left open from the standards tables (known: table, or assumed for remembered rows) and then from
 * the vocabulary's defaults (assumed): stack and pitch of the cassette, width of the chain, circumference from the tyre,
 * recess of the hub, pull and ratio of a family, ring planes from the crank's places, and so on. Parts that stand
 * together tell of each other (known from a table at best), also where nobody has looked at one. A given value is never
 * touched; what a table can't say stays open. Call once after reading. */
enum base_status trade_bike_complete(struct trade_bike *bike) BASE_CHECKED;

/* A rider's part completed as trade_part_complete does, where the bike is a child's with a child's mass. */
void trade_rider_complete(struct trade_part *rider, const struct trade_bike *bike);

/* Fills what nobody said of the rider, once all is read that tells of it (a file of the rider's own may stand beside the
 * bike's): position, tyre and ground from use and bar, drag (on a child's bike less, by
 * the rider's mass), rolling resistance and grip from these, power for each
 * kilogram from the state of training, the crank's length. A given value is never touched. Cadences and power stay as
 * they are: a plan knows what nobody was asked. Call after trade_bike_complete. */
void trade_bike_complete_rider(struct trade_bike *bike);

/* What trade_bike_complete does, for one part of a catalogue. */
void trade_part_complete(struct trade_part *part);

/* Number of rings now (0..3). */
unsigned trade_bike_rings(const struct trade_bike *bike);

#endif
