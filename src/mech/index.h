/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Indexing: what a click of the shifter moves, against the pitch of the sprockets, and the error that adds up.
 *
 * One idea: cable pull of a click x ratio of the derailleur is the move of the guide wheel, and has to be the pitch. What
 * is left over adds up over the cassette; with the middle set right, half of it stands at each end (the centred error).
 *
 * This arithmetic judges only mixed pairs. A shifter, derailleur and cassette of one family fit because they were made
 * for each other, whatever their rounded figures multiply to. And it can prove only 'no': a mixed pair that comes out
 * well still has to be tried on the stand.
 *
 * Figures: pull_mm, cable for one click, 1..8; ratio, mm of guide wheel for a mm of cable, 0.5..3; pitch_mm 2..8;
 * sprockets 2..14. The plain formulas take any finite value above zero. Errors are signed, positive when the derailleur
 * moves too far. Source of the relation: Wikibooks, Bicycles / Maintenance and Repair / Gear-changing Dimensions.
 */
#ifndef MECH_INDEX_H
#define MECH_INDEX_H

#include "base/status.h"

#include <stddef.h>

/* How far each nominal figure (pull, ratio, pitch) may be from the part in hand, as a share of it.
 *
 * Pull, ratio and pitch are read to two digits and are independent, so three shares of 2 % add up in quadrature, to
 * 3.5 % of the pitch. 21 families that are sold as matched differ by up to 3.3 % in their nominal figures (from memory
 * and from bench measurements), which that just covers. Adding the three up instead would pass a pair whose
 * derailleur lags a whole sprocket and more over the cassette (pull 2.3 on ratio 1.7 over nine sprockets of pitch
 * 4.34); quadrature rejects it. */
#define MECH_INDEX_TOLERANCE 0.02

/* How a mixed pair's centred error is felt. The limits, 0.3, 0.6 and 1.0 mm, are judgement: noise begins where the guide
 * wheel is off by more than the room beside the chain, and well before half a pitch the chain climbs. No measured
 * threshold was found. */
enum mech_index_class {
    MECH_INDEX_NEAR,  /* up to 0.3 mm */
    MECH_INDEX_CARE,  /* up to 0.6: works when set with care */
    MECH_INDEX_NOISY, /* up to 1.0: noisy at the ends */
    MECH_INDEX_NO     /* more: does not index */
};

/* mm that the guide wheel moves for one click: pull x ratio. */
double mech_index_move_mm(double pull_mm, double ratio);

/* Error of one click: pull x ratio - pitch. */
double mech_index_click_error_mm(double pull_mm, double ratio, double pitch_mm);

/* Error that adds up from one end of the cassette to the other: (sprockets - 1) x the error of a click. */
double mech_index_total_error_mm(int sprockets, double pull_mm, double ratio, double pitch_mm);

/* Error at either end with the middle set right, its size only: half of the total. */
double mech_index_centred_error_mm(int sprockets, double pull_mm, double ratio, double pitch_mm);

/* What the tolerance of nominal figures allows of a centred error, mm: (sprockets - 1) / 2 x MECH_INDEX_TOLERANCE x
 * sqrt(2 move^2 + pitch^2), the move counted twice since pull and ratio each are a share of it. */
double mech_index_allowance_mm(int sprockets, double pull_mm, double ratio, double pitch_mm);

/* The class of an error, by its size; not a number is MECH_INDEX_NO. */
enum mech_index_class mech_index_class_of(double error_mm);

/* The class of a mixed pair: of its centred error less the allowance, at least 0. */
enum mech_index_class mech_index_judge(int sprockets, double pull_mm, double ratio, double pitch_mm);

struct mech_index_errors {
    double total_mm;   /* signed: at the last sprocket, with the first set right */
    double centred_mm; /* the smallest largest error over all sprockets that the adjuster can reach; 0 or above */
};

/* The same for a shifter whose clicks differ: pull_mm[clicks], each above 0, first to last; clicks 1..13. The adjuster
 * shifts all positions alike, so the best it can do is half the spread of the errors. BASE_BAD_INPUT: clicks out of range, or
 * a figure that is not finite and above zero; out is untouched then. */
enum base_status mech_index_uneven(struct mech_index_errors *out, const double *pull_mm, size_t clicks, double ratio,
                                   double pitch_mm) BASE_CHECKED;

/* Room in the cassette: outer plate of a chain to the next sprocket, pitch - chain width / 2 - thickness / 2.
 * chain_width_mm over the pins. Source: addition along the axle. */
double mech_index_room_mm(double pitch_mm, double chain_width_mm, double thickness_mm);

#endif
