/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the writers of PDF and pictures share of cairo. Only they include it.
 */
#ifndef PAPER_SURFACE_H
#define PAPER_SURFACE_H

#include "base/text.h"

#include <cairo-pdf.h>

#define PAPER_MM (72.0 / 25.4) /* a millimetre in points */

/* Takes bytes into a struct base_buffer; for cairo's streams. */
cairo_status_t paper_surface_keep(void *to, const unsigned char *bytes, unsigned n);

/* BASE_OK, BASE_NO_MEMORY, or BASE_SYSTEM for all else. */
enum base_status paper_surface_status(cairo_status_t status);

/* Title, author and day (base/date.h; PAPER_NO_DAY: the first of all) of a PDF: without a day cairo asks the clock, and no two
 * runs would give the same bytes. */
void paper_surface_describe(cairo_surface_t *pdf, const char *title, const char *author, int32_t day);

#endif
