/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Looking things up in the vocabulary: kinds, properties, slots, words by their names.
 * The tables themselves are compiled in from data/ (trade/tables.h).
 */
#ifndef TRADE_VOCABULARY_H
#define TRADE_VOCABULARY_H

#include "base/known.h"
#include "base/text.h"
#include "trade/tables.h"

#include <stdbool.h>

/* The kind, slot, domain's word or kind's property of this name; -1 when there is none. */
int trade_find_kind(struct base_slice name);
int trade_find_slot(struct base_slice name);
int trade_find_word(enum trade_domain domain, struct base_slice name);
int trade_find_property(enum trade_kind kind, struct base_slice name);
int trade_find_operation(struct base_slice name);

/* The property's name as words are listed to a user in messages: NULL-safe rows live in trade_property_rows. */
const char *trade_word_name(enum trade_domain domain, unsigned word);
const char *trade_word_label(enum trade_domain domain, unsigned word);

/* Which part of a spacer, shifter or brake lever the slot takes: TRADE_SPACER_PLACE, TRADE_SHIFTER_SIDE or
 * TRADE_BRAKE_LEVER_SIDE and the word that it must have (side `either` serves both). False when the slot takes all. */
bool trade_slot_wants(enum trade_slot slot, enum trade_property *property, unsigned *word);

/* How a row of a standards table is known by its mark: from a table, or assumed when it is from memory. */
enum base_known trade_known_of(enum trade_mark mark);

/* The row of a shifting family; NULL for one that the table does not name, such as a closed set. */
const struct trade_pulls_row *trade_pulls_of(unsigned pull);
/* Do shifters of these two families take each other's rear derailleurs? One family does. */
bool trade_share_derailleurs(unsigned pull, unsigned other);

#endif
