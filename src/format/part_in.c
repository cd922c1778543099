/* SPDX-License-Identifier: Apache-2.0 */
#include "format/part_in.h"

#include "base/number.h"
#include "format/json.h"
#include "trade/vocabulary.h"

#include <assert.h>
#include <string.h>

enum { WORDS_MAX = 64 }; /* of a domain: a bit each */

/* The words of a domain as the readers of items want them. */
static size_t words_of(const char *words[WORDS_MAX], enum trade_domain domain) {
    const struct trade_domain_row *row = &trade_domain_rows[domain];
    assert(row->n <= WORDS_MAX);
    for (size_t i = 0; i < row->n; i++) {
        words[i] = row->words[i].word;
    }
    return row->n;
}

static bool read_word(struct trade_value *out, const struct format_place *place, const struct format_item *item,
                      enum trade_domain domain) {
    const char *words[WORDS_MAX];
    unsigned word;
    if (domain == TRADE_DOMAIN_YES_NO) {
        bool yes;
        if (!format_read_truth(&yes, place, item)) {
            return false;
        }
        word = yes ? TRADE_YES_NO_YES : TRADE_YES_NO_NO;
    } else if (!format_read_word(&word, place, item, words, words_of(words, domain))) {
        return false;
    }
    *out = trade_word(word, BASE_MEASURED);
    return true;
}

/* --- counts ------------------------------------------------------------------------------------------------------- */

struct sorted {
    size_t n;
    int16_t at[FORMAT_COUNTS_MAX];
};

/* Puts the number in its place; false when it stands there already. */
static bool insert(struct sorted *list, int16_t number) {
    size_t i = list->n;
    while (i > 0 && list->at[i - 1] >= number) {
        i--;
    }
    if (i < list->n && list->at[i] == number) {
        return false;
    }
    memmove(list->at + i + 1, list->at + i, (list->n - i) * sizeof list->at[0]);
    list->at[i] = number;
    list->n++;
    return true;
}

static bool read_sorted(struct sorted *out, const struct format_place *place, const struct format_item *item,
                        struct format_range range) {
    static const char wanted[] = "a list of 1 to 32 whole numbers";
    struct format_list list;
    struct format_item one;
    struct format_place at;
    if (!format_list_init(&list, place, item, wanted)) {
        return false;
    }
    bool good = true;
    size_t n = 0;
    for (*out = (struct sorted){0}; format_list_next(&list, &one, &at); n++) {
        double number = 0;
        if (n == FORMAT_COUNTS_MAX) {
            format_fault(place, "more of them", wanted, NULL);
            return false;
        }
        bool is_number = format_read_number(&number, &at, &one, range);
        if (is_number && !insert(out, (int16_t)number)) {
            format_fault_item(&at, &one, "each number once in the list", NULL);
            is_number = false;
        }
        good = good && is_number;
    }
    if (n == 0) {
        format_fault(place, "an empty list", wanted, NULL);
    }
    return good && n > 0;
}

static bool read_counts(struct trade_value *out, struct format_reader *reader, const struct format_place *place,
                        const struct format_item *item, struct format_range range) {
    struct sorted sorted;
    assert(range.low >= INT16_MIN && range.high <= INT16_MAX);
    if (!read_sorted(&sorted, place, item, range)) {
        return false;
    }
    struct trade_counts *counts = base_arena_alloc(reader->arena, 1, sizeof *counts + sorted.n * sizeof counts->at[0]);
    if (!counts) {
        reader->no_memory = true;
        return false;
    }
    counts->n = sorted.n;
    memcpy(counts->at, sorted.at, sorted.n * sizeof counts->at[0]);
    *out = (struct trade_value){.counts = counts, .known = BASE_MEASURED};
    return true;
}

/* --- names and tyres ---------------------------------------------------------------------------------------------- */

static bool keep_name(struct trade_value *out, struct format_reader *reader, struct base_slice text) {
    const char *name = trade_name(reader->names, text);
    if (!name) {
        reader->no_memory = true;
        return false;
    }
    *out = (struct trade_value){.name = name, .known = BASE_MEASURED};
    return true;
}

/* A tyre's size, and whether it was written just so. */
struct size {
    int64_t width, seat; /* mm */
    bool plain;          /* a hyphen between, no zeros before */
};

static size_t count_digits(struct base_slice text, size_t from) {
    size_t n = 0;
    while (from + n < text.n && text.at[from + n] >= '0' && text.at[from + n] <= '9') {
        n++;
    }
    return n;
}

/* Two whole numbers with one to three other bytes between, such as 54-622, 54 x 622 or 54–622; false for all else. */
static bool two_numbers(struct size *out, struct base_slice text) {
    size_t first = count_digits(text, 0), gap = 1;
    while (gap < 3 && first + gap < text.n && count_digits(text, first + gap) == 0) {
        gap++;
    }
    if (first == 0 || first + gap >= text.n) {
        return false;
    }
    struct base_slice width = {.at = text.at, .n = first};
    struct base_slice seat = {.at = text.at + first + gap, .n = text.n - first - gap};
    out->plain = gap == 1 && text.at[first] == '-' && width.at[0] != '0' && seat.at[0] != '0';
    return base_integer_read(&out->width, width, 1, 999) == BASE_OK &&
           base_integer_read(&out->seat, seat, 1, 999) == BASE_OK;
}

static bool is_size(const struct size *size) {
    const struct trade_property_row *w = &trade_property_rows[TRADE_WHEEL_TYRE_WIDTH_MM];
    const struct trade_property_row *s = &trade_property_rows[TRADE_WHEEL_BEAD_SEAT_MM];
    double width = (double)size->width, seat = (double)size->seat;
    return width >= w->low && width <= w->high && seat >= s->low && seat <= s->high;
}

static void fault_tyre(const struct format_place *place, const struct format_item *item, const struct size *likely) {
    struct base_buffer size;
    base_buffer_init(&size, 0);
    if (likely) {
        base_buffer_int(&size, likely->width);
        base_buffer_char(&size, '-');
        base_buffer_int(&size, likely->seat);
    }
    format_fault_item(place, item, "a size such as 54-622, as on the tyre's sidewall",
                      likely ? format_text(&size) : NULL);
    base_buffer_clear(&size);
}

/* ISO 5775-1: width of the tyre, a hyphen, diameter of the bead seat, both in whole millimetres. */
static bool read_tyre(struct trade_value *out, struct format_reader *reader, const struct format_place *place,
                      const struct format_item *item) {
    bool is_text = item->type == FORMAT_TEXT || item->type == FORMAT_CELL;
    struct size size;
    if (!is_text || !two_numbers(&size, item->text)) {
        fault_tyre(place, item, NULL);
        return false;
    }
    struct size turned = {.width = size.seat, .seat = size.width};
    if (is_size(&size) && size.plain) {
        return keep_name(out, reader, item->text);
    }
    fault_tyre(place, item, is_size(&size) ? &size : is_size(&turned) ? &turned : NULL);
    return false;
}

/* --- values and parts --------------------------------------------------------------------------------------------- */

bool format_read_value(struct trade_value *out, struct format_reader *reader, const struct format_place *place,
                       const struct format_item *item, enum trade_property property) {
    const struct trade_property_row *row = &trade_property_rows[property];
    struct format_range range = {.low = row->low, .high = row->high, .whole = row->type != TRADE_NUMBER};
    const char *words[WORDS_MAX];
    struct base_slice text;
    double number;
    uint64_t set;
    if (item->type == FORMAT_NOTHING) {
        *out = trade_open();
        return true;
    }
    switch (row->type) {
    case TRADE_NUMBER:
    case TRADE_COUNT:
        if (!format_read_number(&number, place, item, range)) {
            return false;
        }
        *out = trade_number(number, BASE_MEASURED);
        return true;
    case TRADE_WORD:
        return read_word(out, place, item, row->domain);
    case TRADE_WORDS:
        if (!format_read_words(&set, place, item, words, words_of(words, row->domain))) {
            return false;
        }
        *out = (struct trade_value){.words = set, .known = BASE_MEASURED};
        return true;
    case TRADE_COUNTS:
        return read_counts(out, reader, place, item, range);
    case TRADE_TYRE:
        return read_tyre(out, reader, place, item);
    case TRADE_NAME:
        return format_read_text(&text, place, item, FORMAT_NAME_CHARS) && keep_name(out, reader, text);
    }
    return false;
}

/* {"value": ..., "known": ...}: a value that says itself how it is known. */
static bool read_known(struct trade_value *out, struct format_reader *reader, const struct format_place *place,
                       json_t *object, enum trade_property property) {
    static const char *const keys[] = {"value", "known"};
    static const char *const words[] = {"measured", "table", "assumed"}; /* as enum base_known has them */
    struct format_path steps[] = {{.up = place->path, .key = "value"}, {.up = place->path, .key = "known"}};
    struct format_place value_at = format_at(place->source, &steps[0]), known_at = format_at(place->source, &steps[1]);
    struct format_item value = format_item_json(json_object_get(object, "value"));
    struct format_item known = format_item_json(json_object_get(object, "known"));
    unsigned how = BASE_MEASURED;
    format_json_check_keys(object, place->source, place->path, keys, 2, "one of value and known");
    if (known.json && !format_read_word(&how, &known_at, &known, words, 3)) {
        return false;
    }
    if (!value.json) {
        format_fault(&value_at, "nothing", "a value, or null when nobody knows it", NULL);
        return false;
    }
    if (!format_read_value(out, reader, &value_at, &value, property)) {
        return false;
    }
    if (!trade_is_open(out)) {
        out->known = (enum base_known)how;
    }
    return true;
}

/* The one kind that has a property of this name; -1 when none or several have. */
static int only_kind(struct base_slice name) {
    int owner = -1;
    for (int kind = 0; kind < TRADE_KINDS; kind++) {
        if (trade_find_property((enum trade_kind)kind, name) < 0) {
            continue;
        }
        if (owner >= 0) {
            return -1;
        }
        owner = kind;
    }
    return owner;
}

void format_fault_property(const struct format_place *place, struct base_slice name, enum trade_kind kind,
                           const char *const *known, size_t n) {
    const char *names[TRADE_PROPERTIES + 64];
    const struct trade_kind_row *row = &trade_kind_rows[kind];
    size_t all = 0;
    assert(n <= 64);
    for (; all < row->n; all++) {
        names[all] = trade_property_rows[row->first + all].name;
    }
    for (size_t i = 0; i < n; i++) {
        names[all++] = known[i];
    }
    struct base_buffer allowed;
    base_buffer_init(&allowed, 0);
    base_buffer_text(&allowed, "a property of ");
    base_buffer_text(&allowed, row->name);
    int owner = only_kind(name);
    if (owner >= 0 && base_text_nearest(name, names, all) < 0) {
        base_buffer_text(&allowed, "; this is one of ");
        base_buffer_text(&allowed, trade_kind_rows[owner].name);
    }
    format_fault_unknown(place, name, format_text(&allowed), names, all);
    base_buffer_clear(&allowed);
}

static bool is_among(const char *key, const char *const *known, size_t n) {
    for (size_t i = 0; i < n; i++) {
        if (strcmp(key, known[i]) == 0) {
            return true;
        }
    }
    return false;
}

void format_read_part(struct trade_part *part, struct format_reader *reader, const struct format_path *path,
                      json_t *object, const char *const *known, size_t n) {
    const char *key;
    json_t *json;
    json_object_foreach(object, key, json) {
        struct format_path step = {.up = path, .key = key};
        struct format_place place = format_at(&reader->source, &step);
        struct format_item item = format_item_json(json);
        int property = trade_find_property(part->kind, base_slice_of(key));
        struct trade_value value;
        if (is_among(key, known, n)) {
            continue;
        }
        if (property < 0) {
            format_fault_property(&place, base_slice_of(key), part->kind, known, n);
        } else if (item.type == FORMAT_OBJECT
                       ? read_known(&value, reader, &place, json, (enum trade_property)property)
                       : format_read_value(&value, reader, &place, &item, (enum trade_property)property)) {
            trade_set(part, (enum trade_property)property, value);
        }
    }
}
