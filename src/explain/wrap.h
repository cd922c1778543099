/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Where a line of a sentence may not end.
 */
#ifndef EXPLAIN_WRAP_H
#define EXPLAIN_WRAP_H

#include "base/text.h"

/* Bytes of what may not be broken at the front of s: up to a blank that is no part of an empty box, and does not stand between a
 * number and its unit, or a currency and its amount. s.n where there is no such blank. */
size_t explain_unbroken(struct base_slice s);

#endif
