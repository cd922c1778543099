/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Text: slices, a growing buffer, UTF-8 and near words.
 *
 * A slice borrows its bytes. A buffer owns its bytes, remembers the first failure and then ignores writes, so that a
 * writer checks once, at the end. Nothing here knows a locale.
 */
#ifndef BASE_TEXT_H
#define BASE_TEXT_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct base_slice {
    const char *at; /* not zero-terminated */
    size_t n;       /* bytes */
};

/* The slice of a zero-terminated string; borrows it. NULL gives an empty slice. */
struct base_slice base_slice_of(const char *zero_terminated);
bool base_slice_is(struct base_slice s, const char *zero_terminated);

/* bytes of the longest prefix of s that is well-formed UTF-8 (Unicode 15, table 3-7: no surrogate, no overlong form). */
size_t base_utf8_valid(struct base_slice s);
/* Characters (code points) in s; a malformed byte counts as one. */
size_t base_utf8_length(struct base_slice s);

struct base_buffer {
    char *at; /* owned; zero-terminated when not NULL */
    size_t n, room;
    enum base_status status; /* BASE_OK, BASE_NO_MEMORY or BASE_LIMIT; sticky */
    size_t limit;            /* most bytes, 0 for none */
};

void base_buffer_init(struct base_buffer *b, size_t limit_bytes);
void base_buffer_clear(struct base_buffer *b);
void base_buffer_put(struct base_buffer *b, const char *bytes, size_t n);
void base_buffer_text(struct base_buffer *b, const char *zero_terminated);
void base_buffer_slice(struct base_buffer *b, struct base_slice s);
void base_buffer_char(struct base_buffer *b, char c);
/* A whole number in decimal. */
void base_buffer_int(struct base_buffer *b, int64_t value);
/* value with exactly decimals digits (0..9) behind a point, rounded half away from zero on the decimal value that the
 * double prints as with 15 digits (2.675 gives 2.68); '-' before a negative one, never "-0.00". Not finite or beyond
 * 1e15: writes "?" (callers never let it come to that). */
void base_buffer_fixed(struct base_buffer *b, double value, int decimals);
/* The shortest decimal text that reads back as the same double (as JSON wants it); "null" when not finite. */
void base_buffer_double(struct base_buffer *b, double value);

/* Edits between two words: insert, delete, replace, swap of neighbours (optimal string alignment distance).
 * Both at most 64 bytes, else a large number. */
unsigned base_text_distance(struct base_slice a, struct base_slice b);
/* Index of the word nearest to wanted with a distance of at most max(2, length / 3), the first of equals; -1 if none. */
int base_text_nearest(struct base_slice wanted, const char *const *words, size_t n_words);

#endif
