/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Writing JSON to a buffer, value by value, without the locale: the same calls give the same bytes.
 *
 * Compact on one line, or indented by two blanks; one line end behind the document either way. The buffer keeps the
 * first failure (base/text.h); misuse (a value without its key, an end without its beginning) is an assertion.
 */
#ifndef FORMAT_JSON_OUT_H
#define FORMAT_JSON_OUT_H

#include "base/text.h"

#define FORMAT_OUT_DEPTH 32 /* objects and arrays within each other, at most */

struct format_out {
    struct base_buffer *buffer; /* the caller's */
    bool indent;
    bool after_key;
    unsigned depth;
    bool is_object[FORMAT_OUT_DEPTH + 1]; /* of each level that is open, from 1 */
    bool is_empty[FORMAT_OUT_DEPTH + 1];
};

/* Nothing written yet; buffer is borrowed until the document is done. */
void format_out_init(struct format_out *out, struct base_buffer *buffer, bool indent);
/* Behind the last value: writes the line end. */
void format_out_done(struct format_out *out);

/* An object: behind this come its keys, each with a value, then its end. */
void format_out_object(struct format_out *out);
/* The end of the innermost one that is open. */
void format_out_object_end(struct format_out *out);
/* An array: behind this come its values, then its end. */
void format_out_array(struct format_out *out);
/* The end of the innermost one that is open. */
void format_out_array_end(struct format_out *out);
/* The key of the next value; within an object only. */
void format_out_key(struct format_out *out, const char *key);

/* UTF-8; a byte that is not becomes U+FFFD, so that the document is always JSON. NULL is null. */
void format_out_text(struct format_out *out, const char *zero_terminated);
/* The same of a slice. */
void format_out_slice(struct format_out *out, struct base_slice text);
/* A whole number. */
void format_out_int(struct format_out *out, int64_t value);
/* The shortest digits that read back as the same double; null when not finite. */
void format_out_double(struct format_out *out, double value);
/* With exactly decimals digits (0..9) behind the point, rounded as base_buffer_fixed does; null when not finite or not
 * under 1e15. */
void format_out_fixed(struct format_out *out, double value, int decimals);
/* true or false. */
void format_out_bool(struct format_out *out, bool value);
/* null: nobody knows, or there is none. */
void format_out_null(struct format_out *out);

#endif
