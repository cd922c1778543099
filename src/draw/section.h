/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The lower half of the figure from above: a section at the ring, from behind, several times larger than the plan.
 */
#ifndef DRAW_SECTION_H
#define DRAW_SECTION_H

#include "draw/figures.h"

/* Draws it between left and right from top on, units of the page; the lowest that it takes. across: units a millimetre of the plan.
 * most: those of the section, where they leave room for all. Rings of an open plane stand where the caller wants them. */
double draw_section(struct draw_sheet *sheet, const struct draw_above *of, struct draw_point from, double right,
                    double across, double most);

#endif
