/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Lists and small documents as JSON: the shop's parts, how many they are, the version, what a saved case asks.
 */
#include "app/json.h"
#include "app/json_parts.h"

#include <math.h>
#include <string.h>

static void put_words(struct format_out *out, const struct trade_property_row *row, uint64_t words) {
    format_out_array(out);
    for (size_t i = 0; i < trade_domain_rows[row->domain].n; i++) {
        if (words >> i & 1) {
            format_out_text(out, trade_domain_rows[row->domain].words[i].word);
        }
    }
    format_out_array_end(out);
}

static void put_counts(struct format_out *out, const struct trade_counts *counts) {
    format_out_array(out);
    for (size_t i = 0; i < counts->n; i++) {
        format_out_int(out, counts->at[i]);
    }
    format_out_array_end(out);
}

void app_json_value(struct format_out *out, const struct trade_property_row *row, const struct trade_value *value) {
    switch (row->type) {
    case TRADE_NUMBER:
    case TRADE_COUNT:
        format_out_double(out, value->number);
        break;
    case TRADE_WORD:
        format_out_text(out, trade_domain_rows[row->domain].words[value->word].word);
        break;
    case TRADE_WORDS:
        put_words(out, row, value->words);
        break;
    case TRADE_COUNTS:
        put_counts(out, value->counts);
        break;
    case TRADE_NAME:
    case TRADE_TYRE:
        format_out_text(out, value->name);
        break;
    }
}

/* The values that are known; one that was not read on the part itself says how it is known. */
static void put_properties(struct format_out *out, const struct trade_part *part) {
    const struct trade_kind_row *kind = &trade_kind_rows[part->kind];
    format_out_key(out, "properties");
    format_out_object(out);
    for (size_t i = 0; i < kind->n; i++) {
        const struct trade_property_row *row = &trade_property_rows[kind->first + i];
        const struct trade_value *value = &part->values[i];
        if (trade_is_open(value)) {
            continue;
        }
        format_out_key(out, row->name);
        if (value->known == BASE_MEASURED) {
            app_json_value(out, row, value);
            continue;
        }
        format_out_object(out);
        format_out_key(out, "value");
        app_json_value(out, row, value);
        app_json_key_text(out, "known", app_json_known(value->known));
        format_out_object_end(out);
    }
    format_out_object_end(out);
}

static void key_known_count(struct format_out *out, const char *key, int32_t value) {
    format_out_key(out, key);
    if (value < 0) {
        format_out_null(out);
    } else {
        format_out_int(out, value);
    }
}

static void put_part(struct format_out *out, const struct trade_part *part) {
    format_out_object(out);
    app_json_key_text(out, "id", part->id);
    app_json_key_text(out, "kind", trade_kind_rows[part->kind].name);
    app_json_key_int(out, "price", part->price_minor);
    key_known_count(out, "stock", part->stock);
    key_known_count(out, "days", part->days);
    put_properties(out, part);
    format_out_object_end(out);
}

void app_json_parts(struct base_buffer *buffer, const struct trade_catalogue *catalogue, const struct trade_shop *shop,
                    int kind) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_text(&out, "currency", shop->currency);
    app_json_key_text(&out, "revision", catalogue->revision);
    format_out_key(&out, "parts");
    format_out_array(&out);
    for (int k = 0; k < TRADE_KINDS; k++) {
        for (size_t i = 0; i < catalogue->n[k] && (kind < 0 || kind == k); i++) {
            put_part(&out, &catalogue->parts[k][i]);
        }
    }
    format_out_array_end(&out);
    format_out_object_end(&out);
    format_out_done(&out);
}

void app_json_checked(struct base_buffer *buffer, const struct trade_catalogue *catalogue,
                      const struct trade_shop *shop) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_text(&out, "currency", shop->currency);
    app_json_key_text(&out, "revision", catalogue->revision);
    app_json_key_int(&out, "parts", (int64_t)catalogue->n_all);
    format_out_key(&out, "kinds");
    format_out_object(&out);
    for (unsigned k = 0; k < TRADE_KINDS; k++) {
        if (catalogue->n[k] > 0) {
            app_json_key_int(&out, trade_kind_rows[k].name, (int64_t)catalogue->n[k]);
        }
    }
    format_out_object_end(&out);
    format_out_object_end(&out);
    format_out_done(&out);
}

void app_json_version(struct base_buffer *buffer) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_text(&out, "version", CHAINWRIGHT_VERSION);
    format_out_object_end(&out);
    format_out_done(&out);
}

void app_json_case(struct base_buffer *buffer, const struct app_request *request) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_text(&out, "command", request->command);
    if (strcmp(request->command, "plan") == 0) {
        app_json_key_int(&out, "ways", request->ways);
        app_json_key_bool(&out, "why", request->why);
    }
    if (!isnan(request->gradient_percent)) {
        app_json_key_number(&out, "gradient_percent", request->gradient_percent);
    }
    if (strcmp(request->command, "climb") == 0 && !isnan(request->cadence_rpm)) {
        app_json_key_number(&out, "cadence_rpm", request->cadence_rpm);
    }
    if (request->climb) {
        app_json_key_text(&out, "climb", request->climb);
    }
    if (request->limit_s > 0) {
        app_json_key_number(&out, "limit_s", request->limit_s);
    }
    if (request->memory_mib > 0) {
        app_json_key_int(&out, "memory_mib", request->memory_mib);
    }
    if (request->ruler_mm > 0) {
        app_json_key_number(&out, "ruler_mm", request->ruler_mm);
    }
    if (request->has_gauge) {
        app_json_key_number(&out, "gauge_percent", request->gauge_percent);
    }
    if (request->part) {
        app_json_key_text(&out, "part", request->part);
    }
    if (request->with) {
        app_json_key_text(&out, "with", request->with);
    }
    app_json_key_text(&out, "version", CHAINWRIGHT_VERSION);
    format_out_object_end(&out);
    format_out_done(&out);
}
