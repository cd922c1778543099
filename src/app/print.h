/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Answers on paper: what the commands print is laid out as the blocks of a paper, with its figure and title block, and written
 * as PDF or HTML. Only files of this folder include it.
 */
#ifndef APP_PRINT_H
#define APP_PRINT_H

#include "app/job.h"
#include "app/load.h"
#include "app/quote.h"
#include "app/work.h"

/* A paper while it is laid out: what is laid with its style goes there. */
struct app_printing {
    struct base_arena arena;
    struct paper paper;
    struct app_style style;
};

/* What the head and the title block of a paper say; "" where nobody said. Borrowed. */
struct app_paper_head {
    const char *code; /* of the paper's title, with the bike, or else the jobs, as its argument */
    const char *bike, *job, *way;
    bool for_customer;      /* or supplier: it says whose it is */
    bool of_several;        /* jobs */
    const char *call_first; /* more than this, and the customer is called; NULL: not agreed */
    int32_t day;
};

/* Begins a paper with its title, author and title block; ends it, and writes the file request->out and names it in the reply, or says
 * there what went wrong. Every paper that was begun must be ended. */
void app_print_begin(struct app_printing *out, const struct app_loaded *loaded, const struct app_paper_head *head);
void app_print_end(struct app_reply *reply, const struct app_loaded *loaded, struct app_printing *printing);
/* Writes bytes to request->out in the same way. */
void app_print_bytes(struct app_reply *reply, const struct app_loaded *loaded, struct base_slice bytes);

/* Who is named as the author of what is printed: the shop, or else the program. */
const char *app_author(const struct app_loaded *loaded);

/* The name of a job, which is that of its folder; "" for NULL or where memory is spent. */
const char *app_job_name(struct base_arena *arena, const char *folder);

/* The papers of answers, from begin to end. The figures are theirs for the time. */
void app_print_work(struct app_reply *reply, const struct app_loaded *loaded, struct app_work *work);
void app_print_quote(struct app_reply *reply, const struct app_loaded *loaded, struct app_quote *quote);
/* The purchase list of a way of a plan. */
void app_print_buys(struct app_reply *reply, const struct app_loaded *loaded, const struct plan *plan,
                    const struct plan_way *way, const char *letter);
/* The full report of a way of a plan; arena: for what is worked out for it. */
void app_print_report(struct app_reply *reply, const struct app_loaded *loaded, const struct app_plan_shown *shown,
                      const struct plan_way *way, const char *letter, struct base_arena *arena);
/* Of a job with a way; plans again for the figures. */
void app_print_handover(struct app_reply *reply, struct app_job *job);

#endif
