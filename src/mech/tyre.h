/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Tyres: how far a wheel rolls in one turn, from the two numbers printed on the tyre.
 *
 * One idea: a tyre is as high as it is wide. Loaded wheels roll a little less, and small or wide tyres much less (up to
 * 4 %): a roll-out with the rider on the bike wins over this, and so does a table.
 */
#ifndef MECH_TYRE_H
#define MECH_TYRE_H

/* Circumference, mm: pi (bead seat + 2 width). bead_seat_mm 200..700, width_mm 15..130, as ISO 5775 marks them (40-622:
 * width 40, bead seat 622). Source: a thread on wheel-size charts, Cycling Forums; common practice. */
double mech_tyre_circumference_mm(double width_mm, double bead_seat_mm);

#endif
