/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the ways of a plan wait for. Of the bike: what must be measured, as far as a way hangs on it, and the masses of
 * parts that go. Of the shop: the masses of parts that come. A mass counts only where nobody knows the usual one of its
 * kind either.
 */
#include "app/json_parts.h"
#include "plan/mass.h"

#include <stdlib.h>

/* Masses that some way waits for. */
struct masses {
    const struct plan *plan;
    bool old[TRADE_SLOTS];
    bool *new[TRADE_KINDS]; /* of each part of the catalogue */
};

static void note_build(struct masses *out, const struct fit_build *build) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        struct plan_unweighed unweighed = plan_unweighed_at(out->plan, build, (enum trade_slot)s);
        enum trade_kind kind = trade_slot_rows[s].kind;
        out->old[s] = out->old[s] || unweighed.old;
        if (unweighed.new) {
            out->new[kind][build->at[s].part - out->plan->question.catalogue->parts[kind]] = true;
        }
    }
}

/* False without memory; cleared by the caller either way. */
static bool note_all(struct masses *out, const struct app_plan_shown *shown) {
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        out->new[kind] = calloc(shown->plan->question.catalogue->n[kind] + 1, sizeof *out->new[kind]);
        if (!out->new[kind]) {
            return false;
        }
    }
    for (size_t i = 0; i < shown->plan->n_ways; i++) {
        note_build(out, &shown->plan->ways[i].build);
    }
    for (size_t i = 0; i < shown->n_reliefs; i++) {
        note_build(out, &shown->reliefs[i].build);
    }
    if (shown->kept.found) {
        note_build(out, &shown->kept.way.build);
    }
    if (shown->kept.clean_found) {
        note_build(out, &shown->kept.clean.build);
    }
    return true;
}

/* The cases' values that decide whether some way stands. */
static uint32_t deciding_of(const struct app_plan_shown *shown) {
    const struct plan *plan = shown->plan;
    uint32_t deciding = shown->kept.found ? fit_deciding(&plan->cases, &shown->kept.way.cases) : 0;
    deciding |= shown->kept.clean_found ? fit_deciding(&plan->cases, &shown->kept.clean.cases) : 0;
    for (size_t i = 0; i < plan->n_ways; i++) {
        deciding |= fit_deciding(&plan->cases, &plan->ways[i].cases);
    }
    return deciding;
}

static void put_open(struct format_out *out, const struct masses *masses, uint32_t deciding) {
    const struct plan *plan = masses->plan;
    format_out_key(out, "open");
    format_out_array(out);
    if (!plan->gears_known) {
        app_json_path(out, FIT_WHEEL, TRADE_WHEEL_ROLLING_MM);
    }
    for (size_t d = 0; d < plan->cases.n_dims; d++) {
        if (deciding >> d & 1) {
            app_json_path(out, plan->cases.dims[d].subject, plan->cases.dims[d].property);
        }
    }
    for (size_t h = 0; h < plan->n_hangs; h++) {
        app_json_path(out, plan->hangs[h].subject, plan->hangs[h].property);
    }
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (masses->old[s]) {
            app_json_path(out, s, plan_mass_property(trade_slot_rows[s].kind));
        }
    }
    format_out_array_end(out);
}

static void put_not_stated(struct format_out *out, const struct masses *masses) {
    const struct trade_catalogue *catalogue = masses->plan->question.catalogue;
    format_out_key(out, "not_stated");
    format_out_array(out);
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        for (size_t i = 0; i < catalogue->n[kind]; i++) {
            if (masses->new[kind][i]) {
                app_json_lacking(out, catalogue->parts[kind][i].id, plan_mass_property((enum trade_kind)kind));
            }
        }
    }
    format_out_array_end(out);
}

void app_json_open(struct format_out *out, const struct app_plan_shown *shown) {
    struct masses masses = {.plan = shown->plan};
    if (note_all(&masses, shown)) {
        put_open(out, &masses, deciding_of(shown));
        put_not_stated(out, &masses);
    } else {
        out->buffer->status = BASE_NO_MEMORY;
    }
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        free(masses.new[kind]);
    }
}
