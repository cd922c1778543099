/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the table of brakes says, for the rules about levers, wheels and rotors.
 */
#ifndef FIT_BRAKES_H
#define FIT_BRAKES_H

#include "trade/tables.h"

/* The row of a brake; brake is an enum trade_brake. Never NULL: the table holds every kind. */
const struct trade_brakes_row *fit_brake_row(unsigned brake);

#endif
