/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Sentences by their codes: the catalogue of data/messages, compiled in, and the one way of filling it in.
 *
 * A text holds {0}, {1} ... for its arguments, {^0} for one that begins a sentence, and {0|link|links} for a word that is
 * chosen by an argument that counts: the first for 1, the second for all else. Numbers come with their unit behind a
 * space, with a true minus, and never know a locale. Where something is set (narrow spaces, lines) is not said here.
 */
#ifndef EXPLAIN_MESSAGE_H
#define EXPLAIN_MESSAGE_H

#include "base/known.h"
#include "base/text.h"
#include "trade/shop.h"

struct explain_message {
    const char *code;
    const char *text; /* UTF-8 */
};

/* Sorted by code, compared as bytes. */
extern const struct explain_message explain_messages[];
extern const size_t explain_messages_n;

/* The text of a code, as it stands in the catalogue; NULL when there is none. */
const char *explain_message(const char *code);
/* The text of the code that these words make up, put together without anything between them; NULL when there is none. */
const char *explain_message_of(const char *const *words, size_t n);

/* What a buffer holds, "" for nothing. A failure of it is handed on to out. */
const char *explain_held(struct base_buffer *out, const struct base_buffer *text);

enum explain_type {
    EXPLAIN_TEXT,   /* text */
    EXPLAIN_CODE,   /* text is the code of another message, without arguments of its own */
    EXPLAIN_COUNT,  /* number, whole, without unit */
    EXPLAIN_SPELT,  /* number in words up to twelve */
    EXPLAIN_NUMBER, /* number with decimals, unit and how it is known */
    EXPLAIN_MONEY   /* minor units of a shop */
};

/* One argument. Texts are borrowed. */
struct explain_arg {
    enum explain_type type;
    const char *text; /* or the unit of a number; "" for none */
    double number;
    int decimals;          /* 0..9 */
    enum base_known known; /* marks the number: * from a table, ~ assumed, an empty box when open */
    int64_t minor;
    const struct trade_shop *shop;
};

/* Arguments of each type. unit: "mm", "%", "" ...; decimals 0..9. A number that is NAN is open. */
static inline struct explain_arg explain_words(const char *text) {
    return (struct explain_arg){.type = EXPLAIN_TEXT, .text = text};
}
/* What a buffer holds. One that could not grow hands its failure on to what the argument is put into. */
static inline struct explain_arg explain_buffered(const struct base_buffer *text) {
    return explain_words(text->status != BASE_OK ? NULL : text->at ? text->at : "");
}
static inline struct explain_arg explain_code(const char *code) {
    return (struct explain_arg){.type = EXPLAIN_CODE, .text = code};
}
static inline struct explain_arg explain_count(int64_t n) {
    return (struct explain_arg){.type = EXPLAIN_COUNT, .number = (double)n};
}
static inline struct explain_arg explain_spelt(int64_t n) {
    return (struct explain_arg){.type = EXPLAIN_SPELT, .number = (double)n};
}
static inline struct explain_arg explain_number(double number, int decimals, const char *unit) {
    return (struct explain_arg){.type = EXPLAIN_NUMBER, .number = number, .decimals = decimals, .text = unit};
}
static inline struct explain_arg explain_known(double number, int decimals, const char *unit, enum base_known known) {
    return (struct explain_arg){
        .type = EXPLAIN_NUMBER, .number = number, .decimals = decimals, .text = unit, .known = known};
}
/* A gradient in percent: in tenths only where it has some. */
static inline struct explain_arg explain_gradient(double percent) {
    double tenths = percent * 10.0;
    bool is_whole = (int64_t)(tenths + 0.5) % 10 == 0;
    return explain_number(percent, is_whole ? 0 : 1, "%");
}
static inline struct explain_arg explain_money(int64_t minor, const struct trade_shop *shop) {
    return (struct explain_arg){.type = EXPLAIN_MONEY, .minor = minor, .shop = shop};
}

/* Appends the message with n arguments filled in. A code that stands in no table is appended itself, in angle brackets:
 * tests see to it that there is none. */
void explain_put(struct base_buffer *out, const char *code, const struct explain_arg *args, size_t n);

/* The same without arguments, and with a list of them. */
#define explain_say(OUT, CODE) explain_put(OUT, CODE, NULL, 0)
#define explain_tell(OUT, CODE, ...)                                                                                   \
    explain_put(OUT, CODE, (const struct explain_arg[]){__VA_ARGS__},                                                  \
                sizeof((const struct explain_arg[]){__VA_ARGS__}) / sizeof(struct explain_arg))

/* One argument as it stands in a sentence. */
void explain_put_arg(struct base_buffer *out, const struct explain_arg *arg);

/* An amount as it stands in a column that names the currency: 197.40. With its sign when below zero. */
void explain_put_amount(struct base_buffer *out, int64_t minor, const struct trade_shop *shop);

/* Appends text with its first letter as a capital. ASCII letters only; others stay. */
void explain_put_capital(struct base_buffer *out, const char *text);

/* A list of words: 'a', 'a and b', 'a, b and c'. last: the code of what stands before the last one, "list.and" or
 * "list.or". */
void explain_put_list(struct base_buffer *out, const char *const *words, size_t n, const char *last);

#endif
