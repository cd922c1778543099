/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/tyre.h"

#include "mech/constants.h"

double mech_tyre_circumference_mm(double width_mm, double bead_seat_mm) {
    return MECH_PI * (bead_seat_mm + 2.0 * width_mm);
}
