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
/* Whether s holds just these bytes. */
bool base_slice_is(struct base_slice s, const char *zero_terminated);

/* Bytes of the well-formed UTF-8 character at the front of s (Unicode 15, table 3-7: no surrogate, no overlong form);
 * 0 if there is none. */
size_t base_utf8_character(struct base_slice s);
/* Bytes of the longest prefix of s that is well-formed. */
size_t base_utf8_valid(struct base_slice s);
/* Characters (code points) in s; a malformed byte counts as one. */
size_t base_utf8_length(struct base_slice s);

/* Takes a number of just so many digits (1..9) off the front, within [low, high]. False when there is none: what is left of the
 * text means nothing then. */
bool base_take_digits(int *out, struct base_slice *text, size_t digits, int low, int high);
/* Takes this byte off the front; false, and nothing taken, when another stands there. */
bool base_take_char(struct base_slice *text, char c);

/* Read at (n bytes) only when status is BASE_OK. */
struct base_buffer {
    char *at; /* owned; zero-terminated when not NULL */
    size_t n, room;
    enum base_status status; /* BASE_OK, BASE_NO_MEMORY or BASE_LIMIT; sticky */
    size_t limit;            /* most bytes, 0 for none */
};

/* An empty buffer that holds at most limit_bytes, 0 for no limit. Never fails. */
void base_buffer_init(struct base_buffer *b, size_t limit_bytes);
/* Frees the bytes; the buffer is empty and usable again, with the same limit. */
void base_buffer_clear(struct base_buffer *b);
/* Appends n bytes, all or none: BASE_LIMIT or BASE_NO_MEMORY goes to status, which then stays. So do all that follow. */
void base_buffer_put(struct base_buffer *b, const char *bytes, size_t n);
/* A string without its zero; NULL is nothing. */
void base_buffer_text(struct base_buffer *b, const char *zero_terminated);
/* The bytes of a slice. */
void base_buffer_slice(struct base_buffer *b, struct base_slice s);
/* One byte. */
void base_buffer_char(struct base_buffer *b, char c);
/* A whole number in decimal. */
void base_buffer_int(struct base_buffer *b, int64_t value);
/* value with exactly decimals digits (0..9) behind a point, rounded half away from zero on the decimal value that the
 * double prints as with 15 digits (2.675 gives 2.68); '-' before a negative one, never "-0.00". Not finite or beyond
 * 1e15: writes "?" (callers never let it come to that). */
void base_buffer_fixed(struct base_buffer *b, double value, int decimals);
/* The fewest digits that read back as the same double, as JSON writes them: 42, 0.001, 1e22; with an exponent below 1e-6
 * and from 1e21 on. Zero of either sign is 0; "null" when not finite. */
void base_buffer_double(struct base_buffer *b, double value);

/* Edits between two words: insert, delete, replace, swap of neighbours (optimal string alignment distance).
 * Both at most 64 bytes, else a large number. */
unsigned base_text_distance(struct base_slice a, struct base_slice b);
/* Index of the word nearest to wanted, the first of equals: at most max(2, length / 3) edits away, and fewer than wanted
 * has bytes, so that something of it is left. -1 if none. */
int base_text_nearest(struct base_slice wanted, const char *const *words, size_t n_words);

/* What a character of text is written as within markup (XML 1.0, 2.4: &amp; &lt; &gt;); NULL where it stands for itself. */
const char *base_text_markup(char c);

#endif
