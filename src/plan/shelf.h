/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A catalogue as plans see it: what depends on the list alone, worked out once.
 *
 * Parts of one kind that nothing in a plan can tell apart but price, mass and id are a class: whatever a rule, a measure or the
 * gears read of them has the same value. A class keeps all its members, so that what a plan leaves out only changes
 * which of them it looks at.
 */
#ifndef PLAN_SHELF_H
#define PLAN_SHELF_H

#include "trade/shop.h"

struct plan_shelved {
    int64_t price_minor;
    double mass_g;  /* stated, else the usual one of the kind; NAN where nobody knows */
    uint32_t index; /* in the catalogue's list of the kind */
};

struct plan_class {
    uint32_t from, n; /* in parts, by rising price, then mass, then index */
    bool lacks;       /* the sheets don't say what a rule needs: no plan uses them */
};

struct plan_shelf {
    struct base_arena arena; /* owns the lists */
    const struct trade_catalogue *catalogue;
    struct plan_class *classes[TRADE_KINDS]; /* in the order of their first members */
    size_t n_classes[TRADE_KINDS];
    struct plan_shelved *parts[TRADE_KINDS]; /* class by class */
    bool *lacks[TRADE_KINDS];                /* of each part of the catalogue, as of its class */
    double usual_mass_g[TRADE_KINDS];        /* the median of those that state one; NAN where none does */
    struct trade_left_out *left_out;         /* parts that lack something */
    size_t n_left_out;
};

/* The shelf of a catalogue, which is borrowed and must not change as long as the shelf is used. Any number of plans may use
 * one at once. BASE_NO_MEMORY. *out is owned by the caller: plan_shelf_free. */
enum base_status plan_shelf_new(struct plan_shelf **out, const struct trade_catalogue *catalogue) BASE_CHECKED;
void plan_shelf_free(struct plan_shelf *shelf);

#endif
