/* SPDX-License-Identifier: Apache-2.0 */
#include "format/json_out.h"

#include <assert.h>
#include <math.h>

void format_out_init(struct format_out *out, struct base_buffer *buffer, bool indent) {
    *out = (struct format_out){.buffer = buffer, .indent = indent, .is_empty = {true}};
}

static void new_line(struct format_out *out) {
    if (out->indent) {
        base_buffer_char(out->buffer, '\n');
        for (unsigned i = 0; i < out->depth; i++) {
            base_buffer_text(out->buffer, "  ");
        }
    }
}

/* What stands before a key, or before a value of an array. */
static void separate(struct format_out *out) {
    if (!out->is_empty[out->depth]) {
        assert(out->depth > 0); /* one value at the top */
        base_buffer_char(out->buffer, ',');
    }
    out->is_empty[out->depth] = false;
    if (out->depth > 0) {
        new_line(out);
    }
}

static void before_value(struct format_out *out) {
    assert(out->after_key == (out->depth > 0 && out->is_object[out->depth]));
    if (!out->after_key) {
        separate(out);
    }
    out->after_key = false;
}

static void open(struct format_out *out, bool is_object) {
    before_value(out);
    assert(out->depth < FORMAT_OUT_DEPTH);
    base_buffer_char(out->buffer, is_object ? '{' : '[');
    out->depth++;
    out->is_object[out->depth] = is_object;
    out->is_empty[out->depth] = true;
}

static void close(struct format_out *out, bool is_object) {
    assert(out->depth > 0 && out->is_object[out->depth] == is_object && !out->after_key);
    bool is_empty = out->is_empty[out->depth];
    out->depth--;
    if (!is_empty) {
        new_line(out);
    }
    base_buffer_char(out->buffer, is_object ? '}' : ']');
}

void format_out_done(struct format_out *out) {
    assert(out->depth == 0 && !out->is_empty[0]);
    base_buffer_char(out->buffer, '\n');
}

void format_out_object(struct format_out *out) { open(out, true); }

void format_out_object_end(struct format_out *out) { close(out, true); }

void format_out_array(struct format_out *out) { open(out, false); }

void format_out_array_end(struct format_out *out) { close(out, false); }

/* RFC 8259: quote, backslash and U+0000..1F are escaped, all else stands as it is. */
static void put_escaped(struct base_buffer *b, unsigned char c) {
    static const char hex[] = "0123456789abcdef";
    switch (c) {
    case '"':
        base_buffer_text(b, "\\\"");
        break;
    case '\\':
        base_buffer_text(b, "\\\\");
        break;
    case '\n':
        base_buffer_text(b, "\\n");
        break;
    case '\r':
        base_buffer_text(b, "\\r");
        break;
    case '\t':
        base_buffer_text(b, "\\t");
        break;
    default:
        base_buffer_text(b, "\\u00");
        base_buffer_char(b, hex[c >> 4]);
        base_buffer_char(b, hex[c & 15]);
    }
}

static void put_string(struct base_buffer *b, struct base_slice rest) {
    base_buffer_char(b, '"');
    while (rest.n > 0) {
        size_t length = base_utf8_character(rest);
        unsigned char c = (unsigned char)rest.at[0];
        if (length == 0) {
            base_buffer_text(b, "\xef\xbf\xbd"); /* U+FFFD */
            length = 1;
        } else if (c < 0x20 || c == '"' || c == '\\') {
            put_escaped(b, c);
        } else {
            base_buffer_put(b, rest.at, length);
        }
        rest = (struct base_slice){.at = rest.at + length, .n = rest.n - length};
    }
    base_buffer_char(b, '"');
}

void format_out_key(struct format_out *out, const char *key) {
    assert(out->depth > 0 && out->is_object[out->depth] && !out->after_key);
    separate(out);
    put_string(out->buffer, base_slice_of(key));
    base_buffer_text(out->buffer, out->indent ? ": " : ":");
    out->after_key = true;
}

void format_out_slice(struct format_out *out, struct base_slice text) {
    before_value(out);
    put_string(out->buffer, text);
}

void format_out_text(struct format_out *out, const char *zero_terminated) {
    if (zero_terminated) {
        format_out_slice(out, base_slice_of(zero_terminated));
    } else {
        format_out_null(out);
    }
}

void format_out_int(struct format_out *out, int64_t value) {
    before_value(out);
    base_buffer_int(out->buffer, value);
}

void format_out_double(struct format_out *out, double value) {
    before_value(out);
    base_buffer_double(out->buffer, value);
    if (fabs(value) >= 0x1p63 && fabs(value) < 1e21) {
        base_buffer_text(out->buffer,
                         ".0"); /* else it would be taken for a whole number, and none has more than 64 bits */
    }
}

void format_out_fixed(struct format_out *out, double value, int decimals) {
    if (!(fabs(value) < 1e15)) {
        format_out_null(out);
        return;
    }
    before_value(out);
    base_buffer_fixed(out->buffer, value, decimals);
}

void format_out_bool(struct format_out *out, bool value) {
    before_value(out);
    base_buffer_text(out->buffer, value ? "true" : "false");
}

void format_out_null(struct format_out *out) {
    before_value(out);
    base_buffer_text(out->buffer, "null");
}
