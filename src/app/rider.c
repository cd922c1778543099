/* SPDX-License-Identifier: Apache-2.0 */
#include "app/rider.h"

#include "app/answers.h"
#include "ride/air.h"

#include <assert.h>
#include <math.h>

#define PA_PER_HPA 100.0
#define CELSIUS_ZERO_K 273.15

static struct ride_figure figure(const struct trade_part *rider, enum trade_property property) {
    const struct trade_value *value = trade_get(rider, property);
    return trade_is_open(value) ? ride_figure_open() : ride_figure_of(value->number, value->known);
}

static struct ride_figure usual(enum trade_limit limit) {
    return ride_figure_of(trade_limits[limit].value, BASE_ASSUMED);
}

static bool is_open(struct ride_figure figure) { return figure.known == BASE_OPEN; }

/* --- cadence ------------------------------------------------------------------------------------------------------- */

/* A band of one value is that cadence alone. */
static struct ride_band band_of(const struct trade_part *rider, enum trade_property property, struct ride_band other) {
    const struct trade_value *value = trade_get(rider, property);
    if (trade_is_open(value)) {
        return other;
    }
    return (struct ride_band){value->counts->at[0], value->counts->at[value->counts->n - 1], value->known};
}

static void set_cadences(struct ride_rider *out, const struct trade_part *rider) {
    const struct ride_band usual_band = {trade_limits[TRADE_LIMIT_CADENCE_LOW_RPM].value,
                                         trade_limits[TRADE_LIMIT_SPIN_OUT_RPM].value, BASE_ASSUMED};
    out->flat = band_of(rider, TRADE_RIDER_CADENCE_RPM, usual_band);
    out->climb = band_of(rider, TRADE_RIDER_CLIMB_CADENCE_RPM, out->flat);
    out->least_rpm = figure(rider, TRADE_RIDER_LEAST_CADENCE_RPM);
    if (is_open(out->least_rpm)) { /* who likes it slow bears it slower, too */
        double usual_rpm = trade_limits[TRADE_LIMIT_LEAST_CADENCE_RPM].value;
        double share = usual_rpm / trade_limits[TRADE_LIMIT_CADENCE_LOW_RPM].value;
        out->least_rpm = ride_figure_of(fmin(usual_rpm, share * out->climb.low_rpm), BASE_ASSUMED);
    }
}

/* --- air ----------------------------------------------------------------------------------------------------------- */

/* The standard atmosphere at the hill's height, the sea's where that is open too. */
static struct ride_air standard_air(struct ride_figure height_m) {
    struct ride_air air = {0};
    double geopotential_m = is_open(height_m) ? 0.0 : ride_air_geopotential_m(height_m.value);
    enum base_status status = ride_air_standard(&air, geopotential_m);
    assert(status == BASE_OK); /* the vocabulary's heights are within the layer */
    (void)status;
    return air;
}

/* From the weather, as far as it was told; what was not told of it is the standard's, in dry air. */
static struct ride_figure weather(const struct trade_part *rider) {
    struct ride_figure height_m = figure(rider, TRADE_RIDER_HEIGHT_M);
    struct ride_figure celsius = figure(rider, TRADE_RIDER_AIR_TEMPERATURE_C);
    struct ride_figure hpa = figure(rider, TRADE_RIDER_AIR_PRESSURE_HPA);
    struct ride_figure percent = figure(rider, TRADE_RIDER_AIR_HUMIDITY_PERCENT);
    struct ride_air air = standard_air(height_m);
    bool has_all = !is_open(celsius) && !is_open(hpa) && !is_open(percent);
    enum base_known known =
        has_all ? base_weakest(base_weakest(celsius.known, hpa.known), percent.known) : BASE_ASSUMED;
    if (is_open(celsius) && is_open(hpa) && is_open(percent)) {
        return ride_figure_of(air.density_kg_m3, is_open(height_m) ? BASE_ASSUMED : BASE_TABLE);
    }
    double density;
    if (ride_air_density(&density, is_open(celsius) ? air.temperature_k - CELSIUS_ZERO_K : celsius.value,
                         is_open(hpa) ? air.pressure_pa : hpa.value * PA_PER_HPA,
                         is_open(percent) ? 0.0 : percent.value / 100.0) != BASE_OK) {
        return ride_figure_of(air.density_kg_m3, BASE_ASSUMED);
    }
    return ride_figure_of(density, known);
}

/* --- power --------------------------------------------------------------------------------------------------------- */

/* What a timed climb took; open where one of its three values is, or where the hill did the work. */
static struct ride_figure power_of_climb(const struct ride_rider *rider, const struct trade_part *part) {
    struct ride_figure percent = figure(part, TRADE_RIDER_KNOWN_CLIMB_GRADIENT_PERCENT);
    struct ride_figure length_m = figure(part, TRADE_RIDER_KNOWN_CLIMB_LENGTH_M);
    struct ride_figure time_s = figure(part, TRADE_RIDER_KNOWN_CLIMB_TIME_S);
    if (is_open(percent) || is_open(length_m) || is_open(time_s)) {
        return ride_figure_open();
    }
    enum base_known known;
    struct ride_machine machine = ride_rider_machine(rider, &known);
    struct ride_figure efficiency = rider->drive_efficiency;
    if (is_open(efficiency)) { /* nobody knows in which gear it was */
        efficiency = usual(TRADE_LIMIT_DRIVE_EFFICIENCY_RATIO);
    }
    known = base_weakest(base_weakest(known, efficiency.known), percent.known);
    known = base_weakest(known, base_weakest(length_m.known, time_s.known));
    double power_w =
        ride_climb_power_w(&machine, percent.value / 100.0, length_m.value, time_s.value, efficiency.value);
    return power_w > 0.0 ? ride_figure_of(power_w, known) : ride_figure_open();
}

static enum app_power_from set_power(struct ride_rider *out, const struct trade_part *rider) {
    out->power_w = figure(rider, TRADE_RIDER_POWER_W);
    if (!is_open(out->power_w)) {
        return APP_POWER_GIVEN;
    }
    out->power_w = power_of_climb(out, rider);
    if (!is_open(out->power_w)) {
        return APP_POWER_CLIMB;
    }
    struct ride_figure per_kg = figure(rider, TRADE_RIDER_POWER_W_PER_KG);
    out->power_w = ride_figure_of(per_kg.value * out->mass_kg.value, base_weakest(per_kg.known, out->mass_kg.known));
    return per_kg.known == BASE_MEASURED ? APP_POWER_PER_KG : APP_POWER_TRAINING;
}

enum app_power_from app_rider_of(struct ride_rider *out, const struct trade_bike *bike) {
    const struct trade_part *rider = &bike->rider;
    ride_rider_init(out);
    out->mass_kg = figure(rider, TRADE_RIDER_MASS_KG);
    out->bike_mass_kg = figure(rider, TRADE_RIDER_BIKE_MASS_KG);
    out->drag_area_m2 = figure(rider, TRADE_RIDER_CDA_M2);
    out->wheel_drag_area_m2 = figure(rider, TRADE_RIDER_WHEEL_DRAG_AREA_M2);
    out->crr = figure(rider, TRADE_RIDER_CRR);
    out->air_density_kg_m3 = figure(rider, TRADE_RIDER_AIR_DENSITY_KG_M3);
    out->drive_efficiency = figure(rider, TRADE_RIDER_DRIVE_EFFICIENCY);
    out->crank_mm = figure(rider, TRADE_RIDER_CRANK_MM);
    out->com_forward_mm = figure(rider, TRADE_RIDER_COM_FORWARD_MM);
    out->com_height_mm = figure(rider, TRADE_RIDER_COM_HEIGHT_MM);
    out->grip = figure(rider, TRADE_RIDER_GRIP);
    if (is_open(out->air_density_kg_m3)) {
        out->air_density_kg_m3 = weather(rider);
    }
    set_cadences(out, rider);
    return set_power(out, rider);
}

struct ride_drive app_drive_of(const struct ride_rider *rider, const struct trade_bike *bike) {
    const struct trade_fitted *fitted = &bike->fitted[TRADE_SLOT_REAR_DERAILLEUR];
    const struct trade_cage_shapes_row *shape = app_cage_shape(app_cage_class(&fitted->part));
    bool has_cage = trade_bike_has(bike, TRADE_SLOT_REAR_DERAILLEUR);
    return (struct ride_drive){
        .efficiency = rider->drive_efficiency.value,
        .chain = {.friction = trade_limits[TRADE_LIMIT_CHAIN_FRICTION_RATIO].value,
                  .cage_n = has_cage ? trade_limits[TRADE_LIMIT_CAGE_TENSION_N].value : 0.0,
                  .wheel_teeth = has_cage && shape ? (int)shape->wheel_teeth : 0},
    };
}
