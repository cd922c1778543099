/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/line.h"

#include "mech/line.h"

#include <math.h>

static const enum trade_slot places[3] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};

static struct fit_sum between(struct fit_sum a, struct fit_sum b) {
    return (struct fit_sum){.mm = (a.mm + b.mm) / 2, .known = base_weakest(a.known, b.known)};
}

static struct fit_sum front_of(const struct plan_line *line, unsigned rings) {
    const struct fit_sum none = {.known = BASE_OPEN};
    if (rings == 3) {
        return line->ring[1];
    }
    for (unsigned i = 0; i < 3; i++) {
        if (!line->present[i]) {
            continue;
        }
        if (rings == 1) {
            return line->ring[i];
        }
        return between(line->ring[i], line->present[2] ? line->ring[2] : line->ring[1]);
    }
    return none;
}

/* The row for this hub width, use and number of rings; the most definite of those that apply, the first of equals. Rows
 * that are remembered weakly decide nothing. */
static const struct trade_line_windows_row *window_row(double width_mm, int use, unsigned rings) {
    const struct trade_line_windows_row *best = NULL;
    int best_score = -1;
    for (size_t i = 0; i < trade_line_windows_n; i++) {
        const struct trade_line_windows_row *row = &trade_line_windows[i];
        bool applies = row->width_mm == width_mm && (row->use < 0 || row->use == use) &&
                       (row->rings < 0 || row->rings == (int)rings) && row->mark != TRADE_MARK_MEM_LOW;
        int score = (row->use >= 0 ? 2 : 0) + (row->rings >= 0 ? 1 : 0);
        if (applies && score > best_score) {
            best = row;
            best_score = score;
        }
    }
    return best;
}

static void set_window(struct plan_line *out, enum plan_target target, double low_mm, double high_mm,
                       const char *source) {
    out->target = target;
    out->low_mm = low_mm;
    out->high_mm = high_mm;
    out->source = source;
}

static void find_window(struct plan_line *out, const struct trade_bike *bike, unsigned rings) {
    double low = trade_get_number(&bike->frame, TRADE_FRAME_NEW_LINE_LOW_MM);
    double high = trade_get_number(&bike->frame, TRADE_FRAME_NEW_LINE_HIGH_MM);
    if (!isnan(low) || !isnan(high)) {
        low = isnan(low) ? high : low;
        high = isnan(high) ? low : high;
        set_window(out, PLAN_TARGET_NEW, fmin(low, high), fmax(low, high), "the frame maker's sheet");
        return;
    }
    double width = trade_get_number(&bike->frame, TRADE_FRAME_HUB_WIDTH_MM);
    int use = trade_get_word(&bike->self, TRADE_BIKE_USE);
    const struct trade_line_windows_row *row = isnan(width) ? NULL : window_row(width, use, rings);
    if (row) {
        set_window(out, PLAN_TARGET_TABLE, row->low_mm, row->high_mm, row->source);
        out->disputed = row->disputed;
    } else if (out->rear.known != BASE_OPEN) {
        double good = trade_limits[TRADE_LIMIT_LINE_GOOD_MM].value;
        set_window(out, PLAN_TARGET_REAR, out->rear.mm - good, out->rear.mm + good, NULL);
    }
}

bool plan_line_has_window(const struct trade_bike *bike) {
    for (unsigned rings = 1; rings <= 3; rings++) {
        struct plan_line line = {.target = PLAN_TARGET_OPEN, .rear = {.known = BASE_OPEN}};
        find_window(&line, bike, rings);
        if (line.target == PLAN_TARGET_OPEN) {
            return false;
        }
    }
    return true;
}

void plan_line_close(struct plan_line *line, const struct trade_bike *bike) {
    unsigned rings = (unsigned)line->present[0] + line->present[1] + line->present[2];
    set_window(line, PLAN_TARGET_OPEN, NAN, NAN, NULL);
    line->disputed = "";
    line->error_mm = NAN;
    line->error_steps = -1;
    line->front = front_of(line, rings);
    find_window(line, bike, rings);
    if (line->front.known != BASE_OPEN && line->target != PLAN_TARGET_OPEN) {
        line->error_mm = mech_line_error_mm(line->front.mm, line->low_mm, line->high_mm);
        line->error_steps = mech_line_error_steps(line->error_mm);
    }
}

void plan_line_of(struct plan_line *out, const struct trade_bike *bike, const struct fit_build *build) {
    for (unsigned i = 0; i < 3; i++) {
        out->present[i] = build->at[places[i]].kind != FIT_NONE;
        out->ring[i] = (struct fit_sum){.known = BASE_OPEN};
        if (out->present[i]) {
            out->ring[i] = fit_measure_sum((enum fit_measure_id)(FIT_OUTER_PLANE + i), bike, build);
        }
    }
    out->rear = fit_measure_sum(FIT_REAR_MIDDLE, bike, build);
    plan_line_close(out, bike);
}

double plan_sprocket_plane_mm(const struct trade_bike *bike, const struct fit_build *build, size_t k) {
    struct fit_sum outer = fit_measure_sum(FIT_REAR_OUTER, bike, build);
    const struct trade_part *cassette = build->at[TRADE_SLOT_CASSETTE].part;
    if (outer.known == BASE_OPEN || !cassette) {
        return NAN;
    }
    double pitch = trade_get_number(cassette, TRADE_CASSETTE_PITCH_MM);
    double thickness = trade_get_number(cassette, TRADE_CASSETTE_SPROCKET_MM);
    return outer.mm - thickness / 2 - (double)k * pitch;
}

double plan_axles_mm(const struct trade_bike *bike) {
    double stay = trade_get_number(&bike->frame, TRADE_FRAME_CHAINSTAY_MM);
    double drop = trade_get_number(&bike->frame, TRADE_FRAME_BOTTOM_BRACKET_DROP_MM);
    double axles = stay;
    if (!isnan(stay) && !isnan(drop) && mech_line_axle_distance_mm(&axles, stay, drop) != BASE_OK) {
        return NAN;
    }
    return axles;
}
