/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/gear.h"

#include "mech/constants.h"
#include "mech/sprocket.h"

#include <stdbool.h>

double mech_gear_ratio(int ring, int sprocket) { return (double)ring / (double)sprocket; }

static bool all_allowed(const int *teeth, size_t n) {
    for (size_t i = 0; i < n; i++) {
        if (!mech_sprocket_teeth_allowed(teeth[i])) {
            return false;
        }
    }
    return n > 0;
}

/* Whole numbers multiplied across: 34/17 and 22/11 are equal here, whatever their quotients round to. */
static bool stands_before(const struct mech_gear *a, const struct mech_gear *b) {
    int left = a->ring * b->sprocket;
    int right = b->ring * a->sprocket;
    return left != right ? left < right : a->ring < b->ring;
}

/* Insertion: a bicycle has a few dozen gears, and qsort may allocate. */
static void insert(struct mech_gear *gears, size_t n, struct mech_gear gear) {
    while (n > 0 && stands_before(&gear, &gears[n - 1])) {
        gears[n] = gears[n - 1];
        n--;
    }
    gears[n] = gear;
}

enum base_status mech_gear_table(struct mech_gear *out, const int *rings, size_t n_rings, const int *sprockets,
                                 size_t n_sprockets) {
    if (!all_allowed(rings, n_rings) || !all_allowed(sprockets, n_sprockets)) {
        return BASE_BAD_INPUT;
    }
    size_t n = 0;
    for (size_t r = 0; r < n_rings; r++) {
        for (size_t s = 0; s < n_sprockets; s++) {
            struct mech_gear gear = {rings[r], sprockets[s], mech_gear_ratio(rings[r], sprockets[s])};
            insert(out, n, gear);
            n++;
        }
    }
    return BASE_OK;
}

double mech_gear_development_m(double ratio, double rolling_mm) { return ratio * rolling_mm / 1000.0; }

double mech_gear_inches(double development_m) { return development_m * 1000.0 / MECH_PI / MECH_INCH_MM; }

double mech_gear_inches_nominal(double ratio, double wheel_inches) { return ratio * wheel_inches; }

double mech_gear_crank_ratio(double ratio, double rolling_mm, double crank_mm) {
    return ratio * rolling_mm / (2.0 * MECH_PI) / crank_mm;
}

double mech_gear_range_percent(double lowest_ratio, double highest_ratio) {
    return 100.0 * highest_ratio / lowest_ratio;
}

double mech_gear_step_percent(double lower_ratio, double higher_ratio) {
    return 100.0 * (higher_ratio / lower_ratio - 1.0);
}

size_t mech_gear_repeats(const struct mech_gear *gears, size_t n, double step_percent) {
    size_t repeats = 0;
    for (size_t i = 1; i < n; i++) {
        if (mech_gear_step_percent(gears[i - 1].ratio, gears[i].ratio) < step_percent) {
            repeats++;
        }
    }
    return repeats;
}

double mech_gear_speed_kmh(double development_m, double cadence_rpm) {
    return development_m * cadence_rpm * 60.0 / 1000.0;
}

double mech_gear_cadence_rpm(double development_m, double speed_kmh) {
    return speed_kmh * 1000.0 / 60.0 / development_m;
}
