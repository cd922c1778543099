/* SPDX-License-Identifier: Apache-2.0 */
#include "app/path.h"

#include "fit/fit.h"

/* What is read on the bike to know a measure. */
static void measured_by(unsigned measure, unsigned *subject, unsigned *property) {
    static const uint16_t properties[FIT_MEASURES] = {
        [FIT_OUTER_PLANE] = TRADE_CRANK_OUTER_PLANE_MM,
        [FIT_MIDDLE_PLANE] = TRADE_CRANK_MIDDLE_PLANE_MM,
        [FIT_INNER_PLANE] = TRADE_CRANK_INNER_PLANE_MM,
        [FIT_REAR_MIDDLE] = TRADE_FRAME_GAP_MM,
        [FIT_REAR_OUTER] = TRADE_FRAME_GAP_MM,
        [FIT_REAR_LARGEST] = TRADE_CASSETTE_OVERHANG_MM,
    };
    *property = properties[measure];
    *subject = *property == TRADE_FRAME_GAP_MM          ? FIT_FRAME
               : *property == TRADE_CASSETTE_OVERHANG_MM ? (unsigned)TRADE_SLOT_CASSETTE
                                                         : (unsigned)TRADE_SLOT_CRANK;
}

void app_path(struct base_buffer *out, unsigned subject, unsigned property) {
    if (subject >= FIT_MEASURE) {
        measured_by(subject - FIT_MEASURE, &subject, &property);
    }
    if (subject >= FIT_NOW) {
        subject -= FIT_NOW;
    }
    if (subject < TRADE_SLOTS) {
        base_buffer_text(out, "/fitted/");
        base_buffer_text(out, trade_slot_rows[subject].name);
    } else if (subject != FIT_BIKE) {
        base_buffer_text(out, subject == FIT_FRAME ? "/frame" : "/wheel");
    }
    if (property == FIT_PRESENT || property == FIT_FITTED) {
        return; /* the slot itself */
    }
    base_buffer_char(out, '/');
    base_buffer_text(out, property < TRADE_PROPERTIES ? trade_property_rows[property].name : "sprockets");
}
