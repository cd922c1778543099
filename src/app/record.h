/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A job as it stands: pages and documents of its record and of what goes with the bike.
 */
#ifndef APP_RECORD_H
#define APP_RECORD_H

#include "app/job.h"
#include "app/text.h"

/* An operation of the job's sheet. */
struct app_step {
    enum trade_bench operation;
    const struct work_entry *done; /* NULL: to be done */
};

/* How far the work on a job is. */
struct app_progress {
    struct app_step steps[TRADE_BENCHES]; /* in the order of the sheet */
    size_t n, n_done;
    double planned_min;             /* that are charged */
    const struct work_entry *sign;  /* the last; NULL: not signed off */
    const struct work_entry *spent; /* minutes that it took; NULL: not told */
};

/* Of a job with a way. */
void app_progress_of(struct app_progress *out, const struct app_job *job);

/* What is read on the job under this name, with its limits; NULL: nothing of the sheet. */
const struct work_reading *app_job_reading(const struct app_job *job, const char *name);
/* The name of a reading in the record. */
const char *app_reading_name(const struct work_reading *reading);
/* What an entry says of a value that was measured, in sentences. */
void app_tell_measured(struct base_buffer *out, const struct app_job *job, const struct work_entry *entry);
/* The last entry by which it was read; NULL: it was not. */
const struct work_entry *app_job_read(const struct app_job *job, const char *name);

/* The record as a page; as a document. */
void app_text_record(struct base_buffer *out, const struct app_style *style, const struct app_job *job);
void app_json_record(struct base_buffer *out, const struct app_job *job);

/* That no way is agreed yet, as the answer no. */
void app_say_not_agreed(struct app_reply *reply);

/* What goes with the bike. Of a job with a way. figures: for a paper; empty ones are none. */
void app_text_handover(struct base_buffer *out, const struct app_style *style, const struct app_job *job,
                       const struct base_slice *figures, size_t n_figures);
void app_json_handover(struct base_buffer *out, const struct app_job *job);

#endif
