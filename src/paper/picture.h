/* SPDX-License-Identifier: Apache-2.0 */
/*
 * One drawing, an SVG, as a picture (PNG) or as a page of its own size (PDF). The same fonts give the same bytes.
 */
#ifndef PAPER_PICTURE_H
#define PAPER_PICTURE_H

#include "base/text.h"

#define PAPER_SCALE_MAX 8.0
#define PAPER_PIXELS_MAX 16384 /* of width and height, of a drawing as much as of a picture */
#define PAPER_UNITS_PER_MM 4.0 /* of a drawing that is printed in full size */

/* Appends the PNG of an SVG, `scale` pixels a unit (above 0, up to PAPER_SCALE_MAX). BASE_BAD_INPUT: it is no SVG, or larger than
 * PAPER_PIXELS_MAX; BASE_NO_MEMORY; BASE_SYSTEM: the libraries could not draw it. out is untouched but for BASE_OK, or as far as it
 * could grow. */
enum base_status paper_png(struct base_buffer *out, struct base_slice svg, double scale) BASE_CHECKED;

/* Appends a PDF of one page, as large as the drawing is in full size, its text to be selected, its fonts embedded. day: base/date.h.
 * Errors as for paper_png. */
enum base_status paper_page(struct base_buffer *out, struct base_slice svg, const char *title, const char *author,
                            int32_t day) BASE_CHECKED;

#endif
