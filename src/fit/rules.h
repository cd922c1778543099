/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Every rule by name, for the registry (rules.c) and for tests. Each is described in its own file.
 */
#ifndef FIT_RULES_H
#define FIT_RULES_H

#include "fit/fit.h"

/* Front half: crank, rings, bottom bracket, chain, and what works the front. */
extern const struct fit_rule fit_ring_order;

/* Rear half: cassette, hub, brakes, derailleur, shifter. */

#endif
