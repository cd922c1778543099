/* SPDX-License-Identifier: Apache-2.0 */
#include "format/job_in.h"

#include "base/date.h"
#include "format/document.h"
#include "format/json.h"
#include "trade/vocabulary.h"

#include <math.h>

#define TEXT_MAX 400 /* characters of what a mechanic writes down */

bool format_is_time(struct base_slice text) {
    int32_t day;
    int hour, minute;
    return base_date_take(&day, &text) && base_take_char(&text, 'T') && base_take_digits(&hour, &text, 2, 0, 23) &&
           base_take_char(&text, ':') && base_take_digits(&minute, &text, 2, 0, 59) && text.n == 0;
}

/* An object that is read key by key, with the place of each for its faults. */
struct object {
    struct format_reader *reader;
    const struct format_path *path; /* NULL: the document */
    json_t *json;
};

/* A text that must be there, copied; NULL with a fault told. */
static const char *take_text(const struct object *object, const char *key) {
    struct format_path step = {.up = object->path, .key = key};
    struct format_place place = format_at(&object->reader->source, &step);
    struct format_item item = format_item_json(json_object_get(object->json, key));
    struct base_slice text;
    if (!format_read_text(&text, &place, &item, TEXT_MAX)) {
        return NULL;
    }
    const char *copy = base_arena_copy(object->reader->arena, text.at, text.n);
    object->reader->no_memory = object->reader->no_memory || !copy;
    return copy;
}

static bool is_there(const struct object *object, const char *key) {
    const json_t *json = json_object_get(object->json, key);
    return json && !json_is_null(json);
}

static const char *take_optional(const struct object *object, const char *key) {
    return is_there(object, key) ? take_text(object, key) : NULL;
}

/* Minor units, 0 or more; -1 where null stands, and with a fault told. */
static int64_t take_minor(const struct object *object, const char *key, bool may_be_null) {
    struct format_path step = {.up = object->path, .key = key};
    struct format_place place = format_at(&object->reader->source, &step);
    json_t *json = json_object_get(object->json, key);
    struct format_item item = format_item_json(json);
    if (json_is_null(json) && may_be_null) {
        return -1;
    }
    if (!json_is_integer(json) || json_integer_value(json) < 0) {
        format_fault_item(&place, &item, "a whole number of minor units", NULL);
        return -1;
    }
    return json_integer_value(json);
}

/* An object below; false with a fault told. */
static bool take_object(struct object *out, struct format_path *step, const struct object *object, const char *key) {
    *step = (struct format_path){.up = object->path, .key = key};
    struct format_place place = format_at(&object->reader->source, step);
    struct format_item item = format_item_json(json_object_get(object->json, key));
    *out = (struct object){object->reader, step, item.json};
    if (item.type != FORMAT_OBJECT) {
        format_fault_item(&place, &item, "an object, as `quote --job` writes it", NULL);
        return false;
    }
    return true;
}

/* --- the quote ----------------------------------------------------------------------------------------------------- */

static void read_quoted_way(struct format_quoted *out, const struct object *choice) {
    struct format_quoted_way *way = &out->ways[out->n++];
    struct object build, parts;
    struct format_path build_step, parts_step;
    way->letter = is_there(choice, "letter") ? take_text(choice, "letter") : "keep";
    way->total_minor = take_minor(choice, "total", false);
    if (!take_object(&build, &build_step, choice, "build") || !take_object(&parts, &parts_step, &build, "parts")) {
        return;
    }
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        way->ids[s] = take_text(&parts, trade_slot_rows[s].name);
    }
}

static void read_choices(struct format_quoted *out, const struct object *document) {
    struct format_path step = {.up = document->path, .key = "choices"};
    struct format_place place = format_at(&document->reader->source, &step), at;
    struct format_item item = format_item_json(json_object_get(document->json, "choices")), one;
    struct format_list list;
    if (!format_list_init(&list, &place, &item, "a list of one to three ways")) {
        return;
    }
    while (out->n < FORMAT_QUOTED_MAX - 1 && format_list_next(&list, &one, &at)) {
        if (one.type == FORMAT_OBJECT) {
            read_quoted_way(out, &(struct object){document->reader, at.path, one.json});
        } else {
            format_fault_item(&at, &one, "an object", NULL);
        }
    }
    if (out->n == 0 && item.type == FORMAT_LIST && json_array_size(item.json) == 0) {
        format_fault(&place, "an empty list", "at least one way", NULL);
    }
}

enum base_status format_quoted_read(struct format_quoted *out, struct base_arena *arena, struct base_slice bytes,
                                    const char *file, struct base_faults *faults) {
    struct format_reader reader = format_reader_of(file, faults, arena, NULL);
    struct object document = {.reader = &reader}, kept;
    struct format_path step;
    enum base_status status = format_json_read(&document.json, bytes, &reader.source);
    if (status != BASE_OK) {
        return status;
    }
    *out = (struct format_quoted){.n = 0};
    format_check_version(&reader.source, document.json, true);
    out->day = take_text(&document, "day");
    out->old_parts = take_optional(&document, "old_parts");
    out->climb = take_optional(&document, "climb");
    out->call_first_minor = take_minor(&document, "call_first", true);
    read_choices(out, &document);
    if (is_there(&document, "keep_rings") && take_object(&kept, &step, &document, "keep_rings")) {
        read_quoted_way(out, &kept);
    }
    json_decref(document.json);
    return format_reader_end(&reader);
}

/* --- an entry ------------------------------------------------------------------------------------------------------ */

/* Which of the keys an entry of each kind must have beside kind and at, and which it may. */
struct form {
    bool name, text, value;  /* must */
    bool may_value, limited; /* may: value; low and high */
};
static const struct form forms[WORK_ENTRY_KINDS] = {
    [WORK_AGREED] = {.name = true},
    [WORK_DONE] = {.name = true, .may_value = true},
    [WORK_MEASURED] = {.name = true, .value = true, .limited = true},
    [WORK_SWAPPED] = {.name = true, .text = true},
    [WORK_FAULT] = {.text = true},
    [WORK_MINUTES] = {.value = true},
    [WORK_SIGNED] = {.text = true},
};

/* A number; NAN when it is not there, or with a fault told. */
static double take_number(const struct object *object, const char *key, bool must) {
    static const struct format_range any = {.low = -1e6, .high = 1e6};
    struct format_path step = {.up = object->path, .key = key};
    struct format_place place = format_at(&object->reader->source, &step);
    struct format_item item = format_item_json(json_object_get(object->json, key));
    double number = NAN;
    if ((must || item.type != FORMAT_NOTHING) && !format_read_number(&number, &place, &item, any)) {
        return NAN; /* the fault is told */
    }
    return number;
}

static void check_named(const struct object *object, const struct work_entry *entry) {
    struct format_path step = {.key = "name"};
    struct format_place place = format_at(&object->reader->source, &step);
    struct format_item item = format_item_json(json_object_get(object->json, "name"));
    struct base_slice name = base_slice_of(entry->name);
    if (entry->kind == WORK_DONE && work_find_bench(name) < 0) {
        format_fault_item(&place, &item, "an operation of data/bench_operations.csv", NULL);
    }
    if (entry->kind == WORK_SWAPPED && trade_find_slot(name) < 0) {
        format_fault_item(&place, &item, "a slot", NULL);
    }
}

static void read_entry(struct work_entry *entry, const struct object *object) {
    const struct form *form = &forms[entry->kind];
    entry->at = take_text(object, "at");
    entry->by = take_optional(object, "by");
    entry->reason = take_optional(object, "reason");
    entry->name = form->name ? take_text(object, "name") : NULL;
    entry->text = form->text ? take_text(object, "text") : NULL;
    entry->value = form->value || form->may_value ? take_number(object, "value", form->value) : NAN;
    entry->low = form->limited ? take_number(object, "low", false) : NAN;
    entry->high = form->limited ? take_number(object, "high", false) : NAN;
    if (entry->at && !format_is_time(base_slice_of(entry->at))) {
        struct format_path step = {.key = "at"};
        struct format_place place = format_at(&object->reader->source, &step);
        format_fault(&place, entry->at, "a day and a time, such as 2026-05-01T09:30", NULL);
    }
    if (entry->name) {
        check_named(object, entry);
    }
}

enum base_status format_entry_read(struct work_entry *out, struct base_arena *arena, struct base_slice bytes,
                                   const char *file, struct base_faults *faults) {
    static const char *const known[] = {"format", "kind", "at", "by", "name", "text", "value", "low", "high", "reason"};
    struct format_reader reader = format_reader_of(file, faults, arena, NULL);
    struct object document = {.reader = &reader};
    struct format_path step = {.key = "kind"};
    unsigned kind;
    enum base_status status = format_json_read(&document.json, bytes, &reader.source);
    if (status != BASE_OK) {
        return status;
    }
    *out = (struct work_entry){.kind = WORK_FAULT};
    format_json_check_keys(document.json, &reader.source, NULL, known, sizeof known / sizeof known[0],
                           "a key of an entry");
    format_check_version(&reader.source, document.json, true);
    struct format_place place = format_at(&reader.source, &step);
    struct format_item item = format_item_json(json_object_get(document.json, "kind"));
    if (format_read_word(&kind, &place, &item, work_entry_words, WORK_ENTRY_KINDS)) {
        out->kind = (enum work_entry_kind)kind;
        read_entry(out, &document);
    }
    json_decref(document.json);
    return format_reader_end(&reader);
}
