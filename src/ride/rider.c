/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/rider.h"

#include <math.h>

struct ride_figure ride_figure_of(double value, enum base_known known) {
    return (struct ride_figure){value, known};
}

struct ride_figure ride_figure_open(void) {
    return (struct ride_figure){(double)NAN, BASE_OPEN};
}

void ride_rider_init(struct ride_rider *out) {
    const struct ride_figure open = ride_figure_open();
    const struct ride_band nobody_asked = {(double)NAN, (double)NAN, BASE_OPEN};
    *out = (struct ride_rider){
        .mass_kg = open,
        .bike_mass_kg = open,
        .power_w = open,
        .flat = nobody_asked,
        .climb = nobody_asked,
        .least_rpm = open,
        .drag_area_m2 = open,
        .wheel_drag_area_m2 = open,
        .crr = open,
        .air_density_kg_m3 = open,
        .drive_efficiency = open,
        .crank_mm = open,
        .com_forward_mm = open,
        .com_height_mm = open,
        .grip = open,
    };
}

struct ride_figure ride_rider_total_kg(const struct ride_rider *rider) {
    return ride_figure_of(rider->mass_kg.value + rider->bike_mass_kg.value,
                          base_weakest(rider->mass_kg.known, rider->bike_mass_kg.known));
}

struct ride_machine ride_rider_machine(const struct ride_rider *rider, enum base_known *known) {
    struct ride_figure total_kg = ride_rider_total_kg(rider);
    *known = base_weakest(
        base_weakest(total_kg.known, rider->air_density_kg_m3.known),
        base_weakest(base_weakest(rider->drag_area_m2.known, rider->wheel_drag_area_m2.known), rider->crr.known));
    return (struct ride_machine){
        .mass_kg = total_kg.value,
        .drag_area_m2 = rider->drag_area_m2.value,
        .wheel_drag_area_m2 = rider->wheel_drag_area_m2.value,
        .crr = rider->crr.value,
        .air_density_kg_m3 = rider->air_density_kg_m3.value,
        .bearings_n = RIDE_BEARINGS_N,
        .bearings_n_s_m = RIDE_BEARINGS_N_S_M,
        .wheel_inertia_kg_m2 = RIDE_WHEEL_INERTIA_KG_M2,
        .wheel_radius_m = RIDE_WHEEL_RADIUS_M,
    };
}
