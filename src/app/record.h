/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A job as it stands: pages and documents of its record and of what goes with the bike.
 */
#ifndef APP_RECORD_H
#define APP_RECORD_H

#include "app/job.h"
#include "app/text.h"

/* An operation of the job's build. */
struct app_step {
    enum trade_operation operation;
    const struct work_entry *done; /* NULL: to be done */
};

/* How far the work on a job is. */
struct app_progress {
    struct app_step steps[TRADE_OPERATIONS];
    size_t n, n_done;
    double planned_min;             /* at the shop's own minutes */
    const struct work_entry *sign;  /* the last; NULL: not signed off */
    const struct work_entry *spent; /* minutes that it took; NULL: not told */
};

/* Of a job with a way. */
void app_progress_of(struct app_progress *out, const struct app_job *job);

/* The record as a page; as a document. */
void app_text_record(struct base_buffer *out, const struct app_style *style, const struct app_job *job);
void app_json_record(struct base_buffer *out, const struct app_job *job);

/* What goes with the bike. Of a job with a way. */
void app_text_handover(struct base_buffer *out, const struct app_style *style, const struct app_job *job);
void app_json_handover(struct base_buffer *out, const struct app_job *job);

/* Is a torque of this row part of the job's work? */
bool app_is_torque_of(const struct trade_torques_row *row, const struct app_job *job);

#endif
