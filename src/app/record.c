/* SPDX-License-Identifier: Apache-2.0 */
#include "app/record.h"

#include "app/json.h"
#include "app/json_parts.h"
#include "app/print.h"
#include "base/number.h"
#include "explain/bench.h"
#include "explain/bike.h"
#include "explain/explain.h"
#include "explain/record.h"
#include "explain/value.h"
#include "explain/words.h"
#include "trade/vocabulary.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define TRIES 20 /* that a writer makes when others are faster */
#define MINUTES_MOST 10000.0
#define MEASURED_MOST 1000.0
#define NAMED_MOST 6 /* steps */

/* --- how far it is ------------------------------------------------------------------------------------------------- */

void app_progress_of(struct app_progress *out, const struct app_job *job) {
    *out = (struct app_progress){.n = 0};
    for (size_t i = 0; i < job->sheet->steps.n; i++) {
        enum trade_bench operation = job->sheet->steps.at[i];
        size_t done = work_done(job->entries, job->n, operation, &job->loaded.bike);
        out->steps[out->n++] = (struct app_step){operation, done < job->n ? &job->entries[done] : NULL};
        out->n_done += done < job->n;
    }
    out->planned_min = job->sheet->minutes.charged;
    size_t sign = work_last(job->entries, job->n, WORK_SIGNED), spent = work_last(job->entries, job->n, WORK_MINUTES);
    out->sign = sign < job->n ? &job->entries[sign] : NULL;
    out->spent = spent < job->n ? &job->entries[spent] : NULL;
}

const char *app_reading_name(const struct work_reading *reading) {
    return reading->torque >= 0 ? trade_torques[reading->torque].name : trade_check_rows[reading->check].name;
}

const struct work_reading *app_job_reading(const struct app_job *job, const char *name) {
    for (size_t i = 0; job->sheet && i < job->sheet->n_readings; i++) {
        if (strcmp(app_reading_name(&job->sheet->readings[i]), name) == 0) {
            return &job->sheet->readings[i];
        }
    }
    return NULL;
}

const struct work_entry *app_job_read(const struct app_job *job, const char *name) {
    for (size_t i = job->n; i > 0; i--) {
        if (job->entries[i - 1].kind == WORK_MEASURED && strcmp(job->entries[i - 1].name, name) == 0) {
            return &job->entries[i - 1];
        }
    }
    return NULL;
}

/* --- an entry from words ------------------------------------------------------------------------------------------- */

/* What stands in the way of an entry, for a person. */
struct refusal {
    enum app_exit status; /* APP_DONE: nothing */
    struct base_buffer text;
};

static void refuse(struct refusal *refusal, enum app_exit status, const char *code, const struct explain_arg *args,
                   size_t n) {
    refusal->status = status;
    explain_put(&refusal->text, code, args, n);
}
#define REFUSE(REFUSAL, STATUS, CODE, ...)                                                                             \
    refuse(REFUSAL, STATUS, CODE, (const struct explain_arg[]){__VA_ARGS__},                                           \
           sizeof((const struct explain_arg[]){__VA_ARGS__}) / sizeof(struct explain_arg))

/* How many words each kind takes, the kind itself counted. */
static const struct {
    size_t least, most;
} words_of[WORK_ENTRY_KINDS] = {
    [WORK_AGREED] = {2, 2}, [WORK_DONE] = {2, 3},    [WORK_MEASURED] = {3, 3}, [WORK_SWAPPED] = {3, 3},
    [WORK_FAULT] = {2, 2},  [WORK_MINUTES] = {2, 2}, [WORK_SIGNED] = {2, 2}};

static bool read_minutes(double *out, struct refusal *refusal, const char *word) {
    if (base_number_read(out, base_slice_of(word)) != BASE_OK || !(*out >= 0) || *out > MINUTES_MOST) {
        REFUSE(refusal, APP_USAGE, "record.no-minutes", explain_words(word));
        return false;
    }
    return true;
}

static void take_agreed(struct work_entry *entry, struct refusal *refusal, const struct app_job *job) {
    if (app_job_quoted(job, entry->name)) {
        return;
    }
    struct base_buffer letters;
    const char *words[FORMAT_QUOTED_MAX];
    base_buffer_init(&letters, 0);
    for (size_t i = 0; i < job->quoted.n; i++) {
        words[i] = job->quoted.ways[i].letter;
    }
    explain_put_list(&letters, words, job->quoted.n, "list.or");
    REFUSE(refusal, APP_USAGE, "record.not-quoted", explain_words(entry->name), explain_buffered(&letters));
    base_buffer_clear(&letters);
}

/* Numbers of the steps that are still to be done, a few of them. */
static void put_open_steps(struct base_buffer *out, const struct app_job *job) {
    struct app_progress progress;
    size_t n = 0;
    app_progress_of(&progress, job);
    for (size_t i = 0; i < progress.n; i++) {
        if (progress.steps[i].done) {
            continue;
        }
        n++;
        if (n <= NAMED_MOST) {
            base_buffer_text(out, n > 1 ? ", " : "");
            base_buffer_int(out, (int64_t)i + 1);
            base_buffer_text(out, " ");
            base_buffer_text(out, trade_bench_rows[progress.steps[i].operation].name);
        }
    }
    if (n > NAMED_MOST) {
        base_buffer_text(out, " ");
        explain_tell(out, "record.and-more", explain_count((int64_t)(n - NAMED_MOST)));
    }
}

/* The operation of a step of the sheet, by its number or its name; -1: there is none. */
static int find_step(const struct app_job *job, const char *word) {
    const struct work_list *steps = &job->sheet->steps;
    int64_t number;
    if (base_integer_read(&number, base_slice_of(word), 1, (int64_t)steps->n) == BASE_OK) {
        return (int)steps->at[number - 1];
    }
    int operation = work_find_bench(base_slice_of(word));
    for (size_t i = 0; i < steps->n; i++) {
        if ((int)steps->at[i] == operation) {
            return operation;
        }
    }
    return -1;
}

static void take_done(struct work_entry *entry, struct refusal *refusal, const struct app_job *job) {
    int operation = find_step(job, entry->name);
    if (operation < 0) {
        struct base_buffer open;
        base_buffer_init(&open, 0);
        put_open_steps(&open, job);
        REFUSE(refusal, APP_USAGE, "record.not-of-the-job", explain_words(entry->name), explain_buffered(&open));
        base_buffer_clear(&open);
        return;
    }
    entry->name = trade_bench_rows[operation].name;
    size_t done = work_done(job->entries, job->n, (enum trade_bench)operation, &job->loaded.bike);
    if (done < job->n) {
        REFUSE(refusal, APP_NO, "record.done-already", explain_words(entry->name),
               explain_words(job->entries[done].at));
    }
}

/* What may be measured: its unit, its limits (NAN: none), and between what any reading lies. */
struct measurable {
    const char *unit;
    double low, high, least, most;
};

/* What the sheet reads, any torque of the table, or a length of the frame; false when nothing is called so. */
static bool find_measurable(struct measurable *out, const char *name, const struct app_job *job) {
    const struct work_reading *reading = app_job_reading(job, name);
    *out = (struct measurable){"mm", NAN, NAN, 0, MEASURED_MOST};
    if (reading) {
        *out = (struct measurable){explain_unit_of(reading->unit), reading->low, reading->high, 0, MEASURED_MOST};
        return true;
    }
    for (size_t i = 0; i < trade_torques_n; i++) {
        if (strcmp(trade_torques[i].name, name) == 0) {
            *out =
                (struct measurable){"N\xc2\xb7m", trade_torques[i].low_nm, trade_torques[i].high_nm, 0, MEASURED_MOST};
            return true;
        }
    }
    int property = trade_find_property(TRADE_KIND_FRAME, base_slice_of(name));
    if (property >= 0 && trade_property_rows[property].type == TRADE_NUMBER) {
        out->least = trade_property_rows[property].low;
        out->most = trade_property_rows[property].high;
        return true;
    }
    return false;
}

void app_tell_measured(struct base_buffer *out, const struct app_job *job, const struct work_entry *entry) {
    const struct work_reading *reading = app_job_reading(job, entry->name);
    struct measurable what = {.unit = ""};
    struct base_buffer name;
    base_buffer_init(&name, 0);
    (void)find_measurable(&what, entry->name, job);
    if (reading) {
        explain_reading_name(&name, reading);
    } else {
        base_buffer_text(&name, entry->name);
    }
    explain_measured(out, entry, explain_held(out, &name), what.unit);
    base_buffer_clear(&name);
}

static void take_measured(struct work_entry *entry, struct refusal *refusal, const struct app_job *job,
                          const char *word) {
    struct measurable what;
    if (!find_measurable(&what, entry->name, job)) {
        REFUSE(refusal, APP_USAGE, "record.no-such-value", explain_words(entry->name));
        return;
    }
    entry->low = what.low;
    entry->high = what.high;
    if (base_number_read(&entry->value, base_slice_of(word)) != BASE_OK || entry->value < what.least ||
        entry->value > what.most) {
        REFUSE(refusal, APP_USAGE, "record.no-number", explain_words(word), explain_number(what.least, 0, ""),
               explain_number(what.most, 0, what.unit));
    } else if (work_out_of_limit(entry) && !entry->reason) {
        struct base_buffer allowed;
        base_buffer_init(&allowed, 0);
        explain_allowed(&allowed, entry);
        REFUSE(refusal, APP_NO, "record.out-of-limit", explain_words(entry->name),
               explain_number(entry->value, explain_tenths_of(entry->value), what.unit), explain_buffered(&allowed));
        base_buffer_clear(&allowed);
    }
}

/* A swap is taken only where what then stands goes together. */
static void check_fits(struct refusal *refusal, const struct app_job *job, const struct fit_build *build) {
    struct fit_finding *findings = malloc((fit_rules_n + 1) * sizeof *findings);
    struct fit_cases *cases = malloc(sizeof *cases);
    size_t n = 0;
    if (!findings || !cases) {
        refusal->text.status = BASE_NO_MEMORY;
        refusal->status = APP_FAILED;
    } else {
        fit_cases_of(cases, &job->loaded.bike);
        fit_judge_build(findings, &n, &job->loaded.bike, build, cases, false);
    }
    for (size_t i = 0; i < n; i++) {
        if (explain_mark_of(&findings[i]) != EXPLAIN_CLASH) {
            continue;
        }
        struct base_buffer reason;
        base_buffer_init(&reason, 0);
        explain_reason(&reason, &findings[i]);
        base_buffer_text(&refusal->text, refusal->text.n > 0 ? " " : "");
        REFUSE(refusal, APP_NO, "record.clashes", explain_buffered(&reason));
        base_buffer_clear(&reason);
    }
    free(findings);
    free(cases);
}

static void take_swapped(struct work_entry *entry, struct refusal *refusal, const struct app_job *job) {
    int slot = trade_find_slot(base_slice_of(entry->name));
    struct fit_build build = job->build;
    if (slot < 0) {
        REFUSE(refusal, APP_USAGE, "record.no-slot", explain_words(entry->name));
    } else if (!app_job_put(&build, job, (enum trade_slot)slot, entry->text)) {
        REFUSE(refusal, APP_USAGE, "record.no-part", explain_words(entry->text),
               explain_words(explain_slot((enum trade_slot)slot)));
    } else {
        check_fits(refusal, job, &build);
    }
}

static void take_signed(const struct work_entry *entry, struct refusal *refusal, const struct app_job *job) {
    struct base_buffer open;
    base_buffer_init(&open, 0);
    put_open_steps(&open, job);
    if (open.n > 0 && !entry->reason) {
        REFUSE(refusal, APP_NO, "record.steps-open", explain_buffered(&open));
    }
    base_buffer_clear(&open);
}

/* The words behind the kind, into the entry. */
static void take_words(struct work_entry *entry, struct refusal *refusal, const struct app_job *job,
                       const struct app_request *request) {
    const char *const *words = request->words;
    bool named = entry->kind <= WORK_SWAPPED;
    entry->name = named ? words[1] : NULL;
    switch (entry->kind) {
    case WORK_AGREED:
        take_agreed(entry, refusal, job);
        break;
    case WORK_DONE:
        if (request->n_words < 3 || read_minutes(&entry->value, refusal, words[2])) {
            take_done(entry, refusal, job);
        }
        break;
    case WORK_MEASURED:
        take_measured(entry, refusal, job, words[2]);
        break;
    case WORK_SWAPPED:
        entry->text = words[2];
        take_swapped(entry, refusal, job);
        break;
    case WORK_MINUTES:
        (void)read_minutes(&entry->value, refusal, words[1]);
        break;
    case WORK_SIGNED:
        entry->text = words[1];
        take_signed(entry, refusal, job);
        break;
    default:
        entry->text = words[1];
        break;
    }
}

/* Which kind the words are of; false when they are none. */
static bool find_kind(struct work_entry *entry, struct refusal *refusal, const struct app_request *request) {
    struct base_buffer kinds;
    for (unsigned k = 0; k < WORK_ENTRY_KINDS; k++) {
        bool is_it = strcmp(work_entry_words[k], request->words[0]) == 0;
        if (is_it && request->n_words >= words_of[k].least && request->n_words <= words_of[k].most) {
            entry->kind = (enum work_entry_kind)k;
            return true;
        }
    }
    base_buffer_init(&kinds, 0);
    explain_say(&kinds, "record.forms");
    REFUSE(refusal, APP_USAGE, "record.no-entry", explain_words(request->words[0]), explain_buffered(&kinds));
    base_buffer_clear(&kinds);
    return false;
}

static void make_entry(struct work_entry *entry, struct refusal *refusal, const struct app_job *job,
                       const struct app_request *request, const char *at) {
    *entry = (struct work_entry){
        .at = at, .by = request->by, .reason = request->reason, .value = NAN, .low = NAN, .high = NAN};
    if (request->after > 0 && request->after != job->n) {
        REFUSE(refusal, APP_NO, "record.moved-on", explain_count(request->after), explain_count((int64_t)job->n));
    } else if (find_kind(entry, refusal, request)) {
        if (!job->way && entry->kind != WORK_AGREED && entry->kind != WORK_FAULT) {
            REFUSE(refusal, APP_NO, "record.not-agreed", explain_count(0));
        } else {
            take_words(entry, refusal, job, request);
        }
    }
}

/* --- the command --------------------------------------------------------------------------------------------------- */

static void show(struct app_reply *reply, const struct app_job *job) {
    if (job->request.json) {
        app_json_record(&reply->out, job);
    } else {
        app_text_record(&reply->out, &job->request.style, job);
    }
}

/* One try at adding the entry. BASE_NO: somebody was faster. */
static enum base_status try_to_add(struct app_reply *reply, struct app_job *job, const struct app_request *request) {
    struct work_entry entry;
    struct refusal refusal = {.status = APP_DONE};
    char at[APP_TIME];
    enum base_status status = app_job_time(at, &job->loaded, request->at);
    base_buffer_init(&refusal.text, 0);
    if (status == BASE_OK) {
        make_entry(&entry, &refusal, job, request, at);
        status = refusal.status == APP_DONE ? app_job_add(job, &entry) : refusal.text.status;
    }
    if (refusal.status != APP_DONE) {
        base_buffer_text(&reply->err, "chainwright: record: ");
        base_buffer_text(&reply->err, refusal.text.at);
        base_buffer_char(&reply->err, '\n');
        reply->status = refusal.status;
    }
    base_buffer_clear(&refusal.text);
    return status;
}

void app_record(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    bool adds = request->n_words > 0;
    for (int i = 0; i < TRIES; i++) {
        struct app_job job;
        enum base_status status = app_job_load(&job, world, request, request->job);
        bool failed = app_load_failed(reply, &job.loaded, status);
        if (!failed && adds) {
            status = try_to_add(reply, &job, request);
            failed = app_load_failed(reply, &job.loaded, status) || reply->status != APP_DONE;
        } else if (!failed) {
            show(reply, &job);
        }
        app_job_clear(&job);
        if (failed || !adds) {
            return;
        }
        adds = status == BASE_NO; /* else it is written, and the next round shows it */
    }
    base_buffer_text(&reply->err, "chainwright: record: others write without a pause; try again.\n");
    reply->status = APP_FAILED;
}

void app_say_not_agreed(struct app_reply *reply) {
    base_buffer_text(&reply->err, "chainwright: ");
    explain_say(&reply->err, "record.not-agreed");
    base_buffer_char(&reply->err, '\n');
    reply->status = APP_NO;
}

void app_handover(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_job job;
    enum base_status status = app_job_load(&job, world, request, request->job);
    if (!app_load_failed(reply, &job.loaded, status)) {
        if (!job.way) {
            app_say_not_agreed(reply);
        } else if (request->paper) {
            app_print_handover(reply, &job);
        } else if (request->json) {
            app_json_handover(&reply->out, &job);
        } else {
            app_text_handover(&reply->out, &request->style, &job, NULL, 0);
        }
    }
    app_job_clear(&job);
}

/* --- as a document ------------------------------------------------------------------------------------------------- */

static void put_steps(struct format_out *out, const struct app_job *job) {
    struct app_progress progress = {.n = 0};
    if (job->way) {
        app_progress_of(&progress, job);
    }
    format_out_key(out, "steps");
    format_out_array(out);
    for (size_t i = 0; i < progress.n; i++) {
        format_out_object(out);
        app_json_key_text(out, "operation", trade_bench_rows[progress.steps[i].operation].name);
        app_json_key_text(out, "done_at", progress.steps[i].done ? progress.steps[i].done->at : NULL);
        format_out_object_end(out);
    }
    format_out_array_end(out);
    app_json_key_bool(out, "signed", progress.sign != NULL);
}

void app_json_record(struct base_buffer *buffer, const struct app_job *job) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_text(&out, "label", job->loaded.bike.label);
    app_json_key_int(&out, "last", (int64_t)job->n);
    app_json_key_text(&out, "agreed", job->way ? job->way->letter : NULL);
    if (job->way) {
        app_json_build_parts(&out, &job->build);
    } else {
        app_json_key_text(&out, "parts", NULL);
    }
    put_steps(&out, job);
    format_out_key(&out, "entries");
    format_out_array(&out);
    for (size_t i = 0; i < job->n; i++) {
        app_json_put_entry(&out, &job->entries[i]);
    }
    format_out_array_end(&out);
    format_out_object_end(&out);
    format_out_done(&out);
}
