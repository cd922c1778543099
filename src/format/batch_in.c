/* SPDX-License-Identifier: Apache-2.0 */
#include "format/batch_in.h"

#include "format/document.h"

#include <stdlib.h>

enum { BIKE, WISH, KEYS };
static const char *const names[KEYS] = {[BIKE] = "bike", [WISH] = "wish"};

static void put(struct base_buffer *out, json_t *json) {
    char *text = json_dumps(json, JSON_COMPACT | JSON_ENCODE_ANY);
    if (text) {
        base_buffer_text(out, text);
    } else {
        out->status = BASE_NO_MEMORY;
    }
    free(text);
}

enum base_status format_batch_line(struct base_buffer *bike, struct base_buffer *wish, struct base_slice line,
                                   const char *file, struct base_faults *faults) {
    struct format_document document;
    enum base_status status = format_document_init(&document, line, file, faults, names, KEYS, "a key of a line");
    if (status != BASE_OK) {
        return status;
    }
    const struct format_key *keys = document.keys;
    if (keys[BIKE].item.type != FORMAT_OBJECT) {
        format_fault_item(&keys[BIKE].place, &keys[BIKE].item, "a bike, an object as in a bike's file", NULL);
    } else {
        put(bike, keys[BIKE].item.json);
    }
    if (keys[WISH].item.type != FORMAT_NOTHING) {
        put(wish, keys[WISH].item.json);
    }
    status = format_reader_end(&document.reader);
    format_document_clear(&document);
    return status != BASE_OK ? status : bike->status != BASE_OK ? bike->status : wish->status;
}
