/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How a program that plans should have the C library keep its memory. For glibc; a main calls it first.
 */
#ifndef CLI_HEAP_H
#define CLI_HEAP_H

#include <malloc.h>

/* The planner takes and frees blocks of megabytes all the time. Kept in the process, they need not be cleared by the system
 * page by page each time they come back. 32 MiB is the largest threshold that glibc takes. Nothing else hangs on it. */
static inline void cli_keep_large_blocks(void) {
    (void)mallopt(M_MMAP_THRESHOLD, 32 << 20);
    (void)mallopt(M_TRIM_THRESHOLD, 1 << 30);
    (void)mallopt(M_TOP_PAD, 1 << 20);
}

#endif
