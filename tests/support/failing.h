/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Memory that runs out when a test says so. Every cmocka program is linked so that malloc, calloc and realloc of the
 * layers (not those of cmocka and other shared libraries) come through here.
 *
 * The usual loop: for (long n = 0;; n++) { support_fail_after(n); ...; bool failed = support_failed();
 * support_fail_after(-1); check; if (!failed) break; }
 */
#ifndef SUPPORT_FAILING_H
#define SUPPORT_FAILING_H

#include <stdbool.h>

/* n more allocations succeed, then every one fails. Below 0: none is made to fail. */
void support_fail_after(long n);
/* n more allocations succeed, then the next alone fails: a failure that nobody looks at shows in the result. */
void support_fail_once(long n);
/* Whether one was made to fail since the last support_fail_after or support_fail_once. */
bool support_failed(void);

#endif
