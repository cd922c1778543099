/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The change of mass against the bike as it stands: of a slot, how it is known, how it is compared, and on what it waits.
 *
 * A part that was not weighed has its kind's usual mass, which is assumed. Where no part of the kind in the catalogue states
 * a mass either, nobody knows: the change is open, and open is not zero. A slot in which nothing changes adds 0, known.
 */
#ifndef PLAN_MASS_H
#define PLAN_MASS_H

#include "plan/plan.h"

/* The property of a kind that says what its part weighs; every part of a slot has one. */
enum trade_property plan_mass_property(enum trade_kind kind);

/* The usual mass of each kind: the median of the catalogue's parts that state one, g; NAN without any. BASE_NO_MEMORY. */
enum base_status plan_usual_masses(double out[TRADE_KINDS], const struct trade_catalogue *catalogue,
                                   struct base_arena *scratch) BASE_CHECKED;

/* What one slot adds to the change of mass, g, rounded once. Weakens *known to how the masses behind it are known; means
 * nothing when that is open. usual_mass_g: of each kind; NAN where nobody knows. */
int32_t plan_slot_mass_g(enum base_known *known, const struct trade_bike *bike, enum trade_slot slot,
                         const struct fit_choice *choice, const double usual_mass_g[TRADE_KINDS]);

/* The change of mass as it is compared, g: what is open is heavier than all that is known. */
int32_t plan_compared_mass(const struct plan_values *values);

/* May some slot hold what makes the change of mass open? */
bool plan_mass_may_be_open(const struct plan *plan);

/* Which parts of a slot have a mass that nobody knows: the bike's own that goes, the new one. None when the slot keeps
 * what it has. */
struct plan_unweighed {
    bool old, new;
};
struct plan_unweighed plan_unweighed_at(const struct plan *plan, const struct fit_build *build, enum trade_slot slot);

#endif
