/* SPDX-License-Identifier: Apache-2.0 */
/* The purchase list of one job or several: from the builds of the jobs and the list of today to page, document and CSV. */
#include "app/job.h"
#include "app/json_parts.h"
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

/* Small parts that no list prices, and how many jobs need each. */
struct buy_list {
    struct work_buys buys;
    unsigned small[TRADE_SMALL_PARTS];
    const char *labels[WORK_JOBS_MAX];
    size_t n_jobs;
    const struct trade_shop *shop;
};

/* --- collecting ---------------------------------------------------------------------------------------------------- */

/* A part of the job that the list of today no longer has. */
static enum base_status tell_gone(struct app_loaded *today, const struct app_job *job, const char *id) {
    return app_load_tell(today, job->folder, id, "parts that are in the list of today: swap it, or quote again");
}

static enum base_status add_job(struct buy_list *list, const struct app_job *job, struct app_loaded *today,
                                struct base_arena *arena) {
    unsigned number = (unsigned)list->n_jobs++;
    enum base_status status = BASE_OK;
    list->labels[number] = base_arena_copy(arena, job->folder, base_slice_of(job->folder).n);
    for (unsigned s = 0; s < TRADE_SLOTS && status == BASE_OK; s++) {
        const struct fit_choice *choice = &job->build.at[s];
        if (choice->kind == FIT_NEW) {
            const struct trade_part *part = trade_catalogue_find(&today->catalogue, choice->part->id);
            status = part ? work_buy_add(&list->buys, part, number) : tell_gone(today, job, choice->part->id);
        }
    }
    uint32_t small = fit_small_parts(&job->loaded.bike, &job->build);
    for (unsigned i = 0; i < TRADE_SMALL_PARTS; i++) {
        list->small[i] += small >> i & 1;
    }
    return list->labels[number] ? status : BASE_NO_MEMORY;
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

static void put_buy(struct app_page *page, const struct buy_list *list, const struct work_buy *buy) {
    struct base_buffer text, when, amount;
    base_buffer_init(&text, 0);
    base_buffer_init(&when, 0);
    base_buffer_init(&amount, 0);
    explain_part(&text, buy->part);
    base_buffer_text(&text, " (");
    base_buffer_text(&text, buy->part->id);
    base_buffer_text(&text, ")");
    base_buffer_text(&text, ". ");
    put_when(&text, buy);
    struct explain_arg pieces = explain_count(buy->pieces);
    explain_put_arg(&when, &pieces);
    app_lay_right(page, PIECES_END, app_held(page, &when));
    explain_put_amount(&amount, buy->part->listed_minor * buy->pieces, list->shop);
    app_lay_to(page, WHAT);
    app_lay_wrapped(page, WHAT, APP_PART_LAST, app_held(page, &text), app_held(page, &amount));
    base_buffer_clear(&text);
    base_buffer_clear(&when);
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
        struct explain_arg pieces = explain_count((int64_t)list->small[i]);
        struct base_buffer count;
        base_buffer_init(&count, 0);
        explain_put_arg(&count, &pieces);
        app_lay_right(page, PIECES_END, app_held(page, &count));
        app_lay_to(page, WHAT);
        app_lay_wrapped(page, WHAT, APP_LAST_COLUMN, app_held(page, &text), NULL);
        base_buffer_clear(&count);
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

static void put_list(struct app_reply *reply, const struct app_request *request, struct buy_list *list) {
    work_buy_settle(&list->buys);
    if (request->json) {
        put_document(&reply->out, list);
    } else if (request->csv) {
        put_csv(&reply->out, list);
    } else {
        put_page(&reply->out, &request->style, list);
    }
}

void app_buy_list(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_loaded today;
    struct base_arena arena;
    app_load_init(&today, world, request);
    base_arena_init(&arena, 0);
    struct buy_list list = {.buys = {.arena = &arena}, .shop = &today.shop};
    enum base_status status = app_load_catalogue(&today, request->catalogue);
    bool read = !app_load_failed(reply, &today, status) && read_job(reply, &list, request->job, &today, &arena);
    for (size_t i = 0; i < request->n_words && i + 1 < WORK_JOBS_MAX && read; i++) {
        read = read_job(reply, &list, request->words[i], &today, &arena);
    }
    if (read) {
        put_list(reply, request, &list);
    }
    base_arena_clear(&arena);
    app_load_clear(&today);
}
