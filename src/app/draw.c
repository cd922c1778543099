/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The command that draws: which figure, of which bike and way, to where.
 */
#include "app/asking.h"
#include "app/figure.h"
#include "app/print.h"
#include "app/progress.h"
#include "base/date.h"
#include "explain/way.h"
#include "paper/picture.h"

#include <string.h>

#define PNG_SCALE 2.0              /* pixels a unit: sharp on any screen */
#define PURPOSES_ROOM ((size_t)24) /* characters of what a way is best at */

enum { NEEDS_NOTHING, NEEDS_PLAN, NEEDS_ROUTE };

struct figure_row {
    const char *name;
    app_fill_figure *fill;
    int needs;      /* beside the bike */
    bool has_front; /* it says where the front of the bike is */
    const char *title, *question;
};
static const struct figure_row figures[] = {
    {"hills", app_figure_hills, NEEDS_NOTHING, false, "draw.hills.title", "draw.hills.question"},
    {"above", app_figure_above, NEEDS_NOTHING, true, "draw.above.title", "draw.above.question"},
    {"side", app_figure_side, NEEDS_NOTHING, true, "draw.side.title", "draw.side.question"},
    {"steps", app_figure_steps, NEEDS_NOTHING, false, "draw.steps.title", "draw.steps.question"},
    {"changes", app_figure_changes, NEEDS_NOTHING, false, "draw.changes.title", "draw.changes.question"},
    {"choices", app_figure_choices, NEEDS_PLAN, false, "draw.choices.title", "draw.choices.question"},
    {"route", app_figure_route, NEEDS_ROUTE, false, "draw.route.title", "draw.route.question"},
};
#define FIGURES (sizeof figures / sizeof figures[0])

/* --- words --------------------------------------------------------------------------------------------------------- */

const char *app_figure_keep(struct app_figure *figure, struct base_buffer *text) {
    const char *copy = base_arena_copy(figure->arena, explain_held(figure->out, text), text->n);
    base_buffer_clear(text);
    if (!copy) {
        figure->out->status = BASE_NO_MEMORY;
    }
    return copy ? copy : "";
}

const char *app_figure_put(struct app_figure *figure, const char *code, const struct explain_arg *args, size_t n) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, code, args, n);
    return app_figure_keep(figure, &text);
}

/* The bike's name, and the way with what it is best at. */
static const char *subject_of(struct app_figure *figure) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (figure->way) {
        base_buffer_char(&text, figure->letter);
        base_buffer_text(&text, ", ");
        (void)explain_purposes(&text, figure->way, figure->way->purposes, PURPOSES_ROOM, false);
        base_buffer_text(&text, ": ");
    }
    base_buffer_text(&text, figure->bike->label ? figure->bike->label : "");
    return app_figure_keep(figure, &text);
}

/* --- what is asked ------------------------------------------------------------------------------------------------- */

/* All figures that there can be, each into a file of a folder. */
static bool asks_all(const struct app_request *request) { return strcmp(request->figure, "all") == 0; }

static const struct figure_row *find_figure(const char *name) {
    for (size_t i = 0; i < FIGURES; i++) {
        if (strcmp(figures[i].name, name) == 0) {
            return &figures[i];
        }
    }
    return NULL;
}

static void say_no_such_figure(struct app_reply *reply, const char *name) {
    const char *names[FIGURES + 1] = {[FIGURES] = "all"};
    for (size_t i = 0; i < FIGURES; i++) {
        names[i] = figures[i].name;
    }
    app_say_none_called(reply, "draw.none-called", name, names, FIGURES + 1);
}

static bool is_picture(const char *path) {
    return app_ends_with(path, ".svg") || app_ends_with(path, ".png") || app_ends_with(path, ".pdf");
}

/* Does the request give what the figure needs? */
static bool has_needs(const struct figure_row *row, const struct app_request *request) {
    return row->needs == NEEDS_PLAN    ? request->catalogue != NULL
           : row->needs == NEEDS_ROUTE ? request->route != NULL || request->climb != NULL
                                       : true;
}

/* What can be told before anything is read. */
static bool asks_well(struct app_reply *reply, const struct app_request *request) {
    const struct figure_row *row = find_figure(request->figure);
    const char *way = request->way;
    if (!row && !asks_all(request)) {
        say_no_such_figure(reply, request->figure);
    } else if (asks_all(request) && (!request->out || is_picture(request->out))) {
        app_say(reply, APP_USAGE, "draw.no-folder", "", "");
    } else if (row && request->out && !is_picture(request->out)) {
        app_say(reply, APP_USAGE, "draw.ending", request->out, "");
    } else if (row && !has_needs(row, request)) {
        app_say(reply, APP_USAGE, row->needs == NEEDS_PLAN ? "draw.needs-plan" : "draw.needs-route", row->name, "");
    } else if (way && !request->catalogue) {
        app_say(reply, APP_USAGE, "draw.way-of-plan", way, "");
    } else if (way && !(way[0] >= 'A' && way[0] <= 'Z' && way[1] == '\0')) {
        app_say(reply, APP_USAGE, "draw.no-letter", way, "");
    } else if (request->mode && strcmp(request->mode, "now") != 0 && !request->catalogue) {
        app_say(reply, APP_USAGE, "draw.mode-of-plan", request->mode, "");
    }
    return reply->status == APP_DONE;
}

/* Choices are those of a plan, whatever mode is asked for. */
static enum app_mode mode_of(const struct app_request *request) {
    const struct figure_row *row = find_figure(request->figure);
    if (row && row->needs == NEEDS_PLAN) {
        return APP_MODE_BOTH;
    }
    if (!request->catalogue || (request->mode && strcmp(request->mode, "now") == 0)) {
        return APP_MODE_NOW;
    }
    return request->mode && strcmp(request->mode, "way") == 0 ? APP_MODE_WAY : APP_MODE_BOTH;
}

static enum draw_ground ground_of(const char *name) {
    return !name || strcmp(name, "light") == 0 ? DRAW_LIGHT : strcmp(name, "dark") == 0 ? DRAW_DARK : DRAW_PRINT;
}

/* The pick of the letter that is asked for, or the first; false, and told, where there is none. */
static bool take_way(struct app_figure *figure, struct app_reply *reply, const struct app_request *request) {
    size_t pick = request->way ? (size_t)(request->way[0] - 'A') : 0, n = figure->plan->n_picks;
    char last[2] = {(char)('A' + n - 1), '\0'};
    if (n == 0) {
        app_say(reply, APP_NO, "draw.no-way", "", "");
        return false;
    }
    if (pick >= n) {
        app_say(reply, APP_USAGE, "draw.no-such-way", request->way, last);
        return false;
    }
    figure->way = &figure->plan->ways[figure->plan->picks[pick]];
    figure->letter = (char)('A' + pick);
    figure->shown = &figure->way->build;
    return true;
}

/* --- the title block ----------------------------------------------------------------------------------------------- */

/* Does a figure of this request stand alone on paper? A narrow one is put beside text. */
static bool wants_block(const struct app_figure *figure) {
    return figure->style.wide && figure->style.ground == DRAW_PRINT;
}

/* What does not change from sheet to sheet, with the labels of the papers. */
static enum base_status put_block(struct draw_block *out, struct app_figure *figure, const struct app_loaded *loaded) {
    static const char *const labels[DRAW_CELLS] = {
        [DRAW_JOB] = "paper.label-job",     [DRAW_BIKE] = "paper.label-bike",   [DRAW_WAY] = "paper.label-way",
        [DRAW_DATE] = "paper.label-date",   [DRAW_PARTS] = "paper.label-parts", [DRAW_SCALE] = "draw.block.scale",
        [DRAW_SHEET] = "paper.label-sheet",
    };
    struct base_buffer text;
    int32_t day;
    enum base_status status = app_day_of(&day, loaded);
    if (status != BASE_OK) {
        return status;
    }
    for (int i = 0; i < DRAW_CELLS; i++) {
        out->labels[i] = explain_message(labels[i]);
        out->texts[i] = "";
    }
    out->texts[DRAW_BIKE] = loaded->bike.label ? loaded->bike.label : "";
    base_buffer_init(&text, 0);
    base_date_write(&text, day);
    out->texts[DRAW_DATE] = app_figure_keep(figure, &text);
    out->texts[DRAW_PARTS] = figure->plan && loaded->catalogue.revision ? loaded->catalogue.revision : "";
    figure->block = out;
    return BASE_OK;
}

/* What tells one sheet from another: '2 of 7', and the way where one is shown; choices show all. */
static void put_sheet(struct app_figure *figure, const struct figure_row *row) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_buffer_int(&text, (int64_t)figure->sheet);
    base_buffer_char(&text, ' ');
    explain_say(&text, "paper.of");
    base_buffer_char(&text, ' ');
    base_buffer_int(&text, (int64_t)figure->sheets);
    figure->block->texts[DRAW_SHEET] = app_figure_keep(figure, &text);
    base_buffer_init(&text, 0);
    if (figure->way && row->needs != NEEDS_PLAN) {
        base_buffer_char(&text, figure->letter);
    }
    figure->block->texts[DRAW_WAY] = app_figure_keep(figure, &text);
}

/* --- where it goes ------------------------------------------------------------------------------------------------- */

/* As a page of PDF, with what it is as title. */
static enum base_status put_page(struct base_buffer *out, const struct app_loaded *loaded,
                                 const struct app_figure *figure, struct base_slice svg) {
    struct base_buffer title;
    int32_t day;
    enum base_status status = app_day_of(&day, loaded);
    base_buffer_init(&title, 0);
    explain_tell(&title, "draw.page-title", explain_words(figure->head.question), explain_words(figure->head.subject));
    if (status == BASE_OK) {
        status = paper_page(out, svg, explain_held(out, &title), app_author(loaded), day);
    }
    base_buffer_clear(&title);
    return status;
}

/* Into a file, as SVG, picture or page by its name. */
static enum base_status write_out(const struct app_loaded *loaded, const struct app_figure *figure, const char *path,
                                  const struct base_buffer *drawn) {
    const struct base_slice svg = app_bytes_of(drawn);
    const struct app_world *world = loaded->world;
    struct base_buffer made;
    if (app_ends_with(path, ".svg")) {
        return world->write(world->self, path, svg);
    }
    base_buffer_init(&made, 0);
    enum base_status status =
        app_ends_with(path, ".png") ? paper_png(&made, svg, PNG_SCALE) : put_page(&made, loaded, figure, svg);
    if (status == BASE_OK) {
        status = world->write(world->self, path, app_bytes_of(&made));
    }
    base_buffer_clear(&made);
    return status;
}

/* What is open, and how it is measured, in place of a figure. */
static void say_open(struct app_reply *reply, const struct app_open *open) {
    reply->status = APP_NO;
    if (open->n == 0) {
        explain_say(&reply->err, "draw.cannot");
        base_buffer_char(&reply->err, '\n');
        return;
    }
    explain_tell(&reply->err, "draw.waits", explain_spelt((int64_t)open->n), explain_count((int64_t)open->n));
    base_buffer_char(&reply->err, '\n');
    for (size_t i = 0; i < open->n; i++) {
        explain_path(&reply->err, open->at[i].subject, open->at[i].property);
        base_buffer_text(&reply->err, ": ");
        explain_how(&reply->err, open->at[i].subject, open->at[i].property);
        base_buffer_char(&reply->err, '\n');
    }
}

/* The figure as SVG; BASE_NO where it waits for something. */
static enum base_status draw_row(struct base_buffer *drawn, const struct figure_row *row, struct app_figure *figure) {
    figure->out = drawn;
    figure->open.n = 0;
    figure->head = (struct draw_head){.name = row->name,
                                      .title = explain_message(row->title),
                                      .question = explain_message(row->question),
                                      .subject = subject_of(figure),
                                      .corner = row->has_front ? explain_message("draw.front") : NULL,
                                      .block = figure->block};
    if (figure->block) {
        put_sheet(figure, row);
    }
    enum base_status status = row->fill(figure);
    return status == BASE_OK ? drawn->status : status;
}

enum base_status app_draw_figure(struct base_buffer *out, const char *name, struct app_figure *figure) {
    return draw_row(out, find_figure(name), figure);
}

/* Tells a failure of drawing or writing, where there was one. */
static void tell_failure(struct app_reply *reply, const struct app_loaded *loaded, enum base_status status,
                         const char *path) {
    if (status == BASE_SYSTEM) {
        app_say(reply, APP_FAILED, "draw.not-written", path, "");
    } else {
        (void)app_load_failed(reply, loaded, status);
    }
}

static void draw_one(struct app_reply *reply, const struct app_loaded *loaded, struct app_figure *figure) {
    const char *path = loaded->request->out;
    struct base_buffer drawn;
    base_buffer_init(&drawn, 0);
    enum base_status status = draw_row(&drawn, find_figure(loaded->request->figure), figure);
    if (status == BASE_NO) {
        say_open(reply, &figure->open);
    } else if (status == BASE_OK && !path) {
        base_buffer_slice(&reply->out, app_bytes_of(&drawn));
    } else {
        status = status == BASE_OK ? write_out(loaded, figure, path, &drawn) : status;
        tell_failure(reply, loaded, status, path);
    }
    base_buffer_clear(&drawn);
}

/* Each into FOLDER/NAME.svg, with a line that names the file; a figure that waits for something is named with that, and is none. */
static bool draw_into(struct app_reply *reply, const struct app_loaded *loaded, struct app_figure *figure,
                      const struct figure_row *row) {
    struct base_buffer drawn, path;
    base_buffer_init(&drawn, 0);
    base_buffer_init(&path, 0);
    base_buffer_text(&path, loaded->request->out);
    base_buffer_char(&path, '/');
    base_buffer_text(&path, row->name);
    base_buffer_text(&path, ".svg");
    const char *file = explain_held(&reply->out, &path);
    enum base_status status = draw_row(&drawn, row, figure);
    if (status == BASE_NO) {
        explain_tell(&reply->out, "draw.left-out", explain_words(row->name));
        base_buffer_char(&reply->out, '\n');
    } else {
        status = status == BASE_OK ? write_out(loaded, figure, file, &drawn) : status;
        tell_failure(reply, loaded, status, file);
    }
    if (status == BASE_OK) {
        base_buffer_text(&reply->out, file);
        base_buffer_char(&reply->out, '\n');
    }
    base_buffer_clear(&drawn);
    base_buffer_clear(&path);
    return status == BASE_OK;
}

/* The figures that all are of this request, in their order; how many. */
static size_t list_all(const struct figure_row *rows[FIGURES], const struct app_request *request,
                       const struct app_figure *figure) {
    size_t n = 0;
    for (size_t i = 0; i < FIGURES; i++) {
        bool of_ways = figures[i].needs == NEEDS_PLAN && figure->mode == APP_MODE_NOW;
        if (has_needs(&figures[i], request) && !of_ways) {
            rows[n++] = &figures[i];
        }
    }
    return n;
}

/* How many of them nothing keeps from being drawn: a sheet's number says of how many. */
static size_t count_sheets(struct app_figure *figure, const struct figure_row *const *rows, size_t n) {
    size_t sheets = 0;
    for (size_t i = 0; i < n; i++) {
        struct base_buffer drawn;
        base_buffer_init(&drawn, 0);
        sheets += draw_row(&drawn, rows[i], figure) == BASE_OK ? 1 : 0;
        base_buffer_clear(&drawn);
    }
    return sheets;
}

static void draw_all(struct app_reply *reply, const struct app_loaded *loaded, struct app_figure *figure) {
    const struct figure_row *rows[FIGURES];
    size_t n = list_all(rows, loaded->request, figure);
    if (figure->block) {
        figure->sheets = count_sheets(figure, rows, n);
    }
    for (size_t i = 0; i < n && reply->status == APP_DONE; i++) {
        app_tell_progress(loaded->world, "progress.one", i + 1, n, rows[i]->name);
        figure->sheet += draw_into(reply, loaded, figure, rows[i]) ? 1 : 0;
    }
    app_end_progress(loaded->world);
}

/* The plan and the ride that the request names. */
static enum base_status compute(struct app_figure *figure, struct plan **plan, const struct app_loaded *loaded) {
    enum base_status status = app_plan_for(plan, loaded);
    figure->plan = *plan;
    if (status == BASE_OK && (loaded->way.route || loaded->way.climbs)) {
        struct app_ride *ride = base_arena_alloc(figure->arena, 1, sizeof *ride);
        status = ride ? app_ride_of(ride, figure->arena, &loaded->bike, &loaded->way, &loaded->road, figure->plan)
                      : BASE_NO_MEMORY;
        figure->ride = ride;
    }
    return status;
}

/* One figure, or all, of what is loaded and computed. */
static void draw_asked(struct app_reply *reply, const struct app_loaded *loaded, struct app_figure *figure) {
    struct base_buffer words;
    struct draw_block block;
    enum base_status status = BASE_OK;
    base_buffer_init(&words, 0);
    figure->out = &words;
    figure->sheet = figure->sheets = 1;
    if (wants_block(figure)) {
        status = put_block(&block, figure, loaded);
        status = status == BASE_OK ? words.status : status;
    }
    if (!app_load_failed(reply, loaded, status)) {
        (asks_all(loaded->request) ? draw_all : draw_one)(reply, loaded, figure);
    }
    base_buffer_clear(&words);
}

void app_draw(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_loaded loaded;
    struct base_arena arena;
    struct plan *plan = NULL;
    if (!asks_well(reply, request)) {
        return;
    }
    app_load_init(&loaded, world, request);
    base_arena_init(&arena, 0);
    enum base_status status = app_load_ride(&loaded);
    if (!app_load_failed(reply, &loaded, status) && !app_turned_down(reply, &loaded)) {
        struct app_figure figure = {.arena = &arena,
                                    .bike = &loaded.bike,
                                    .wish = request->catalogue ? &loaded.wish : NULL,
                                    .mode = mode_of(request),
                                    .style = {.wide = request->layout && strcmp(request->layout, "wide") == 0,
                                              .ground = ground_of(request->ground)}};
        fit_build_now(&figure.now, &loaded.bike);
        figure.shown = &figure.now;
        status = compute(&figure, &plan, &loaded);
        if (!app_load_failed(reply, &loaded, status) &&
            (figure.mode == APP_MODE_NOW || take_way(&figure, reply, request))) {
            draw_asked(reply, &loaded, &figure);
        }
    }
    plan_free(plan);
    base_arena_clear(&arena);
    app_load_clear(&loaded);
}
