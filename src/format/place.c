/* SPDX-License-Identifier: Apache-2.0 */
#include "format/place.h"

#include "format/csv.h"

struct format_place format_at(const struct format_source *source, const struct format_path *path) {
    return (struct format_place){.source = source, .path = path};
}

const char *format_text(const struct base_buffer *b) { return b->status == BASE_OK && b->at ? b->at : "?"; }

/* A JSON pointer as RFC 6901 writes it: ~ is ~0 and / is ~1 within a key. */
static void put_path(struct base_buffer *b, const struct format_path *path) {
    if (!path) {
        return;
    }
    put_path(b, path->up);
    base_buffer_char(b, '/');
    if (!path->key) {
        base_buffer_int(b, (int64_t)path->index);
        return;
    }
    for (const char *c = path->key; *c; c++) {
        if (*c == '~' || *c == '/') {
            base_buffer_text(b, *c == '~' ? "~0" : "~1");
        } else {
            base_buffer_char(b, *c);
        }
    }
}

void format_fault(const struct format_place *place, const char *found, const char *allowed, const char *nearest) {
    struct base_buffer path;
    base_buffer_init(&path, 0);
    put_path(&path, place->path);
    struct base_fault fault = {
        .file = place->source->file, .path = place->name, .found = found, .allowed = allowed, .nearest = nearest};
    if (place->path) {
        fault.path = format_text(&path);
    }
    if (place->field) {
        fault.line = place->field->line;
        fault.column = format_csv_column(place->field);
    }
    base_faults_add(place->source->faults, &fault);
    base_buffer_clear(&path);
}

void format_fault_line(const struct format_source *source, uint32_t line, uint32_t column, const char *found,
                       const char *allowed) {
    base_faults_add(
        source->faults,
        &(struct base_fault){.file = source->file, .line = line, .column = column, .found = found, .allowed = allowed});
}

void format_fault_unknown(const struct format_place *place, struct base_slice name, const char *allowed,
                          const char *const *known, size_t n) {
    int nearest = base_text_nearest(name, known, n);
    format_fault(place, NULL, allowed, nearest >= 0 ? known[nearest] : NULL);
}
