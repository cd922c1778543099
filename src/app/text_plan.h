/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A plan on a terminal, in the order in which a mechanic asks: which way, what is on the bike, which gears, then each way.
 * Only the files text_plan*.c include it.
 */
#ifndef APP_TEXT_PLAN_H
#define APP_TEXT_PLAN_H

#include "app/text_shared.h"

#include "explain/bike.h"
#include "explain/way.h"
#include "plan/stand_in.h"

#define APP_ASKED_MAX 32

/* A reason that was told, so that it is told once. */
struct app_told {
    enum trade_slot slot;
    const char *reason;
    char letter; /* of the way under which it stands */
};

struct app_plan_page {
    struct app_page page;
    const struct app_plan_shown *shown;
    const struct plan *plan;
    const struct trade_bike *bike;
    struct base_arena *scratch;
    struct plan_next next;
    struct plan_hang asked[APP_ASKED_MAX];
    size_t n_asked;
    struct app_told *told;
    size_t n_told, told_room;
};

/* A page that writes behind what out holds; borrows out, shown and scratch. */
void app_plan_page_init(struct app_plan_page *out, struct base_buffer *to, const struct app_style *style,
                        const struct app_plan_shown *shown, struct base_arena *scratch);

/* Title, question and answer, the ways in a table, and what keeping the rings costs. */
void app_plan_answer(struct app_plan_page *p);
/* The gears of the bike as it stands. */
void app_plan_gears_now(struct app_plan_page *p);
/* The ways in a table, the bike as it stands in its first line. */
void app_plan_table(struct app_plan_page *p);
/* What is on the bike, with gaps and faults. */
void app_plan_bike(struct app_plan_page *p);
/* One of the ways: parts and why, gears, chain, what it hangs on and gives up. letter: of a pick, or "keep". */
void app_plan_way(struct app_plan_page *p, const struct plan_way *way, const char *letter);
/* How many ways there are, what was left out and assumed, what to do next, the key, the caution and the title block. */
void app_plan_end(struct app_plan_page *p);

/* The pick's way, and its letter. */
const struct plan_way *app_pick(const struct app_plan_page *p, size_t pick);
char app_letter(size_t pick);

#endif
