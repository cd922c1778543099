/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/earth.h"

#include "mech/constants.h"

#include <math.h>

#define SEMI_AXIS_M 6378137.0
#define FLATTENING (1.0 / 298.257223563)
#define ECCENTRICITY_2 (FLATTENING * (2.0 - FLATTENING))
#define POLAR_DEG 89.0 /* beyond, the local formula no longer holds: a leg may pass the pole */

/* The shorter way round: across the date line where it lies between. */
static double east_of(double longitude_deg, double from_deg) {
    double east_deg = longitude_deg - from_deg;
    return fabs(east_deg) > 180.0 ? east_deg - copysign(360.0, east_deg) : east_deg;
}

/* Geocentric coordinates of a position on the ellipsoid. */
static void place_in_space(double out_m[3], struct ride_position p) {
    double s = sin(mech_radians(p.latitude_deg)), c = cos(mech_radians(p.latitude_deg));
    double vertical_m = SEMI_AXIS_M / sqrt(1.0 - ECCENTRICITY_2 * s * s);
    out_m[0] = vertical_m * c * cos(mech_radians(p.longitude_deg));
    out_m[1] = vertical_m * c * sin(mech_radians(p.longitude_deg));
    out_m[2] = vertical_m * (1.0 - ECCENTRICITY_2) * s;
}

static double chord_m(struct ride_position from, struct ride_position to) {
    double a[3], b[3];
    place_in_space(a, from);
    place_in_space(b, to);
    double x_m = b[0] - a[0], y_m = b[1] - a[1], z_m = b[2] - a[2];
    return sqrt(x_m * x_m + y_m * y_m + z_m * z_m);
}

double ride_leg_m(struct ride_position from, struct ride_position to) {
    if (fabs(from.latitude_deg) > POLAR_DEG || fabs(to.latitude_deg) > POLAR_DEG) {
        return chord_m(from, to);
    }
    double middle = mech_radians(0.5 * (from.latitude_deg + to.latitude_deg));
    double s = sin(middle), w = 1.0 - ECCENTRICITY_2 * s * s;
    double vertical_m = SEMI_AXIS_M / sqrt(w);                   /* radius across the meridian */
    double meridian_m = vertical_m * (1.0 - ECCENTRICITY_2) / w; /* and along it */
    double north_m = meridian_m * mech_radians(to.latitude_deg - from.latitude_deg);
    double east_m = vertical_m * sqrt(1.0 - s * s) * mech_radians(east_of(to.longitude_deg, from.longitude_deg));
    return sqrt(north_m * north_m + east_m * east_m);
}
