/* SPDX-License-Identifier: Apache-2.0 */
#include "format/text_in.h"

#include <string.h>

static const char utf8[] = "text in UTF-8";

static bool begins(struct base_slice s, const char *bytes, size_t n) { return s.n >= n && memcmp(s.at, bytes, n) == 0; }

/* Two-byte characters: by their mark, or by a zero in the first Latin letter. */
static bool is_utf16(struct base_slice s) {
    return begins(s, "\xff\xfe", 2) || begins(s, "\xfe\xff", 2) || (s.n >= 2 && (s.at[0] == '\0') != (s.at[1] == '\0'));
}

void format_text_position(uint32_t *line, uint32_t *column, struct base_slice text, size_t at) {
    size_t start = 0;
    *line = 1;
    for (size_t i = 0; i < at; i++) {
        if (text.at[i] == '\n') {
            ++*line;
            start = i + 1;
        }
    }
    *column = (uint32_t)base_utf8_length((struct base_slice){.at = text.at + start, .n = at - start}) + 1;
}

static void fault_at(const struct format_source *source, struct base_slice text, size_t at, const char *found) {
    uint32_t line, column;
    format_text_position(&line, &column, text, at);
    format_fault_line(source, line, column, found, utf8);
}

/* 'the byte E4': what an old one-byte encoding leaves where a letter beyond A to Z should stand. */
static void fault_byte(const struct format_source *source, struct base_slice text, size_t at) {
    static const char hex[] = "0123456789ABCDEF";
    char found[] = "the byte ??";
    unsigned char byte = (unsigned char)text.at[at];
    found[sizeof found - 3] = hex[byte >> 4];
    found[sizeof found - 2] = hex[byte & 15];
    fault_at(source, text, at, found);
}

static void fault_size(const struct format_source *source, size_t most_mib) {
    struct base_buffer allowed;
    base_buffer_init(&allowed, 0);
    base_buffer_text(&allowed, "a file of at most ");
    base_buffer_int(&allowed, (int64_t)most_mib);
    base_buffer_text(&allowed, " MiB");
    format_fault_line(source, 0, 0, "a larger one", format_text(&allowed));
    base_buffer_clear(&allowed);
}

static bool is_blank(struct base_slice s) {
    for (size_t i = 0; i < s.n; i++) {
        if (!strchr(" \t\r\n", s.at[i]) || s.at[i] == '\0') {
            return false;
        }
    }
    return true;
}

bool format_text_check(struct base_slice *bytes, const struct format_source *source, size_t most_mib,
                       const char *wanted) {
    if (bytes->n > most_mib * 1024 * 1024) {
        fault_size(source, most_mib);
        return false;
    }
    if (is_utf16(*bytes)) {
        format_fault_line(source, 1, 1, "text in UTF-16", utf8);
        return false;
    }
    if (begins(*bytes, "\xef\xbb\xbf", 3)) {
        *bytes = (struct base_slice){.at = bytes->at + 3, .n = bytes->n - 3};
    }
    if (is_blank(*bytes)) {
        format_fault_line(source, 0, 0, "an empty file", wanted);
        return false;
    }
    size_t valid = base_utf8_valid(*bytes);
    const char *zero = memchr(bytes->at, '\0', valid);
    if (zero) {
        fault_at(source, *bytes, (size_t)(zero - bytes->at), "a zero byte");
        return false;
    }
    if (valid < bytes->n) {
        fault_byte(source, *bytes, valid);
        return false;
    }
    return true;
}
