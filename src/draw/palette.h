/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The colours of every drawing, compiled from data/palette.csv.
 */
#ifndef DRAW_PALETTE_H
#define DRAW_PALETTE_H

/* What a drawing stands on: off-white paper, slate, or white paper in print. */
enum draw_ground { DRAW_LIGHT = 0, DRAW_DARK, DRAW_PRINT, DRAW_GROUNDS };

enum draw_colour {
    DRAW_PAPER = 0,
    DRAW_FIELD,
    DRAW_TINT,
    DRAW_INK,
    DRAW_STAYS, /* and the bike of now */
    DRAW_NEW,
    DRAW_ADAPTED,
    DRAW_MEASURE,
    DRAW_CLASH,
    DRAW_OFF,
    DRAW_COLOURS
};

/* As SVG writes them, '#1c69c9'. */
extern const char *const draw_colours[DRAW_GROUNDS][DRAW_COLOURS];

#endif
