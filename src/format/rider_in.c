/* SPDX-License-Identifier: Apache-2.0 */
#include "format/rider_in.h"

#include "format/document.h"
#include "format/json.h"
#include "format/part_in.h"

/* Keys of the file that are not properties of the rider. */
static const char *const own_keys[] = {"format", "label", "note"};
enum { OWN_KEYS = sizeof own_keys / sizeof own_keys[0] };

static void check_text(struct format_reader *reader, json_t *root, const char *key) {
    struct format_path step = {.key = key};
    struct format_place place = format_at(&reader->source, &step);
    struct format_item item = format_item_json(json_object_get(root, key));
    struct base_slice text;
    if (item.type != FORMAT_NOTHING && !format_read_text(&text, &place, &item, FORMAT_NAME_CHARS)) {
        return; /* the fault is told */
    }
}

enum base_status format_rider_read(struct trade_bike *bike, struct base_slice bytes, const char *file,
                                   struct trade_names *names, struct base_faults *faults) {
    struct trade_part rider;
    enum base_status status = trade_part_init(&rider, &bike->arena, TRADE_KIND_RIDER);
    if (status != BASE_OK) {
        return status;
    }
    json_t *root = NULL;
    struct format_reader reader = format_reader_of(file, faults, &bike->arena, names);
    status = format_json_read(&root, bytes, &reader.source);
    if (status == BASE_OK) {
        format_check_version(&reader.source, root, false);
        check_text(&reader, root, "label");
        check_text(&reader, root, "note");
        format_read_part(&rider, &reader, NULL, root, own_keys, OWN_KEYS);
        status = format_reader_end(&reader);
    }
    if (status == BASE_OK) {
        trade_rider_complete(&rider, bike);
        bike->rider = rider;
    }
    json_decref(root);
    return status;
}
