/* SPDX-License-Identifier: Apache-2.0 */
#include "format/csv.h"

#include "format/text_in.h"

#include <stdlib.h>
#include <string.h>

/* What follows a field. */
enum after { AFTER_COMMA, AFTER_LINE, AFTER_FILE, AFTER_FAULT };

enum base_status format_csv_init(struct format_csv *out, struct base_slice bytes, const struct format_source *source,
                                 const char *wanted) {
    if (!format_text_check(&bytes, source, FORMAT_CSV_MIB, wanted)) {
        return BASE_BAD_INPUT;
    }
    *out = (struct format_csv){
        .source = *source, .at = bytes.at, .end = bytes.at + bytes.n, .line_at = bytes.at, .line = 1};
    return BASE_OK;
}

void format_csv_clear(struct format_csv *csv) {
    free(csv->undoubled);
    csv->undoubled = NULL;
}

uint32_t format_csv_column(const struct format_csv_field *field) {
    return (uint32_t)base_utf8_length(
               (struct base_slice){.at = field->line_at, .n = (size_t)(field->at - field->line_at)}) +
           1;
}

static void fault_at(const struct format_csv *csv, const char *at, const char *found, const char *allowed) {
    struct format_csv_field here = {.at = at, .line_at = csv->line_at};
    format_fault_line(&csv->source, csv->line, format_csv_column(&here), found, allowed);
}

static void begin_line(struct format_csv *csv, const char *at) {
    csv->at = csv->line_at = at;
    csv->line++;
}

static void skip_line(struct format_csv *csv) {
    const char *lf = memchr(csv->at, '\n', (size_t)(csv->end - csv->at));
    if (lf) {
        begin_line(csv, lf + 1);
    } else {
        csv->at = csv->end;
    }
}

/* The end of a line at p: its length, 1 or 2; 0 when none stands there. */
static size_t line_end(const struct format_csv *csv, const char *p) {
    if (p < csv->end && *p == '\n') {
        return 1;
    }
    return csv->end - p >= 2 && p[0] == '\r' && p[1] == '\n' ? 2 : 0;
}

/* Goes past what stands behind a field that ends at p. */
static enum after separate(struct format_csv *csv, const char *p) {
    csv->at = p;
    if (p == csv->end) {
        return AFTER_FILE;
    }
    if (*p == ',') {
        csv->at = p + 1;
        return AFTER_COMMA;
    }
    size_t n = line_end(csv, p);
    if (n > 0) {
        begin_line(csv, p + n);
        return AFTER_LINE;
    }
    fault_at(csv, p,
             *p == '\r'  ? "a carriage return alone"
             : *p == '"' ? "a quote within a field"
                         : "text behind a quote",
             *p == '\r' ? "lines that end with LF or CR LF" : "quotes round the whole field, doubled within it");
    return AFTER_FAULT;
}

static enum after read_plain(struct format_csv *csv, struct format_csv_field *field) {
    const char *p = csv->at;
    while (p < csv->end && *p != ',' && *p != '\n' && *p != '\r' && *p != '"') {
        p++;
    }
    field->text = (struct base_slice){.at = csv->at, .n = (size_t)(p - csv->at)};
    return separate(csv, p);
}

/* A copy of a quoted field with single quotes for double ones. A record is no longer than the room, so all fit. */
static void undouble(struct format_csv *csv, struct base_slice *text) {
    if (!csv->undoubled) {
        csv->undoubled = malloc(FORMAT_CSV_RECORD);
    }
    if (!csv->undoubled) {
        csv->no_memory = true;
        return;
    }
    char *copy = csv->undoubled + csv->undoubled_n;
    size_t n = 0;
    for (size_t i = 0; i < text->n; i++) {
        i += text->at[i] == '"'; /* the second of two */
        copy[n++] = text->at[i];
    }
    csv->undoubled_n += n;
    *text = (struct base_slice){.at = copy, .n = n};
}

/* A field in quotes, which may go over several lines; limit is where its record must have ended. */
static enum after read_quoted(struct format_csv *csv, struct format_csv_field *field, const char *limit) {
    const char *start = csv->at + 1, *p = start, *line_at = csv->line_at;
    uint32_t line = csv->line;
    bool doubled = false;
    for (; p < limit; p++) {
        if (*p == '"' && (p + 1 == csv->end || p[1] != '"')) {
            break;
        }
        if (*p == '"') {
            doubled = true;
            p++;
        } else if (*p == '\n') {
            line++;
            line_at = p + 1;
        }
    }
    if (p >= limit) {
        fault_at(csv, csv->at, "a quote that is never closed", "a field with a quote at each end, of at most 1 MiB");
        csv->at = csv->end;
        return AFTER_FAULT;
    }
    field->text = (struct base_slice){.at = start, .n = (size_t)(p - start)};
    csv->line = line;
    csv->line_at = line_at;
    if (doubled) {
        undouble(csv, &field->text);
    }
    return separate(csv, p + 1);
}

/* One record from csv->at; false when a fault was told, the reader then stands behind its line. */
static bool read_record(struct format_csv *csv) {
    size_t left = (size_t)(csv->end - csv->at);
    const char *limit = left > FORMAT_CSV_RECORD ? csv->at + FORMAT_CSV_RECORD : csv->end;
    if (limit < csv->end && !memchr(csv->at, '\n', FORMAT_CSV_RECORD)) {
        format_fault_line(&csv->source, csv->line, 0, "a longer line", "lines of at most 1 MiB");
        skip_line(csv);
        return false;
    }
    enum after after = AFTER_COMMA;
    csv->undoubled_n = 0;
    for (csv->n = 0; after == AFTER_COMMA; csv->n++) {
        if (csv->n == FORMAT_CSV_FIELDS) {
            fault_at(csv, csv->at, "more fields", "at most 256 fields in a line");
            skip_line(csv);
            return false;
        }
        struct format_csv_field *field = &csv->fields[csv->n];
        *field = (struct format_csv_field){.at = csv->at, .line_at = csv->line_at, .line = csv->line};
        after = csv->at < csv->end && *csv->at == '"' ? read_quoted(csv, field, limit) : read_plain(csv, field);
    }
    if (after == AFTER_FAULT) {
        skip_line(csv);
    }
    return after != AFTER_FAULT;
}

static void put_fields(struct base_buffer *b, size_t n) {
    base_buffer_int(b, (int64_t)n);
    base_buffer_text(b, n == 1 ? " field" : " fields");
}

static bool count_fits(struct format_csv *csv) {
    if (csv->columns == 0) {
        csv->columns = csv->n;
    }
    if (csv->n == csv->columns) {
        return true;
    }
    struct base_buffer found, allowed;
    base_buffer_init(&found, 0);
    base_buffer_init(&allowed, 0);
    put_fields(&found, csv->n);
    put_fields(&allowed, csv->columns);
    base_buffer_text(&allowed, ", as in the first line");
    format_fault_line(&csv->source, csv->fields[0].line, 0, format_text(&found), format_text(&allowed));
    base_buffer_clear(&found);
    base_buffer_clear(&allowed);
    return false;
}

enum base_status format_csv_next(struct format_csv *csv) {
    while (csv->at < csv->end && !csv->no_memory) {
        size_t empty = line_end(csv, csv->at);
        if (empty > 0) {
            begin_line(csv, csv->at + empty);
        } else if (read_record(csv) && !csv->no_memory && count_fits(csv)) {
            return BASE_OK;
        } else if (csv->columns == 0) {
            csv->at = csv->end; /* without its first line nothing else can be understood */
        }
    }
    return csv->no_memory ? BASE_NO_MEMORY : BASE_NO;
}

void format_csv_put(struct base_buffer *out, struct base_slice text) {
    bool quotes = text.n > 0 && (text.at[0] == ' ' || text.at[text.n - 1] == ' ');
    for (size_t i = 0; i < text.n && !quotes; i++) {
        quotes = strchr(",\"\r\n", text.at[i]) != NULL; /* a zero byte too: strchr finds the end of its string */
    }
    if (!quotes) {
        base_buffer_slice(out, text);
        return;
    }
    base_buffer_char(out, '"');
    for (size_t i = 0; i < text.n; i++) {
        if (text.at[i] == '"') {
            base_buffer_char(out, '"');
        }
        base_buffer_char(out, text.at[i]);
    }
    base_buffer_char(out, '"');
}
