/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/mass.h"

#include "plan/choice.h"

#include "base/number.h"
#include "trade/vocabulary.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

enum trade_property plan_mass_property(enum trade_kind kind) {
    int property = trade_find_property(kind, base_slice_of("mass_g"));
    assert(property >= 0);
    return (enum trade_property)property;
}

static int compare_doubles(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

enum base_status plan_usual_masses(double out[TRADE_KINDS], const struct trade_catalogue *catalogue,
                                   struct base_arena *scratch) {
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        double *masses = base_arena_alloc(scratch, catalogue->n[kind], sizeof *masses);
        size_t n = 0;
        out[kind] = NAN;
        if (!masses) {
            return BASE_NO_MEMORY;
        }
        for (size_t i = 0; i < catalogue->n[kind]; i++) {
            double mass = trade_get_number(&catalogue->parts[kind][i], plan_mass_property((enum trade_kind)kind));
            if (!isnan(mass)) {
                masses[n++] = mass;
            }
        }
        if (n > 0) {
            qsort(masses, n, sizeof *masses, compare_doubles);
            out[kind] = masses[n / 2];
        }
    }
    return BASE_OK;
}

/* Mass of a part, or its kind's usual one, g; means nothing where *known is open then. */
static double mass_of(enum base_known *known, const struct trade_part *part, const double usual_mass_g[TRADE_KINDS]) {
    const struct trade_value *stated = trade_get(part, plan_mass_property(part->kind));
    double usual = usual_mass_g[part->kind];
    if (!trade_is_open(stated)) {
        *known = base_weakest(*known, stated->known);
        return stated->number;
    }
    *known = base_weakest(*known, isnan(usual) ? BASE_OPEN : BASE_ASSUMED);
    return isnan(usual) ? 0 : usual;
}

int32_t plan_slot_mass_g(enum base_known *known, const struct trade_bike *bike, enum trade_slot slot,
                         const struct fit_choice *choice, const double usual_mass_g[TRADE_KINDS]) {
    double change = 0;
    if (choice->kind == FIT_KEEP) {
        return 0;
    }
    if (choice->kind == FIT_NEW) {
        change += mass_of(known, choice->part, usual_mass_g);
    }
    if (trade_bike_has(bike, slot)) {
        change -= mass_of(known, &bike->fitted[slot].part, usual_mass_g);
    }
    return (int32_t)base_round(change);
}

int32_t plan_compared_mass(const struct plan_values *values) {
    return values->mass_known == BASE_OPEN ? INT32_MAX : values->mass_g;
}

bool plan_mass_may_be_open(const struct plan *plan) {
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        for (uint32_t rank = 0; rank < plan_ranks(plan, slot); rank++) {
            struct fit_choice choice = plan_choice(plan, slot, rank);
            enum base_known known = BASE_MEASURED;
            (void)plan_slot_mass_g(&known, plan->question.bike, slot, &choice, plan->shelf->usual_mass_g);
            if (known == BASE_OPEN && plan_may(plan, slot, rank)) {
                return true;
            }
        }
    }
    return false;
}

static bool is_unweighed(const struct trade_part *part, const double usual_mass_g[TRADE_KINDS]) {
    enum base_known known = BASE_MEASURED;
    (void)mass_of(&known, part, usual_mass_g);
    return known == BASE_OPEN;
}

struct plan_unweighed plan_unweighed_at(const struct plan *plan, const struct fit_build *build, enum trade_slot slot) {
    const struct fit_choice *choice = &build->at[slot];
    const struct trade_bike *bike = plan->question.bike;
    return (struct plan_unweighed){.old = choice->kind != FIT_KEEP && trade_bike_has(bike, slot) &&
                                          is_unweighed(&bike->fitted[slot].part, plan->shelf->usual_mass_g),
                                   .new =
                                       choice->kind == FIT_NEW &&is_unweighed(choice->part, plan->shelf->usual_mass_g)};
}
