/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A job: a folder with all that the work on one bike goes by. bike.json, wish.json, rider.json, route.gpx (where given) and
 * shop/ are copies of what the quote was made from; quote.json is the quote as it was given, and is written last, so that a
 * folder without it is no job; record/0001.json, 0002.json and so on are the entries of the record.
 *
 * Nothing in it is ever written over. An entry is created under the next number, which of two writers only one can: the
 * other reads again what the record says then, so that neither is lost.
 */
#ifndef APP_JOB_H
#define APP_JOB_H

#include "app/answers.h"
#include "app/load.h"
#include "format/job_in.h"
#include "work/sheet.h"

#define APP_ENTRIES_MAX 9999

struct app_job {
    const char *folder;
    struct app_request request; /* names the job's own files */
    struct app_loaded loaded;
    struct base_arena arena;
    struct format_quoted quoted;
    struct work_entry *entries;
    size_t n, room;
    const struct format_quoted_way *way; /* that was agreed, or the only one that was quoted; NULL: not agreed yet */
    struct fit_build agreed;             /* that way, and what has become of it by the swaps since; only with a way */
    struct fit_build build;
    struct fit_cases *cases;  /* of the bike; this and what follows in the arena, only with a way */
    struct app_chain *chain;  /* of the build */
    struct work_sheet *sheet; /* likewise */
};

/* Reads the job of a folder; style and json of the request say how faults are told. Clear it whatever the answer is.
 * BASE_BAD_INPUT with faults told in job->loaded; BASE_SYSTEM, BASE_NO_MEMORY. */
enum base_status app_job_load(struct app_job *out, const struct app_world *world, const struct app_request *request,
                              const char *folder) BASE_CHECKED;
void app_job_clear(struct app_job *job);

/* Plans again from the job's own files: the way that was agreed, with the parts that were swapped since, in the job's arena. Of a
 * job with a way. *plan is the caller's, also when it fails. BASE_BAD_INPUT with a fault told: the files do not give that way;
 * BASE_NO_MEMORY. */
enum base_status app_job_plan(struct plan **plan, const struct plan_way **way, struct app_job *job) BASE_CHECKED;

/* Puts a part into a slot of a build: the id of one of the job's list, "keep" or "none". False when there is no such part for
 * the slot, or nothing to keep. */
bool app_job_put(struct fit_build *build, const struct app_job *job, enum trade_slot slot, const char *id);

/* The way that was quoted under a letter ("keep": keeping the rings); NULL when none was. */
const struct format_quoted_way *app_job_quoted(const struct app_job *job, const char *letter);

/* Adds an entry as number job->n + 1. BASE_NO: another one was written meanwhile. BASE_SYSTEM, BASE_NO_MEMORY. */
enum base_status app_job_add(struct app_job *job, const struct work_entry *entry) BASE_CHECKED;

/* The time of day here: --at, or now. BASE_SYSTEM. */
enum base_status app_job_time(char out[APP_TIME], const struct app_loaded *loaded, const char *at) BASE_CHECKED;

/* An entry as its document, and as an object within another. */
struct format_out;
void app_json_entry(struct base_buffer *out, const struct work_entry *entry);
void app_json_put_entry(struct format_out *out, const struct work_entry *entry);

#endif
