/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/load.h"

#include "mech/constants.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#define POWER_MOST_W 5000.0
#define SPEED_MOST_MPS 128.0
#define STEPS_MAX 200

double ride_load_headwind_mps(double wind_mps, double from_deg, double heading_deg) {
    return wind_mps * cos(mech_radians(from_deg - heading_deg));
}

static double drag_n_per_mps2(const struct ride_machine *m) {
    return 0.5 * m->air_density_kg_m3 * (m->drag_area_m2 + m->wheel_drag_area_m2);
}

static double air_n(const struct ride_machine *m, const struct ride_road *road, double speed_mps) {
    double through_air_mps = speed_mps + road->headwind_mps;
    return drag_n_per_mps2(m) * through_air_mps * fabs(through_air_mps);
}

/* cos atan g and sin atan g, without the angle. */
static double cosine(double gradient) { return 1.0 / sqrt(1.0 + gradient * gradient); }
static double sine(double gradient) { return gradient * cosine(gradient); }

static double rolling_n(const struct ride_machine *m, const struct ride_road *road) {
    return m->crr * m->mass_kg * RIDE_GRAVITY_MPS2 * cosine(road->gradient);
}

static double bearings_n(const struct ride_machine *m, double speed_mps) {
    return m->bearings_n + m->bearings_n_s_m * speed_mps;
}

static double gravity_n(const struct ride_machine *m, const struct ride_road *road) {
    return m->mass_kg * RIDE_GRAVITY_MPS2 * sine(road->gradient);
}

struct ride_load ride_load_steady(const struct ride_machine *machine, const struct ride_road *road, double speed_mps) {
    return (struct ride_load){
        .air_w = air_n(machine, road, speed_mps) * speed_mps,
        .rolling_w = rolling_n(machine, road) * speed_mps,
        .bearings_w = bearings_n(machine, speed_mps) * speed_mps,
        .gravity_w = gravity_n(machine, road) * speed_mps,
        .kinetic_w = 0.0,
    };
}

double ride_load_force_n(const struct ride_machine *machine, const struct ride_road *road, double speed_mps) {
    return air_n(machine, road, speed_mps) + rolling_n(machine, road) + bearings_n(machine, speed_mps) +
           gravity_n(machine, road);
}

double ride_load_inert_mass_kg(const struct ride_machine *machine) {
    return machine->mass_kg + machine->wheel_inertia_kg_m2 / (machine->wheel_radius_m * machine->wheel_radius_m);
}

double ride_load_kinetic_w(const struct ride_machine *machine, double from_mps, double to_mps, double duration_s) {
    return 0.5 * ride_load_inert_mass_kg(machine) * (to_mps * to_mps - from_mps * from_mps) / duration_s;
}

double ride_load_total_w(const struct ride_load *load) {
    return load->air_w + load->rolling_w + load->bearings_w + load->gravity_w + load->kinetic_w;
}

double ride_load_rider_w(double wheel_w, double drive_efficiency) {
    return wheel_w > 0.0 ? wheel_w / drive_efficiency : 0.0;
}

/* --- speed from power ---------------------------------------------------------------------------------------------- */

static bool within(double value, double low, double high) { return value >= low && value <= high; }

static bool allowed(const struct ride_machine *m, const struct ride_road *road, double wheel_w) {
    return within(m->mass_kg, 10.0, 400.0) && within(m->drag_area_m2, 0.0, 2.0) &&
           within(m->wheel_drag_area_m2, 0.0, 0.1) && within(m->crr, 0.0, 0.3) && within(m->bearings_n, 0.0, 10.0) &&
           within(m->bearings_n_s_m, 0.0, 1.0) && within(m->air_density_kg_m3, 0.3, 2.0) &&
           within(road->gradient, -1.0, 1.0) && within(road->headwind_mps, -40.0, 40.0) &&
           within(wheel_w, 0.0, POWER_MOST_W);
}

/* What is asked for beyond the power that is there, W. Below 0 from a standstill up to the one root, above 0 beyond it. */
static double excess_w(const struct ride_machine *m, const struct ride_road *road, double speed_mps, double wheel_w) {
    return ride_load_force_n(m, road, speed_mps) * speed_mps - wheel_w;
}

/* Its derivative by the speed. */
static double excess_slope_n(const struct ride_machine *m, const struct ride_road *road, double speed_mps) {
    double force_slope = 2.0 * drag_n_per_mps2(m) * fabs(speed_mps + road->headwind_mps) + m->bearings_n_s_m;
    return ride_load_force_n(m, road, speed_mps) + force_slope * speed_mps;
}

/* Newton's steps, held within the bracket; halved where a step would leave it. */
static double root_between(const struct ride_machine *m, const struct ride_road *road, double wheel_w, double low,
                           double high) {
    double speed = high;
    for (int i = 0; i < STEPS_MAX; i++) {
        double excess = excess_w(m, road, speed, wheel_w);
        *(excess > 0.0 ? &high : &low) = speed;
        double next = speed - excess / excess_slope_n(m, road, speed);
        if (!(next > low && next < high)) {
            next = 0.5 * (low + high);
        }
        if (fabs(next - speed) <= 1e-14 * speed) {
            return next;
        }
        speed = next;
    }
    return speed;
}

enum base_status ride_load_speed_mps(double *out, const struct ride_machine *machine, const struct ride_road *road,
                                     double wheel_w) {
    if (!allowed(machine, road, wheel_w)) {
        return BASE_BAD_INPUT;
    }
    if (wheel_w <= 0.0 && ride_load_force_n(machine, road, 0.0) >= 0.0) {
        *out = 0.0;
        return BASE_OK;
    }
    double high = 1.0;
    while (excess_w(machine, road, high, wheel_w) <= 0.0) {
        high *= 2.0;
        if (high > SPEED_MOST_MPS) {
            return BASE_BAD_INPUT;
        }
    }
    *out = root_between(machine, road, wheel_w, 0.0, high);
    return BASE_OK;
}
