/* SPDX-License-Identifier: Apache-2.0 */
/* The record of a job as a page: how far it is, step by step, and whatever was measured, swapped and found. */
#include "app/record.h"
#include "app/text_shared.h"

#include "explain/bench.h"
#include "explain/record.h"

#define NUMBER_LAST 5
#define TICK 7
#define STEP 11
#define READ_TEXT 33

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

static void put_to_do(struct app_page *page, size_t number, const struct app_step *step) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_buffer_int(&text, (int64_t)number);
    app_lay_right(page, NUMBER_LAST, app_held(page, &text));
    app_lay_at(page, TICK, "[ ]");
    app_lay_to(page, STEP);
    app_lay_wrapped(page, STEP, APP_LAST_COLUMN, explain_bench(step->operation), NULL);
    base_buffer_clear(&text);
}

/* What is to be done, then what is done: there the time stands in the place of the number, so that no box means two things. */
static void put_steps(struct app_page *page, const struct app_progress *progress) {
    app_lay_blank(page, progress->n > progress->n_done ? 1 : 0);
    for (size_t i = 0; i < progress->n; i++) {
        if (!progress->steps[i].done) {
            put_to_do(page, i + 1, &progress->steps[i]);
        }
    }
    if (progress->n_done > 0) {
        app_lay_blank(page, 1);
        app_put_paragraph(page, "record.done", NULL, 0);
    }
    for (size_t i = 0; i < progress->n; i++) {
        const struct app_step *step = &progress->steps[i];
        if (step->done) {
            app_lay_fact(page, APP_FACT + 4, step->done->at, explain_bench(step->operation));
        }
    }
}

static void put_entries(struct app_page *page, const struct app_job *job) {
    bool first = true;
    for (size_t i = 0; i < job->n; i++) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        if (job->entries[i].kind == WORK_MEASURED) {
            app_tell_measured(&text, job, &job->entries[i]);
        } else {
            explain_entry(&text, &job->entries[i]);
        }
        if (text.n > 0) {
            app_lay_blank(page, first ? 1 : 0);
            app_lay_fact(page, APP_FACT + 4, job->entries[i].at, app_held(page, &text));
            first = false;
        }
        base_buffer_clear(&text);
    }
}

/* What the sheet wants read and nobody has written down, each once. */
static void put_to_read(struct app_page *page, const struct app_job *job) {
    bool first = true;
    for (size_t i = 0; i < job->sheet->n_readings; i++) {
        const struct work_reading *reading = &job->sheet->readings[i];
        const char *name = app_reading_name(reading);
        struct base_buffer text;
        if (app_job_reading(job, name) != reading || app_job_read(job, name)) {
            continue;
        }
        if (first) {
            app_lay_blank(page, 1);
            app_put_paragraph(page, "record.to-read", NULL, 0);
        }
        first = false;
        base_buffer_init(&text, 0);
        explain_reading_name(&text, reading);
        base_buffer_text(&text, ": ");
        explain_limits(&text, reading);
        app_lay_fact(page, READ_TEXT, name, app_held(page, &text));
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
        put_to_read(&page, job);
        put_minutes(&page, &progress);
    }
    app_lay_blank(&page, 1);
    app_paragraph(&page, "record.last", explain_count((int64_t)job->n));
}
