/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Filling what a file left open. Only the files named complete*.c include this.
 *
 * A value is filled when all rows of a standards table that can hold for the part say the same; where they differ, or
 * one of them is from weak memory, the table can't say and the value stays open. A given value is never touched.
 */
#ifndef TRADE_COMPLETE_H
#define TRADE_COMPLETE_H

#include "trade/bike.h"

/* What the rows of a table say together. Starts zeroed. */
struct trade_said {
    double value;          /* a number, or a word's index */
    enum base_known known; /* the weakest row */
    bool any;              /* at least one row was heard */
    bool unclear;          /* rows differ, or one has nothing to say */
};

/* One more row says this: NAN is nothing. Rows from weak memory have nothing to say, others from memory are assumed. */
void trade_hear(struct trade_said *said, double value, enum trade_mark mark);
/* What they say, known no better than the keys that chose the rows; open when they can't tell. */
struct trade_value trade_said_number(const struct trade_said *said, enum base_known keys);
struct trade_value trade_said_word(const struct trade_said *said, enum base_known keys);

/* Numbers of a table or a nominal size are the same within half of a tenth. */
bool trade_near(double a, double b);

/* Sets the property if it is open. */
void trade_fill(struct trade_part *part, enum trade_property property, struct trade_value value);
/* The vocabulary's default, if the property is open and has one. */
void trade_fill_default(struct trade_part *part, enum trade_property property);
/* The value as something that follows from it is known: from a table at best, never measured. */
struct trade_value trade_follows(const struct trade_value *value);

/* One kind of part each, from its own values and the tables alone. */
void trade_complete_frame(struct trade_part *frame);
void trade_complete_wheel(struct trade_part *wheel);
void trade_complete_cassette(struct trade_part *cassette);
void trade_complete_freehub_body(struct trade_part *body);
void trade_complete_rear_wheel(struct trade_part *wheel);
void trade_complete_chain(struct trade_part *chain);
void trade_complete_crank(struct trade_part *crank);
void trade_complete_rear_derailleur(struct trade_part *derailleur);
void trade_complete_shifter(struct trade_part *shifter);

/* The part in this slot, or NULL. */
struct trade_part *trade_part_in(struct trade_bike *bike, enum trade_slot slot);
/* Is the property this word? False for no part and for an open value. */
bool trade_has_word(const struct trade_part *part, enum trade_property property, unsigned word);
/* Two properties that are one and the same thing: what is open takes the other's. Either part may be missing. */
void trade_share(struct trade_part *a, enum trade_property of_a, struct trade_part *b, enum trade_property of_b);

/* What the parts of a bike tell of each other, behind and in front. */
void trade_complete_rear(struct trade_bike *bike);
void trade_complete_front(struct trade_bike *bike);

/* How many sprockets; 0 when that is open. */
int trade_sprockets_of(const struct trade_part *cassette);
/* Width class of a cassette from splines and number of sprockets, where only one is not longer than longest_mm. */
void trade_complete_class(struct trade_part *cassette, double longest_mm);

/* Planes of the crank's places from a plane that is known, else from the crank's chain line, and the spacing. */
void trade_complete_planes(struct trade_part *crank, struct trade_value line);
/* Does the ring or its spider sit on the arm itself, so that an offset is its own? False for arms and rivets. */
bool trade_direct_mount(int ring_mount);

#endif
