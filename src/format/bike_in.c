/* SPDX-License-Identifier: Apache-2.0 */
#include "format/bike_in.h"

#include "format/document.h"
#include "format/geometry_in.h"
#include "format/json.h"
#include "format/part_in.h"
#include "format/rings_in.h"
#include "format/slots_in.h"
#include "trade/vocabulary.h"

#include <math.h>
#include <string.h>

/* Keys of the file that are not properties of the bike itself. */
static const char *const own_keys[] = {"format", "label",     "frame", "wheel",     "fitted",
                                       "rider",  "overruled", "note",  "suspension"};
enum { OWN_KEYS = sizeof own_keys / sizeof own_keys[0] };

static const char *keep_text(struct format_reader *reader, struct base_slice text) {
    const char *copy = base_arena_copy(reader->arena, text.at, text.n);
    reader->no_memory = reader->no_memory || !copy;
    return copy;
}

/* The text of a key that must be there; NULL with a fault told. */
static const char *read_text(struct format_reader *reader, const struct format_path *up, json_t *object,
                             const char *key) {
    struct format_path step = {.up = up, .key = key};
    struct format_place place = format_at(&reader->source, &step);
    struct format_item item = format_item_json(json_object_get(object, key));
    struct base_slice text;
    return format_read_text(&text, &place, &item, FORMAT_NAME_CHARS) ? keep_text(reader, text) : NULL;
}

/* The object of a key; NULL when it is not there, or not an object: a fault then, if it must be there. */
static json_t *object_of(struct format_reader *reader, json_t *root, const struct format_path *step, bool must) {
    json_t *json = json_object_get(root, step->key);
    if (json_is_object(json)) {
        return json;
    }
    if (must || (json && !json_is_null(json))) {
        struct format_place place = format_at(&reader->source, step);
        struct format_item item = format_item_json(json);
        format_fault_item(&place, &item, "an object of properties", NULL);
    }
    return NULL;
}

static void read_fixed(struct trade_part *part, struct format_reader *reader, json_t *root, const char *key,
                       bool must) {
    struct format_path step = {.key = key};
    json_t *object = object_of(reader, root, &step, must);
    if (object) {
        format_read_part(part, reader, &step, object, NULL, 0);
    }
}

/* --- what is fitted ----------------------------------------------------------------------------------------------- */

/* The slot says on which side or in which place a part sits, so the file need not; if it does, it must agree. */
static void settle_place(struct trade_part *part, struct format_reader *reader, const struct format_path *path,
                         enum trade_slot slot) {
    enum trade_property property;
    unsigned wanted;
    if (!trade_slot_wants(slot, &property, &wanted)) {
        if (!format_ring_place(slot, &wanted)) {
            return;
        }
        property = TRADE_RING_PLACE;
    }
    const struct trade_property_row *row = &trade_property_rows[property];
    int word = trade_get_word(part, property);
    bool either = row->domain == TRADE_DOMAIN_SIDE && word == TRADE_SIDE_EITHER;
    if (word < 0) {
        trade_set(part, property, trade_word(wanted, BASE_MEASURED));
    } else if (word != (int)wanted && !either) {
        struct format_path step = {.up = path, .key = row->name};
        struct format_place place = format_at(&reader->source, &step);
        format_fault(&place, trade_word_name(row->domain, (unsigned)word), trade_word_name(row->domain, wanted), NULL);
    }
}

static void read_slot(struct trade_fitted *fitted, struct format_reader *reader, const struct format_path *path,
                      json_t *json, enum trade_slot slot) {
    if (json_is_null(json)) {
        fitted->state = TRADE_EMPTY;
        return;
    }
    if (!json_is_object(json)) {
        struct format_place place = format_at(&reader->source, path);
        struct format_item item = format_item_json(json);
        format_fault_item(&place, &item, "an object of properties, or null when the slot is empty", NULL);
        return;
    }
    fitted->state = TRADE_THERE;
    format_read_part(&fitted->part, reader, path, json, NULL, 0);
    settle_place(&fitted->part, reader, path, slot);
}

static void fault_slot(const struct format_place *place, const char *key) {
    const char *names[FORMAT_SLOT_NAMES];
    format_slot_names(names);
    format_fault_unknown(place, base_slice_of(key), "a slot", names, FORMAT_SLOT_NAMES);
}

static void read_fitted(struct trade_bike *bike, struct format_reader *reader, json_t *root) {
    struct format_path fitted = {.key = "fitted"};
    json_t *object = object_of(reader, root, &fitted, true), *json;
    json_t *rings = object ? json_object_get(object, "rings") : NULL;
    const char *key;
    if (!object) {
        return;
    }
    json_object_foreach(object, key, json) {
        struct format_path step = {.up = &fitted, .key = key};
        struct format_place place = format_at(&reader->source, &step);
        int slot = trade_find_slot(base_slice_of(key));
        if (strcmp(key, "rings") == 0) {
            format_read_rings(bike->fitted, reader, &step, json);
        } else if (slot < 0) {
            fault_slot(&place, key);
        } else if (rings && (1u << slot & FORMAT_RING_SLOTS)) {
            format_fault(&place, "a ring slot beside rings", "either rings or the slots of single rings", NULL);
        } else {
            read_slot(&bike->fitted[slot], reader, &step, json, (enum trade_slot)slot);
        }
    }
}

/* --- what was overruled ------------------------------------------------------------------------------------------- */

struct rules {
    const struct format_rule *at;
    const char **ids; /* of each */
    size_t n;
};

/* The rule that an entry names; NULL with a fault told. Of one that can't be overruled it is told, and returned. */
static const struct format_rule *read_rule(const struct format_place *place, const struct format_item *item,
                                           const struct rules *rules) {
    unsigned which;
    if (!format_read_word(&which, place, item, rules->ids, rules->n)) {
        return NULL;
    }
    if (rules->at[which].safety) {
        format_fault_item(place, item,
                          "any rule but those about brakes, which can't be overruled; change the part instead", NULL);
    }
    return &rules->at[which];
}

static void read_one_overruled(struct trade_overruled *out, struct format_reader *reader,
                               const struct format_path *path, json_t *object, const struct rules *rules) {
    static const char *const keys[] = {"rule", "slots", "by", "reason"};
    struct format_path rule_step = {.up = path, .key = "rule"}, slots_step = {.up = path, .key = "slots"};
    struct format_place rule_at = format_at(&reader->source, &rule_step);
    struct format_place slots_at = format_at(&reader->source, &slots_step);
    struct format_item rule = format_item_json(json_object_get(object, "rule"));
    struct format_item slots = format_item_json(json_object_get(object, "slots"));
    format_json_check_keys(object, &reader->source, path, keys, sizeof keys / sizeof keys[0],
                           "one of rule, slots, by and reason");
    const struct format_rule *named = read_rule(&rule_at, &rule, rules);
    if (named) {
        out->rule = keep_text(reader, base_slice_of(named->id));
    }
    if (slots.type != FORMAT_NOTHING &&
        !format_read_slots(&out->slots, &slots_at, &slots, named ? named->slots : FORMAT_EVERY_SLOT)) {
        out->slots = 0;
    }
    out->by = read_text(reader, path, object, "by");
    out->reason = read_text(reader, path, object, "reason");
}

static void read_overruled(struct trade_bike *bike, struct format_reader *reader, json_t *root,
                           const struct rules *rules) {
    struct format_path step = {.key = "overruled"};
    struct format_place place = format_at(&reader->source, &step), at;
    struct format_item item = format_item_json(json_object_get(root, "overruled")), one;
    struct format_list list;
    if (item.type == FORMAT_NOTHING || !format_list_init(&list, &place, &item, "a list of objects")) {
        return;
    }
    bike->overruled = base_arena_alloc(reader->arena, json_array_size(item.json), sizeof *bike->overruled);
    if (!bike->overruled) {
        reader->no_memory = true;
        return;
    }
    while (format_list_next(&list, &one, &at)) {
        if (one.type == FORMAT_OBJECT) {
            read_one_overruled(&bike->overruled[bike->n_overruled++], reader, at.path, one.json, rules);
        } else {
            format_fault_item(&at, &one, "an object of rule, slots, by and reason", NULL);
        }
    }
}

/* --- the rear suspension ------------------------------------------------------------------------------------------ */

static void set_if_open(struct trade_part *part, enum trade_property property, struct trade_value value) {
    if (trade_is_open(trade_get(part, property))) {
        trade_set(part, property, value);
    }
}

/* What the drawing tells of the frame: that it moves, and the chain stay at rest and at its longest. A length that stands in
 * the file, read on the bike, wins. */
static void tell_frame(struct trade_part *frame, const struct mech_suspension_frame *drawn) {
    struct mech_suspension_state longest;
    enum mech_suspension_why why;
    const struct trade_property_row *stay = &trade_property_rows[TRADE_FRAME_CHAINSTAY_MM];
    double rest_mm = hypot(drawn->suspension.axle.x_mm, drawn->suspension.axle.y_mm);
    set_if_open(frame, TRADE_FRAME_SUSPENSION, trade_word(TRADE_YES_NO_YES, BASE_MEASURED));
    if (rest_mm < stay->low || rest_mm > stay->high) {
        return;
    }
    set_if_open(frame, TRADE_FRAME_CHAINSTAY_MM, trade_number(rest_mm, BASE_TABLE));
    if (mech_suspension_longest(&longest, &why, &drawn->suspension, 0, drawn->travel_mm) == BASE_OK) {
        double longest_mm = hypot(longest.axle.x_mm, longest.axle.y_mm);
        set_if_open(frame, TRADE_FRAME_CHAINSTAY_LONGEST_MM, trade_number(longest_mm, BASE_TABLE));
    }
}

static void read_suspension(struct trade_bike *bike, struct format_reader *reader, json_t *root) {
    struct format_path step = {.key = "suspension"},
                       said = {.up = &(struct format_path){.key = "frame"}, .key = "suspension"};
    struct format_place place = format_at(&reader->source, &step), said_at = format_at(&reader->source, &said);
    struct format_item item = format_item_json(json_object_get(root, "suspension"));
    struct mech_suspension_frame drawn;
    if (item.type == FORMAT_NOTHING || !format_suspension_in_bike(&drawn, &place, &item)) {
        return;
    }
    if (trade_get_word(&bike->frame, TRADE_FRAME_SUSPENSION) == TRADE_YES_NO_NO) {
        format_fault(&said_at, "no, beside a suspension that is drawn", "yes, or nothing", NULL);
        return;
    }
    struct mech_suspension_frame *kept = base_arena_alloc(reader->arena, 1, sizeof *kept);
    if (!kept) {
        reader->no_memory = true;
        return;
    }
    *kept = drawn;
    bike->suspension = kept;
    tell_frame(&bike->frame, kept);
}

/* --- the whole ---------------------------------------------------------------------------------------------------- */

static void read_root(struct trade_bike *bike, struct format_reader *reader, json_t *root, const struct rules *rules) {
    format_check_version(&reader->source, root, true);
    const char *label = read_text(reader, NULL, root, "label");
    bike->label = label ? label : "";
    if (format_item_json(json_object_get(root, "note")).type != FORMAT_NOTHING) {
        (void)read_text(reader, NULL, root, "note"); /* for people only: checked, not kept */
    }
    format_read_part(&bike->self, reader, NULL, root, own_keys, OWN_KEYS);
    read_fixed(&bike->frame, reader, root, "frame", true);
    read_fixed(&bike->wheel, reader, root, "wheel", true);
    read_fixed(&bike->rider, reader, root, "rider", false);
    read_fitted(bike, reader, root);
    read_overruled(bike, reader, root, rules);
    read_suspension(bike, reader, root);
}

enum base_status format_bike_read(struct trade_bike *out, struct base_slice bytes, const char *file,
                                  struct trade_names *names, const struct format_rule *rules, size_t n_rules,
                                  struct base_faults *faults) {
    struct trade_bike bike;
    enum base_status status = trade_bike_init(&bike);
    if (status != BASE_OK) {
        return status;
    }
    json_t *root = NULL;
    struct format_reader reader = format_reader_of(file, faults, &bike.arena, names);
    status = format_json_read(&root, bytes, &reader.source);
    if (status == BASE_OK) {
        struct rules overrulable = {.at = rules, .n = n_rules};
        overrulable.ids = base_arena_alloc(&bike.arena, n_rules, sizeof *overrulable.ids);
        for (size_t i = 0; i < n_rules && overrulable.ids; i++) {
            overrulable.ids[i] = rules[i].id;
        }
        if (overrulable.ids) {
            read_root(&bike, &reader, root, &overrulable);
        }
        status = overrulable.ids ? format_reader_end(&reader) : BASE_NO_MEMORY;
    }
    if (status == BASE_OK) {
        status = trade_bike_complete(&bike);
    }
    json_decref(root);
    if (status != BASE_OK) {
        trade_bike_clear(&bike);
        return status;
    }
    *out = bike;
    return BASE_OK;
}
