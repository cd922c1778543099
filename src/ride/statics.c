/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/statics.h"

#include "mech/constants.h"
#include "ride/load.h"

#include <math.h>
#include <stdbool.h>

static bool within(double value, double low, double high) { return value >= low && value <= high; }

static bool stands(const struct ride_stance *s, double peak) {
    return within(s->forward_mm, 1.0, 2000.0) && within(s->height_mm, 1.0, 3000.0) && within(peak, 1.0, 5.0);
}

static bool stands_on_both(const struct ride_stance *s, double peak) {
    return stands(s, peak) && within(s->wheelbase_mm, 600.0, 2000.0) && s->forward_mm < s->wheelbase_mm;
}

enum base_status ride_statics_lift(double *out, const struct ride_stance *stance, double peak) {
    if (!stands(stance, peak)) {
        return BASE_BAD_INPUT;
    }
    *out = stance->forward_mm / (peak * stance->height_mm);
    return BASE_OK;
}

enum base_status ride_statics_slip(double *out, const struct ride_stance *stance, double grip, double peak) {
    if (!stands_on_both(stance, peak) || !within(grip, 1e-6, 2.0)) {
        return BASE_BAD_INPUT;
    }
    /* What is left of the wheelbase once the drive force has moved the load back. */
    double left_mm = stance->wheelbase_mm - grip * stance->height_mm;
    if (left_mm <= 0.0) {
        return BASE_NO;
    }
    *out = grip * (stance->wheelbase_mm - stance->forward_mm) / (peak * left_mm);
    return BASE_OK;
}

enum base_status ride_statics_contact(struct ride_contact *out, const struct ride_stance *stance, double mass_kg,
                                      double gradient, double peak) {
    if (!stands_on_both(stance, peak) || !within(mass_kg, 1.0, 1000.0) || !within(gradient, 0.0, 1.0)) {
        return BASE_BAD_INPUT;
    }
    double weight_n = mass_kg * RIDE_GRAVITY_MPS2;
    double across_n = weight_n / sqrt(1.0 + gradient * gradient);
    double drive_n = peak * gradient * across_n;
    double front_n = (across_n * stance->forward_mm - drive_n * stance->height_mm) / stance->wheelbase_mm;
    *out = (struct ride_contact){front_n, across_n - front_n, drive_n};
    return BASE_OK;
}

double ride_statics_crank_torque_nm(double power_w, double cadence_rpm) {
    return power_w / (2.0 * MECH_PI * cadence_rpm / 60.0);
}

double ride_statics_pedal_force_n(double power_w, double cadence_rpm, double crank_mm) {
    return ride_statics_crank_torque_nm(power_w, cadence_rpm) / (crank_mm / 1000.0);
}
