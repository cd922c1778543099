/* SPDX-License-Identifier: Apache-2.0 */
#include "app/print.h"

#include "app/asking.h"
#include "app/figure.h"
#include "base/date.h"
#include "paper/html.h"
#include "paper/pdf.h"

#include <string.h>

#define SHEET_PAGES 2      /* a leaf, both sides */
#define SHEET_SMALLEST 9.0 /* points: it hangs at the stand */
#define QUOTE_PAGES 2

static void say(struct app_reply *reply, enum app_exit status, const char *code, const char *what, const char *list) {
    explain_tell(&reply->err, code, explain_words(what), explain_words(list));
    base_buffer_char(&reply->err, '\n');
    reply->status = status;
}

static bool ends_with(const char *path, const char *ending) {
    size_t n = strlen(path), m = strlen(ending);
    return n > m && strcmp(path + n - m, ending) == 0;
}

/* --- what every paper has ------------------------------------------------------------------------------------------ */

static const char *keep_buffer(struct paper *paper, struct base_buffer *text) {
    const char *kept = paper_keep(paper, text->at);
    paper->status = text->status != BASE_OK ? text->status : paper->status;
    base_buffer_clear(text);
    return kept;
}

/* The name of a job is that of its folder. */
static const char *job_name(const struct app_request *request, struct paper *paper) {
    if (!request->job) {
        return "";
    }
    const char *path = request->job;
    size_t n = strlen(path);
    while (n > 1 && path[n - 1] == '/') {
        n--;
    }
    size_t from = n;
    while (from > 0 && path[from - 1] != '/') {
        from--;
    }
    char *name = base_arena_copy(paper->arena, path + from, n - from);
    return name ? name : "";
}

static void add_foot(struct paper *paper, const char *label, const char *text) {
    paper->foot[paper->n_foot++] = (struct paper_foot){explain_message(label), text};
}

/* Title, author, day and title block. */
static void head(struct paper *paper, const struct app_loaded *loaded, const char *code, const char *way, int32_t day) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, code, explain_words(loaded->bike.label));
    paper->title = keep_buffer(paper, &text);
    paper->author = "Chainwright";
    paper->day = day;
    paper->sheet_label = explain_message("paper.label-sheet");
    paper->sheet_of = explain_message("paper.of");
    base_date_write(&text, day);
    add_foot(paper, "paper.label-job", job_name(loaded->request, paper));
    add_foot(paper, "paper.label-bike", loaded->bike.label);
    add_foot(paper, "paper.label-way", way);
    add_foot(paper, "paper.label-date", keep_buffer(paper, &text));
    add_foot(paper, "paper.label-parts", loaded->catalogue.revision);
}

/* A figure of a way, in the paper's arena; empty where it waits for something that is open, or the way is none of the plan's. */
static struct base_slice draw_for(struct paper *paper, const struct app_loaded *loaded, const char *name,
                                  const struct plan *plan, const struct plan_way *way, const char *letter) {
    struct base_buffer drawn;
    struct app_figure figure = {.arena = paper->arena,
                                .bike = &loaded->bike,
                                .wish = &loaded->wish,
                                .plan = plan,
                                .way = way,
                                .letter = letter[0],
                                .shown = &way->build,
                                .mode = APP_MODE_BOTH,
                                .style = {.ground = DRAW_PRINT}};
    struct base_slice svg = {0};
    if (letter[0] == '\0' || letter[1] != '\0') {
        return svg;
    }
    fit_build_now(&figure.now, &loaded->bike);
    base_buffer_init(&drawn, 0);
    enum base_status status = app_draw_figure(&drawn, name, &figure);
    if (status == BASE_OK) {
        svg = base_slice_of(paper_keep(paper, drawn.at));
    } else if (status != BASE_NO) {
        paper->status = status;
    }
    base_buffer_clear(&drawn);
    return svg;
}

static void write_out(struct app_reply *reply, const struct app_loaded *loaded, const struct paper *paper) {
    const struct app_request *request = loaded->request;
    struct base_buffer bytes;
    enum base_status status = paper->status;
    base_buffer_init(&bytes, 0);
    if (status == BASE_OK && ends_with(request->out, ".html")) {
        paper_html(&bytes, paper);
    } else if (status == BASE_OK) {
        bool letter = request->size && strcmp(request->size, "letter") == 0;
        status = paper_pdf(&bytes, paper, letter ? PAPER_LETTER : PAPER_A4);
    }
    status = status == BASE_OK ? bytes.status : status;
    status = status == BASE_OK ? loaded->world->write(loaded->world->self, request->out, app_bytes_of(&bytes)) : status;
    base_buffer_clear(&bytes);
    if (status == BASE_SYSTEM) {
        say(reply, APP_FAILED, "paper.not-written", request->out, "");
    } else if (!app_load_failed(reply, loaded, status)) {
        base_buffer_text(&reply->out, request->out);
        base_buffer_char(&reply->out, '\n');
    }
}

/* --- the papers ---------------------------------------------------------------------------------------------------- */

void app_print_work(struct app_reply *reply, const struct app_loaded *loaded, struct app_work *work) {
    struct base_arena arena;
    struct paper paper;
    int32_t day;
    base_arena_init(&arena, 0);
    paper_init(&paper, &arena);
    enum base_status status = app_day_of(&day, loaded);
    if (!app_load_failed(reply, loaded, status)) {
        const struct app_style style = {.paper = &paper};
        head(&paper, loaded, "paper.sheet", work->letter, day);
        work->figure = draw_for(&paper, loaded, "above", work->plan, work->way, work->letter);
        paper.pages_max = SHEET_PAGES;
        paper.smallest = SHEET_SMALLEST;
        app_text_work(&reply->out, &style, work);
        work->figure = (struct base_slice){0};
        write_out(reply, loaded, &paper);
    }
    base_arena_clear(&arena);
}

void app_print_quote(struct app_reply *reply, const struct app_loaded *loaded, struct app_quote *quote) {
    struct base_arena arena;
    struct paper paper;
    struct base_buffer letters;
    const struct app_style style = {.paper = &paper};
    base_arena_init(&arena, 0);
    base_buffer_init(&letters, 0);
    paper_init(&paper, &arena);
    for (size_t i = 0; i < quote->n_ways; i++) {
        base_buffer_text(&letters, i > 0 ? " " : "");
        base_buffer_text(&letters, quote->choices[i].letter);
    }
    head(&paper, loaded, "paper.quote", keep_buffer(&paper, &letters), quote->day);
    paper.pages_max = QUOTE_PAGES;
    for (size_t i = 0; i < 2 && i < quote->n_ways; i++) {
        const struct app_quote_choice *choice = &quote->choices[i == 0 ? 0 : quote->n_ways - 1];
        quote->figures[i] = draw_for(&paper, loaded, "hills", quote->shown->plan, choice->way, choice->letter);
    }
    app_text_quote(&reply->out, &style, quote);
    quote->figures[0] = quote->figures[1] = (struct base_slice){0};
    write_out(reply, loaded, &paper);
    base_arena_clear(&arena);
}

/* --- the command --------------------------------------------------------------------------------------------------- */

void app_paper(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_request asked = *request;
    bool is_sheet = strcmp(request->paper, "sheet") == 0;
    if (!is_sheet && strcmp(request->paper, "quote") != 0) {
        say(reply, APP_USAGE, "paper.none-called", request->paper, "sheet, quote");
    } else if (!request->out) {
        say(reply, APP_USAGE, "paper.no-out", "", "");
    } else if (!ends_with(request->out, ".pdf") && !ends_with(request->out, ".html")) {
        say(reply, APP_USAGE, "paper.ending", request->out, "");
    } else {
        asked.job = request->catalogue ? NULL : request->bike;
        (is_sheet ? app_work : app_quote)(reply, world, &asked);
    }
}
