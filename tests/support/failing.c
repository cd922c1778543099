/* SPDX-License-Identifier: Apache-2.0 */
#include "failing.h"

#include <stddef.h>

/* The linker's --wrap=malloc turns each call of malloc into __wrap_malloc, and __real_malloc into malloc. */
void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);

static long left = -1;
static bool failed, once;

void support_fail_after(long n) {
    left = n;
    failed = false;
    once = false;
}

void support_fail_once(long n) {
    support_fail_after(n);
    once = true;
}

bool support_failed(void) { return failed; }

static bool allowed(void) {
    if (left == 0) {
        failed = true;
        left -= once;
        return false;
    }
    left -= left > 0;
    return true;
}

void *__wrap_malloc(size_t size) { return allowed() ? __real_malloc(size) : NULL; }

void *__wrap_calloc(size_t count, size_t size) { return allowed() ? __real_calloc(count, size) : NULL; }

void *__wrap_realloc(void *block, size_t size) { return allowed() ? __real_realloc(block, size) : NULL; }
