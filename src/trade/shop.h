/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The shop: its money, its rate, its minutes. And its catalogue: the parts that it can sell.
 */
#ifndef TRADE_SHOP_H
#define TRADE_SHOP_H

#include "trade/part.h"

#define TRADE_DAYS_MOST 3650 /* that a quote holds, or until a part is here */

#define TRADE_SHOP_TEXT 481 /* bytes of 120 characters, with a zero behind them */

struct trade_shop {
    char name[TRADE_SHOP_TEXT];       /* in the head of its papers; "" where nothing is said */
    char address[TRADE_SHOP_TEXT];    /* likewise, on one line */
    char currency[4];                 /* ISO 4217, zero-terminated */
    int currency_digits;              /* decimals of its minor unit, ISO 4217 */
    int64_t rate_minor;               /* for an hour, without tax */
    int64_t listed_rate_minor;        /* the same as the file has it: with tax where prices_include_tax */
    int32_t tax_thousandths;          /* of a percent: 20 % is 20000 */
    int32_t labour_tax_thousandths;   /* of labour, which some countries tax less; else the same */
    bool prices_include_tax;          /* prices and rate in the files hold tax; taken out when they are read */
    int32_t consumables_thousandths;  /* of a percent of labour: grease, cleaner, cable ends */
    int32_t deposit_thousandths;      /* of a percent of the parts that must be ordered */
    int32_t valid_days;               /* of a quote; -1: not given */
    int64_t call_first_minor;         /* more than this, with tax, and the customer is called first; -1: not given */
    int64_t cash_minor;               /* amounts in cash are rounded to this; 1: to the minor unit */
    double minutes[TRADE_OPERATIONS]; /* of each operation: the shop's own, else the table's */
    int64_t labour_minor[TRADE_OPERATIONS];        /* minutes * rate / 60, rounded once, when the shop is read */
    int64_t listed_labour_minor[TRADE_OPERATIONS]; /* the same of the listed rate: as a bill has it */
};

/* Decimals of a currency's minor unit by ISO 4217 (0 for JPY, 3 for KWD ...), 2 for most; -1 when the code is not one. */
int trade_currency_digits(const char *code);

/* What amounts of a currency are rounded to in cash, in minor units: 5 for CHF, 100 for SEK; 1 for most, and when the code is
 * not one. */
int64_t trade_currency_cash(const char *code);
/* An amount as the list has it, without its tax: where the shop's prices hold it, amount * 100 / (100 + tax), rounded half away
 * from zero; else the amount. tax_thousandths: of a percent. */
int64_t trade_without_tax(const struct trade_shop *shop, int64_t listed_minor, int32_t tax_thousandths);

/* EUR, 60.00 an hour, no tax, the table's minutes; no consumables and no deposit. */
void trade_shop_init(struct trade_shop *out);
/* Its currency is not known: "", with as many decimals as any currency has (four, ISO 4217), so that no amount is read as
 * broken for want of it. */
void trade_shop_any_currency(struct trade_shop *shop);
/* Labour of each operation from its minutes and the rate, rounded half away from zero. Call after the last change. */
void trade_shop_settle(struct trade_shop *shop);

struct trade_left_out {
    const char *id;
    enum trade_property property; /* what it lacks */
};

struct trade_catalogue {
    struct base_arena arena;               /* owns everything below */
    struct trade_part *parts[TRADE_KINDS]; /* sorted by id, compared as bytes; completed from the tables */
    size_t n[TRADE_KINDS];
    size_t n_all;
    const char *revision; /* a short name of this state of the list, from the files' own bytes */
};

/* A catalogue without parts. Never fails. */
void trade_catalogue_init(struct trade_catalogue *out);
/* Frees what the catalogue owns; it is empty and usable again. */
void trade_catalogue_clear(struct trade_catalogue *catalogue);

/* The part of this id of any kind; NULL when there is none. */
const struct trade_part *trade_catalogue_find(const struct trade_catalogue *catalogue, const char *id);

#endif
