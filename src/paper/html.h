/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A paper as one page of HTML that needs nothing beside it: figures stand in it as SVG, and it prints like the PDF.
 */
#ifndef PAPER_HTML_H
#define PAPER_HTML_H

#include "paper/paper.h"

/* Appends the page, well-formed as XML, too. A failure to grow stays in out->status. */
void paper_html(struct base_buffer *out, const struct paper *paper);

#endif
