/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/message.h"

#include "base/number.h"

#include <math.h>
#include <string.h>

#define SPELT_MOST 12
#define CODE_MOST 120 /* bytes of a code that is put together; no code is nearly as long */

static const char minus[] = "\xe2\x88\x92";

const char *explain_message(const char *code) {
    size_t low = 0, high = explain_messages_n;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        int order = strcmp(explain_messages[middle].code, code);
        if (order == 0) {
            return explain_messages[middle].text;
        }
        if (order < 0) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return NULL;
}

const char *explain_message_of(const char *const *words, size_t n) {
    char code[CODE_MOST + 1];
    size_t length = 0;
    for (size_t i = 0; i < n; i++) {
        size_t more = strlen(words[i]);
        if (more > CODE_MOST - length) {
            return NULL;
        }
        memcpy(code + length, words[i], more);
        length += more;
    }
    code[length] = '\0';
    return explain_message(code);
}

const char *explain_held(struct base_buffer *out, const struct base_buffer *text) {
    if (text->status != BASE_OK) {
        out->status = text->status;
    }
    return text->at ? text->at : "";
}

/* --- arguments ---------------------------------------------------------------------------------------------------- */

/* Digits with the true minus before them where they are below zero. */
static void put_with_minus(struct base_buffer *out, const char *digits) {
    bool negative = digits[0] == '-';
    base_buffer_text(out, negative ? minus : "");
    base_buffer_text(out, digits + (negative ? 1 : 0));
}

static void put_number(struct base_buffer *out, double number, int decimals) {
    struct base_buffer digits;
    base_buffer_init(&digits, 0);
    base_buffer_fixed(&digits, number, decimals);
    put_with_minus(out, explain_held(out, &digits));
    base_buffer_clear(&digits);
}

/* Degrees stand at the number, all other units behind a space. */
static void put_unit(struct base_buffer *out, const char *unit) {
    if (unit[0] != '\0') {
        base_buffer_text(out, strcmp(unit, "\xc2\xb0") == 0 ? "" : " ");
        base_buffer_text(out, unit);
    }
}

/* An empty box with the unit, as wide as the value will be: three characters for the digits and two more for a decimal. */
static void put_open(struct base_buffer *out, const struct explain_arg *arg) {
    base_buffer_text(out, arg->decimals > 0 ? "[    " : "[   ");
    base_buffer_text(out, arg->text);
    base_buffer_text(out, "]");
}

static void put_marked(struct base_buffer *out, const struct explain_arg *arg) {
    if (isnan(arg->number) || arg->known == BASE_OPEN) {
        put_open(out, arg);
        return;
    }
    base_buffer_text(out, arg->known == BASE_ASSUMED ? "~" : "");
    put_number(out, arg->number, arg->decimals);
    put_unit(out, arg->text);
    base_buffer_text(out, arg->known == BASE_TABLE ? "*" : "");
}

static void put_spelt(struct base_buffer *out, double number) {
    static const char *const codes[SPELT_MOST + 1] = {"number.0",  "number.1",  "number.2", "number.3", "number.4",
                                                      "number.5",  "number.6",  "number.7", "number.8", "number.9",
                                                      "number.10", "number.11", "number.12"};
    if (number >= 0 && number <= SPELT_MOST) {
        explain_say(out, codes[(int)number]);
    } else {
        put_number(out, number, 0);
    }
}

void explain_put_amount(struct base_buffer *out, int64_t minor, const struct trade_shop *shop) {
    struct base_buffer digits;
    base_buffer_init(&digits, 0);
    base_minor_write(&digits, minor, shop->currency_digits);
    put_with_minus(out, explain_held(out, &digits));
    base_buffer_clear(&digits);
}

void explain_put_arg(struct base_buffer *out, const struct explain_arg *arg) {
    switch (arg->type) {
    case EXPLAIN_TEXT:
        if (!arg->text) {
            out->status = BASE_NO_MEMORY;
        }
        base_buffer_text(out, arg->text);
        break;
    case EXPLAIN_CODE:
        explain_say(out, arg->text);
        break;
    case EXPLAIN_COUNT:
        put_number(out, arg->number, 0);
        break;
    case EXPLAIN_SPELT:
        put_spelt(out, arg->number);
        break;
    case EXPLAIN_NUMBER:
        put_marked(out, arg);
        break;
    case EXPLAIN_MONEY:
        base_buffer_text(out, arg->shop->currency);
        base_buffer_text(out, " ");
        explain_put_amount(out, arg->minor, arg->shop);
        break;
    }
}

/* --- texts -------------------------------------------------------------------------------------------------------- */

void explain_put_capital(struct base_buffer *out, const char *text) {
    char first = text[0];
    if (first >= 'a' && first <= 'z') {
        base_buffer_char(out, (char)(first - 'a' + 'A'));
        text++;
    }
    base_buffer_text(out, text);
}

static void put_capital_arg(struct base_buffer *out, const struct explain_arg *arg) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, arg);
    explain_put_capital(out, explain_held(out, &text));
    base_buffer_clear(&text);
}

/* What stands between the braces at `at`; gives the character behind them. The forms are those that the compiler of the
 * catalogue lets through. */
static const char *put_slot(struct base_buffer *out, const char *at, const struct explain_arg *args, size_t n) {
    const char *end = strchr(at, '}');
    const char *one = memchr(at, '|', (size_t)(end - at));
    bool capital = at[1] == '^';
    size_t index = (size_t)(at[capital ? 2 : 1] - '0');
    if (index >= n) {
        base_buffer_put(out, at, (size_t)(end + 1 - at));
    } else if (one) {
        const char *many = strchr(one + 1, '|');
        bool is_one = args[index].number == 1;
        const char *from = is_one ? one + 1 : many + 1;
        base_buffer_put(out, from, (size_t)((is_one ? many : end) - from));
    } else if (capital) {
        put_capital_arg(out, &args[index]);
    } else {
        explain_put_arg(out, &args[index]);
    }
    return end + 1;
}

void explain_put(struct base_buffer *out, const char *code, const struct explain_arg *args, size_t n) {
    const char *text = explain_message(code);
    if (!text) {
        base_buffer_text(out, "<");
        base_buffer_text(out, code);
        base_buffer_text(out, ">");
        return;
    }
    for (const char *at = text; *at != '\0';) {
        size_t plain = strcspn(at, "{");
        base_buffer_put(out, at, plain);
        at += plain;
        if (*at == '{') {
            at = put_slot(out, at, args, n);
        }
    }
}

void explain_put_list(struct base_buffer *out, const char *const *words, size_t n, const char *last) {
    for (size_t i = 0; i < n; i++) {
        if (i > 0) {
            base_buffer_text(out, i + 1 < n ? ", " : " ");
        }
        if (i > 0 && i + 1 == n) {
            explain_say(out, last);
            base_buffer_text(out, " ");
        }
        base_buffer_text(out, words[i]);
    }
}
