/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Many plans against one catalogue, on all cores. Each worker takes the next line, and whoever finishes the line whose turn it
 * is writes it, and those behind it that are done: the answers stand in the order of the lines. Shared and written by all are
 * the names of the catalogue and the bikes (under the lock); all else is read only, or a worker's own.
 */
#define _POSIX_C_SOURCE 200809L

#include "app/climb.h"
#include "app/commands.h"
#include "app/deadline.h"
#include "app/json_parts.h"
#include "app/load.h"
#include "app/progress.h"
#include "format/batch_in.h"
#include "format/wish_in.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WINDOW 256 /* answers that may wait for their turn */
#define WORKERS_MAX 64
#define LINE_NAME 300

struct answer {
    struct base_buffer text;
    bool done;
};

struct batch {
    struct app_loaded *loaded; /* catalogue, shop, the wish of lines without one */
    struct base_slice *lines;
    size_t n;
    pthread_mutex_t lock;
    pthread_cond_t moved;
    size_t next, told; /* lines that were taken; answers that were written */
    size_t bad;        /* lines with faults */
    struct answer answers[WINDOW];
    bool failed;    /* no memory */
    bool unwritten; /* an answer could not be written */
};

/* One line while it is worked on. */
struct line {
    struct batch *batch;
    size_t number; /* from 1 */
    char name[LINE_NAME];
    struct base_faults faults;
    struct trade_bike bike;
    struct trade_wish wish;
    struct base_arena arena; /* owns what road holds */
    struct app_road road;
    bool has_bike;
};

/* --- one line ------------------------------------------------------------------------------------------------------ */

/* Names are shared with the catalogue, since parts of one closed set know each other by them. */
static enum base_status parse(struct line *line, const struct base_buffer *bike, const struct base_buffer *wish) {
    struct batch *batch = line->batch;
    pthread_mutex_lock(&batch->lock);
    enum base_status status =
        app_parse_bike(&line->bike, app_bytes_of(bike), line->name, &batch->loaded->names, &line->faults);
    pthread_mutex_unlock(&batch->lock);
    line->has_bike = status == BASE_OK;
    if (line->has_bike) {
        status = app_complete_rider(&line->bike, line->name, "/rider/known_climb_time_s", &line->faults);
    }
    line->wish = batch->loaded->wish;
    if (wish->n > 0) {
        enum base_status of_wish = format_wish_read(&line->wish, app_bytes_of(wish), line->name, &line->faults);
        status = status != BASE_OK ? status : of_wish;
    }
    if (status == BASE_OK) {
        status = app_take_road(&line->road, &line->wish, &line->arena, &line->bike, &batch->loaded->way, line->name,
                               &line->faults);
    }
    return status == BASE_OK ? app_climb_bound(&line->wish, &line->bike) : status;
}

static enum base_status read_line(struct line *line, struct base_slice bytes) {
    struct base_buffer bike, wish;
    base_buffer_init(&bike, 0);
    base_buffer_init(&wish, 0);
    enum base_status status = format_batch_line(&bike, &wish, bytes, line->name, &line->faults);
    if (status == BASE_OK) {
        status = parse(line, &bike, &wish);
    }
    base_buffer_clear(&bike);
    base_buffer_clear(&wish);
    return status;
}

static enum base_status put_plan(struct format_out *out, const struct line *line) {
    const struct app_loaded *loaded = line->batch->loaded;
    struct plan_question question = app_question_of(loaded, &line->bike, &line->wish, &line->road);
    struct app_deadline deadline;
    app_deadline_set(&deadline, &question, loaded->world, loaded->request->limit_s);
    struct app_plan_shown *shown = calloc(1, sizeof *shown);
    struct plan *plan = NULL;
    enum base_status status = shown ? app_make_plan(shown, &plan, &question, loaded->request->why) : BASE_NO_MEMORY;
    if (status == BASE_OK) {
        format_out_key(out, "plan");
        app_json_put_plan(out, shown, loaded->request->ways);
    }
    plan_free(plan);
    free(shown);
    return status;
}

/* The line's answer: a plan, why the bike is turned down, or what is wrong with the line. */
static enum base_status put_answer(struct format_out *out, struct line *line, struct base_slice bytes) {
    const char *why, *can_do;
    enum base_status status = read_line(line, bytes);
    app_json_key_text(out, "label", line->has_bike ? line->bike.label : NULL);
    if (status == BASE_BAD_INPUT) {
        app_json_put_faults(out, &line->faults);
        return status;
    }
    if (status == BASE_OK && fit_refused(&line->bike, &why, &can_do)) {
        app_json_put_refused(out, why, can_do);
        return BASE_OK;
    }
    return status == BASE_OK ? put_plan(out, line) : status;
}

/* False without memory. */
static bool work_line(struct batch *batch, size_t index, struct base_buffer *text, bool *bad) {
    struct line line = {.batch = batch, .number = index + 1};
    struct format_out out;
    snprintf(line.name, sizeof line.name, "%s:%zu", batch->loaded->request->batch, line.number);
    base_faults_init(&line.faults);
    base_arena_init(&line.arena, 0);
    format_out_init(&out, text, false);
    format_out_object(&out);
    app_json_key_int(&out, "line", (int64_t)line.number);
    enum base_status status = put_answer(&out, &line, batch->lines[index]);
    format_out_object_end(&out);
    format_out_done(&out);
    if (line.has_bike) {
        trade_bike_clear(&line.bike);
    }
    app_road_clear(&line.road);
    base_arena_clear(&line.arena);
    base_faults_clear(&line.faults);
    *bad = status == BASE_BAD_INPUT;
    return (status == BASE_OK || *bad) && text->status == BASE_OK;
}

/* --- all lines ----------------------------------------------------------------------------------------------------- */

/* Writes the answers whose turn it is. Under the lock. */
static void tell(struct batch *batch) {
    const struct app_world *world = batch->loaded->world;
    for (struct answer *a = &batch->answers[batch->told % WINDOW]; a->done && !batch->unwritten;
         a = &batch->answers[batch->told % WINDOW]) {
        batch->unwritten = world->put(world->self, app_bytes_of(&a->text)) != BASE_OK;
        base_buffer_clear(&a->text);
        a->done = false;
        batch->told++;
        if (batch->told < batch->n) {
            app_tell_progress(world, "progress.bikes", batch->told, batch->n, NULL);
        } else {
            app_end_progress(world);
        }
    }
}

static bool is_over(const struct batch *batch) { return batch->next == batch->n || batch->failed || batch->unwritten; }

/* The next line to work on; false when there is none left. Waits while too many answers wait for their turn. */
static bool take(struct batch *batch, size_t *index) {
    pthread_mutex_lock(&batch->lock);
    while (!is_over(batch) && batch->next >= batch->told + WINDOW) {
        pthread_cond_wait(&batch->moved, &batch->lock);
    }
    bool any = !is_over(batch);
    *index = batch->next;
    batch->next += any;
    pthread_mutex_unlock(&batch->lock);
    return any;
}

static void *work(void *self) {
    struct batch *batch = self;
    size_t index;
    while (take(batch, &index)) {
        struct base_buffer text;
        bool bad = false;
        base_buffer_init(&text, 0);
        bool whole = work_line(batch, index, &text, &bad);
        pthread_mutex_lock(&batch->lock);
        batch->answers[index % WINDOW] = (struct answer){text, true};
        batch->failed = batch->failed || !whole;
        batch->bad += bad;
        tell(batch);
        pthread_cond_broadcast(&batch->moved);
        pthread_mutex_unlock(&batch->lock);
    }
    return NULL;
}

/* Workers as many as there are cores; this thread is one of them. */
static void work_all(struct batch *batch) {
    pthread_t threads[WORKERS_MAX];
    unsigned wanted = batch->loaded->world->cores(batch->loaded->world->self), n = 0;
    while (n + 1 < wanted && n < WORKERS_MAX && n + 1 < batch->n &&
           pthread_create(&threads[n], NULL, work, batch) == 0) {
        n++;
    }
    work(batch);
    for (unsigned i = 0; i < n; i++) {
        pthread_join(threads[i], NULL);
    }
    for (size_t i = 0; i < WINDOW; i++) {
        base_buffer_clear(&batch->answers[i].text);
    }
}

/* The lines of the file that are not empty. False without memory. */
static bool split(struct batch *batch, const struct base_buffer *bytes) {
    size_t room = 1;
    for (size_t i = 0; i < bytes->n; i++) {
        room += bytes->at[i] == '\n';
    }
    batch->lines = calloc(room, sizeof *batch->lines);
    for (size_t from = 0; batch->lines && from < bytes->n;) {
        const char *end = memchr(bytes->at + from, '\n', bytes->n - from);
        size_t to = end ? (size_t)(end - bytes->at) : bytes->n;
        size_t text = to > from && bytes->at[to - 1] == '\r' ? to - 1 : to;
        batch->lines[batch->n++] = (struct base_slice){bytes->at + from, text - from};
        from = to + 1;
    }
    return batch->lines != NULL;
}

static void run(struct app_reply *reply, struct app_loaded *loaded, const struct base_buffer *bytes) {
    struct batch *batch = calloc(1, sizeof *batch);
    bool ready = batch && pthread_mutex_init(&batch->lock, NULL) == 0 && pthread_cond_init(&batch->moved, NULL) == 0;
    if (!ready) {
        free(batch);
        (void)app_load_failed(reply, loaded, BASE_NO_MEMORY);
        return;
    }
    batch->loaded = loaded;
    if (split(batch, bytes)) {
        work_all(batch);
    }
    if (batch->failed || !batch->lines) {
        (void)app_load_failed(reply, loaded, BASE_NO_MEMORY);
    } else if (batch->unwritten || batch->bad > 0) {
        reply->status = batch->unwritten ? APP_FAILED : APP_BAD_INPUT;
    }
    pthread_cond_destroy(&batch->moved);
    pthread_mutex_destroy(&batch->lock);
    free(batch->lines);
    free(batch);
}

void app_batch(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_loaded loaded;
    struct base_buffer bytes;
    app_load_init(&loaded, world, request);
    base_buffer_init(&bytes, 0);
    enum base_status status = app_load_wish(&loaded);
    enum base_status of_way = app_load_way(&loaded);
    status = status != BASE_OK ? status : of_way;
    enum base_status of_catalogue = app_load_catalogue(&loaded, request->catalogue);
    status = status != BASE_OK ? status : of_catalogue;
    if (status == BASE_OK) {
        status = app_load_file(&loaded, &bytes, request->batch, "batch");
    }
    if (!app_load_failed(reply, &loaded, status)) {
        run(reply, &loaded, &bytes);
    }
    base_buffer_clear(&bytes);
    app_load_clear(&loaded);
}
