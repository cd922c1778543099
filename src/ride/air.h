/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The air that a rider moves in: how dense it is, by height, or by temperature, pressure and humidity.
 *
 * One idea: where nobody read a thermometer or a barometer the standard atmosphere stands in for them; humid air is dry
 * air and vapour, each a gas of its own. Temperatures in kelvin or, where the name says so, in degrees Celsius; pressures
 * in Pa. Outputs are untouched on failure.
 */
#ifndef RIDE_AIR_H
#define RIDE_AIR_H

#include "base/status.h"

/* Air at rest at some height. */
struct ride_air {
    double temperature_k;
    double pressure_pa;
    double density_kg_m3;
};

/* Geopotential height of a height above the sea, m: that at which gravity, taken as constant, has done the same work. Any
 * height above -6 356 km. Source: ISO 2533, with its earth radius of 6 356 766 m. */
double ride_air_geopotential_m(double height_m);

/* The standard atmosphere, dry, at a geopotential height of -2000..11 000 m: 15 C and 101 325 Pa at 0, 6.5 K cooler each
 * kilometre. Source: ISO 2533. BASE_BAD_INPUT: out of range or not finite. */
enum base_status ride_air_standard(struct ride_air *out, double geopotential_m) BASE_CHECKED;

/* Density of moist air, kg/m3. temperature_c -45..60, pressure_pa 20 000..120 000, humidity 0..1 (relative, over water).
 * Within 0.1 % of CIPM-2007. Source: ideal gases with the constants of dry air and of water vapour; vapour pressure by
 * Magnus with the coefficients of WMO No. 8. BASE_BAD_INPUT: out of range or not finite. */
enum base_status ride_air_density(double *out, double temperature_c, double pressure_pa, double humidity) BASE_CHECKED;

#endif
