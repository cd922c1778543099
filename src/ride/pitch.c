/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/pitch.h"

#include <math.h>

#define STEEP_SHARE 0.7 /* of the steepest cell */
#define STEEP_LEAST 0.04

/* Puts a pitch among the steepest so far, which stand in falling order. */
static size_t keep(struct ride_pitch *out, size_t n, size_t most, struct ride_pitch pitch) {
    size_t at = n;
    while (at > 0 && out[at - 1].gradient < pitch.gradient) {
        at--;
    }
    if (at == most) {
        return n;
    }
    n = n < most ? n + 1 : most;
    for (size_t i = n - 1; i > at; i--) {
        out[i] = out[i - 1];
    }
    out[at] = pitch;
    return n;
}

static void sort_by_place(struct ride_pitch *pitches, size_t n) {
    for (size_t i = 1; i < n; i++) {
        struct ride_pitch pitch = pitches[i];
        size_t at = i;
        for (; at > 0 && pitches[at - 1].first > pitch.first; at--) {
            pitches[at] = pitches[at - 1];
        }
        pitches[at] = pitch;
    }
}

static double steep_from(const struct ride_cell *cells, size_t n) {
    double steepest = 0.0;
    for (size_t i = 0; i < n; i++) {
        steepest = fmax(steepest, cells[i].gradient);
    }
    return fmax(STEEP_LEAST, STEEP_SHARE * steepest);
}

/* The mean gradient of a stretch. */
static double mean_gradient(const struct ride_cell *cells, size_t n) {
    double rise_m = 0.0, flat_m = 0.0;
    for (size_t i = 0; i < n; i++) {
        double rise = ride_cell_rise_m(&cells[i]);
        rise_m += rise;
        flat_m += sqrt(cells[i].length_m * cells[i].length_m - rise * rise);
    }
    return rise_m / flat_m;
}

size_t ride_pitches_of(struct ride_pitch *out, size_t most, const struct ride_cell *cells, size_t n) {
    const double steep = steep_from(cells, n);
    struct ride_pitch pitch = {0}; /* the one in hand; n 0: none */
    double at_m = 0.0, end_m = 0.0;
    size_t found = 0;
    for (size_t i = 0; i <= n; i++) {
        bool is_steep = i < n && cells[i].gradient >= steep;
        if (pitch.n > 0 && (i == n || (!is_steep && at_m - end_m >= RIDE_PITCH_LEAST_M))) {
            pitch.length_m = end_m - pitch.from_m;
            pitch.gradient = mean_gradient(cells + pitch.first, pitch.n);
            found = pitch.length_m >= RIDE_PITCH_LEAST_M ? keep(out, found, most, pitch) : found;
            pitch.n = 0;
        }
        if (i == n) {
            break;
        }
        if (is_steep && pitch.n == 0) {
            pitch = (struct ride_pitch){.first = i, .from_m = at_m};
        }
        at_m += cells[i].length_m;
        if (is_steep) {
            pitch.n = i + 1 - pitch.first;
            end_m = at_m;
        }
    }
    sort_by_place(out, found);
    return found;
}

struct ride_stretch ride_stretch_of(const struct ride_run *run, const struct ride_cell *cells, size_t first, size_t n) {
    struct ride_stretch stretch = {0};
    double turns = 0.0, pedalled_s = 0.0;
    for (size_t i = first; i < first + n; i++) {
        const struct ride_moment *moment = &run->moments[i];
        stretch.time_s += moment->time_s;
        stretch.foot_m += moment->mode == RIDE_MODE_WALKED ? cells[i].length_m : 0.0;
        if (moment->rpm > 0.0F) {
            turns += moment->rpm * moment->time_s;
            pedalled_s += moment->time_s;
        }
    }
    stretch.rpm = pedalled_s > 0.0 ? turns / pedalled_s : 0.0;
    return stretch;
}
