/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/drive.h"

#include "mech/constants.h"
#include "mech/sprocket.h"

#include <math.h>

#define PIN_RADIUS_MM 1.83
#define HALF_WIDTH_MM 3.0

double mech_drive_tension_n(double power_w, int ring, double cadence_rpm) {
    double chain_mps = ring * (MECH_PITCH_MM / 1000.0) * cadence_rpm / 60.0;
    return power_w / chain_mps;
}

double mech_drive_articulation_deg(int teeth) { return 360.0 / teeth; }

struct mech_drive_loss mech_drive_loss_of(const struct mech_drive *drive, int ring, int sprocket, double tension_n,
                                          double angle_deg) {
    double slack = drive->cage_n / tension_n;
    double sideways = HALF_WIDTH_MM / (MECH_PI * PIN_RADIUS_MM) * mech_radians(fabs(angle_deg));
    return (struct mech_drive_loss){
        .seating = drive->friction * (1.0 / ring + 1.0 / sprocket) * (1.0 + 2.0 * slack),
        .wheels = drive->wheel_teeth > 0 ? drive->friction * 4.0 * slack / drive->wheel_teeth : 0.0,
        .crooked = drive->friction * sideways,
    };
}

double mech_drive_efficiency(const struct mech_drive_loss *loss) {
    return 1.0 - loss->seating - loss->wheels - loss->crooked;
}

double mech_drive_ripple_percent(int teeth) { return 100.0 * (1.0 - cos(MECH_PI / teeth)); }
