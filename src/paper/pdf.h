/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A paper as PDF: cairo draws the pages, pango sets the text, librsvg draws the figures. Text stays text and can be selected;
 * headings, paragraphs and figures are tagged; the font's used part is embedded. The same paper gives the same bytes with the
 * same fonts and libraries.
 */
#ifndef PAPER_PDF_H
#define PAPER_PDF_H

#include "paper/paper.h"

enum paper_size {
    PAPER_A4,    /* 210 × 297 mm, ISO 216 */
    PAPER_LETTER /* 8.5 × 11 in, ANSI/ASME Y14.1 size A */
};

/* Appends the PDF. BASE_NO_MEMORY; BASE_SYSTEM: a library could not draw it. */
enum base_status paper_pdf(struct base_buffer *out, const struct paper *paper, enum paper_size size) BASE_CHECKED;

#endif
