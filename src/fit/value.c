/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a read gets: properties, derived values and measures of a build.
 */
#include "fit/judge.h"

#include <math.h>

void fit_build_now(struct fit_build *out, const struct trade_bike *bike) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        bool there = trade_bike_has(bike, s);
        out->at[s].kind = there ? FIT_KEEP : FIT_NONE;
        out->at[s].part = there ? &bike->fitted[s].part : NULL;
    }
}

uint32_t fit_changed(const struct fit_build *build, const struct trade_bike *bike) {
    uint32_t changed = 0;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        enum fit_choice_kind same = trade_bike_has(bike, s) ? FIT_KEEP : FIT_NONE;
        if (build->at[s].kind != same) {
            changed |= 1u << s;
        }
    }
    return changed;
}

/* As a set: what a gearing makes of a road knows no repeated sprocket. The vocabulary's sprockets have fewer than 64 teeth. */
static struct trade_value teeth_of(const struct trade_value *list) {
    struct trade_value set = {.words = 0, .known = list->known};
    for (size_t i = 0; i < list->counts->n; i++) {
        set.words |= UINT64_C(1) << list->counts->at[i];
    }
    return set;
}

static const struct trade_value *sprocket_value(struct trade_value *scratch, const struct trade_part *part,
                                                unsigned property) {
    const struct trade_value *list = trade_get(part, TRADE_CASSETTE_SPROCKETS);
    if (trade_is_open(list) || list->counts->n == 0) {
        *scratch = trade_open();
        return scratch;
    }
    if (property == FIT_TEETH) {
        *scratch = teeth_of(list);
        return scratch;
    }
    const struct trade_counts *c = list->counts;
    double number = property == FIT_SPEEDS ? (double)c->n : property == FIT_SMALLEST ? c->at[0] : c->at[c->n - 1];
    *scratch = trade_number(number, list->known);
    return scratch;
}

const struct trade_value *fit_part_value(struct trade_value *scratch, const struct trade_part *part, bool fitted,
                                         unsigned property) {
    if (property < TRADE_PROPERTIES) {
        return trade_get(part, property);
    }
    if (property == FIT_PRESENT || property == FIT_FITTED) {
        *scratch = trade_number(property == FIT_PRESENT || fitted ? 1 : 0, BASE_MEASURED);
        return scratch;
    }
    return sprocket_value(scratch, part, property);
}

/* What an empty slot gives: nothing, but whether something is there is known. */
static const struct trade_value *empty_value(struct trade_value *scratch, unsigned property) {
    if (property != FIT_PRESENT) {
        return NULL;
    }
    *scratch = trade_number(0, BASE_MEASURED);
    return scratch;
}

static const struct trade_value *choice_value(struct trade_value *scratch, const struct fit_choice *choice,
                                              unsigned property) {
    if (choice->kind == FIT_NONE) {
        return empty_value(scratch, property);
    }
    return fit_part_value(scratch, choice->part, choice->kind == FIT_KEEP, property);
}

const struct trade_value *fit_read_value(struct trade_value *scratch, const struct fit_read *read,
                                         const struct trade_bike *bike, const struct fit_build *build) {
    if (read->subject < TRADE_SLOTS) {
        return choice_value(scratch, &build->at[read->subject], read->property);
    }
    if (read->subject == FIT_BIKE) {
        return trade_get(&bike->self, read->property);
    }
    if (read->subject == FIT_FRAME) {
        return trade_get(&bike->frame, read->property);
    }
    if (read->subject == FIT_WHEEL) {
        return trade_get(&bike->wheel, read->property);
    }
    if (read->subject < FIT_MEASURE) {
        unsigned slot = (unsigned)read->subject - FIT_NOW;
        if (!trade_bike_has(bike, slot)) {
            return empty_value(scratch, read->property);
        }
        return fit_part_value(scratch, &bike->fitted[slot].part, true, read->property);
    }
    struct fit_sum sum = fit_measure_sum((enum fit_measure_id)(read->subject - FIT_MEASURE), bike, build);
    *scratch = sum.known == BASE_OPEN ? trade_open() : trade_number(sum.mm, sum.known);
    return scratch;
}

struct fit_sum fit_term_value(const struct fit_term *term, const struct trade_bike *bike,
                              const struct fit_build *build) {
    struct trade_value scratch[FIT_TERM_READS_MAX];
    struct fit_values v = {{NULL}};
    if (build->at[term->slot].kind == FIT_NONE) {
        return (struct fit_sum){.known = BASE_MEASURED};
    }
    for (unsigned i = 0; i < term->n_reads; i++) {
        v.at[i] = fit_read_value(&scratch[i], &term->reads[i], bike, build);
    }
    return term->term(&v);
}

struct fit_read fit_measure_asks(enum fit_measure_id id, const struct trade_bike *bike) {
    const struct fit_measure *measure = &fit_measures[id];
    for (unsigned i = 0; i < FIT_ASKS_MAX && measure->asks[i].property != FIT_VALUE; i++) {
        struct fit_read read = measure->asks[i];
        const struct trade_part *part =
            read.subject == FIT_FRAME ? &bike->frame : &bike->fitted[read.subject - FIT_NOW].part;
        bool there = read.subject == FIT_FRAME || trade_bike_has(bike, read.subject - FIT_NOW);
        if (there && trade_is_open(trade_get(part, (enum trade_property)read.property))) {
            return read;
        }
    }
    return measure->asks[0];
}

struct fit_sum fit_sum_close(struct fit_sum sum) {
    if (sum.table != 0) {
        sum.known = base_weakest(sum.known, BASE_TABLE);
    }
    if (sum.assumed != 0) {
        sum.known = base_weakest(sum.known, BASE_ASSUMED);
    }
    if (sum.unknown != 0) {
        sum.known = BASE_OPEN;
    }
    return sum;
}

struct fit_sum fit_measure_sum(enum fit_measure_id id, const struct trade_bike *bike, const struct fit_build *build) {
    const struct fit_measure *measure = &fit_measures[id];
    struct fit_sum sum = {.known = BASE_MEASURED};
    for (size_t i = 0; i < measure->n_terms; i++) {
        struct fit_sum term = fit_term_value(&measure->terms[i], bike, build);
        sum.mm += term.mm;
        sum.unknown += term.unknown;
        sum.assumed += term.assumed;
        sum.table += term.table;
        sum.known = base_weakest(sum.known, term.known);
    }
    return fit_sum_close(sum);
}
