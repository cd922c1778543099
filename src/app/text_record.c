/* SPDX-License-Identifier: Apache-2.0 */
/* The record of a job as a page: how far it is, step by step, and whatever was measured, swapped and found. */
#include "app/record.h"
#include "app/text_shared.h"

#include "explain/record.h"

#define TICK 4
#define STEP 8
#define LABEL 29
#define LABEL_LAST 61

static void put_answer(struct app_page *page, const struct app_job *job, const struct app_progress *progress) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (!job->way) {
        explain_say(&text, "record.not-agreed");
    } else if (progress->sign) {
        explain_tell(&text, "record.signed", explain_words(progress->sign->text), explain_words(progress->sign->at));
    } else if (progress->n_done == progress->n) {
        explain_say(&text, "record.all-done");
    } else {
        explain_tell(&text, "record.so-far", explain_count((int64_t)progress->n_done),
                     explain_count((int64_t)progress->n));
    }
    app_end_paragraph(page, &text);
}

static void put_steps(struct app_page *page, const struct app_progress *progress) {
    app_lay_blank(page, progress->n > 0 ? 1 : 0);
    for (size_t i = 0; i < progress->n; i++) {
        const struct app_step *step = &progress->steps[i];
        app_lay_at(page, TICK, step->done ? "[x]" : "[ ]");
        app_lay_at(page, STEP, trade_operation_rows[step->operation].name);
        app_lay_at(page, LABEL, "");
        app_lay_wrapped(page, LABEL, LABEL_LAST, trade_operation_rows[step->operation].label,
                        step->done ? step->done->at : NULL);
    }
}

static void put_entries(struct app_page *page, const struct app_job *job) {
    bool first = true;
    for (size_t i = 0; i < job->n; i++) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        explain_entry(&text, &job->entries[i]);
        if (text.n > 0) {
            app_lay_blank(page, first ? 1 : 0);
            app_lay_fact(page, APP_FACT + 4, job->entries[i].at, app_held(page, &text));
            first = false;
        }
        base_buffer_clear(&text);
    }
}

static void put_minutes(struct app_page *page, const struct app_progress *progress) {
    app_lay_blank(page, 1);
    if (progress->spent) {
        app_paragraph(page, "record.minutes", explain_number(progress->planned_min, 0, "min"),
                      explain_number(progress->spent->value, 0, "min"));
    } else {
        app_paragraph(page, "record.minutes-planned", explain_number(progress->planned_min, 0, "min"));
    }
}

void app_text_record(struct base_buffer *out, const struct app_style *style, const struct app_job *job) {
    struct app_page page = app_page_on(out, style);
    struct app_progress progress = {.n = 0};
    struct base_buffer right;
    base_buffer_init(&right, 0);
    if (job->way) {
        app_progress_of(&progress, job);
        explain_tell(&right, "record.way", explain_words(job->way->letter));
    }
    app_title(&page, &job->loaded.bike, right.n > 0 ? app_held(&page, &right) : NULL);
    base_buffer_clear(&right);
    app_question(&page, "record.question");
    put_answer(&page, job, &progress);
    put_steps(&page, &progress);
    put_entries(&page, job);
    if (job->way) {
        put_minutes(&page, &progress);
    }
    app_lay_blank(&page, 1);
    app_paragraph(&page, "record.last", explain_count((int64_t)job->n));
}
