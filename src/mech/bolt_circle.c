/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/bolt_circle.h"

#include "mech/constants.h"
#include "mech/sprocket.h"

#include <math.h>
#include <stdbool.h>

#define ARMS_MIN 3
#define ARMS_MAX 12
#define LARGEST_MM 300.0

/* Comparisons are false for a value that is not a number. */
static bool length_allowed(double mm) { return mm > 0.0 && mm <= LARGEST_MM; }

static bool arms_allowed(int arms) { return arms >= ARMS_MIN && arms <= ARMS_MAX; }

enum base_status mech_bolt_circle_mm(double *out, double hole_distance_mm, int arms) {
    if (!length_allowed(hole_distance_mm) || !arms_allowed(arms)) {
        return BASE_BAD_INPUT;
    }
    *out = hole_distance_mm / sin(MECH_PI / arms);
    return BASE_OK;
}

enum base_status mech_bolt_circle_hole_distance_mm(double *out, double bolt_circle_mm, int arms) {
    if (!length_allowed(bolt_circle_mm) || !arms_allowed(arms)) {
        return BASE_BAD_INPUT;
    }
    *out = bolt_circle_mm * sin(MECH_PI / arms);
    return BASE_OK;
}

enum base_status mech_bolt_circle_room_mm(double *out, double bolt_circle_mm, int teeth) {
    double root_mm;
    if (!length_allowed(bolt_circle_mm) || mech_sprocket_root_diameter_mm(&root_mm, teeth) != BASE_OK) {
        return BASE_BAD_INPUT;
    }
    *out = (root_mm - bolt_circle_mm) / 2.0;
    return BASE_OK;
}
