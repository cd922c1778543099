/* SPDX-License-Identifier: Apache-2.0 */
#include "format/item.h"

#include "base/number.h"

#include <math.h>
#include <string.h>

struct format_item format_item_json(json_t *json) {
    struct format_item item = {.type = FORMAT_NOTHING, .json = json};
    if (json_is_number(json)) {
        item.type = FORMAT_NUMBER;
        item.number = json_number_value(json);
    } else if (json_is_string(json)) {
        item.type = FORMAT_TEXT;
        item.text = (struct base_slice){.at = json_string_value(json), .n = json_string_length(json)};
    } else if (json_is_boolean(json)) {
        item.type = FORMAT_TRUTH;
    } else if (json_is_array(json)) {
        item.type = FORMAT_LIST;
    } else if (json_is_object(json)) {
        item.type = FORMAT_OBJECT;
    }
    return item;
}

struct format_item format_item_cell(struct base_slice text) {
    return (struct format_item){.type = text.n > 0 ? FORMAT_CELL : FORMAT_NOTHING, .text = text};
}

static void put_quoted(struct base_buffer *b, struct base_slice text) {
    base_buffer_char(b, '"');
    base_buffer_slice(b, text);
    base_buffer_char(b, '"');
}

/* A real number keeps its point, as it was written: 400.0 is not a whole number of cents. */
static void put_real(struct base_buffer *b, double number) {
    base_buffer_double(b, number);
    if (number == floor(number) && fabs(number) < 1e15) {
        base_buffer_text(b, ".0");
    }
}

/* What was found, in words: numbers as they are, texts in quotes. */
static void put_item(struct base_buffer *b, const struct format_item *item) {
    double number;
    switch (item->type) {
    case FORMAT_NOTHING:
        base_buffer_text(b, "nothing");
        break;
    case FORMAT_NUMBER:
        if (json_is_integer(item->json)) {
            base_buffer_int(b, json_integer_value(item->json));
        } else {
            put_real(b, item->number);
        }
        break;
    case FORMAT_TEXT:
        put_quoted(b, item->text);
        break;
    case FORMAT_TRUTH:
        base_buffer_text(b, json_is_true(item->json) ? "true" : "false");
        break;
    case FORMAT_LIST:
        base_buffer_text(b, "a list");
        break;
    case FORMAT_OBJECT:
        base_buffer_text(b, "an object");
        break;
    case FORMAT_CELL:
        if (base_number_read(&number, item->text) == BASE_OK) {
            base_buffer_slice(b, item->text);
        } else {
            put_quoted(b, item->text);
        }
        break;
    }
}

void format_fault_item(const struct format_place *place, const struct format_item *item, const char *allowed,
                       const char *nearest) {
    struct base_buffer found;
    base_buffer_init(&found, 0);
    put_item(&found, item);
    format_fault(place, format_text(&found), allowed, nearest);
    base_buffer_clear(&found);
}

/* --- numbers ------------------------------------------------------------------------------------------------------ */

static bool is_in(double number, struct format_range range) {
    return number >= range.low && number <= range.high && (!range.whole || number == floor(number));
}

/* The number with the decimals that it needs, at least one unless whole; 6 at most, so that no rounding of the shift
 * shows. */
static void put_likely(struct base_buffer *b, double number, bool whole) {
    base_buffer_fixed(b, number, whole ? 0 : 6);
    if (whole || b->status != BASE_OK) {
        return;
    }
    while (b->at[b->n - 1] == '0' && b->at[b->n - 2] != '.') {
        b->at[--b->n] = '\0';
    }
}

/* The number that was probably meant by one that is out of range: with its point shifted by one or two places. NAN when
 * none of these is allowed. */
static double shifted(double number, struct format_range range) {
    double tries[] = {number / 10, number * 10, number / 100, number * 100};
    for (size_t i = 0; i < sizeof tries / sizeof tries[0]; i++) {
        if (number != 0 && is_in(tries[i], range)) {
            return tries[i];
        }
    }
    return NAN;
}

/* The number that was probably meant by a text: with a decimal comma, or a unit behind it. NAN when there is none. */
static double from_text(struct base_slice text, struct format_range range) {
    char digits[32];
    size_t n = 0;
    while (n < text.n && n < sizeof digits && (strchr("-.,", text.at[n]) || (text.at[n] >= '0' && text.at[n] <= '9'))) {
        digits[n] = text.at[n];
        if (digits[n] == ',') {
            digits[n] = '.';
        }
        n++;
    }
    double number;
    if (base_number_read(&number, (struct base_slice){.at = digits, .n = n}) != BASE_OK || !is_in(number, range)) {
        return NAN;
    }
    return number;
}

/* One number of a range. Shortest digits. */
static void put_range(struct base_buffer *b, struct format_range range) {
    base_buffer_double(b, range.low);
    base_buffer_text(b, " to ");
    base_buffer_double(b, range.high);
}

static void fault_number(const struct format_place *place, const struct format_item *item, bool is_number,
                         double likely, struct format_range range) {
    struct base_buffer allowed, nearest;
    base_buffer_init(&allowed, 0);
    base_buffer_init(&nearest, 0);
    if (!is_number) {
        base_buffer_text(&allowed, range.whole ? "a whole number from " : "a number from ");
    }
    put_range(&allowed, range);
    if (!isnan(likely)) {
        put_likely(&nearest, likely, range.whole);
    }
    format_fault_item(place, item, format_text(&allowed), isnan(likely) ? NULL : format_text(&nearest));
    base_buffer_clear(&allowed);
    base_buffer_clear(&nearest);
}

bool format_read_number(double *out, const struct format_place *place, const struct format_item *item,
                        struct format_range range) {
    double number = item->number;
    if (item->type != FORMAT_NUMBER &&
        (item->type != FORMAT_CELL || base_number_read(&number, item->text) != BASE_OK)) {
        fault_number(place, item, false, item->text.n > 0 ? from_text(item->text, range) : NAN, range);
        return false;
    }
    if (!is_in(number, range)) {
        bool broken = range.whole && number != floor(number);
        fault_number(place, item, !broken, shifted(number, range), range);
        return false;
    }
    *out = number + 0.0; /* zero has no sign here */
    return true;
}

/* --- texts and words ---------------------------------------------------------------------------------------------- */

/* No controls of U+0000..1F and U+007F..9F, which could drive a terminal. */
static bool has_controls(struct base_slice text) {
    for (size_t i = 0; i < text.n; i++) {
        unsigned char c = (unsigned char)text.at[i];
        if (c < 0x20 || c == 0x7f || (c == 0xc2 && i + 1 < text.n && (unsigned char)text.at[i + 1] < 0xa0)) {
            return true;
        }
    }
    return false;
}

bool format_read_text(struct base_slice *out, const struct format_place *place, const struct format_item *item,
                      size_t longest) {
    bool is_text = item->type == FORMAT_TEXT || item->type == FORMAT_CELL;
    struct base_slice text = item->text;
    if (is_text && text.n > 0 && (text.n <= longest || base_utf8_length(text) <= longest) && text.at[0] != ' ' &&
        text.at[text.n - 1] != ' ' && !has_controls(text)) {
        *out = text;
        return true;
    }
    struct base_buffer allowed;
    base_buffer_init(&allowed, 0);
    base_buffer_text(&allowed, "a text of 1 to ");
    base_buffer_int(&allowed, (int64_t)longest);
    base_buffer_text(&allowed, " characters");
    if (is_text && text.n > 0 && base_utf8_length(text) <= longest) {
        base_buffer_text(&allowed, has_controls(text) ? " without control characters" : " without blanks at its ends");
    }
    format_fault_item(place, item, format_text(&allowed), NULL);
    base_buffer_clear(&allowed);
    return false;
}

/* 'one of road, gravel', or of many words only their number: the nearest is told beside it. */
static void put_words(struct base_buffer *b, const char *const *words, size_t n) {
    if (n > 12) {
        base_buffer_text(b, "one of ");
        base_buffer_int(b, (int64_t)n);
        base_buffer_text(b, " words");
        return;
    }
    for (size_t i = 0; i < n; i++) {
        base_buffer_text(b, i == 0 ? n > 1 ? "one of " : "" : ", ");
        base_buffer_text(b, words[i]);
    }
}

static void fault_word(const struct format_place *place, const struct format_item *item, const char *const *words,
                       size_t n) {
    struct base_buffer allowed;
    base_buffer_init(&allowed, 0);
    put_words(&allowed, words, n);
    int nearest = item->text.n > 0 ? base_text_nearest(item->text, words, n) : -1;
    format_fault_item(place, item, format_text(&allowed), nearest >= 0 ? words[nearest] : NULL);
    base_buffer_clear(&allowed);
}

bool format_read_word(unsigned *out, const struct format_place *place, const struct format_item *item,
                      const char *const *words, size_t n) {
    bool is_text = item->type == FORMAT_TEXT || item->type == FORMAT_CELL;
    for (size_t i = 0; is_text && i < n; i++) {
        if (base_slice_is(item->text, words[i])) {
            *out = (unsigned)i;
            return true;
        }
    }
    fault_word(place, item, words, n);
    return false;
}

bool format_read_truth(bool *out, const struct format_place *place, const struct format_item *item) {
    static const char *const words[] = {"no", "yes"};
    if (item->type == FORMAT_TRUTH) {
        *out = json_is_true(item->json);
        return true;
    }
    unsigned word;
    if (!format_read_word(&word, place, item, words, 2)) {
        return false;
    }
    *out = word == 1;
    return true;
}

/* --- lists -------------------------------------------------------------------------------------------------------- */

bool format_list_init(struct format_list *out, const struct format_place *place, const struct format_item *item,
                      const char *allowed) {
    if (item->type != FORMAT_LIST && item->type != FORMAT_CELL) {
        format_fault_item(place, item, allowed, NULL);
        return false;
    }
    *out = (struct format_list){.place = *place, .item = *item, .step = {.up = place->path}};
    return true;
}

bool format_list_next(struct format_list *list, struct format_item *item, struct format_place *place) {
    *place = list->place;
    if (list->item.type == FORMAT_LIST) {
        list->step.index = list->next;
        place->path = &list->step;
        *item = format_item_json(json_array_get(list->item.json, list->next++));
        return item->json != NULL;
    }
    struct base_slice text = list->item.text;
    size_t start = list->next;
    while (start < text.n && text.at[start] == ' ') {
        start++;
    }
    size_t end = start;
    while (end < text.n && text.at[end] != ' ') {
        end++;
    }
    list->next = end;
    *item = format_item_cell((struct base_slice){.at = text.at + start, .n = end - start});
    return end > start;
}

bool format_read_words(uint64_t *out, const struct format_place *place, const struct format_item *item,
                       const char *const *words, size_t n) {
    struct format_list list;
    struct format_item one;
    struct format_place at;
    if (!format_list_init(&list, place, item, "a list of words")) {
        return false;
    }
    bool good = true;
    uint64_t set = 0;
    while (format_list_next(&list, &one, &at)) {
        unsigned word = 0;
        bool is_word = format_read_word(&word, &at, &one, words, n);
        if (is_word && (set >> word & 1)) {
            format_fault_item(&at, &one, "each word once", NULL);
            is_word = false;
        }
        good = good && is_word;
        set |= is_word ? UINT64_C(1) << word : 0;
    }
    if (good) {
        *out = set;
    }
    return good;
}
