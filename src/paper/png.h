/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A drawing as a picture.
 */
#ifndef PAPER_PNG_H
#define PAPER_PNG_H

#include "base/text.h"

#define PAPER_SCALE_MAX 8.0
#define PAPER_PIXELS_MAX 16384 /* of width and height */

/* Appends the PNG of an SVG, `scale` pixels a unit (above 0, up to PAPER_SCALE_MAX). The same fonts give the same bytes.
 * BASE_BAD_INPUT: it is no SVG, or larger than PAPER_PIXELS_MAX; BASE_NO_MEMORY; BASE_SYSTEM: the libraries could not
 * draw it. out is untouched but for BASE_OK, or as far as it could grow. */
enum base_status paper_png(struct base_buffer *out, struct base_slice svg, double scale) BASE_CHECKED;

#endif
