/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What spoils the job when it is missed: which way cups and bolts turn, spacers left and right, the ring's offset, what lies
 * behind the cassette, how long the chain is, which fluid is in the brake. Only what this job touches.
 */
#ifndef WORK_RED_H
#define WORK_RED_H

#include "work/sheet.h"

#define WORK_LEFT_MAX 8

struct work_red {
    bool cups;                  /* the job turns them; what follows of the shell holds then */
    int drive_hand, other_hand; /* enum trade_hand; -1: nobody has read the shell */
    int left[WORK_LEFT_MAX]; /* other left-hand threads that are opened or closed: rows of trade_torques, each once */
    size_t n_left;
    const struct trade_outboard_spacers_row
        *spacers;           /* under new outboard cups of this shell; NULL: none, or not known */
    double drive_spacer_mm; /* moved under the drive-side cup beyond those; NAN: none */
    double offset_mm;       /* of the new direct-mount ring towards the frame; NAN: not of that kind, or not known */
    double behind_mm;       /* spacers behind the new cassette together; NAN when it is not opened */
    int links;              /* pitches of the chain; 0: open, or it is not opened */
    bool quick_link;
    int fluid[2]; /* enum trade_lever_pull of a new right and left lever on a hose; -1: none */
};

/* Pure. */
struct work_red work_red_of(const struct work_sheet *sheet, const struct work_question *question);

#endif
