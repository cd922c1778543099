/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a plan took for granted of the bike: values that nobody measured and that a default of the vocabulary, or a row
 * that is only remembered, stands in for. Only those that some rule or measure reads; the others change no answer.
 */
#include "app/json_parts.h"
#include "fit/fit.h"

static void mark(bool read[TRADE_PROPERTIES], const struct fit_read *reads, size_t n) {
    for (size_t i = 0; i < n; i++) {
        if (reads[i].property < TRADE_PROPERTIES) {
            read[reads[i].property] = true;
        }
    }
}

static void mark_all(bool read[TRADE_PROPERTIES]) {
    read[TRADE_WHEEL_ROLLING_MM] = true; /* of the gears */
    for (size_t r = 0; r < fit_rules_n; r++) {
        mark(read, fit_rules[r]->reads, fit_rules[r]->n_reads);
    }
    for (size_t m = 0; m < FIT_MEASURES; m++) {
        for (size_t t = 0; t < fit_measures[m].n_terms; t++) {
            mark(read, fit_measures[m].terms[t].reads, fit_measures[m].terms[t].n_reads);
        }
    }
}

static void put_part(struct format_out *out, const struct trade_part *part, unsigned subject,
                     const bool read[TRADE_PROPERTIES]) {
    const struct trade_kind_row *kind = &trade_kind_rows[part->kind];
    for (size_t i = 0; i < kind->n; i++) {
        if (part->values[i].known != BASE_ASSUMED || !read[kind->first + i]) {
            continue;
        }
        format_out_object(out);
        format_out_key(out, "path");
        app_json_path(out, subject, (unsigned)(kind->first + i));
        format_out_key(out, "value");
        app_json_value(out, &trade_property_rows[kind->first + i], &part->values[i]);
        format_out_object_end(out);
    }
}

void app_json_assumed(struct format_out *out, const struct trade_bike *bike) {
    bool read[TRADE_PROPERTIES] = {false};
    mark_all(read);
    format_out_key(out, "assumed");
    format_out_array(out);
    put_part(out, &bike->self, FIT_BIKE, read);
    put_part(out, &bike->frame, FIT_FRAME, read);
    put_part(out, &bike->wheel, FIT_WHEEL, read);
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        if (trade_bike_has(bike, slot)) {
            put_part(out, &bike->fitted[slot].part, slot, read);
        }
    }
    format_out_array_end(out);
}
