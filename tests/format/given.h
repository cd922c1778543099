/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the tests of this folder share: documents to read, and what their faults must say.
 */
#ifndef TESTS_FORMAT_GIVEN_H
#define TESTS_FORMAT_GIVEN_H

#include "base/fault.h"
#include "format/bike_in.h"

/* The rules that an overruled finding may name in these tests; not the last: it is about brakes. */
extern const struct format_rule given_rules[];
extern const size_t given_rules_n;

/* Bytes of a file under $CW_SOURCE_ROOT; freed by free((void *)at). The test fails if it can't be read. */
struct base_slice given_file(const char *path);

/* Paths of the files in a folder under $CW_SOURCE_ROOT that end with suffix, sorted; the test fails if there is none.
 * Freed by given_files_free. */
char **given_files(const char *folder, const char *suffix, size_t *n);
void given_files_free(char **files, size_t n);

/* The faults as the text cases write them, a line each: line:column | path | found | allowed | nearest, '-' for none.
 * Owned by the caller: base_buffer_clear. */
void given_lines(struct base_buffer *out, const struct base_faults *faults);

/* Fails the test, showing both, unless the faults read as these lines. */
void given_expect(const struct base_faults *faults, const char *lines);

#endif
