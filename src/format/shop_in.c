/* SPDX-License-Identifier: Apache-2.0 */
#include "format/shop_in.h"

#include "format/document.h"
#include "format/json.h"
#include "format/money_in.h"
#include "format/part_in.h"
#include "trade/vocabulary.h"

#include <string.h>

enum {
    CURRENCY,
    RATE_PER_HOUR,
    TAX_PERCENT,
    LABOUR_TAX_PERCENT,
    PRICES_INCLUDE_TAX,
    CONSUMABLES_PERCENT,
    DEPOSIT_PERCENT,
    VALID_DAYS,
    CALL_FIRST,
    CASH,
    MINUTES,
    NAME,
    ADDRESS,
    KEYS
};

static const char *const names[KEYS] = {
    [CURRENCY] = "currency",
    [RATE_PER_HOUR] = "rate_per_hour",
    [TAX_PERCENT] = "tax_percent",
    [LABOUR_TAX_PERCENT] = "labour_tax_percent",
    [PRICES_INCLUDE_TAX] = "prices_include_tax",
    [CONSUMABLES_PERCENT] = "consumables_percent",
    [DEPOSIT_PERCENT] = "deposit_percent",
    [VALID_DAYS] = "valid_days",
    [CALL_FIRST] = "call_first",
    [CASH] = "cash",
    [MINUTES] = "minutes",
    [NAME] = "name",
    [ADDRESS] = "address",
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
    shop->cash_minor = trade_currency_cash(code);
}

/* 0 to 100 percent with at most three decimals, as a number or a text; what it is when the key is not there stays. */
static void read_percent(int32_t *out, const struct format_key *key) {
    int64_t thousandths = 0;
    if (key->item.type == FORMAT_NOTHING) {
        return;
    }
    if (!format_minor(&thousandths, &key->item, 3) || thousandths < 0 || thousandths > 100000) {
        format_fault_item(&key->place, &key->item, "0 to 100, with at most three decimals", NULL);
        return;
    }
    *out = (int32_t)thousandths;
}

/* The tax of the parts must be told where prices hold it; that of labour is the same where nothing is said. */
static void read_taxes(struct trade_shop *shop, const struct format_key *goods, const struct format_key *labour) {
    if (goods->item.type == FORMAT_NOTHING && shop->prices_include_tax) {
        format_fault_item(&goods->place, &goods->item, "0 to 100, with at most three decimals", NULL);
    }
    read_percent(&shop->tax_thousandths, goods);
    shop->labour_tax_thousandths = shop->tax_thousandths;
    read_percent(&shop->labour_tax_thousandths, labour);
}

/* An amount of more than nothing, where there is one. */
static void read_amount(int64_t *out, const struct trade_shop *shop, const struct format_key *key, bool may_be_0) {
    int64_t minor = 0;
    if (key->item.type == FORMAT_NOTHING || !format_read_amount(&minor, &key->place, &key->item, shop)) {
        return;
    }
    if (minor == 0 && !may_be_0) {
        format_fault_item(&key->place, &key->item, "an amount above 0", NULL);
        return;
    }
    *out = minor;
}

/* What a quote goes by. */
static void read_terms(struct trade_shop *shop, const struct format_key *keys) {
    double days;
    const struct format_key *valid = &keys[VALID_DAYS];
    read_percent(&shop->consumables_thousandths, &keys[CONSUMABLES_PERCENT]);
    read_percent(&shop->deposit_thousandths, &keys[DEPOSIT_PERCENT]);
    read_amount(&shop->call_first_minor, shop, &keys[CALL_FIRST], true);
    read_amount(&shop->cash_minor, shop, &keys[CASH], false);
    if (valid->item.type != FORMAT_NOTHING &&
        format_read_number(&days, &valid->place, &valid->item, (struct format_range){0, TRADE_DAYS_MOST, true})) {
        shop->valid_days = (int32_t)days;
    }
}

/* A line of text, where there is one. */
static void read_line(char out[TRADE_SHOP_TEXT], const struct format_key *key) {
    struct base_slice text;
    if (key->item.type != FORMAT_NOTHING && format_read_text(&text, &key->place, &key->item, FORMAT_NAME_CHARS) &&
        text.n < TRADE_SHOP_TEXT) {
        memcpy(out, text.at, text.n);
        out[text.n] = '\0';
    }
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
    read_taxes(out, &keys[TAX_PERCENT], &keys[LABOUR_TAX_PERCENT]);
    if (!format_read_amount(&out->listed_rate_minor, &rate->place, &rate->item, out)) {
        out->listed_rate_minor = 0;
    }
    out->rate_minor = trade_without_tax(out, out->listed_rate_minor, out->labour_tax_thousandths);
    read_terms(out, keys);
    read_line(out->name, &keys[NAME]);
    read_line(out->address, &keys[ADDRESS]);
    read_minutes(out, &document.reader.source, &keys[MINUTES]);
    trade_shop_settle(out);
    status = format_reader_end(&document.reader);
    format_document_clear(&document);
    return status;
}
