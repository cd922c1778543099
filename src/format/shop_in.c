/* SPDX-License-Identifier: Apache-2.0 */
#include "format/shop_in.h"

#include "format/document.h"
#include "format/json.h"
#include "format/money_in.h"
#include "trade/vocabulary.h"

#include <string.h>

enum { CURRENCY, RATE_PER_HOUR, TAX_PERCENT, PRICES_INCLUDE_TAX, MINUTES, KEYS };

static const char *const names[KEYS] = {
    [CURRENCY] = "currency",       [RATE_PER_HOUR] = "rate_per_hour",
    [TAX_PERCENT] = "tax_percent", [PRICES_INCLUDE_TAX] = "prices_include_tax",
    [MINUTES] = "minutes",
};

static void fault_currency(const struct format_key *key) {
    const char *nearest = NULL;
    for (size_t i = 0; i < trade_currencies_n && !nearest && key->item.text.n > 0; i++) {
        nearest = base_text_distance(key->item.text, base_slice_of(trade_currencies[i].code)) == 1
                      ? trade_currencies[i].code
                      : NULL;
    }
    format_fault_item(&key->place, &key->item, "a currency's code of ISO 4217, such as EUR", nearest);
}

static void read_currency(struct trade_shop *shop, const struct format_key *key) {
    char code[sizeof shop->currency] = "";
    if (key->item.type == FORMAT_TEXT && key->item.text.n == sizeof code - 1) {
        memcpy(code, key->item.text.at, sizeof code - 1);
    }
    int digits = trade_currency_digits(code);
    if (digits < 0) {
        fault_currency(key);
        return;
    }
    memcpy(shop->currency, code, sizeof code);
    shop->currency_digits = digits;
}

/* 0 to 100 percent with at most three decimals, as a number or a text. */
static void read_tax(struct trade_shop *shop, const struct format_key *key) {
    int64_t thousandths = 0;
    if (key->item.type == FORMAT_NOTHING && !shop->prices_include_tax) {
        return;
    }
    if (!format_minor(&thousandths, &key->item, 3) || thousandths < 0 || thousandths > 100000) {
        format_fault_item(&key->place, &key->item, "0 to 100, with at most three decimals", NULL);
        return;
    }
    shop->tax_thousandths = (int32_t)thousandths;
}

static void read_minutes(struct trade_shop *shop, const struct format_source *source, const struct format_key *key) {
    const char *operations[TRADE_OPERATIONS], *name;
    json_t *json;
    if (key->item.type == FORMAT_NOTHING) {
        return;
    }
    if (key->item.type != FORMAT_OBJECT) {
        format_fault_item(&key->place, &key->item, "an object of operations and their minutes", NULL);
        return;
    }
    for (size_t i = 0; i < TRADE_OPERATIONS; i++) {
        operations[i] = trade_operation_rows[i].name;
    }
    format_json_check_keys(key->item.json, source, &key->step, operations, TRADE_OPERATIONS, "an operation");
    json_object_foreach(key->item.json, name, json) {
        struct format_path step = {.up = &key->step, .key = name};
        struct format_place place = format_at(source, &step);
        struct format_item item = format_item_json(json);
        int operation = trade_find_operation(base_slice_of(name));
        double minutes;
        if (operation >= 0 && format_read_number(&minutes, &place, &item, (struct format_range){.high = 600})) {
            shop->minutes[operation] = minutes;
        }
    }
}

enum base_status format_shop_read(struct trade_shop *out, struct base_slice bytes, const char *file,
                                  struct base_faults *faults) {
    struct format_document document;
    trade_shop_init(out);
    trade_shop_any_currency(out);
    enum base_status status = format_document_init(&document, bytes, file, faults, names, KEYS, "a key of a shop");
    if (status != BASE_OK) {
        return status;
    }
    const struct format_key *keys = document.keys;
    const struct format_key *include = &keys[PRICES_INCLUDE_TAX], *rate = &keys[RATE_PER_HOUR];
    read_currency(out, &keys[CURRENCY]);
    if (include->item.type != FORMAT_NOTHING &&
        !format_read_truth(&out->prices_include_tax, &include->place, &include->item)) {
        out->prices_include_tax = false;
    }
    read_tax(out, &keys[TAX_PERCENT]);
    if (!format_read_amount(&out->rate_minor, &rate->place, &rate->item, out)) {
        out->rate_minor = 0;
    }
    read_minutes(out, &document.reader.source, &keys[MINUTES]);
    trade_shop_settle(out);
    status = format_reader_end(&document.reader);
    format_document_clear(&document);
    return status;
}
