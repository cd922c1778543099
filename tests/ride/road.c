/* SPDX-License-Identifier: Apache-2.0 */
#include "road.h"

#include <math.h>

const struct ride_machine road_machine = {.mass_kg = 85.0,
                                          .drag_area_m2 = 0.32,
                                          .crr = 0.005,
                                          .air_density_kg_m3 = 1.225,
                                          .bearings_n = RIDE_BEARINGS_N,
                                          .bearings_n_s_m = RIDE_BEARINGS_N_S_M,
                                          .wheel_inertia_kg_m2 = RIDE_WHEEL_INERTIA_KG_M2,
                                          .wheel_radius_m = RIDE_WHEEL_RADIUS_M};

const struct ride_habits road_habits = {.power_w = 200.0,
                                        .flat = {70.0, 95.0, BASE_MEASURED},
                                        .climb = {70.0, 95.0, BASE_MEASURED},
                                        .least_rpm = 40.0,
                                        .spin_rpm = 115.0,
                                        .efficiency = 0.976,
                                        .climb_gradient = 0.03,
                                        .coast_mps = 12.5,
                                        .brake_mps = 60.0 / 3.6,
                                        .walk_mps = 1.0};

void road_roll(struct ride_cell *out, size_t n, struct random_source *random) {
    double gradient = 0.0, aim = 0.0;
    for (size_t i = 0; i < n; i++) {
        if (i % 40 == 0) {
            aim = random_between(random, -0.15, 0.15);
        }
        gradient += 0.1 * (aim - gradient);
        out[i] = (struct ride_cell){10.0, gradient};
    }
}

void road_halve(struct ride_cell *out, const struct ride_cell *cells, size_t n) {
    for (size_t i = 0; i < n; i++) {
        out[2 * i] = out[2 * i + 1] = (struct ride_cell){cells[i].length_m / 2.0, cells[i].gradient};
    }
}

struct ride_gearing road_gears(struct ride_choice *out) {
    static const int rings[] = {30, 46};
    static const int sprockets[] = {11, 12, 13, 15, 17, 19, 21, 23, 26, 30, 34};
    size_t n = 0;
    for (unsigned r = 0; r < 2; r++) {
        for (unsigned s = 0; s < 11; s++) {
            struct ride_choice gear = {2.1 * rings[r] / sprockets[s], 0.976, r, s};
            size_t at = n++;
            for (; at > 0 && out[at - 1].development_m > gear.development_m; at--) {
                out[at] = out[at - 1];
            }
            out[at] = gear;
        }
    }
    return (struct ride_gearing){out, n};
}
