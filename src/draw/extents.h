/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How much room text takes, from the widths of the font that drawings are set in (DejaVu Sans), compiled in at build time.
 *
 * One idea: a drawing knows where its text ends without asking who shows it. A character that the font lacks takes a whole
 * em, as wide as any. Kerning and joined letters are not reckoned with: both only make text narrower. Lengths are in the
 * units of the size that is asked for.
 */
#ifndef DRAW_EXTENTS_H
#define DRAW_EXTENTS_H

#include "base/text.h"

/* Characters that follow each other: the first, how many, where their widths begin. */
struct draw_run {
    uint32_t first;
    uint16_t n;
    uint16_t at;
};
struct draw_font {
    const struct draw_run *runs; /* rising */
    size_t n_runs;
    const uint16_t *widths; /* in units of which em make the size */
    double em;
};
extern const struct draw_font draw_regular, draw_bold;

/* What a line of text takes above and below its base line, as shares of its size: accents on capitals above, the tails of
 * letters below. Source: the font's own highest and lowest letters. */
#define DRAW_ASCENT 0.94
#define DRAW_DESCENT 0.24

/* How long a text is, in well-formed UTF-8. */
double draw_text_width(const struct draw_font *font, struct base_slice text, double size);

/* The longest front of the text that is no wider than `room`, and breaks between words where it can, but never behind a digit; all of it where it
 * fits. Never empty for a text that is not, so that a line is always made: a word that is wider is cut, and one character
 * stands even where there is no room for it. */
struct base_slice draw_text_fitting(const struct draw_font *font, struct base_slice text, double size, double room);

#endif
