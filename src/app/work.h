/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The bench sheet of one way of a plan: its operations in order, what to lay out, what to read and what it must be.
 */
#ifndef APP_WORK_H
#define APP_WORK_H

#include "app/text.h"
#include "work/red.h"

struct app_work {
    const struct plan *plan;
    const struct plan_way *way;
    const char *letter; /* of the way among the plan's picks, or "keep"; borrowed */
    struct work_question question;
    struct work_sheet sheet;
    struct work_red red;
    struct app_chain chain; /* of the way, without its gears */
    struct app_shift shift;
    bool of_job;              /* the paper's head says which, and when to call */
    struct base_slice figure; /* from above, for a paper; empty: none */
    const char *shop_label;   /* for the title block */
};

/* The sheet of a way of a plan, called by a letter; borrows all three. BASE_NO_MEMORY. */
enum base_status app_work_of(struct app_work *out, const struct plan *plan, const struct plan_way *way,
                             const char *letter) BASE_CHECKED;

/* As a person reads it at the stand, and as a program does: work.schema.json. */
void app_text_work(struct base_buffer *out, const struct app_style *style, const struct app_work *work);
void app_json_work(struct base_buffer *out, const struct app_work *work);
/* The same where the plan has no way. */
void app_text_no_work(struct base_buffer *out, const struct app_style *style, const struct plan *plan);
void app_json_no_work(struct base_buffer *out, const struct plan *plan);

#endif
