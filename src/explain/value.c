/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/value.h"

#include "explain/message.h"

#include <math.h>
#include <string.h>

#define DECIMALS_MOST 2

const char *explain_unit_of(const char *unit) {
    static const struct {
        const char *of_table, *code;
    } units[] = {{"teeth", "unit.teeth"}, {"percent", "unit.percent"}, {"pitches", "unit.pitches"}};
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (strcmp(unit, units[i].of_table) == 0) {
            return explain_message(units[i].code);
        }
    }
    return unit;
}

const char *explain_unit(enum trade_property property) { return explain_unit_of(trade_property_rows[property].unit); }

/* Lengths that come in a few sizes, which are mostly whole. */
static bool is_size(enum trade_property property) {
    static const enum trade_property sizes[] = {
        TRADE_CASSETTE_CLASS_MM,     TRADE_FREEHUB_BODY_LENGTH_MM, TRADE_REAR_WHEEL_COMES_WITH_BODY_MM,
        TRADE_RING_OFFSET_MM,        TRADE_FRAME_RECESS_MM,        TRADE_WHEEL_TYRE_WIDTH_MM,
        TRADE_FRAME_NEW_LINE_LOW_MM, TRADE_FRAME_NEW_LINE_HIGH_MM};
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        if (sizes[i] == property) {
            return true;
        }
    }
    return false;
}

int explain_decimals(enum trade_property property, double number) {
    const struct trade_property_row *row = &trade_property_rows[property];
    if (row->type == TRADE_COUNT) {
        return 0;
    }
    int decimals = row->high <= 100 && !is_size(property) ? 1 : 0;
    double scale = decimals ? 10 : 1;
    while (!isnan(number) && decimals < DECIMALS_MOST && fabs(number * scale - round(number * scale)) > 1e-6 * scale) {
        decimals++;
        scale *= 10;
    }
    return decimals;
}

static void put_counts(struct base_buffer *out, const struct trade_counts *counts) {
    for (size_t i = 0; i < counts->n; i++) {
        base_buffer_text(out, i > 0 ? " " : "");
        base_buffer_int(out, counts->at[i]);
    }
}

static void put_words(struct base_buffer *out, enum trade_domain domain, uint64_t words) {
    const char *labels[64];
    size_t n = 0;
    for (size_t i = 0; i < trade_domain_rows[domain].n; i++) {
        if (words >> i & 1) {
            labels[n++] = trade_domain_rows[domain].words[i].label;
        }
    }
    if (n > 0) {
        explain_put_list(out, labels, n, "list.and");
    } else {
        explain_say(out, "list.none");
    }
}

/* All but numbers, without a mark. */
static void put_unmarked(struct base_buffer *out, const struct trade_property_row *row,
                         const struct trade_value *value) {
    switch (row->type) {
    case TRADE_WORD:
        base_buffer_text(out, trade_domain_rows[row->domain].words[value->word].label);
        break;
    case TRADE_WORDS:
        put_words(out, row->domain, value->words);
        break;
    case TRADE_COUNTS:
        put_counts(out, value->counts);
        break;
    case TRADE_TYRE:
    case TRADE_NAME:
        base_buffer_text(out, value->name);
        break;
    case TRADE_NUMBER:
    case TRADE_COUNT:
        break;
    }
}

static bool is_number(enum trade_property property) {
    enum trade_type type = trade_property_rows[property].type;
    return type == TRADE_NUMBER || type == TRADE_COUNT;
}

/* A spindle is told by a length, so that its empty box has a unit. */
static struct explain_arg open_box(enum trade_property property) {
    if (trade_property_rows[property].domain == TRADE_DOMAIN_SPINDLE) {
        return explain_number(NAN, 1, "mm");
    }
    return explain_number(NAN, explain_decimals(property, NAN), explain_unit(property));
}

void explain_value(struct base_buffer *out, enum trade_property property, const struct trade_value *value) {
    if (trade_is_open(value)) {
        struct explain_arg box = open_box(property);
        explain_put_arg(out, &box);
    } else if (is_number(property)) {
        struct explain_arg number = explain_known(value->number, explain_decimals(property, value->number),
                                                  explain_unit(property), value->known);
        explain_put_arg(out, &number);
    } else {
        base_buffer_text(out, value->known == BASE_ASSUMED ? "~" : "");
        put_unmarked(out, &trade_property_rows[property], value);
        base_buffer_text(out, value->known == BASE_TABLE ? "*" : "");
    }
}

void explain_value_of(struct base_buffer *out, const struct trade_part *part, enum trade_property property) {
    explain_value(out, property, trade_get(part, property));
}

void explain_reading(struct base_buffer *out, enum trade_property property, const struct trade_value *value) {
    const struct trade_property_row *row = &trade_property_rows[property];
    struct trade_value plain = *value;
    plain.known = BASE_MEASURED;
    if (row->type == TRADE_WORD) {
        const struct trade_domain_row *domain = &trade_domain_rows[row->domain];
        const char *const words[] = {"reads.", domain->name, ".", domain->words[value->word].word};
        const char *reading = explain_message_of(words, sizeof words / sizeof words[0]);
        base_buffer_text(out, reading ? reading : domain->words[value->word].label);
        return;
    }
    explain_value(out, property, &plain);
}

int explain_tenths_of(double value) { return fabs(value - round(value)) < 1e-9 ? 0 : 1; }

void explain_range(struct base_buffer *out, double low, double high, const char *unit, enum base_known known) {
    bool one = !(high > low);
    if (!one) {
        struct explain_arg first =
            explain_known(low, explain_tenths_of(low), "", known == BASE_ASSUMED ? BASE_ASSUMED : BASE_MEASURED);
        explain_put_arg(out, &first);
        base_buffer_text(out, "\xe2\x80\x93");
    }
    struct explain_arg last =
        explain_known(high, explain_tenths_of(high), unit, !one && known == BASE_ASSUMED ? BASE_MEASURED : known);
    explain_put_arg(out, &last);
}
