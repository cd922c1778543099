/* SPDX-License-Identifier: Apache-2.0 */
#include "format/use_in.h"

#include "format/document.h"
#include "format/json.h"
#include "mech/sprocket.h"

static const struct format_range teeth_range = {.low = MECH_TEETH_MIN, .high = MECH_TEETH_MAX, .whole = true};
static const struct format_range share_range = {.low = 0, .high = 1e6};

static bool read_member(double *out, const struct format_place *object, const struct format_item *item, const char *key,
                        struct format_range range) {
    struct format_path step = {.up = object->path, .key = key};
    struct format_place place = format_at(object->source, &step);
    struct format_item member = format_item_json(json_object_get(item->json, key));
    return format_read_number(out, &place, &member, range);
}

static bool is_there(const struct format_use *use, int ring, int sprocket) {
    for (size_t i = 0; i < use->n; i++) {
        if (use->at[i].ring == ring && use->at[i].sprocket == sprocket) {
            return true;
        }
    }
    return false;
}

static void read_gear(struct format_use *use, const struct format_place *place, const struct format_item *item) {
    static const char *const keys[] = {"ring", "sprocket", "share"};
    double ring, sprocket, share;
    if (item->type != FORMAT_OBJECT) {
        format_fault_item(place, item, "an object with ring, sprocket and share", NULL);
        return;
    }
    format_json_check_keys(item->json, place->source, place->path, keys, 3, "a key of a gear");
    bool good = read_member(&ring, place, item, "ring", teeth_range);
    good = read_member(&sprocket, place, item, "sprocket", teeth_range) && good;
    good = read_member(&share, place, item, "share", share_range) && good;
    if (!good) {
        return;
    }
    if (is_there(use, (int)ring, (int)sprocket)) {
        format_fault(place, "a gear that stands there already", "each gear once", NULL);
        return;
    }
    use->at[use->n].ring = (int)ring;
    use->at[use->n].sprocket = (int)sprocket;
    use->at[use->n++].share = share;
}

static void read_gears(struct format_use *use, const struct format_key *key) {
    struct format_list list;
    struct format_item one;
    struct format_place at;
    double sum = 0;
    if (!format_list_init(&list, &key->place, &key->item, "a list of gears")) {
        return;
    }
    size_t n = json_array_size(key->item.json);
    if (n == 0 || n > FORMAT_USE_GEARS_MAX) {
        format_fault(&key->place, n == 0 ? "an empty list" : "more gears", "1 to 64 gears", NULL);
        return;
    }
    while (format_list_next(&list, &one, &at)) {
        read_gear(use, &at, &one);
    }
    for (size_t i = 0; i < use->n; i++) {
        sum += use->at[i].share;
    }
    if (use->n == n && !(sum > 0)) {
        format_fault(&key->place, "no share above 0", "a share above 0 for the gears that are used", NULL);
    }
}

enum base_status format_use_read(struct format_use *out, struct base_slice bytes, const char *file,
                                 struct base_faults *faults) {
    static const char *const names[] = {"gears"};
    struct format_document document;
    struct format_use use = {.n = 0};
    enum base_status status = format_document_init(&document, bytes, file, faults, names, 1, "a key of a use of gears");
    if (status != BASE_OK) {
        return status;
    }
    read_gears(&use, &document.keys[0]);
    status = format_reader_end(&document.reader);
    if (status == BASE_OK) {
        *out = use;
    }
    format_document_clear(&document);
    return status;
}
