/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/tolerance.h"

#include "mech/line.h"

#include <math.h>
#include <string.h>

#define VALUES_MAX 64 /* properties of one kind */

/* Every value behind the planes: how far it may be off is asked once for each. */
static bool counts(const struct trade_property_row *row) {
    return row->type == TRADE_NUMBER && strcmp(row->unit, "mm") == 0;
}

static const struct trade_part *part_of(const struct trade_bike *bike, unsigned subject) {
    if (subject == FIT_FRAME) {
        return &bike->frame;
    }
    return subject < TRADE_SLOTS && trade_bike_has(bike, subject) ? &bike->fitted[subject].part : NULL;
}

/* Front and rear line with one value larger by this much. */
static void lines_with(double *front_mm, double *rear_mm, const struct trade_bike *bike, unsigned subject,
                       enum trade_property property, double by_mm) {
    struct trade_bike other = *bike;
    struct trade_value values[VALUES_MAX];
    struct trade_part *part = subject == FIT_FRAME ? &other.frame : &other.fitted[subject].part;
    size_t n = trade_kind_rows[part->kind].n;
    struct fit_build now;
    struct plan_line line;
    *front_mm = *rear_mm = NAN;
    if (n > VALUES_MAX) {
        return;
    }
    memcpy(values, part->values, n * sizeof *values);
    part->values = values;
    values[property - trade_kind_rows[part->kind].first].number += by_mm;
    fit_build_now(&now, &other);
    plan_line_of(&line, &other, &now);
    *front_mm = line.front.known == BASE_OPEN ? NAN : line.front.mm;
    *rear_mm = line.rear.known == BASE_OPEN ? NAN : line.rear.mm;
}

/* What a value that was assumed may be: as far off as the furthest that occurs. */
static double assumed_band(const struct trade_property_row *row, double value) {
    double band = trade_limits[TRADE_LIMIT_PLANE_READING_MM].value;
    for (size_t i = 0; i < row->n_usual; i++) {
        band = i == 0 ? fabs(row->usual[i] - value) : fmax(band, fabs(row->usual[i] - value));
    }
    return band;
}

static double band_of(unsigned property, const struct trade_value *value) {
    switch (property) {
    case TRADE_CRANK_OUTER_PLANE_MM:
    case TRADE_CRANK_MIDDLE_PLANE_MM:
    case TRADE_CRANK_INNER_PLANE_MM:
        return trade_limits[TRADE_LIMIT_PLANE_READING_MM].value;
    case TRADE_FRAME_HUB_WIDTH_MM:
        return trade_limits[TRADE_LIMIT_HUB_WIDTH_TOLERANCE_MM].value;
    default:
        break;
    }
    if (value->known == BASE_ASSUMED) {
        return assumed_band(&trade_property_rows[property], value->number);
    }
    return trade_limits[property == TRADE_FRAME_GAP_MM ? TRADE_LIMIT_GAP_READING_MM : TRADE_LIMIT_LENGTH_READING_MM]
        .value;
}

bool plan_line_flips(const struct plan_line *line, double by_mm) {
    bool inside = line->error_mm == 0;
    bool low = mech_line_error_mm(line->front.mm - by_mm, line->low_mm, line->high_mm) == 0;
    bool high = mech_line_error_mm(line->front.mm + by_mm, line->low_mm, line->high_mm) == 0;
    /* From outside it may pass through the whole window. */
    bool across = !inside && fabs(line->error_mm) <= fabs(by_mm);
    return low != inside || high != inside || across;
}

static double share(const struct plan_tolerance *t, bool against_rear) {
    return fabs((t->front - (against_rear ? t->rear : 0)) * t->band_mm);
}

static bool listed(const struct plan_tolerances *out, unsigned subject, unsigned property) {
    for (size_t i = 0; i < out->n; i++) {
        if (out->at[i].subject == subject && out->at[i].property == property) {
            return true;
        }
    }
    return false;
}

/* Lists a value if it moves a line. */
static void add(struct plan_tolerances *out, const struct trade_bike *bike, const struct plan_line *line,
                unsigned subject, unsigned property) {
    const struct trade_part *part = part_of(bike, subject);
    if (!part || property >= TRADE_PROPERTIES || !counts(&trade_property_rows[property]) ||
        listed(out, subject, property) || out->n == PLAN_TOLERANCES_MAX) {
        return;
    }
    const struct trade_value *value = trade_get(part, (enum trade_property)property);
    double front, rear;
    /* A ring on arms lies in its place by definition: an offset that nobody read is no reading. */
    if (trade_is_open(value) || (property == TRADE_RING_OFFSET_MM && value->known != BASE_MEASURED)) {
        return;
    }
    lines_with(&front, &rear, bike, subject, (enum trade_property)property, 1);
    struct plan_tolerance t = {.subject = (uint8_t)subject, .property = (uint16_t)property, .known = value->known};
    t.front = isnan(front) ? 0 : front - line->front.mm;
    t.rear = isnan(rear) || line->rear.known == BASE_OPEN ? 0 : rear - line->rear.mm;
    t.band_mm = band_of(property, value);
    if (fabs(t.front) < 1e-9 && fabs(t.rear) < 1e-9) {
        return;
    }
    bool against_rear = line->target == PLAN_TARGET_REAR;
    t.flips = plan_line_flips(line, share(&t, against_rear));
    size_t at = out->n++;
    for (; at > 0 && share(&t, against_rear) > share(&out->at[at - 1], against_rear); at--) {
        out->at[at] = out->at[at - 1];
    }
    out->at[at] = t;
}

/* Every value that a measure of the line reads. */
static void add_measure(struct plan_tolerances *out, const struct trade_bike *bike, const struct plan_line *line,
                        enum fit_measure_id id) {
    for (size_t i = 0; i < fit_measures[id].n_terms; i++) {
        const struct fit_term *term = &fit_measures[id].terms[i];
        for (unsigned r = 0; r < term->n_reads; r++) {
            unsigned subject = term->reads[r].subject;
            subject = subject >= FIT_NOW && subject < FIT_MEASURE ? subject - FIT_NOW : subject;
            add(out, bike, line, subject, term->reads[r].property);
        }
    }
}

static void sum_up(struct plan_tolerances *out, bool against_rear) {
    double front = 0, rear = 0, both = 0;
    for (size_t i = 0; i < out->n; i++) {
        const struct plan_tolerance *t = &out->at[i];
        double f = fabs(t->front * t->band_mm), r = fabs(t->rear * t->band_mm), b = share(t, against_rear);
        out->front_worst_mm += f;
        out->rear_worst_mm += r;
        out->worst_mm += b;
        front += f * f;
        rear += r * r;
        both += b * b;
    }
    out->front_likely_mm = sqrt(front);
    out->rear_likely_mm = sqrt(rear);
    out->likely_mm = sqrt(both);
}

void plan_tolerances_of(struct plan_tolerances *out, const struct trade_bike *bike, const struct plan_line *line) {
    memset(out, 0, sizeof *out);
    if (isnan(line->error_mm)) {
        out->front_worst_mm = out->front_likely_mm = out->rear_worst_mm = out->rear_likely_mm = NAN;
        out->worst_mm = out->likely_mm = NAN;
        return;
    }
    for (unsigned i = 0; i < 3; i++) {
        if (line->present[i]) {
            add_measure(out, bike, line, (enum fit_measure_id)(FIT_OUTER_PLANE + i));
        }
    }
    add_measure(out, bike, line, FIT_REAR_MIDDLE);
    sum_up(out, line->target == PLAN_TARGET_REAR);
    if (line->rear.known == BASE_OPEN) {
        out->rear_worst_mm = out->rear_likely_mm = NAN;
    }
    out->flips_at_worst = plan_line_flips(line, out->worst_mm);
    out->flips_when_likely = plan_line_flips(line, out->likely_mm);
}
