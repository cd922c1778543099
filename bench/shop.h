/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a made-up shop sells: for each kind of part how large its share is, and how one is drawn.
 *
 * A class is what a part is, without its price, its mass and its name: the cells of a row of <kind>.csv. It is drawn
 * from the words and the tables of the trade, those that usually occur more often, so that what is drawn early is what
 * is common.
 */
#ifndef BENCH_SHOP_H
#define BENCH_SHOP_H

#include "support/random.h"
#include "trade/vocabulary.h"

#include <stddef.h>

#define SHOP_CELLS 24
#define SHOP_CELL 64

struct shop_class {
    char cells[SHOP_CELLS][SHOP_CELL]; /* by the kind's properties, in their order; empty: open */
    char stem[SHOP_CELL];              /* how ids begin */
    char name[SHOP_CELL];              /* for people; no comma */
    double price;                      /* of an ordinary one, in the shop's currency; 0: sold with another part */
    double mass_g;                     /* likewise */
};

struct shop_kind {
    enum trade_kind kind;
    unsigned share; /* of 1,000 parts */
    void (*draw)(struct shop_class *out, struct random_source *random);
};

extern const struct shop_kind shop_kinds[];
extern const size_t shop_kinds_n;

#endif
