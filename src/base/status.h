/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a function that can fail gives back.
 *
 * One idea: the status says which kind of failure it was, the outputs stay untouched, and the detail stands in the
 * fault list that the caller passed (fault.h). Nothing is kept in a global.
 */
#ifndef BASE_STATUS_H
#define BASE_STATUS_H

/* The compiler refuses a call whose result is thrown away. */
#define BASE_CHECKED __attribute__((warn_unused_result))

enum base_status {
    BASE_OK = 0,
    BASE_NO,        /* a well-formed question whose answer is no: a clash, an empty plan, a tangent that is not there */
    BASE_BAD_INPUT, /* what was read is not allowed; the fault list says where */
    BASE_NO_MEMORY, /* an allocation failed */
    BASE_LIMIT,     /* a stated maximum was reached (file size, depth, states) */
    BASE_SYSTEM     /* the outside world failed: file, store */
};

#endif
