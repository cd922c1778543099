/* SPDX-License-Identifier: Apache-2.0 */
/* The purchase list of one job or several: from the builds of the jobs and the list of today to page, document and CSV. */
#include "app/asking.h"
#include "app/job.h"
#include "app/json_parts.h"
#include "app/print.h"
#include "app/text_shared.h"

#include "base/number.h"
#include "explain/bike.h"
#include "explain/way.h"
#include "fit/small_parts.h"
#include "work/buy.h"

#include <math.h>
#include <stdlib.h>

#define PIECES_END 8
#define WHAT 11
#define TICK_PIECES_END 10 /* on paper, behind a box to tick, */
#define TICK_WHAT 13
#define DAY_BOX "[              ]"

/* Small parts that no list prices, and how many jobs need each. */
struct buy_list {
    struct work_buys buys;
    unsigned small[TRADE_SMALL_PARTS];
    const char *labels[WORK_JOBS_MAX]; /* their folders */
    const char *bike, *call_first;     /* of the last job; the latter NULL where nothing was agreed */
    size_t n_jobs;
    const struct trade_shop *shop;
};

/* --- collecting ---------------------------------------------------------------------------------------------------- */

/* A part of the job that the list of today no longer has. */
static enum base_status tell_gone(struct app_loaded *today, const struct app_job *job, const char *id) {
    return app_load_tell(today, job->folder, id, "parts that are in the list of today: swap it, or quote again");
}

/* The small parts of a build, and that one job more is on the list. */
static void add_small(struct buy_list *list, const struct trade_bike *bike, const struct fit_build *build) {
    uint32_t small = fit_small_parts(bike, build);
    for (unsigned i = 0; i < TRADE_SMALL_PARTS; i++) {
        list->small[i] += small >> i & 1;
    }
    list->n_jobs++;
}

static enum base_status add_job(struct buy_list *list, const struct app_job *job, struct app_loaded *today,
                                struct base_arena *arena) {
    unsigned number = (unsigned)list->n_jobs;
    enum base_status status = BASE_OK;
    const char *bike = job->loaded.bike.label;
    list->labels[number] = base_arena_copy(arena, job->folder, base_slice_of(job->folder).n);
    list->bike = base_arena_copy(arena, bike, base_slice_of(bike).n);
    const char *call_first = job->request.call_first;
    list->call_first = call_first ? base_arena_copy(arena, call_first, base_slice_of(call_first).n) : NULL;
    for (unsigned s = 0; s < TRADE_SLOTS && status == BASE_OK; s++) {
        const struct fit_choice *choice = &job->build.at[s];
        if (choice->kind == FIT_NEW) {
            const struct trade_part *part = trade_catalogue_find(&today->catalogue, choice->part->id);
            status = part ? work_buy_add(&list->buys, part, number) : tell_gone(today, job, choice->part->id);
        }
    }
    add_small(list, &job->loaded.bike, &job->build);
    return list->labels[number] && list->bike ? status : BASE_NO_MEMORY;
}

/* Reads a job and adds it; false, and told, when it can't be. */
static bool read_job(struct app_reply *reply, struct buy_list *list, const char *folder, struct app_loaded *today,
                     struct base_arena *arena) {
    struct app_job *job = malloc(sizeof *job);
    if (!job) {
        return !app_load_failed(reply, today, BASE_NO_MEMORY);
    }
    enum base_status status = app_job_load(job, today->world, today->request, folder);
    for (size_t i = 0; i < list->n_jobs && status == BASE_OK; i++) {
        if (base_slice_is(base_slice_of(folder), list->labels[i])) {
            status = app_load_tell(&job->loaded, folder, "the same job twice", "each job once");
        }
    }
    bool failed = app_load_failed(reply, &job->loaded, status);
    if (!failed && !job->way) {
        status =
            app_load_tell(today, folder, "no way that is agreed", "a job whose way is agreed: `record JOB agreed`");
    } else if (!failed) {
        status = add_job(list, job, today, arena);
    }
    failed = failed || app_load_failed(reply, today, status);
    app_job_clear(job);
    free(job);
    return !failed;
}

/* 'J 4711, J 4712': those of a bit set of the jobs, in the arena; "" for a bike that is no job. */
static const char *names_of(const struct buy_list *list, uint64_t jobs) {
    struct base_arena *arena = list->buys.arena;
    struct base_buffer names;
    base_buffer_init(&names, 0);
    for (size_t i = 0; i < list->n_jobs && list->labels[i]; i++) {
        if (jobs >> i & 1) {
            base_buffer_text(&names, names.n > 0 ? ", " : "");
            base_buffer_text(&names, app_job_name(arena, list->labels[i]));
        }
    }
    const char *kept = base_arena_copy(arena, names.at ? names.at : "", names.n);
    base_buffer_clear(&names);
    return kept ? kept : "";
}

/* --- as a page ----------------------------------------------------------------------------------------------------- */

/* Days until what must be ordered is here; -1: the list does not say. Of a part that is in stock it says 0, which is no time
 * for more of it. */
static int32_t days_of(const struct work_buy *buy) {
    return buy->part->stock > 0 && buy->part->days == 0 ? -1 : buy->part->days;
}

static void put_when(struct base_buffer *out, const struct work_buy *buy) {
    int32_t order = work_to_order(buy);
    if (order == 0) {
        explain_say(out, "buy.here");
    } else if (days_of(buy) < 0) {
        explain_tell(out, "buy.order-no-day", explain_count(order));
    } else {
        explain_tell(out, "buy.order", explain_count(order), explain_count(days_of(buy)));
    }
}

/* Where the text of a row begins. */
static size_t what_column(const struct app_page *page) { return page->style.paper ? TICK_WHAT : WHAT; }

/* The pieces of a row; on paper behind a box to tick when they are here. */
static void put_pieces(struct app_page *page, int64_t pieces) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_buffer_int(&text, pieces);
    if (page->style.paper) {
        app_lay_at(page, APP_BODY, "[ ]");
    }
    app_lay_right(page, page->style.paper ? TICK_PIECES_END : PIECES_END, app_held(page, &text));
    app_lay_to(page, what_column(page));
    base_buffer_clear(&text);
}

/* On paper: when it was ordered, and when it came. */
static void put_days_to_fill(struct app_page *page, int32_t order) {
    if (page->style.paper && order > 0) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        explain_tell(&text, "buy.days", explain_words(DAY_BOX));
        app_lay_wrapped(page, TICK_WHAT, APP_LAST_COLUMN, app_held(page, &text), NULL);
        base_buffer_clear(&text);
    }
    app_lay_blank(page, page->style.paper ? 1 : 0);
}

static void put_buy(struct app_page *page, const struct buy_list *list, const struct work_buy *buy) {
    struct base_buffer text, amount;
    base_buffer_init(&text, 0);
    base_buffer_init(&amount, 0);
    explain_part(&text, buy->part);
    base_buffer_text(&text, " (");
    base_buffer_text(&text, buy->part->id);
    base_buffer_text(&text, "). ");
    put_when(&text, buy);
    if (list->n_jobs > 1) {
        base_buffer_char(&text, ' ');
        explain_tell(&text, "buy.for", explain_words(names_of(list, buy->jobs)));
    }
    explain_put_amount(&amount, buy->part->listed_minor * buy->pieces, list->shop);
    put_pieces(page, buy->pieces);
    app_lay_wrapped(page, what_column(page), APP_PART_LAST, app_held(page, &text), app_held(page, &amount));
    put_days_to_fill(page, work_to_order(buy));
    base_buffer_clear(&text);
    base_buffer_clear(&amount);
}

static bool same_supplier(const struct work_buy *a, const struct work_buy *b) {
    return a->part->supplier && b->part->supplier ? base_slice_is(base_slice_of(a->part->supplier), b->part->supplier)
                                                  : a->part->supplier == b->part->supplier;
}

/* From one part on, all of the same supplier; how many. */
static size_t put_supplier(struct app_page *page, const struct buy_list *list, size_t from) {
    const struct work_buys *buys = &list->buys;
    struct base_buffer sum;
    int64_t ordered = 0;
    size_t n = 0;
    for (; from + n < buys->n && same_supplier(&buys->at[from], &buys->at[from + n]); n++) {
        ordered += buys->at[from + n].part->listed_minor * work_to_order(&buys->at[from + n]);
    }
    base_buffer_init(&sum, 0);
    explain_tell(&sum, "buy.to-order", explain_money(ordered, list->shop));
    const char *supplier = buys->at[from].part->supplier;
    app_lay_heading(page, supplier ? supplier : explain_message("buy.no-supplier"), app_held(page, &sum));
    base_buffer_clear(&sum);
    for (size_t i = from; i < from + n; i++) {
        put_buy(page, list, &buys->at[i]);
    }
    return n;
}

static void put_small(struct app_page *page, const struct buy_list *list) {
    bool first = true;
    for (unsigned i = 0; i < TRADE_SMALL_PARTS; i++) {
        struct base_buffer text;
        if (list->small[i] == 0) {
            continue;
        }
        if (first) {
            app_question(page, "buy.small-question");
        }
        first = false;
        base_buffer_init(&text, 0);
        explain_small_parts(&text, UINT32_C(1) << i);
        put_pieces(page, list->small[i]);
        app_lay_wrapped(page, what_column(page), APP_LAST_COLUMN, app_held(page, &text), NULL);
        base_buffer_clear(&text);
    }
}

static void put_page(struct base_buffer *out, const struct app_style *style, const struct buy_list *list) {
    struct app_page page = app_page_on(out, style);
    int64_t ordered = 0;
    int32_t pieces = 0, last = 0;
    for (size_t i = 0; i < list->buys.n; i++) {
        const struct work_buy *buy = &list->buys.at[i];
        int32_t order = work_to_order(buy);
        ordered += buy->part->listed_minor * order;
        pieces += order;
        last = order > 0 && days_of(buy) > last ? days_of(buy) : last;
    }
    app_question(&page, "buy.question");
    app_paragraph(&page, pieces > 0 ? "buy.answer" : "buy.nothing", explain_spelt((int64_t)list->n_jobs),
                  explain_spelt(pieces), explain_money(ordered, list->shop), explain_count(last));
    for (size_t i = 0; i < list->buys.n;) {
        i += put_supplier(&page, list, i);
    }
    put_small(&page, list);
}

/* --- as CSV and as a document -------------------------------------------------------------------------------------- */

/* RFC 4180: in quotes where it holds a comma, a quote or a line end. */
static void put_cell(struct base_buffer *out, const char *text) {
    bool quoted = false;
    for (const char *at = text; *at != '\0'; at++) {
        quoted = quoted || *at == ',' || *at == '"' || *at == '\n' || *at == '\r';
    }
    base_buffer_text(out, quoted ? "\"" : "");
    for (const char *at = text; *at != '\0'; at++) {
        base_buffer_text(out, *at == '"' ? "\"" : "");
        base_buffer_char(out, *at);
    }
    base_buffer_text(out, quoted ? "\"" : "");
}

static void put_whole_cell(struct base_buffer *out, int64_t value) {
    base_buffer_char(out, ',');
    if (value >= 0) {
        base_buffer_int(out, value);
    }
}

static void put_csv(struct base_buffer *out, const struct buy_list *list) {
    base_buffer_text(out, "supplier,id,text,pieces,from_shelf,order,days,price\r\n");
    for (size_t i = 0; i < list->buys.n; i++) {
        const struct work_buy *buy = &list->buys.at[i];
        struct base_buffer text;
        base_buffer_init(&text, 0);
        explain_part(&text, buy->part);
        put_cell(out, buy->part->supplier ? buy->part->supplier : "");
        base_buffer_char(out, ',');
        put_cell(out, buy->part->id);
        base_buffer_char(out, ',');
        put_cell(out, explain_held(out, &text));
        put_whole_cell(out, buy->pieces);
        put_whole_cell(out, buy->from_shelf);
        put_whole_cell(out, work_to_order(buy));
        put_whole_cell(out, days_of(buy));
        base_buffer_char(out, ',');
        base_minor_write(out, buy->part->listed_minor, list->shop->currency_digits);
        base_buffer_text(out, "\r\n");
        base_buffer_clear(&text);
    }
}

static void put_buy_object(struct format_out *out, const struct buy_list *list, const struct work_buy *buy) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_part(&text, buy->part);
    format_out_object(out);
    app_json_key_text(out, "supplier", buy->part->supplier);
    app_json_key_text(out, "id", buy->part->id);
    app_json_key_held(out, "text", &text);
    app_json_key_int(out, "pieces", buy->pieces);
    app_json_key_int(out, "from_shelf", buy->from_shelf);
    app_json_key_int(out, "order", work_to_order(buy));
    app_json_key_number(out, "days", days_of(buy) < 0 ? (double)NAN : days_of(buy));
    app_json_key_int(out, "price", buy->part->listed_minor);
    format_out_key(out, "jobs");
    format_out_array(out);
    for (size_t j = 0; j < list->n_jobs; j++) {
        if (buy->jobs >> j & 1) {
            format_out_text(out, list->labels[j]);
        }
    }
    format_out_array_end(out);
    format_out_object_end(out);
    base_buffer_clear(&text);
}

static void put_document(struct base_buffer *buffer, const struct buy_list *list) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_text(&out, "currency", list->shop->currency);
    format_out_key(&out, "parts");
    format_out_array(&out);
    for (size_t i = 0; i < list->buys.n; i++) {
        put_buy_object(&out, list, &list->buys.at[i]);
    }
    format_out_array_end(&out);
    format_out_key(&out, "small_parts");
    format_out_array(&out);
    for (unsigned i = 0; i < TRADE_SMALL_PARTS; i++) {
        if (list->small[i] > 0) {
            format_out_object(&out);
            app_json_key_text(&out, "id", trade_small_part_rows[i].name);
            app_json_key_int(&out, "pieces", list->small[i]);
            format_out_object_end(&out);
        }
    }
    format_out_array_end(&out);
    format_out_object_end(&out);
    format_out_done(&out);
}

/* --- the command --------------------------------------------------------------------------------------------------- */

static void print_list(struct app_reply *reply, const struct app_loaded *today, const struct buy_list *list,
                       const char *way) {
    struct app_printing printing;
    struct base_buffer table;
    int32_t day;
    if (today->request->csv) {
        base_buffer_init(&table, 0);
        put_csv(&table, list);
        if (!app_load_failed(reply, today, table.status)) {
            app_print_bytes(reply, today, app_bytes_of(&table));
        }
        base_buffer_clear(&table);
    } else if (!app_load_failed(reply, today, app_day_of(&day, today))) {
        const struct app_paper_head head = {.code = "paper.buy-list",
                                            .bike = list->n_jobs == 1 ? list->bike : "",
                                            .job = names_of(list, UINT64_MAX),
                                            .way = way,
                                            .for_customer = true,
                                            .of_several = list->n_jobs > 1,
                                            .call_first = list->call_first,
                                            .day = day};
        app_print_begin(&printing, today, &head);
        put_page(&reply->out, &printing.style, list);
        app_print_end(reply, today, &printing);
    }
}

static void put_list(struct app_reply *reply, const struct app_loaded *today, struct buy_list *list) {
    const struct app_request *request = today->request;
    work_buy_settle(&list->buys);
    if (request->paper) {
        print_list(reply, today, list, "");
    } else if (request->json) {
        put_document(&reply->out, list);
    } else if (request->csv) {
        put_csv(&reply->out, list);
    } else {
        put_page(&reply->out, &request->style, list);
    }
}

void app_print_buys(struct app_reply *reply, const struct app_loaded *loaded, const struct plan *plan,
                    const struct plan_way *way, const char *letter) {
    struct base_arena arena;
    enum base_status status = BASE_OK;
    base_arena_init(&arena, 0);
    struct buy_list list = {.buys = {.arena = &arena}, .shop = plan->question.shop, .bike = loaded->bike.label};
    for (unsigned s = 0; s < TRADE_SLOTS && status == BASE_OK; s++) {
        if (way->build.at[s].kind == FIT_NEW) {
            status = work_buy_add(&list.buys, way->build.at[s].part, 0);
        }
    }
    add_small(&list, &loaded->bike, &way->build);
    if (!app_load_failed(reply, loaded, status)) {
        work_buy_settle(&list.buys);
        print_list(reply, loaded, &list, letter);
    }
    base_arena_clear(&arena);
}

/* The list of today; without one that of the only job. NULL where memory is spent. */
static const char *folder_of_today(const struct app_request *request, struct base_arena *arena) {
    struct base_buffer path;
    if (request->catalogue) {
        return request->catalogue;
    }
    base_buffer_init(&path, 0);
    base_buffer_text(&path, request->job);
    base_buffer_text(&path, "/shop");
    const char *kept = path.status == BASE_OK ? base_arena_copy(arena, path.at, path.n) : NULL;
    base_buffer_clear(&path);
    return kept;
}

void app_buy_list(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_loaded today;
    struct base_arena arena;
    app_load_init(&today, world, request);
    base_arena_init(&arena, 0);
    struct buy_list list = {.buys = {.arena = &arena}, .shop = &today.shop};
    const char *folder = folder_of_today(request, &arena);
    enum base_status status = folder ? app_load_catalogue(&today, folder) : BASE_NO_MEMORY;
    bool read = !app_load_failed(reply, &today, status) && read_job(reply, &list, request->job, &today, &arena);
    for (size_t i = 0; i < request->n_words && i + 1 < WORK_JOBS_MAX && read; i++) {
        read = read_job(reply, &list, request->words[i], &today, &arena);
    }
    if (read) {
        put_list(reply, &today, &list);
    }
    base_arena_clear(&arena);
    app_load_clear(&today);
}
