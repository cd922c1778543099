/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How a quantity is known. The order is from strong to weak, so that the weakest of several is the largest.
 */
#ifndef BASE_KNOWN_H
#define BASE_KNOWN_H

enum base_known {
    BASE_MEASURED = 0, /* read on this bike, or printed on this part */
    BASE_TABLE,        /* from a row of a standards table */
    BASE_ASSUMED,      /* a usual value that nobody has read; shown with ~ */
    BASE_OPEN          /* nobody knows; there is no value. Open is not zero */
};

/* Arithmetic keeps the weakest. */
static inline enum base_known base_weakest(enum base_known a, enum base_known b) { return a > b ? a : b; }

#endif
