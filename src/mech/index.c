/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/index.h"

#include <math.h>
#include <stdbool.h>

#define CLICKS_MAX 13

double mech_index_move_mm(double pull_mm, double ratio) { return pull_mm * ratio; }

double mech_index_click_error_mm(double pull_mm, double ratio, double pitch_mm) {
    return mech_index_move_mm(pull_mm, ratio) - pitch_mm;
}

double mech_index_total_error_mm(int sprockets, double pull_mm, double ratio, double pitch_mm) {
    return (sprockets - 1) * mech_index_click_error_mm(pull_mm, ratio, pitch_mm);
}

double mech_index_centred_error_mm(int sprockets, double pull_mm, double ratio, double pitch_mm) {
    return fabs(mech_index_total_error_mm(sprockets, pull_mm, ratio, pitch_mm)) / 2.0;
}

double mech_index_allowance_mm(int sprockets, double pull_mm, double ratio, double pitch_mm) {
    double move_mm = mech_index_move_mm(pull_mm, ratio);
    double click_mm = MECH_INDEX_TOLERANCE * sqrt(2.0 * move_mm * move_mm + pitch_mm * pitch_mm);
    return (sprockets - 1) / 2.0 * click_mm;
}

enum mech_index_class mech_index_class_of(double error_mm) {
    double size = fabs(error_mm);
    if (size <= 0.3) {
        return MECH_INDEX_NEAR;
    }
    if (size <= 0.6) {
        return MECH_INDEX_CARE;
    }
    return size <= 1.0 ? MECH_INDEX_NOISY : MECH_INDEX_NO;
}

enum mech_index_class mech_index_judge(int sprockets, double pull_mm, double ratio, double pitch_mm) {
    double beyond_mm = mech_index_centred_error_mm(sprockets, pull_mm, ratio, pitch_mm) -
                       mech_index_allowance_mm(sprockets, pull_mm, ratio, pitch_mm);
    return mech_index_class_of(beyond_mm > 0.0 || isnan(beyond_mm) ? beyond_mm : 0.0);
}

static bool positive(double x) { return isfinite(x) && x > 0.0; }

enum base_status mech_index_uneven(struct mech_index_errors *out, const double *pull_mm, size_t clicks, double ratio,
                                   double pitch_mm) {
    if (clicks < 1 || clicks > CLICKS_MAX || !positive(ratio) || !positive(pitch_mm)) {
        return BASE_BAD_INPUT;
    }
    double error = 0.0, lowest = 0.0, highest = 0.0;
    for (size_t i = 0; i < clicks; i++) {
        if (!positive(pull_mm[i])) {
            return BASE_BAD_INPUT;
        }
        error += mech_index_click_error_mm(pull_mm[i], ratio, pitch_mm);
        lowest = fmin(lowest, error);
        highest = fmax(highest, error);
    }
    out->total_mm = error;
    out->centred_mm = (highest - lowest) / 2.0;
    return BASE_OK;
}

double mech_index_room_mm(double pitch_mm, double chain_width_mm, double thickness_mm) {
    return pitch_mm - chain_width_mm / 2.0 - thickness_mm / 2.0;
}
