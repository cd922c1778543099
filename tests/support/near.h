/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Comparing doubles in a test, for tests only. The tolerance is always said, and follows from what the number means.
 */
#ifndef SUPPORT_NEAR_H
#define SUPPORT_NEAR_H

#include <math.h>

/* Fails the test, at the caller's line, unless |actual - expected| <= tolerance; not a number always fails. */
#define assert_near(actual, expected, tolerance)                                                                       \
    do {                                                                                                               \
        double near_a = (actual), near_b = (expected), near_t = (tolerance);                                           \
        if (!(fabs(near_a - near_b) <= near_t)) {                                                                      \
            fail_msg("%s is %.12g, not %.12g within %g", #actual, near_a, near_b, near_t);                             \
        }                                                                                                              \
    } while (0)

#endif
