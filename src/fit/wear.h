/* SPDX-License-Identifier: Apache-2.0 */
/*
 * When a chain is worn out, by its class.
 */
#ifndef FIT_WEAR_H
#define FIT_WEAR_H

#include "trade/tables.h"

/* Elongation at which a chain goes, percent, from data/standards/chains.csv. family: enum trade_chain_family, or -1 while
 * nobody has read it: then the least of all classes, so that no worn chain passes. */
double fit_chain_limit_percent(int family);

#endif
