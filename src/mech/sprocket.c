/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/sprocket.h"

#include "mech/constants.h"

#include <math.h>

bool mech_sprocket_teeth_allowed(int teeth) { return teeth >= MECH_TEETH_MIN && teeth <= MECH_TEETH_MAX; }

static double pitch_diameter_mm(int teeth) { return MECH_PITCH_MM / sin(MECH_PI / teeth); }

enum base_status mech_sprocket_pitch_diameter_mm(double *out, int teeth) {
    if (!mech_sprocket_teeth_allowed(teeth)) {
        return BASE_BAD_INPUT;
    }
    *out = pitch_diameter_mm(teeth);
    return BASE_OK;
}

enum base_status mech_sprocket_pitch_radius_mm(double *out, int teeth) {
    if (!mech_sprocket_teeth_allowed(teeth)) {
        return BASE_BAD_INPUT;
    }
    *out = pitch_diameter_mm(teeth) / 2.0;
    return BASE_OK;
}

enum base_status mech_sprocket_outside_diameter_mm(double *out, int teeth) {
    if (!mech_sprocket_teeth_allowed(teeth)) {
        return BASE_BAD_INPUT;
    }
    *out = MECH_PITCH_MM * (0.6 + 1.0 / tan(MECH_PI / teeth));
    return BASE_OK;
}

enum base_status mech_sprocket_root_diameter_mm(double *out, int teeth) {
    if (!mech_sprocket_teeth_allowed(teeth)) {
        return BASE_BAD_INPUT;
    }
    *out = pitch_diameter_mm(teeth) - MECH_ROLLER_MM;
    return BASE_OK;
}

enum base_status mech_sprocket_caliper_diameter_mm(double *out, int teeth) {
    if (!mech_sprocket_teeth_allowed(teeth)) {
        return BASE_BAD_INPUT;
    }
    double across = teeth % 2 == 0 ? 1.0 : cos(MECH_PI / (2.0 * teeth));
    *out = pitch_diameter_mm(teeth) * across - MECH_ROLLER_MM;
    return BASE_OK;
}
