/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The chain stay's face, as it was read at some distances behind the shell centre, mm from the centre plane outwards.
 */
#ifndef FIT_STAY_H
#define FIT_STAY_H

#define FIT_STAY_POINTS 4 /* read at 60, 70, 80 and 100 mm behind the shell centre */

/* How far out the stay's face comes beside a ring of this radius, mm: straight between two readings, in front of the first no
 * further out than there. faces_mm: the readings, from the front to the rear, NAN for each that nobody took. NAN when it
 * was not read that far back. */
double fit_stay_face_mm(const double faces_mm[FIT_STAY_POINTS], double radius_mm);

#endif
