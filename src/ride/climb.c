/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/climb.h"

#include "mech/constants.h"

#include <math.h>
#include <stdbool.h>

/* Cadence and losses settle by a factor of a hundred each round: the losses move the speed by a few per cent at most. */
#define ROUNDS_MAX 50
#define SETTLED 1e-13
/* A share that is always left: at next to no tension the formula of the losses no longer holds. */
#define LEAST_EFFICIENCY 0.5

/* As near to the middle of the band as this, as the logarithm of a ratio, one cadence is as good as another. */
#define UNFELT 0.05

double ride_climb_development_m(double speed_mps, double cadence_rpm) { return speed_mps * 60.0 / cadence_rpm; }

double ride_climb_cadence_rpm(double speed_mps, double development_m) { return speed_mps * 60.0 / development_m; }

static enum ride_state state_of(double cadence_rpm, const struct ride_band *band) {
    if (cadence_rpm < band->low_rpm) {
        return RIDE_BELOW;
    }
    return cadence_rpm > band->high_rpm ? RIDE_ABOVE : RIDE_IN_BAND;
}

/* What the drive loses in a gear at a cadence. */
static void lose(struct ride_in_gear *in, double power_w, const struct ride_drive *drive,
                 const struct ride_gear *gear) {
    double angle_deg = isnan(gear->angle_deg) ? 0.0 : gear->angle_deg;
    double tension_n = mech_drive_tension_n(power_w, gear->ring, in->cadence_rpm);
    in->loss = mech_drive_loss_of(&drive->chain, gear->ring, gear->sprocket, tension_n, angle_deg);
    in->efficiency = fmax(mech_drive_efficiency(&in->loss), LEAST_EFFICIENCY);
}

/* The speed that the present efficiency gives, and its cadence. */
static enum base_status move(struct ride_in_gear *in, const struct ride_machine *machine, const struct ride_road *road,
                             double power_w, const struct ride_gear *gear) {
    enum base_status status = ride_load_speed_mps(&in->speed_mps, machine, road, power_w * in->efficiency);
    in->cadence_rpm = ride_climb_cadence_rpm(in->speed_mps, gear->development_m);
    return status;
}

enum base_status ride_climb_in_gear(struct ride_in_gear *out, const struct ride_machine *machine,
                                    const struct ride_road *road, double power_w, const struct ride_drive *drive,
                                    const struct ride_gear *gear, const struct ride_band *band) {
    bool is_fixed = !isnan(drive->efficiency);
    struct ride_in_gear in = {.efficiency = is_fixed ? drive->efficiency : 1.0};
    enum base_status status = move(&in, machine, road, power_w, gear);
    for (int i = 0; i < ROUNDS_MAX && status == BASE_OK && !is_fixed; i++) {
        double before = in.efficiency;
        lose(&in, power_w, drive, gear);
        status = move(&in, machine, road, power_w, gear);
        if (fabs(in.efficiency - before) <= SETTLED) {
            break;
        }
    }
    if (status == BASE_OK) {
        in.state = state_of(in.cadence_rpm, band);
        *out = in;
    }
    return status;
}

enum base_status ride_climb_gradient(double *out, const struct ride_machine *machine, double power_w,
                                     const struct ride_drive *drive, const struct ride_gear *gear, double cadence_rpm) {
    const struct ride_road flat = {.gradient = 0.0};
    struct ride_in_gear in = {.efficiency = drive->efficiency, .cadence_rpm = cadence_rpm};
    if (isnan(drive->efficiency)) {
        lose(&in, power_w, drive, gear);
    }
    double speed_mps = cadence_rpm * gear->development_m / 60.0;
    struct ride_load load = ride_load_steady(machine, &flat, speed_mps);
    double force_n = (power_w * in.efficiency - load.air_w - load.bearings_w) / speed_mps;
    double share = force_n / (machine->mass_kg * RIDE_GRAVITY_MPS2 * hypot(1.0, machine->crr));
    double angle = asin(share) - atan(machine->crr);
    if (!(fabs(share) < 1.0) || !(fabs(angle) < MECH_PI / 2.0)) {
        return BASE_NO;
    }
    *out = tan(angle);
    return BASE_OK;
}

/* --- which gear ---------------------------------------------------------------------------------------------------- */

/* How far a cadence is from what is liked, as the logarithm of a ratio: from the middle within the band, from its nearer
 * end outside. */
static double distance(const struct ride_in_gear *in, const struct ride_band *band) {
    switch (in->state) {
    case RIDE_BELOW:
        return log(band->low_rpm / in->cadence_rpm);
    case RIDE_ABOVE:
        return log(in->cadence_rpm / band->high_rpm);
    default:
        return fabs(log(in->cadence_rpm / sqrt(band->low_rpm * band->high_rpm)));
    }
}

static bool is_better(const struct ride_in_gear *a, const struct ride_in_gear *b, const struct ride_band *band) {
    bool a_in = a->state == RIDE_IN_BAND, b_in = b->state == RIDE_IN_BAND;
    if (a_in != b_in) {
        return a_in;
    }
    double of_a = fmax(distance(a, band), UNFELT), of_b = fmax(distance(b, band), UNFELT);
    if (of_a < of_b || of_b < of_a) {
        return of_a < of_b;
    }
    return a->efficiency > b->efficiency;
}

size_t ride_climb_choose(const struct ride_in_gear *gears, size_t n, const struct ride_band *band) {
    size_t best = 0;
    for (size_t i = 1; i < n; i++) {
        best = is_better(&gears[i], &gears[best], band) ? i : best;
    }
    return best;
}

/* --- a known climb ------------------------------------------------------------------------------------------------- */

double ride_climb_power_w(const struct ride_machine *machine, double gradient, double length_m, double time_s,
                          double efficiency) {
    const struct ride_road road = {.gradient = gradient};
    struct ride_load load = ride_load_steady(machine, &road, length_m / time_s);
    return ride_load_rider_w(ride_load_total_w(&load), efficiency);
}
