/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The style sheet of a paper as a page: one column on a phone, columns where there is room, light and dark, and print.
 */
#ifndef PAPER_STYLE_H
#define PAPER_STYLE_H

#include "paper/paper.h"

/* Appends the rules, without the element around them; no '<' or '&' is among them. A failure to grow stays in out->status. */
void paper_style(struct base_buffer *out, const struct paper *paper);

#endif
