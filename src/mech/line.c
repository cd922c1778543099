/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/line.h"

#include "mech/constants.h"

#include <math.h>

double mech_line_stack_mm(int sprockets, double pitch_mm, double thickness_mm) {
    return (sprockets - 1) * pitch_mm + thickness_mm;
}

/* Outer face of the smallest sprocket, from the frame. */
static double outer_face_at_gap(const struct mech_line_hub *hub, double gap_mm) {
    return hub->width_mm / 2.0 - hub->recess_mm + hub->offset_mm - gap_mm;
}

/* The same face, from the shoulder. */
static double outer_face_on_shoulder(const struct mech_line_cassette *cassette, double shoulder_mm) {
    return shoulder_mm + cassette->spacers_mm - cassette->overhang_mm + cassette->stack_mm;
}

double mech_line_rear_mm(const struct mech_line_hub *hub, double stack_mm, double gap_mm) {
    return outer_face_at_gap(hub, gap_mm) - stack_mm / 2.0;
}

double mech_line_shoulder_mm(const struct mech_line_hub *hub, const struct mech_line_cassette *cassette,
                             double gap_mm) {
    return outer_face_at_gap(hub, gap_mm) - outer_face_on_shoulder(cassette, 0.0);
}

double mech_line_gap_mm(const struct mech_line_hub *hub, const struct mech_line_cassette *cassette,
                        double shoulder_mm) {
    return outer_face_at_gap(hub, 0.0) - outer_face_on_shoulder(cassette, shoulder_mm);
}

double mech_line_sprocket_mm(const struct mech_line_cassette *cassette, double shoulder_mm, int i) {
    return outer_face_on_shoulder(cassette, shoulder_mm) - cassette->thickness_mm / 2.0 - (i - 1) * cassette->pitch_mm;
}

double mech_line_middle_mm(const struct mech_line_cassette *cassette, double shoulder_mm) {
    return outer_face_on_shoulder(cassette, shoulder_mm) - cassette->stack_mm / 2.0;
}

double mech_line_gap_least_mm(double chain_width_mm, double thickness_mm) {
    return (chain_width_mm - thickness_mm) / 2.0 + 0.5;
}

double mech_line_front_mm(double width_mm, double distance_mm) { return width_mm / 2.0 + distance_mm; }

double mech_line_front_two_mm(double outer_to_left_mm, double inner_to_right_mm) {
    return (outer_to_left_mm + inner_to_right_mm) / 2.0;
}

double mech_line_from_locknut_mm(double width_mm, double distance_mm) { return width_mm / 2.0 - distance_mm; }

enum base_status mech_line_axle_distance_mm(double *out, double stay_mm, double drop_mm) {
    if (!isfinite(stay_mm) || !isfinite(drop_mm) || stay_mm <= 0.0) {
        return BASE_BAD_INPUT;
    }
    if (fabs(drop_mm) >= stay_mm) {
        return BASE_NO;
    }
    *out = sqrt((stay_mm - drop_mm) * (stay_mm + drop_mm));
    return BASE_OK;
}

enum base_status mech_line_angle_deg(double *out, double offset_mm, double distance_mm) {
    if (!isfinite(offset_mm) || !isfinite(distance_mm) || distance_mm <= 0.0) {
        return BASE_BAD_INPUT;
    }
    *out = mech_degrees(atan(offset_mm / distance_mm));
    return BASE_OK;
}

double mech_line_error_mm(double line_mm, double low_mm, double high_mm) {
    if (line_mm > high_mm) {
        return line_mm - high_mm;
    }
    return line_mm < low_mm ? line_mm - low_mm : 0.0;
}

int mech_line_error_steps(double error_mm) { return (int)lround(fabs(error_mm) / 0.5); }
