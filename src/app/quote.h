/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A quote as data: up to three ways of a plan with what the customer pays for each, and keeping the rings beside them. The same
 * figures go to the terminal (text_quote.c) and to JSON (json_quote.c).
 */
#ifndef APP_QUOTE_H
#define APP_QUOTE_H

#include "app/answers.h"
#include "app/commands.h"
#include "work/quote.h"

#define APP_QUOTE_WAYS 3 /* at the counter nobody compares more (common practice) */

struct app_quote_choice {
    char letter[2]; /* of the plan's pick; "" for keeping the rings */
    const struct plan_way *way;
    struct work_quote work;
};

struct app_quote {
    const struct app_plan_shown *shown;
    const struct trade_bike *bike;
    const struct trade_shop *shop;
    struct app_quote_choice choices[APP_QUOTE_WAYS + 1]; /* in the plan's order; keeping the rings last */
    size_t n, n_ways;                                    /* with and without keeping the rings */
    int32_t day;                                         /* of the quote, as base/date.h counts */
    int32_t last_day;                                    /* on which it holds; only where the shop says how long */
    int64_t call_first_minor;                            /* -1: not agreed */
    const char *old_parts;                               /* "back" or "scrap"; NULL: nobody was asked */
    const char *climb; /* the climbs on which the ways are compared; NULL: none were stated */
    int32_t discount_thousandths;
    struct base_slice figures[2]; /* for a paper: the hills of the first way and of the last; empty: none */
};

/* The quote of a plan. letters: as A,C, at most three of the plan's picks, each once; NULL: those that serve different purposes,
 * the cheapest first. day: of the quote. BASE_BAD_INPUT: the plan has no such way, or there are more than three. */
enum base_status app_quote_of(struct app_quote *out, const struct app_plan_shown *shown, const char *letters,
                              int32_t discount_thousandths) BASE_CHECKED;

/* Is it the one that keeps the rings? */
bool app_quote_keeps(const struct app_quote_choice *choice);

/* The quote as a page; as a document. */
void app_text_quote(struct base_buffer *out, const struct app_style *style, const struct app_quote *quote);
void app_json_quote(struct base_buffer *out, const struct app_quote *quote);

#endif
