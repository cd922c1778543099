/* SPDX-License-Identifier: Apache-2.0 */
#include "format/document.h"

#include "format/json.h"
#include "format/part_in.h"

#include <assert.h>

void format_check_version(const struct format_source *source, json_t *root, bool must) {
    json_t *json = json_object_get(root, "format");
    struct format_path step = {.key = "format"};
    struct format_place place = format_at(source, &step);
    struct format_item item = format_item_json(json);
    if ((json || must) && (!json_is_integer(json) || json_integer_value(json) != 1)) {
        format_fault_item(&place, &item, "the number 1", NULL);
    }
}

static void check_label(const struct format_source *source, json_t *root) {
    struct format_path step = {.key = "label"};
    struct format_place place = format_at(source, &step);
    struct format_item item = format_item_json(json_object_get(root, "label"));
    struct base_slice text;
    if (item.json && !format_read_text(&text, &place, &item, FORMAT_NAME_CHARS)) {
        return; /* the fault is told */
    }
}

static void check_keys(const struct format_source *source, json_t *root, const char *const *names, size_t n,
                       const char *what) {
    const char *known[FORMAT_KEYS_MAX + 2] = {"format", "label"};
    for (size_t i = 0; i < n; i++) {
        known[i + 2] = names[i];
    }
    format_json_check_keys(root, source, NULL, known, n + 2, what);
}

enum base_status format_document_init(struct format_document *out, struct base_slice bytes, const char *file,
                                      struct base_faults *faults, const char *const *names, size_t n,
                                      const char *what) {
    assert(n <= FORMAT_KEYS_MAX);
    *out = (struct format_document){.reader = format_reader_of(file, faults, NULL, NULL)};
    const struct format_source *source = &out->reader.source;
    enum base_status status = format_json_read(&out->root, bytes, source);
    if (status != BASE_OK) {
        return status;
    }
    check_keys(source, out->root, names, n, what);
    format_check_version(source, out->root, false);
    check_label(source, out->root);
    for (size_t i = 0; i < n; i++) {
        struct format_key *key = &out->keys[i];
        json_t *json = json_object_get(out->root, names[i]);
        key->step = (struct format_path){.key = names[i]};
        key->place = format_at(source, &key->step);
        key->item = format_item_json(json);
        key->there = json != NULL;
    }
    return BASE_OK;
}

void format_document_clear(struct format_document *document) {
    json_decref(document->root);
    document->root = NULL;
}
