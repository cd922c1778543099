/* SPDX-License-Identifier: Apache-2.0 */
#include "app/print.h"

#include "app/asking.h"
#include "app/figure.h"
#include "app/progress.h"
#include "app/record.h"
#include "app/report.h"
#include "base/date.h"
#include "paper/html.h"
#include "paper/pdf.h"

#include <string.h>

#define SHEET_PAGES 2     /* a leaf, both sides */
#define READ_STANDING 9.0 /* points at the least of what is read at arm's length */
#define READ_SEATED 7.0   /* of what is read at a table, and must keep to its pages */
#define QUOTE_PAGES 2
#define BOX "[                    ]" /* to be written in */
#define REPORT_SIZE 10.0             /* points of its running text */
#define HANDOVER_PAGES 1             /* else a leaf more, set larger */

/* --- what every paper has ------------------------------------------------------------------------------------------ */

static const char *keep_buffer(struct paper *paper, struct base_buffer *text) {
    const char *kept = paper_keep(paper, text->at);
    paper->status = text->status != BASE_OK ? text->status : paper->status;
    base_buffer_clear(text);
    return kept;
}

const char *app_job_name(struct base_arena *arena, const char *folder) {
    if (!folder) {
        return "";
    }
    size_t n = strlen(folder);
    while (n > 1 && folder[n - 1] == '/') {
        n--;
    }
    size_t from = n;
    while (from > 0 && folder[from - 1] != '/') {
        from--;
    }
    char *name = base_arena_copy(arena, folder + from, n - from);
    return name ? name : "";
}

static void add_foot(struct paper *paper, const char *label, const char *text) {
    paper->foot[paper->n_foot++] = (struct paper_foot){explain_message(label), text};
}

const char *app_author(const struct app_loaded *loaded) {
    const char *shop = loaded->shop.name; /* NULL without a catalogue */
    return shop && shop[0] != '\0' ? shop : "Chainwright";
}

/* Title, author, day and title block. */
static void put_head(struct paper *paper, const struct app_loaded *loaded, const struct app_paper_head *head) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, head->code, explain_words(head->bike[0] != '\0' ? head->bike : head->job));
    paper->title = keep_buffer(paper, &text);
    paper->author = paper_keep(paper, app_author(loaded));
    paper->day = head->day;
    paper->sheet_label = explain_message("paper.label-sheet");
    paper->sheet_of = explain_message("paper.of");
    base_date_write(&text, head->day);
    add_foot(paper, "paper.label-job", paper_keep(paper, head->job));
    add_foot(paper, "paper.label-bike", paper_keep(paper, head->bike));
    add_foot(paper, "paper.label-way", paper_keep(paper, head->way));
    add_foot(paper, "paper.label-date", keep_buffer(paper, &text));
    add_foot(paper, "paper.label-parts", loaded->catalogue.revision);
}

/* What of a job's terms its documents know, and boxes for what they do not; its number where a code for a phone will stand. */
static void put_band(struct paper *paper, const struct app_loaded *loaded, const struct app_paper_head *head) {
    const char *amount = head->call_first, *job = head->job;
    struct base_buffer call;
    base_buffer_init(&call, 0);
    if (amount) {
        base_buffer_text(&call, loaded->shop.currency);
        base_buffer_char(&call, ' ');
    }
    base_buffer_text(&call, amount ? amount : BOX);
    paper_add_band(paper, job, explain_message("paper.number"));
    paper_add_fact(paper, explain_message("paper.job-name"), job);
    paper_add_fact(paper, explain_message("paper.job-phone"), BOX);
    paper_add_fact(paper, explain_message("paper.job-promised"), BOX);
    paper_add_fact(paper, explain_message("paper.job-call"), keep_buffer(paper, &call));
}

/* The shop's name and address on one line; nothing where nobody said. */
static void put_shop(struct paper *paper, const struct trade_shop *shop) {
    struct base_buffer text;
    if (shop->name[0] == '\0') {
        return;
    }
    base_buffer_init(&text, 0);
    base_buffer_text(&text, shop->name);
    base_buffer_text(&text, shop->address[0] != '\0' ? ", " : "");
    base_buffer_text(&text, shop->address);
    paper_add_cell(paper, PAPER_BODY, PAPER_COLUMNS, keep_buffer(paper, &text));
    paper_end_row(paper);
}

void app_print_begin(struct app_printing *out, const struct app_loaded *loaded, const struct app_paper_head *head) {
    base_arena_init(&out->arena, 0);
    paper_init(&out->paper, &out->arena);
    out->style = (struct app_style){.paper = &out->paper};
    put_head(&out->paper, loaded, head);
    if (head->job[0] != '\0' && !head->of_several) {
        put_band(&out->paper, loaded, head);
    }
    if (head->for_customer) {
        put_shop(&out->paper, &loaded->shop);
    }
}

/* The head of a paper of this bike. */
static struct app_paper_head head_of(struct base_arena *arena, const struct app_loaded *loaded, const char *code,
                                     const char *way, int32_t day) {
    return (struct app_paper_head){.code = code,
                                   .bike = loaded->bike.label,
                                   .job = app_job_name(arena, loaded->request->job),
                                   .way = way,
                                   .day = day,
                                   .call_first = loaded->request->call_first};
}

/* A figure of a way, in the paper's arena; empty where it waits for something that is open, or the way is none of the plan's.
 * ride: NULL for none. */
static struct base_slice draw_for(struct paper *paper, const struct app_loaded *loaded, const char *name,
                                  const struct plan *plan, const struct plan_way *way, const char *letter,
                                  const struct app_ride *ride) {
    struct base_buffer drawn;
    struct app_figure figure = {.arena = paper->arena,
                                .bike = &loaded->bike,
                                .wish = &loaded->wish,
                                .plan = plan,
                                .way = way,
                                .letter = letter[0],
                                .shown = &way->build,
                                .ride = ride,
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

/* --- writing ------------------------------------------------------------------------------------------------------- */

static void tell_written(struct app_reply *reply, const struct app_loaded *loaded, enum base_status status) {
    const char *path = loaded->request->out;
    if (status == BASE_SYSTEM) {
        app_say(reply, APP_FAILED, "paper.not-written", path, "");
    } else if (!app_load_failed(reply, loaded, status)) {
        base_buffer_text(&reply->out, path);
        base_buffer_char(&reply->out, '\n');
    }
}

void app_print_bytes(struct app_reply *reply, const struct app_loaded *loaded, struct base_slice bytes) {
    tell_written(reply, loaded, loaded->world->write(loaded->world->self, loaded->request->out, bytes));
}

void app_print_end(struct app_reply *reply, const struct app_loaded *loaded, struct app_printing *printing) {
    const struct app_request *request = loaded->request;
    const struct paper *paper = &printing->paper;
    struct base_buffer bytes;
    enum base_status status = paper->status;
    base_buffer_init(&bytes, 0);
    if (status == BASE_OK && app_ends_with(request->out, ".html")) {
        paper_html(&bytes, paper);
    } else if (status == BASE_OK) {
        bool letter = request->size && strcmp(request->size, "letter") == 0;
        status = paper_pdf(&bytes, paper, letter ? PAPER_LETTER : PAPER_A4);
    }
    status = status == BASE_OK ? bytes.status : status;
    if (status == BASE_OK) {
        app_print_bytes(reply, loaded, app_bytes_of(&bytes));
    } else {
        tell_written(reply, loaded, status);
    }
    base_buffer_clear(&bytes);
    base_arena_clear(&printing->arena);
}

/* --- the papers ---------------------------------------------------------------------------------------------------- */

void app_print_work(struct app_reply *reply, const struct app_loaded *loaded, struct app_work *work) {
    struct app_printing printing;
    struct base_arena names;
    int32_t day;
    base_arena_init(&names, 0);
    if (!app_load_failed(reply, loaded, app_day_of(&day, loaded))) {
        const struct app_paper_head head = head_of(&names, loaded, "paper.sheet", work->letter, day);
        app_print_begin(&printing, loaded, &head);
        work->figure = draw_for(&printing.paper, loaded, "above", work->plan, work->way, work->letter, NULL);
        work->of_job = head.job[0] != '\0';
        printing.paper.pages_max = SHEET_PAGES;
        printing.paper.smallest = READ_STANDING;
        app_text_work(&reply->out, &printing.style, work);
        work->figure = (struct base_slice){0};
        app_print_end(reply, loaded, &printing);
    }
    base_arena_clear(&names);
}

/* 'A B C': the ways of a quote, in the arena. */
static const char *letters_of(struct base_arena *arena, const struct app_quote *quote) {
    char letters[2 * APP_QUOTE_WAYS + 1] = "";
    for (size_t i = 0; i < quote->n_ways; i++) {
        strcat(letters, i > 0 ? " " : "");
        strcat(letters, quote->choices[i].letter);
    }
    const char *kept = base_arena_copy(arena, letters, strlen(letters));
    return kept ? kept : "";
}

void app_print_quote(struct app_reply *reply, const struct app_loaded *loaded, struct app_quote *quote) {
    struct app_printing printing;
    struct base_arena names;
    base_arena_init(&names, 0);
    struct app_paper_head head = head_of(&names, loaded, "paper.quote", letters_of(&names, quote), quote->day);
    head.for_customer = true;
    app_print_begin(&printing, loaded, &head);
    printing.paper.pages_max = QUOTE_PAGES;
    printing.paper.smallest = READ_SEATED;
    for (size_t i = 0; i < 2 && i < quote->n_ways; i++) {
        const struct app_quote_choice *choice = &quote->choices[i == 0 ? 0 : quote->n_ways - 1];
        quote->figures[i] =
            draw_for(&printing.paper, loaded, "hills", quote->shown->plan, choice->way, choice->letter, NULL);
    }
    app_text_quote(&reply->out, &printing.style, quote);
    quote->figures[0] = quote->figures[1] = (struct base_slice){0};
    app_print_end(reply, loaded, &printing);
    base_arena_clear(&names);
}

/* The figures of a report, those first that stand side by side. */
static void draw_report(struct app_report *report, struct paper *paper, const struct app_loaded *loaded) {
    static const char *const names[APP_REPORT_FIGURES] = {"changes", "above", "hills", "steps", "side", "route"};
    for (size_t i = 0; i < APP_REPORT_FIGURES; i++) {
        bool needs_ride = strcmp(names[i], "route") == 0;
        if (!needs_ride || report->ride) {
            report->figures[report->n_figures++] =
                draw_for(paper, loaded, names[i], report->shown->plan, report->way, report->letter, report->ride);
        }
    }
}

/* The ride and the bench sheet that a report leans on. */
static enum base_status work_out(struct app_report *report, const struct app_loaded *loaded, struct base_arena *arena) {
    const struct plan *plan = report->shown->plan;
    struct app_work *work = base_arena_alloc(arena, 1, sizeof *work);
    struct app_ride *ride = base_arena_alloc(arena, 1, sizeof *ride);
    enum base_status status = work && ride ? app_work_of(work, plan, report->way, report->letter) : BASE_NO_MEMORY;
    report->work = work;
    if (status == BASE_OK && (loaded->way.route || loaded->way.climbs)) {
        status = app_ride_of(ride, arena, &loaded->bike, &loaded->way, &loaded->road, plan);
        report->ride = ride;
    }
    return status;
}

void app_print_report(struct app_reply *reply, const struct app_loaded *loaded, const struct app_plan_shown *shown,
                      const struct plan_way *way, const char *letter, struct base_arena *arena) {
    struct app_report report = {.shown = shown, .way = way, .letter = letter};
    struct app_printing printing;
    int32_t day;
    enum base_status status = work_out(&report, loaded, arena);
    status = status == BASE_OK ? app_day_of(&day, loaded) : status;
    if (!app_load_failed(reply, loaded, status)) {
        const struct app_paper_head head = head_of(arena, loaded, "paper.report", letter, day);
        app_print_begin(&printing, loaded, &head);
        printing.paper.largest = REPORT_SIZE;
        printing.paper.fills = true;
        draw_report(&report, &printing.paper, loaded);
        app_text_report(&reply->out, &printing.style, &report, arena);
        app_print_end(reply, loaded, &printing);
    }
}

void app_print_handover(struct app_reply *reply, struct app_job *job) {
    const struct app_loaded *loaded = &job->loaded;
    const char *letter = job->way->letter;
    struct app_printing printing;
    struct plan *plan;
    const struct plan_way *way;
    int32_t day;
    enum base_status status = app_job_plan(&plan, &way, job);
    status = status == BASE_OK ? app_day_of(&day, loaded) : status;
    if (!app_load_failed(reply, loaded, status)) {
        struct app_paper_head head = head_of(&job->arena, loaded, "paper.handover", letter, day);
        head.for_customer = true;
        app_print_begin(&printing, loaded, &head);
        printing.paper.pages_max = HANDOVER_PAGES;
        printing.paper.smallest = READ_STANDING;
        const struct base_slice figures[] = {draw_for(&printing.paper, loaded, "changes", plan, way, letter, NULL),
                                             draw_for(&printing.paper, loaded, "hills", plan, way, letter, NULL)};
        app_text_handover(&reply->out, &printing.style, job, figures, sizeof figures / sizeof figures[0]);
        app_print_end(reply, loaded, &printing);
    }
    plan_free(plan);
}

/* --- the command --------------------------------------------------------------------------------------------------- */

typedef void answer_on_paper(struct app_reply *reply, const struct app_world *world, const struct app_request *request);

/* Of jobs, each a folder; else of a way of a bike's plan. */
static void answer_buys(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct base_buffer names;
    struct app_request asked = *request;
    base_buffer_init(&names, 0);
    bool is_bike = request->catalogue && world->list(world->self, &names, request->bike) != BASE_OK;
    base_buffer_clear(&names);
    asked.csv = app_ends_with(request->out, ".csv");
    asked.job = is_bike ? NULL : request->bike;
    (is_bike ? app_buy_way : app_buy_list)(reply, world, &asked);
}

static void answer_handover(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_request asked = *request;
    asked.job = request->bike;
    app_handover(reply, world, &asked);
}

/* A paper is the answer of a command, printed. */
static const struct paper_row {
    const char *name;
    answer_on_paper *answer;
    bool is_table; /* it may be written as CSV, too */
    bool of_job;   /* and of nothing else */
} papers[] = {{"sheet", app_work, false, false},
              {"quote", app_quote, false, false},
              {"buy-list", answer_buys, true, false},
              {"handover", answer_handover, false, true},
              {"report", app_report, false, false}};
#define PAPERS (sizeof papers / sizeof papers[0])

static const struct paper_row *find_paper(const char *name) {
    for (size_t i = 0; i < PAPERS; i++) {
        if (strcmp(papers[i].name, name) == 0) {
            return &papers[i];
        }
    }
    return NULL;
}

static void say_no_such_paper(struct app_reply *reply, const char *name) {
    const char *names[PAPERS + 1] = {[PAPERS] = "all"};
    for (size_t i = 0; i < PAPERS; i++) {
        names[i] = papers[i].name;
    }
    app_say_none_called(reply, "paper.none-called", name, names, PAPERS + 1);
}

/* Does the request name a paper that there is, for bikes or jobs that it can be of, and a file that it can be written to? */
static bool asks_well(struct app_reply *reply, const struct app_request *request) {
    const struct paper_row *row = find_paper(request->paper);
    if (!row) {
        say_no_such_paper(reply, request->paper);
        return false;
    }
    if (!request->out) {
        app_say(reply, APP_USAGE, "paper.no-out", "", "");
    } else if (!app_ends_with(request->out, ".pdf") && !app_ends_with(request->out, ".html") &&
               !(row->is_table && app_ends_with(request->out, ".csv"))) {
        app_say(reply, APP_USAGE, row->is_table ? "paper.ending-csv" : "paper.ending", request->out, "");
    } else if (request->n_words > 0 && !row->is_table) {
        app_say(reply, APP_USAGE, "paper.one-job", request->words[0], row->name);
    }
    return reply->status == APP_DONE;
}

/* One of all papers; what it waits for is said in its place. */
static void print_one(struct app_reply *reply, const struct app_world *world, struct app_request *asked,
                      const struct paper_row *row) {
    struct app_reply one;
    app_reply_init(&one);
    asked->paper = row->name;
    row->answer(&one, world, asked);
    if (one.status == APP_NO) {
        explain_tell(&reply->out, "paper.left-out", explain_words(row->name));
        base_buffer_char(&reply->out, '\n');
    } else {
        base_buffer_text(&reply->out, one.out.at ? one.out.at : "");
        base_buffer_text(&reply->err, one.err.at ? one.err.at : "");
        reply->status = one.status;
    }
    app_reply_clear(&one);
}

/* Each that there can be, into FOLDER/NAME.pdf. */
static void print_all(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_request asked = *request;
    struct base_buffer path;
    asked.job = request->catalogue ? NULL : request->bike;
    for (size_t i = 0; i < PAPERS && reply->status == APP_DONE; i++) {
        if (papers[i].of_job && request->catalogue) {
            continue;
        }
        app_tell_progress(world, "progress.one", i + 1, PAPERS, papers[i].name);
        base_buffer_init(&path, 0);
        base_buffer_text(&path, request->out);
        base_buffer_char(&path, '/');
        base_buffer_text(&path, papers[i].name);
        base_buffer_text(&path, ".pdf");
        asked.out = explain_held(&reply->out, &path);
        print_one(reply, world, &asked, &papers[i]);
        base_buffer_clear(&path);
    }
    app_end_progress(world);
}

void app_paper(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_request asked = *request;
    if (strcmp(request->paper, "all") == 0) {
        if (!request->out) {
            app_say(reply, APP_USAGE, "paper.no-folder", "", "");
        } else if (request->n_words > 0) {
            app_say(reply, APP_USAGE, "paper.one-job", request->words[0], "all");
        } else {
            print_all(reply, world, request);
        }
    } else if (asks_well(reply, request)) {
        asked.job = request->catalogue ? NULL : request->bike;
        find_paper(request->paper)->answer(reply, world, &asked);
    }
}
