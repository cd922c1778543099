/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What is read at the bench, and its limits: some are one figure of the trade, some follow from the build.
 */
#include "work/sheet.h"

#include "plan/line.h"
#include "trade/vocabulary.h"

#include <math.h>

static double limit(enum trade_limit id) { return trade_limits[id].value; }

static double number_of(const struct fit_choice *choice, enum trade_property property) {
    return choice->part ? trade_get_number(choice->part, property) : (double)NAN;
}

/* --- each of them -------------------------------------------------------------------------------------------------- */

/* The bare shell, within what paint and facing take. */
static bool shell_width(struct work_reading *out, const struct work_question *q) {
    const struct trade_value *width = trade_get(&q->bike->frame, TRADE_FRAME_SHELL_WIDTH_MM);
    if (trade_is_open(width)) {
        return false;
    }
    out->expected = width->number;
    out->low = width->number - limit(TRADE_LIMIT_SHELL_WIDTH_TOLERANCE_MM);
    out->high = width->number + limit(TRADE_LIMIT_SHELL_WIDTH_TOLERANCE_MM);
    out->known = base_weakest(width->known, BASE_TABLE);
    return true;
}

static const struct trade_counts *sprockets_of(const struct work_question *q) {
    const struct trade_part *cassette = q->build->at[TRADE_SLOT_CASSETTE].part;
    const struct trade_value *value = cassette ? trade_get(cassette, TRADE_CASSETTE_SPROCKETS) : NULL;
    return value && !trade_is_open(value) && value->counts->n > 0 ? value->counts : NULL;
}

#define NARROW_SPROCKETS 11 /* hanger_narrow_mm is from so many on */

/* More sprockets want a straighter hanger; not known how many: the narrow limit. */
static bool hanger(struct work_reading *out, const struct work_question *q) {
    const struct trade_counts *sprockets = sprockets_of(q);
    bool narrow = !sprockets || sprockets->n >= NARROW_SPROCKETS;
    out->high = limit(narrow ? TRADE_LIMIT_HANGER_NARROW_MM : TRADE_LIMIT_HANGER_MM);
    return true;
}

/* The chain on the smallest sprocket passes the dropout: (chain width - sprocket) / 2 and the clearance of limits.csv. */
static bool gap(struct work_reading *out, const struct work_question *q) {
    const struct trade_value *gap_now = trade_get(&q->bike->frame, TRADE_FRAME_GAP_MM);
    double chain_mm = number_of(&q->build->at[TRADE_SLOT_CHAIN], TRADE_CHAIN_WIDTH_MM);
    double sprocket_mm = number_of(&q->build->at[TRADE_SLOT_CASSETTE], TRADE_CASSETTE_SPROCKET_MM);
    if (isnan(chain_mm) || isnan(sprocket_mm)) {
        return false;
    }
    out->low = (chain_mm - sprocket_mm) / 2 + limit(TRADE_LIMIT_GAP_CLEARANCE_MM);
    bool stays =
        q->build->at[TRADE_SLOT_CASSETTE].kind == FIT_KEEP && q->build->at[TRADE_SLOT_REAR_WHEEL].kind == FIT_KEEP;
    if (stays && !trade_is_open(gap_now)) {
        out->expected = gap_now->number;
        out->known = gap_now->known;
    }
    return true;
}

static bool b_gap(struct work_reading *out, const struct work_question *q) {
    const struct trade_counts *sprockets = sprockets_of(q);
    for (size_t i = 0; sprockets && i < trade_b_gaps_n; i++) {
        const struct trade_b_gaps_row *row = &trade_b_gaps[i];
        int largest = sprockets->at[sprockets->n - 1], n = (int)sprockets->n;
        if (largest >= row->least_teeth && largest <= row->most_teeth && n >= row->speeds_low &&
            n <= row->speeds_high) {
            out->low = row->gap_low_mm;
            out->high = row->gap_high_mm;
            out->known = trade_known_of(row->mark);
            return true;
        }
    }
    return false;
}

static bool front_line(struct work_reading *out, const struct work_question *q) {
    struct plan_line line;
    plan_line_of(&line, q->bike, q->build);
    out->low = line.low_mm;
    out->high = line.high_mm;
    if (line.front.known != BASE_OPEN) {
        out->expected = line.front.mm;
        out->known = line.front.known;
    }
    return line.target != PLAN_TARGET_OPEN;
}

static bool chain_links(struct work_reading *out, const struct work_question *q) {
    out->low = out->high = out->expected = q->links;
    out->known = q->links_known;
    return q->links > 0;
}

bool work_check_of(struct work_reading *out, enum trade_check check, const struct work_question *q) {
    const struct trade_check_row *row = &trade_check_rows[check];
    *out = (struct work_reading){.check = (int)check,
                                 .torque = -1,
                                 .unit = row->unit,
                                 .low = row->low < 0 ? (double)NAN : trade_limits[row->low].value,
                                 .high = row->high < 0 ? (double)NAN : trade_limits[row->high].value,
                                 .expected = (double)NAN,
                                 .known = BASE_TABLE};
    switch (row->by) {
    case TRADE_CHECK_BY_LIMITS:
        return true;
    case TRADE_CHECK_BY_SHELL_WIDTH:
        return shell_width(out, q);
    case TRADE_CHECK_BY_HANGER:
        return hanger(out, q);
    case TRADE_CHECK_BY_GAP:
        return gap(out, q);
    case TRADE_CHECK_BY_CHAIN_LINKS:
        return chain_links(out, q);
    case TRADE_CHECK_BY_B_GAP:
        return b_gap(out, q);
    case TRADE_CHECK_BY_FRONT_LINE:
        return front_line(out, q);
    case TRADE_CHECK_BY_COUNT:
        break;
    }
    return false;
}

bool work_in_limits(const struct work_reading *reading, double value) {
    return !(value < reading->low) && !(value > reading->high); /* NAN limits hold nothing back */
}
