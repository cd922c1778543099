/* SPDX-License-Identifier: Apache-2.0 */
#include "format/json.h"

#include "format/text_in.h"

#include <string.h>

/* Position of the first bracket that lies too deep; bytes.n when none does. Brackets within texts don't count. */
static size_t too_deep(struct base_slice bytes) {
    bool within = false;
    size_t depth = 0;
    for (size_t i = 0; i < bytes.n; i++) {
        char c = bytes.at[i];
        if (within) {
            i += c == '\\';
            within = c != '"';
        } else if (c == '"') {
            within = true;
        } else if (c == '{' || c == '[') {
            if (++depth > FORMAT_JSON_DEPTH) {
                return i;
            }
        } else if (c == '}' || c == ']') {
            depth -= depth > 0;
        }
    }
    return bytes.n;
}

static bool is_plain(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || strchr("+-._", c) != NULL;
}

/* Whether the quote at i is escaped by an odd number of backslashes before it. */
static bool is_escaped(struct base_slice bytes, size_t i) {
    size_t n = 0;
    while (n < i && bytes.at[i - n - 1] == '\\') {
        n++;
    }
    return n % 2 == 1;
}

/* Where the text, number or word that ends before position end begins: what the library stumbled over. */
static size_t token_start(struct base_slice bytes, size_t end) {
    size_t start = end - 1;
    if (bytes.at[start] == '"') {
        size_t i = start;
        while (i > 0 && bytes.at[i - 1] != '\n') {
            i--;
            if (bytes.at[i] == '"' && !is_escaped(bytes, i)) {
                return i;
            }
        }
        return start;
    }
    while (start > 0 && is_plain(bytes.at[start]) && is_plain(bytes.at[start - 1])) {
        start--;
    }
    while (start > 0 && ((unsigned char)bytes.at[start] & 0xc0) == 0x80) {
        start--; /* to the first byte of its character */
    }
    return start;
}

static bool text_begins(const json_error_t *error, const char *begin) {
    return strncmp(error->text, begin, strlen(begin)) == 0;
}

/* What would have been right, by the kind of the library's complaint. */
static const char *allowed_instead(const json_error_t *error) {
    switch (json_error_code(error)) {
    case json_error_duplicate_key:
        return "each name once in an object";
    case json_error_numeric_overflow:
        return "a number that is not beyond all measure";
    case json_error_end_of_input_expected:
        return "nothing behind the end of the object";
    case json_error_null_character:
    case json_error_null_byte_in_key:
        return "a text without zero characters";
    default:
        break;
    }
    static const struct {
        const char *begins, *allowed;
    } rows[] = {
        {"string or '}' expected", "a name in double quotes, or } behind the last value"},
        {"'}' expected", "a comma or }"},
        {"']' expected", "a comma or ]"},
        {"':' expected", "a colon behind a name"},
        {"'[' or '{' expected", "a { at the beginning"},
        {"premature end of input", "a text with a double quote at each end"},
        {"unexpected newline", "a text with a double quote at each end, on one line"},
        {"control character", "a text without control characters"},
        {"invalid escape", "an escape such as \\n or \\u00e4 in a text"},
        {"invalid Unicode", "escapes that make up a character in a text"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (text_begins(error, rows[i].begins)) {
            return rows[i].allowed;
        }
    }
    return "a text in double quotes, a number, true, false, null, [ or {";
}

/* The library tells spent memory by no text at all, or by complaining of a text that is whole: one is never a broken
 * value, nor out of place where a name is wanted. */
static bool is_out_of_memory(struct base_slice bytes, const json_error_t *error) {
    if (error->text[0] == '\0' || json_error_code(error) == json_error_out_of_memory) {
        return true;
    }
    if (!text_begins(error, "invalid token") && !text_begins(error, "string or '}' expected")) {
        return false;
    }
    size_t end = error->position > 0 ? (size_t)error->position : 0;
    return end > 0 && end <= bytes.n && bytes.at[end - 1] == '"' && token_start(bytes, end) < end - 1;
}

static void fault_syntax(const struct format_source *source, struct base_slice bytes, const json_error_t *error) {
    size_t end = error->position > 0 ? (size_t)error->position : 0;
    uint32_t line, column;
    if (json_error_code(error) == json_error_premature_end_of_input || end == 0 || end > bytes.n) {
        format_text_position(&line, &column, bytes, bytes.n);
        format_fault_line(source, line, column, "the end of the file", allowed_instead(error));
        return;
    }
    while (end < bytes.n && is_plain(bytes.at[end - 1]) && is_plain(bytes.at[end])) {
        end++; /* the library stops within some words, such as -Infinity */
    }
    size_t start = token_start(bytes, end);
    struct base_buffer found;
    base_buffer_init(&found, 0);
    base_buffer_put(&found, bytes.at + start, end - start);
    format_text_position(&line, &column, bytes, start);
    format_fault_line(source, line, column, format_text(&found), allowed_instead(error));
    base_buffer_clear(&found);
}

static bool check_depth(struct base_slice bytes, const struct format_source *source) {
    size_t deep = too_deep(bytes);
    if (deep < bytes.n) {
        uint32_t line, column;
        format_text_position(&line, &column, bytes, deep);
        format_fault_line(source, line, column, "one more within these", "32 brackets within each other");
    }
    return deep == bytes.n;
}

enum base_status format_json_read(json_t **out, struct base_slice bytes, const struct format_source *source) {
    if (!format_text_check(&bytes, source, FORMAT_JSON_MIB, "a JSON object") || !check_depth(bytes, source)) {
        return BASE_BAD_INPUT;
    }
    json_error_t error;
    json_t *root = json_loadb(bytes.at, bytes.n, JSON_REJECT_DUPLICATES, &error);
    if (!root && is_out_of_memory(bytes, &error)) {
        return BASE_NO_MEMORY;
    }
    if (!root) {
        fault_syntax(source, bytes, &error);
        return BASE_BAD_INPUT;
    }
    if (!json_is_object(root)) {
        format_fault_line(source, 1, 1, "a list", "a JSON object");
        json_decref(root);
        return BASE_BAD_INPUT;
    }
    *out = root;
    return BASE_OK;
}

void format_json_check_keys(const json_t *object, const struct format_source *source, const struct format_path *path,
                            const char *const *known, size_t n, const char *what) {
    const char *key;
    json_t *value;
    json_object_foreach((json_t *)object, key, value) {
        bool is_known = false;
        for (size_t i = 0; i < n && !is_known; i++) {
            is_known = strcmp(key, known[i]) == 0;
        }
        if (!is_known) {
            struct format_path step = {.up = path, .key = key};
            struct format_place place = format_at(source, &step);
            format_fault_unknown(&place, base_slice_of(key), what, known, n);
        }
    }
}
