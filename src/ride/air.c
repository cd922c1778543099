/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/air.h"

#include <math.h>
#include <stdbool.h>

/* ISO 2533: the earth, the sea-level values, the gas, the lapse of the lowest layer. */
#define EARTH_RADIUS_M 6356766.0
#define SEA_TEMPERATURE_K 288.15
#define SEA_PRESSURE_PA 101325.0
#define LAPSE_K_PER_M 0.0065
#define GRAVITY_MPS2 9.80665
#define MOLAR_MASS_KG_MOL 0.0289644
#define GAS_CONSTANT_J_MOL_K 8.31432
#define LOWEST_M (-2000.0)
#define TOP_OF_LAYER_M 11000.0

#define CELSIUS_ZERO_K 273.15
/* J/(kg K): the gas constant by the molar masses of dry air and of water. */
#define DRY_AIR_J_KG_K 287.05
#define VAPOUR_J_KG_K 461.495

double ride_air_geopotential_m(double height_m) { return EARTH_RADIUS_M * height_m / (EARTH_RADIUS_M + height_m); }

enum base_status ride_air_standard(struct ride_air *out, double geopotential_m) {
    if (!(geopotential_m >= LOWEST_M && geopotential_m <= TOP_OF_LAYER_M)) {
        return BASE_BAD_INPUT;
    }
    double gas_j_kg_k = GAS_CONSTANT_J_MOL_K / MOLAR_MASS_KG_MOL;
    double temperature_k = SEA_TEMPERATURE_K - LAPSE_K_PER_M * geopotential_m;
    double exponent = GRAVITY_MPS2 / (gas_j_kg_k * LAPSE_K_PER_M);
    double pressure_pa = SEA_PRESSURE_PA * pow(temperature_k / SEA_TEMPERATURE_K, exponent);
    *out = (struct ride_air){temperature_k, pressure_pa, pressure_pa / (gas_j_kg_k * temperature_k)};
    return BASE_OK;
}

static bool within(double value, double low, double high) { return value >= low && value <= high; }

/* Of air that holds all the water it can, over a plane surface of water. */
static double saturation_pa(double temperature_c) {
    return 611.2 * exp(17.62 * temperature_c / (243.12 + temperature_c));
}

enum base_status ride_air_density(double *out, double temperature_c, double pressure_pa, double humidity) {
    if (!within(temperature_c, -45.0, 60.0) || !within(pressure_pa, 20000.0, 120000.0) || !within(humidity, 0.0, 1.0)) {
        return BASE_BAD_INPUT;
    }
    double temperature_k = temperature_c + CELSIUS_ZERO_K;
    double vapour_pa = humidity * saturation_pa(temperature_c);
    *out = (pressure_pa - vapour_pa) / (DRY_AIR_J_KG_K * temperature_k) + vapour_pa / (VAPOUR_J_KG_K * temperature_k);
    return BASE_OK;
}
