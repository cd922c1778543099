/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How far it is from one point of the earth to the next.
 *
 * One idea: the points of a track stand a few metres apart, so the ellipsoid of WGS 84 (a = 6378137 m, 1/f =
 * 298.257223563) may be taken as flat between them, with the radii of curvature of the latitude half way.
 */
#ifndef RIDE_EARTH_H
#define RIDE_EARTH_H

struct ride_position {
    double latitude_deg;  /* -90..90, north positive */
    double longitude_deg; /* -180..180, east positive; 180 and -180 are the same meridian */
};

/* Length of the leg between two positions along the ellipsoid, m; heights are not in it. Within 0.01 mm of the geodesic
 * for a leg under 1 km, 4 mm at 14 km; a leg of a thousand kilometres is only told as a long one. Beyond 89 degrees of
 * latitude, where meridians run together, the straight chord, which falls short by s^3 / 24 a^2: 1 micrometre at 1 km.
 * Sources: radii of curvature of the meridian and of the prime vertical, any textbook of geodesy; defining constants of
 * WGS 84, NIMA TR8350.2. */
double ride_leg_m(struct ride_position from, struct ride_position to);

#endif
