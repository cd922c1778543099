/* SPDX-License-Identifier: Apache-2.0 */
#include "app/commands.h"

#include "app/asking.h"
#include "app/climb.h"
#include "app/deadline.h"
#include "app/json.h"
#include "app/load.h"
#include "app/print.h"
#include "app/quote.h"
#include "app/record.h"
#include "app/ride.h"
#include "app/wear.h"
#include "app/why_not.h"
#include "app/work.h"
#include "explain/message.h"
#include "explain/words.h"
#include "format/money_in.h"
#include "format/reader.h"
#include "mech/chain.h"
#include "trade/vocabulary.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void app_reply_init(struct app_reply *out) {
    base_buffer_init(&out->out, 0);
    base_buffer_init(&out->err, 0);
    out->status = APP_DONE;
}

void app_reply_clear(struct app_reply *reply) {
    base_buffer_clear(&reply->out);
    base_buffer_clear(&reply->err);
}

static void out_of_memory(struct app_reply *reply, const struct app_loaded *loaded) {
    (void)app_load_failed(reply, loaded, BASE_NO_MEMORY);
}

/* --- questions about the bike as it stands ------------------------------------------------------------------------- */

typedef void answer_bike(struct app_reply *reply, struct app_loaded *loaded, const struct fit_build *now,
                         struct base_arena *arena);

/* Reads the bike, and the catalogue where one is given; turns the bike down or answers; cleans up. */
static void ask_bike(struct app_reply *reply, const struct app_world *world, const struct app_request *request,
                     answer_bike *answer) {
    struct app_loaded loaded;
    struct base_arena arena;
    struct fit_build now;
    app_load_init(&loaded, world, request);
    base_arena_init(&arena, 0);
    enum base_status status = app_load_begin_case(&loaded);
    if (status == BASE_OK) {
        status = app_load_bike(&loaded);
        if (request->catalogue) {
            status = app_first_of(status, app_load_catalogue(&loaded, request->catalogue));
        }
    }
    if (!app_load_failed(reply, &loaded, status) && !app_turned_down(reply, &loaded)) {
        fit_build_now(&now, &loaded.bike);
        answer(reply, &loaded, &now, &arena);
    }
    app_load_keep_answer(reply, &loaded);
    base_arena_clear(&arena);
    app_load_clear(&loaded);
}

static void answer_gears(struct app_reply *reply, struct app_loaded *loaded, const struct fit_build *now,
                         struct base_arena *arena) {
    struct app_gears gears;
    if (app_gears_of(&gears, arena, &loaded->bike, now) == BASE_NO_MEMORY) {
        out_of_memory(reply, loaded);
    } else if (loaded->request->json) {
        app_json_gears(&reply->out, &gears);
    } else {
        app_text_gears(&reply->out, &loaded->request->style, &loaded->bike, &gears);
    }
}

/* How long each gear is used, where the request says so; NULL else. */
static enum base_status load_weights(const double **out, struct app_loaded *loaded, const struct fit_build *now,
                                     struct base_arena *arena) {
    struct format_use use;
    *out = NULL;
    if (!loaded->request->gear_use) {
        return BASE_OK;
    }
    enum base_status status = app_load_gear_use(loaded, &use);
    if (status == BASE_OK) {
        status = app_line_weights(out, arena, now, &use, loaded->request->gear_use, &loaded->faults);
    }
    return status;
}

/* With the shop's parts where it is given. */
static void answer_line(struct app_reply *reply, struct app_loaded *loaded, const struct fit_build *now,
                        struct base_arena *arena) {
    const struct trade_shop *shop = loaded->request->catalogue ? &loaded->shop : NULL;
    const double *weights;
    struct app_line *line = base_arena_alloc(arena, 1, sizeof *line);
    enum base_status status = line ? load_weights(&weights, loaded, now, arena) : BASE_NO_MEMORY;
    if (status == BASE_OK) {
        status = app_line_of(line, arena, &loaded->bike, now);
    }
    if (status == BASE_OK) {
        status = app_line_arrange(line, arena, &loaded->bike, shop ? &loaded->catalogue : NULL, shop, weights);
    }
    if (app_load_failed(reply, loaded, status)) {
        return;
    }
    if (loaded->request->json) {
        app_json_line(&reply->out, line);
    } else {
        app_text_line(&reply->out, &loaded->request->style, &loaded->bike, line, shop);
    }
}

static void set_status(struct app_reply *reply, enum fit_kind verdict) {
    if (verdict == FIT_CLASH) {
        reply->status = APP_NO;
    }
}

static void answer_chain(struct app_reply *reply, struct app_loaded *loaded, const struct fit_build *now,
                         struct base_arena *arena) {
    struct app_chain *chain = base_arena_alloc(arena, 1, sizeof *chain);
    struct fit_cases *cases = base_arena_alloc(arena, 1, sizeof *cases);
    if (!chain || !cases) {
        out_of_memory(reply, loaded);
        return;
    }
    fit_cases_of(cases, &loaded->bike);
    app_chain_of(chain, &loaded->bike, now, cases, true);
    if (app_cages_of(chain, arena, &loaded->bike, now) != BASE_OK) {
        out_of_memory(reply, loaded);
        return;
    }
    set_status(reply, chain->verdict);
    if (loaded->request->json) {
        app_json_chain(&reply->out, chain);
    } else {
        app_text_chain(&reply->out, &loaded->request->style, &loaded->bike, chain);
    }
}

static void answer_shift(struct app_reply *reply, struct app_loaded *loaded, const struct fit_build *now,
                         struct base_arena *arena) {
    struct app_shift *shift = base_arena_alloc(arena, 1, sizeof *shift);
    struct fit_cases *cases = base_arena_alloc(arena, 1, sizeof *cases);
    if (!shift || !cases) {
        out_of_memory(reply, loaded);
        return;
    }
    fit_cases_of(cases, &loaded->bike);
    app_shift_of(shift, &loaded->bike, now, cases, true);
    set_status(reply, shift->verdict);
    if (loaded->request->json) {
        app_json_shift(&reply->out, shift);
    } else {
        app_text_shift(&reply->out, &loaded->request->style, &loaded->bike, shift);
    }
}

static void answer_fit(struct app_reply *reply, struct app_loaded *loaded, const struct fit_build *now,
                       struct base_arena *arena) {
    struct fit_finding *findings = base_arena_alloc(arena, fit_rules_n, sizeof *findings);
    struct fit_cases *cases = base_arena_alloc(arena, 1, sizeof *cases);
    size_t n = 0;
    if (!findings || !cases) {
        out_of_memory(reply, loaded);
        return;
    }
    fit_cases_of(cases, &loaded->bike);
    fit_judge_build(findings, &n, &loaded->bike, now, cases, true);
    for (size_t i = 0; i < n; i++) {
        set_status(reply, findings[i].conditional ? FIT_ASK : (enum fit_kind)findings[i].verdict.kind);
    }
    reply->status = app_goes(&loaded->bike) != 0 ? APP_NO : reply->status;
    if (loaded->request->json) {
        app_json_fit(&reply->out, &loaded->bike, findings, n);
    } else {
        app_text_fit(&reply->out, &loaded->request->style, &loaded->bike, findings, n);
    }
}

/* One hill, or each of those that were stated. */
static enum base_status climb_all(struct app_climb *out, struct app_loaded *loaded, const struct fit_build *now,
                                  struct base_arena *arena, const struct ride_cell *climbs, size_t n) {
    const struct app_request *request = loaded->request;
    enum base_status status = BASE_OK;
    for (size_t i = 0; i < n && status == BASE_OK; i++) {
        double percent = climbs ? 100.0 * climbs[i].gradient : request->gradient_percent;
        status = app_climb_of(&out[i], arena, &loaded->bike, now, percent, request->cadence_rpm);
        out[i].length_m = climbs ? climbs[i].length_m : (double)NAN;
    }
    return status;
}

/* What goes down is no climb: told, as a fault of the list. */
static enum base_status check_climbs(struct app_loaded *loaded) {
    const struct app_way *way = &loaded->way;
    struct base_buffer found;
    size_t i = 0;
    while (i < way->n_climbs && way->climbs[i].gradient >= 0.0) {
        i++;
    }
    if (i == way->n_climbs) {
        return BASE_OK;
    }
    base_buffer_init(&found, 0);
    explain_tell(&found, "climb.goes-down", explain_gradient(100.0 * way->climbs[i].gradient));
    base_faults_add(&loaded->faults, &(struct base_fault){.file = "--climb",
                                                          .found = found.at ? found.at : "",
                                                          .allowed = explain_message("climb.goes-up")});
    base_buffer_clear(&found);
    return BASE_BAD_INPUT;
}

static void answer_climb(struct app_reply *reply, struct app_loaded *loaded, const struct fit_build *now,
                         struct base_arena *arena) {
    enum base_status status = app_load_way(loaded);
    status = status == BASE_OK ? check_climbs(loaded) : status;
    const struct ride_cell *stated = loaded->way.climbs;
    size_t n = stated ? loaded->way.n_climbs : 1;
    struct app_climb *climbs = status == BASE_OK ? base_arena_alloc(arena, n, sizeof *climbs) : NULL;
    status = status == BASE_OK && !climbs ? BASE_NO_MEMORY : status;
    status = status == BASE_OK ? climb_all(climbs, loaded, now, arena, stated, n) : status;
    if (app_load_failed(reply, loaded, status)) {
        return;
    }
    if (loaded->request->json && stated) {
        app_json_climbs(&reply->out, climbs, n);
    } else if (loaded->request->json) {
        app_json_climb(&reply->out, climbs);
    }
    for (size_t i = 0; i < n && !loaded->request->json; i++) {
        base_buffer_text(&reply->out, i > 0 ? "\n\n" : "");
        app_text_climb(&reply->out, &loaded->request->style, &loaded->bike, &climbs[i]);
    }
}

/* A reading of the request, put in place of the bike's; false, and told, where no chain reads so. */
static bool take_reading(struct app_reply *reply, struct trade_part *chain, const struct app_request *request) {
    const struct trade_property_row *row = &trade_property_rows[TRADE_CHAIN_WORN_PERCENT];
    double percent = request->gauge_percent;
    if (!request->has_gauge && !(request->ruler_mm > 0)) {
        return true;
    }
    if (request->ruler_mm > 0) {
        percent = mech_chain_wear_percent(request->ruler_mm, APP_WEAR_PITCHES);
    }
    if (!(percent >= row->low && percent <= row->high)) {
        explain_tell(&reply->err, "worn.no-such-reading",
                     explain_number(mech_chain_worn_mm(row->low, APP_WEAR_PITCHES), 1, "mm"),
                     explain_number(mech_chain_worn_mm(row->high, APP_WEAR_PITCHES), 1, "mm"),
                     explain_number(row->low, 1, "%"), explain_number(row->high, 0, "%"));
        base_buffer_char(&reply->err, '\n');
        reply->status = APP_USAGE;
        return false;
    }
    trade_set(chain, TRADE_CHAIN_WORN_PERCENT, trade_number(percent, BASE_MEASURED));
    return true;
}

static void answer_wear(struct app_reply *reply, struct app_loaded *loaded, const struct fit_build *now,
                        struct base_arena *arena) {
    struct app_wear *wear = base_arena_alloc(arena, 1, sizeof *wear);
    struct fit_cases *cases = base_arena_alloc(arena, 1, sizeof *cases);
    if (!wear || !cases) {
        out_of_memory(reply, loaded);
        return;
    }
    if (!take_reading(reply, &loaded->bike.fitted[TRADE_SLOT_CHAIN].part, loaded->request)) {
        return;
    }
    fit_cases_of(cases, &loaded->bike);
    app_wear_of(wear, &loaded->bike, now, cases, loaded->request->ruler_mm > 0);
    reply->status = wear->chain.mark == EXPLAIN_OFF ? APP_NO : APP_DONE;
    if (loaded->request->json) {
        app_json_wear(&reply->out, wear);
    } else {
        app_text_wear(&reply->out, &loaded->request->style, &loaded->bike, wear);
    }
}

void app_gears(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_bike(reply, world, request, answer_gears);
}
void app_line(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_bike(reply, world, request, answer_line);
}
void app_chain(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_bike(reply, world, request, answer_chain);
}
void app_shift(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_bike(reply, world, request, answer_shift);
}
void app_fit(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_bike(reply, world, request, answer_fit);
}
void app_climb(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_bike(reply, world, request, answer_climb);
}
void app_wear(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_bike(reply, world, request, answer_wear);
}

/* --- the plan ------------------------------------------------------------------------------------------------------ */

static void answer_plan(struct app_reply *reply, struct app_loaded *loaded) {
    struct plan_question question = app_question_of(loaded, &loaded->bike, &loaded->wish, &loaded->road);
    struct app_deadline deadline;
    struct base_arena arena;
    struct plan *plan = NULL;
    base_arena_init(&arena, 0);
    app_deadline_set(&deadline, &question, loaded->world, loaded->request->limit_s);
    struct app_plan_shown *shown = base_arena_alloc(&arena, 1, sizeof *shown);
    enum base_status status = shown ? app_make_plan(shown, &plan, &question, loaded->request->why) : BASE_NO_MEMORY;
    if (!app_load_failed(reply, loaded, status)) {
        shown->shop_label = loaded->request->catalogue;
        shown->road = question.speeds ? &loaded->road : NULL;
        reply->status = plan->n_ways > 0 ? APP_DONE : plan->complete ? APP_NO : APP_FAILED;
        if (loaded->request->json) {
            app_json_plan(&reply->out, shown, loaded->request->ways);
        } else {
            app_text_plan(&reply->out, &loaded->request->style, shown, &arena);
        }
    }
    plan_free(plan);
    base_arena_clear(&arena);
}

typedef void answer_wish(struct app_reply *reply, struct app_loaded *loaded);

static enum base_status tell_taken(struct app_loaded *loaded) {
    return app_load_tell(loaded, loaded->request->job, "a folder with files in it",
                         "a folder that is new or empty, for the job alone");
}

/* A job is made in a folder that is new or empty, from copies of what is read now. */
static enum base_status begin_job(struct app_loaded *loaded, struct app_copies *copies) {
    if (!loaded->request->job) {
        return BASE_OK;
    }
    loaded->copies = copies;
    return app_load_is_taken(loaded, loaded->request->job) ? tell_taken(loaded) : BASE_OK;
}

/* Reads bike, wish and catalogue; turns the bike down or answers; cleans up. */
static void ask_wish(struct app_reply *reply, const struct app_world *world, const struct app_request *request,
                     answer_wish *answer) {
    struct app_loaded loaded;
    struct app_copies copies;
    app_load_init(&loaded, world, request);
    app_copies_init(&copies);
    enum base_status status = app_first_of(app_load_begin_case(&loaded), begin_job(&loaded, &copies));
    if (status == BASE_OK) {
        status = app_load_bike(&loaded);
        status = app_first_of(status, app_load_way(&loaded));
        status = app_first_of(status, app_load_wish(&loaded));
        status = app_first_of(status, app_load_catalogue(&loaded, request->catalogue));
    }
    if (status == BASE_OK) {
        status = app_load_road(&loaded);
    }
    if (status == BASE_OK) {
        status = app_climb_bound(&loaded.wish, &loaded.bike);
    }
    if (!app_load_failed(reply, &loaded, status) && !app_turned_down(reply, &loaded)) {
        answer(reply, &loaded);
    }
    app_load_keep_answer(reply, &loaded);
    app_copies_clear(&copies);
    app_load_clear(&loaded);
}

void app_plan(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_wish(reply, world, request, answer_plan);
}

/* --- a quote ------------------------------------------------------------------------------------------------------- */

/* A day and an amount that the request has, put into the quote. BASE_BAD_INPUT with a fault told. */
static enum base_status take_terms(struct app_quote *quote, struct app_loaded *loaded) {
    const struct trade_shop *shop = &loaded->shop;
    const char *amount = loaded->request->call_first;
    enum base_status status = app_day_of(&quote->day, loaded);
    quote->old_parts = loaded->request->old_parts;
    quote->climb = loaded->request->climb;
    quote->last_day = quote->day + (shop->valid_days > 0 ? shop->valid_days : 0);
    if (status != BASE_OK || !amount) {
        return status;
    }
    struct format_reader reader = format_reader_of("--call-first", &loaded->faults, NULL, NULL);
    struct format_place place = {.source = &reader.source};
    struct format_item item = format_item_cell(base_slice_of(amount));
    return format_read_amount(&quote->call_first_minor, &place, &item, shop) ? BASE_OK : BASE_BAD_INPUT;
}

static void say_no_such_way(struct app_reply *reply, const struct plan *plan, const char *letters) {
    char last[] = {(char)('A' + (char)(plan->n_picks > 0 ? plan->n_picks - 1 : 0)), '\0'};
    base_buffer_text(&reply->err, "chainwright: quote: --way ");
    base_buffer_text(&reply->err, letters);
    base_buffer_text(&reply->err, plan->n_picks > 0 ? "; allowed are up to three letters of the plan's ways, A to "
                                                    : "; the plan has no way");
    base_buffer_text(&reply->err, plan->n_picks > 0 ? last : "");
    base_buffer_text(&reply->err, plan->n_picks > 0 ? ", with commas between them: A,C\n" : "\n");
    reply->status = APP_USAGE;
}

/* All that was read, and the quote behind it: the last file makes a job of the folder. */
static enum base_status write_job(struct app_loaded *loaded, const struct app_quote *quote) {
    struct base_buffer document;
    base_buffer_init(&document, 0);
    app_json_quote(&document, quote);
    enum base_status status = document.status;
    if (status == BASE_OK) {
        status = app_copies_add(loaded->copies, "quote.json", app_bytes_of(&document));
    }
    if (status == BASE_OK) {
        status = app_copies_write(loaded->copies, loaded->world, loaded->request->job, &loaded->trouble);
    }
    base_buffer_clear(&document);
    return status == BASE_NO ? tell_taken(loaded) : status;
}

/* Does the quote come to what was quoted? A discount, or a file that was changed since, shows here. */
static bool is_as_quoted(const struct app_quote *quote, const struct format_quoted *quoted) {
    bool same = true;
    for (size_t i = 0; i < quote->n && i < quoted->n; i++) {
        same = same && quote->choices[i].work.bill.total_minor == quoted->ways[i].total_minor;
    }
    return same && quote->n == quoted->n;
}

/* quoted: what it must come to again; NULL: it is a new one. */
static enum base_status make_quote(struct app_reply *reply, struct app_loaded *loaded, struct plan **plan,
                                   struct base_arena *arena, const struct format_quoted *quoted) {
    const struct app_request *request = loaded->request;
    struct plan_question question = app_question_of(loaded, &loaded->bike, &loaded->wish, &loaded->road);
    struct app_plan_shown *shown = base_arena_alloc(arena, 1, sizeof *shown);
    struct app_quote *quote = base_arena_alloc(arena, 1, sizeof *quote);
    enum base_status status = shown && quote ? app_make_plan(shown, plan, &question, false) : BASE_NO_MEMORY;
    if (status != BASE_OK) {
        return status;
    }
    if (app_quote_of(quote, shown, request->way, request->discount_thousandths) == BASE_BAD_INPUT) {
        say_no_such_way(reply, *plan, request->way);
        return BASE_OK;
    }
    status = take_terms(quote, loaded);
    if (status != BASE_OK) {
        return status;
    }
    if (quoted && !is_as_quoted(quote, quoted)) {
        return app_load_tell(loaded, request->job, explain_message("paper.other-total"),
                             explain_message("paper.same-total"));
    }
    reply->status = quote->n_ways > 0 ? APP_DONE : (*plan)->complete ? APP_NO : APP_FAILED;
    if (request->paper && quote->n_ways > 0) {
        app_print_quote(reply, loaded, quote);
    } else if (request->json) {
        app_json_quote(&reply->out, quote);
    } else {
        app_text_quote(&reply->out, &request->style, quote);
    }
    return reply->status == APP_DONE && loaded->copies ? write_job(loaded, quote) : BASE_OK;
}

static void answer_quote(struct app_reply *reply, struct app_loaded *loaded) {
    struct base_arena arena;
    struct plan *plan = NULL;
    base_arena_init(&arena, 0);
    (void)app_load_failed(reply, loaded, make_quote(reply, loaded, &plan, &arena, NULL));
    plan_free(plan);
    base_arena_clear(&arena);
}

/* The request of a job's quote, as it was given: its ways, its day and its terms. */
static enum base_status ask_as_quoted(struct app_job *job) {
    const struct format_quoted *quoted = &job->quoted;
    struct base_buffer letters;
    base_buffer_init(&letters, 0);
    for (size_t i = 0; i < quoted->n; i++) {
        if (strlen(quoted->ways[i].letter) == 1) {
            base_buffer_text(&letters, letters.n > 0 ? "," : "");
            base_buffer_text(&letters, quoted->ways[i].letter);
        }
    }
    job->request.date = quoted->day;
    job->request.old_parts = quoted->old_parts;
    job->request.way = letters.at ? base_arena_copy(&job->arena, letters.at, letters.n) : NULL;
    bool lost = (letters.n > 0 && !job->request.way) || letters.status != BASE_OK;
    base_buffer_clear(&letters);
    return lost ? BASE_NO_MEMORY : BASE_OK;
}

/* The quote that a job was made with. */
static void quote_of_job(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_job job;
    struct plan *plan = NULL;
    enum base_status status = app_job_load(&job, world, request, request->bike);
    status = status == BASE_OK ? ask_as_quoted(&job) : status;
    status = status == BASE_OK ? make_quote(reply, &job.loaded, &plan, &job.arena, &job.quoted) : status;
    (void)app_load_failed(reply, &job.loaded, status);
    plan_free(plan);
    app_job_clear(&job);
}

void app_quote(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    if (request->catalogue) {
        ask_wish(reply, world, request, answer_quote);
    } else {
        quote_of_job(reply, world, request);
    }
}

/* --- a ride -------------------------------------------------------------------------------------------------------- */

static enum base_status answer_ride(struct app_reply *reply, const struct app_loaded *loaded, const struct plan *plan) {
    struct base_arena arena;
    base_arena_init(&arena, 0);
    struct app_ride *ride = base_arena_alloc(&arena, 1, sizeof *ride);
    enum base_status status =
        ride ? app_ride_of(ride, &arena, &loaded->bike, &loaded->way, &loaded->road, plan) : BASE_NO_MEMORY;
    if (status == BASE_OK && loaded->request->json) {
        app_json_ride(&reply->out, ride);
    } else if (status == BASE_OK) {
        app_text_ride(&reply->out, &loaded->request->style, &loaded->bike, ride);
    }
    base_arena_clear(&arena);
    return status;
}

void app_ride(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_loaded loaded;
    struct plan *plan = NULL;
    app_load_init(&loaded, world, request);
    enum base_status status = app_load_ride(&loaded);
    if (!app_load_failed(reply, &loaded, status) && !app_turned_down(reply, &loaded)) {
        status = app_plan_for(&plan, &loaded);
        if (status == BASE_OK) {
            status = answer_ride(reply, &loaded, plan);
        }
        (void)app_load_failed(reply, &loaded, status);
    }
    app_load_keep_answer(reply, &loaded);
    plan_free(plan);
    app_load_clear(&loaded);
}

/* --- why not ------------------------------------------------------------------------------------------------------- */

static void say_no_such_part(struct app_reply *reply, const struct trade_catalogue *catalogue, const char *id) {
    const char **ids = malloc((catalogue->n_all + 1) * sizeof *ids);
    size_t n = 0;
    for (unsigned k = 0; ids && k < TRADE_KINDS; k++) {
        for (size_t i = 0; i < catalogue->n[k]; i++) {
            ids[n++] = catalogue->parts[k][i].id;
        }
    }
    int nearest = n > 0 ? base_text_nearest(base_slice_of(id), ids, n) : -1;
    base_buffer_text(&reply->err, "chainwright: why-not: the shop has no part ");
    base_buffer_text(&reply->err, id);
    base_buffer_text(&reply->err, nearest >= 0 ? "; the nearest is " : "");
    base_buffer_text(&reply->err, nearest >= 0 ? ids[nearest] : "");
    base_buffer_text(&reply->err, ". `chainwright parts --catalogue FOLDER` lists them.\n");
    reply->status = APP_USAGE;
    free(ids);
}

/* The parts that the request names, found in the catalogue; false with a line when one is not there. */
static bool find_asked(const struct trade_part **parts, size_t *n, struct app_reply *reply,
                       const struct app_loaded *loaded) {
    const char *const ids[PLAN_ASKED_PARTS] = {loaded->request->part, loaded->request->with};
    *n = 0;
    for (size_t i = 0; i < PLAN_ASKED_PARTS && ids[i]; i++) {
        parts[i] = trade_catalogue_find(&loaded->catalogue, ids[i]);
        if (!parts[i]) {
            say_no_such_part(reply, &loaded->catalogue, ids[i]);
            return false;
        }
        ++*n;
    }
    return true;
}

static enum base_status find_why_not(struct app_why_not *out, const struct app_loaded *loaded,
                                     const struct trade_part *const *parts, size_t n) {
    const struct plan_question question = app_question_of(loaded, &loaded->bike, &loaded->wish, &loaded->road);
    enum base_status status = plan_new(&out->plan, &question);
    out->asked = n > 0;
    if (status == BASE_OK && n > 0) {
        return plan_why_not(&out->why, out->plan, parts, n);
    }
    out->against.complete = true;
    if (status == BASE_OK && out->plan->n_ways == 0) {
        status = plan_conflict(&out->against, out->plan, NULL);
    }
    return status;
}

static void answer_why_not(struct app_reply *reply, struct app_loaded *loaded) {
    const struct trade_part *parts[PLAN_ASKED_PARTS];
    size_t n;
    if (!find_asked(parts, &n, reply, loaded)) {
        return;
    }
    struct app_why_not *answer = calloc(1, sizeof *answer);
    enum base_status status = answer ? find_why_not(answer, loaded, parts, n) : BASE_NO_MEMORY;
    if (status == BASE_BAD_INPUT) {
        base_buffer_text(&reply->err, "chainwright: why-not: the two parts want the same place on the bike.\n");
        reply->status = APP_USAGE;
    } else if (!app_load_failed(reply, loaded, status)) {
        reply->status = app_why_not_status(answer);
        if (loaded->request->json) {
            app_json_why_not(&reply->out, answer);
        } else {
            app_text_why_not(&reply->out, &loaded->request->style, answer);
        }
    }
    plan_free(answer ? answer->plan : NULL);
    free(answer);
}

void app_why_not(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_wish(reply, world, request, answer_why_not);
}

/* --- the work at the bench ----------------------------------------------------------------------------------------- */

/* The pick of the letter, upper or lower case; without one the first. False, with a line, where the plan has no such way. */
static bool find_pick(size_t *out, struct app_reply *reply, const struct plan *plan, const char *letter) {
    char last[] = "A";
    last[0] = (char)('A' + (char)(plan->n_picks - 1));
    *out = 0;
    if (letter) {
        char upper = (char)(letter[0] >= 'a' && letter[0] <= 'z' ? letter[0] - 'a' + 'A' : letter[0]);
        bool one = letter[0] != '\0' && letter[1] == '\0' && upper >= 'A' && upper <= last[0];
        *out = one ? (size_t)(upper - 'A') : plan->n_picks;
    }
    if (*out < plan->n_picks) {
        return true;
    }
    explain_tell(&reply->err, plan->n_picks > 1 ? "work.no-such-way" : "work.no-such-way-one", explain_words(letter),
                 explain_words(last));
    base_buffer_char(&reply->err, '\n');
    reply->status = APP_USAGE;
    return false;
}

static void put_sheet(struct app_reply *reply, const struct app_loaded *loaded, const struct plan *plan,
                      const struct plan_way *way, const char *letter) {
    struct app_work *work = calloc(1, sizeof *work);
    enum base_status status = work ? app_work_of(work, plan, way, letter) : BASE_NO_MEMORY;
    if (!app_load_failed(reply, loaded, status)) {
        work->shop_label = loaded->request->catalogue;
        if (loaded->request->paper) {
            app_print_work(reply, loaded, work);
        } else if (loaded->request->json) {
            app_json_work(&reply->out, work);
        } else {
            app_text_work(&reply->out, &loaded->request->style, work);
        }
    }
    free(work);
}

typedef void put_way(struct app_reply *reply, const struct app_loaded *loaded, const struct plan *plan,
                     const struct plan_way *way, const char *letter);

/* Plans, and puts the way that is asked for. */
static void answer_way(struct app_reply *reply, const struct app_loaded *loaded, put_way *put) {
    const struct plan_question question = app_question_of(loaded, &loaded->bike, &loaded->wish, &loaded->road);
    struct plan *plan = NULL;
    size_t pick;
    enum base_status status = plan_new(&plan, &question);
    if (app_load_failed(reply, loaded, status)) {
        plan_free(plan);
        return;
    }
    if (plan->n_picks == 0) {
        reply->status = plan->complete ? APP_NO : APP_FAILED;
        if (loaded->request->json) {
            app_json_no_work(&reply->out, plan);
        } else {
            app_text_no_work(&reply->out, &loaded->request->style, plan);
        }
    } else if (find_pick(&pick, reply, plan, loaded->request->way)) {
        const char letter[] = {(char)('A' + (char)pick), '\0'};
        put(reply, loaded, plan, &plan->ways[plan->picks[pick]], letter);
    }
    plan_free(plan);
}

static void answer_work(struct app_reply *reply, struct app_loaded *loaded) { answer_way(reply, loaded, put_sheet); }

static void answer_buys(struct app_reply *reply, struct app_loaded *loaded) {
    answer_way(reply, loaded, app_print_buys);
}

void app_buy_way(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_wish(reply, world, request, answer_buys);
}

/* The full report of the way that is asked for. */
static enum base_status make_report(struct app_reply *reply, const struct app_loaded *loaded, struct plan **plan,
                                    struct base_arena *arena) {
    struct plan_question question = app_question_of(loaded, &loaded->bike, &loaded->wish, &loaded->road);
    struct app_plan_shown *shown = base_arena_alloc(arena, 1, sizeof *shown);
    size_t pick;
    enum base_status status = shown ? app_make_plan(shown, plan, &question, false) : BASE_NO_MEMORY;
    if (status != BASE_OK) {
        return status;
    }
    shown->shop_label = loaded->request->catalogue;
    shown->road = loaded->road.speeds ? &loaded->road : NULL;
    if (shown->plan->n_picks == 0) {
        reply->status = shown->plan->complete ? APP_NO : APP_FAILED;
        app_text_plan(&reply->out, &loaded->request->style, shown, arena);
    } else if (find_pick(&pick, reply, shown->plan, loaded->request->way)) {
        const char letter[] = {(char)('A' + (char)pick), '\0'};
        app_print_report(reply, loaded, shown, &shown->plan->ways[shown->plan->picks[pick]], letter, arena);
    }
    return BASE_OK;
}

static void answer_report(struct app_reply *reply, struct app_loaded *loaded) {
    struct base_arena arena;
    struct plan *plan = NULL;
    base_arena_init(&arena, 0);
    (void)app_load_failed(reply, loaded, make_report(reply, loaded, &plan, &arena));
    plan_free(plan);
    base_arena_clear(&arena);
}

static enum base_status report_of_job(struct app_reply *reply, struct app_job *job, struct plan **plan) {
    struct app_plan_shown *shown = base_arena_alloc(&job->arena, 1, sizeof *shown);
    const struct plan_way *way;
    enum base_status status = shown ? app_job_plan(plan, &way, job) : BASE_NO_MEMORY;
    status = status == BASE_OK ? plan_keep_rings(&shown->kept, *plan) : status;
    if (status == BASE_OK) {
        shown->plan = *plan;
        shown->shop_label = job->request.catalogue;
        shown->road = job->loaded.road.speeds ? &job->loaded.road : NULL;
        app_print_report(reply, &job->loaded, shown, way, job->way->letter, &job->arena);
    }
    return status;
}

/* The sheet of the way that was agreed, with the parts that were swapped since. */
static enum base_status sheet_of_job(struct app_reply *reply, struct app_job *job, struct plan **plan) {
    const struct plan_way *way;
    enum base_status status = app_job_plan(plan, &way, job);
    if (status == BASE_OK) {
        put_sheet(reply, &job->loaded, *plan, way, job->way->letter);
    }
    return status;
}

typedef enum base_status answer_of_job(struct app_reply *reply, struct app_job *job, struct plan **plan);

/* Reads a job whose way is agreed, and answers. */
static void ask_job(struct app_reply *reply, const struct app_world *world, const struct app_request *request,
                    answer_of_job *answer) {
    struct app_job job;
    struct plan *plan = NULL;
    enum base_status status = app_job_load(&job, world, request, request->bike);
    if (!app_load_failed(reply, &job.loaded, status)) {
        if (job.way) {
            (void)app_load_failed(reply, &job.loaded, answer(reply, &job, &plan));
        } else {
            app_say_not_agreed(reply);
        }
    }
    plan_free(plan);
    app_job_clear(&job);
}

void app_work(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    if (request->catalogue) {
        ask_wish(reply, world, request, answer_work);
    } else {
        ask_job(reply, world, request, sheet_of_job);
    }
}

void app_report(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    if (request->catalogue) {
        ask_wish(reply, world, request, answer_report);
    } else {
        ask_job(reply, world, request, report_of_job);
    }
}

/* --- the shop's data ----------------------------------------------------------------------------------------------- */

void app_parts(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_loaded loaded;
    int kind = -1;
    app_load_init(&loaded, world, request);
    if (request->subject) {
        kind = trade_find_kind(base_slice_of(request->subject));
        if (kind < 0) {
            base_buffer_text(&reply->err, "chainwright: parts: there is no kind ");
            base_buffer_text(&reply->err, request->subject);
            base_buffer_text(&reply->err, ". `chainwright explain kinds` lists them.\n");
            reply->status = APP_USAGE;
            app_load_clear(&loaded);
            return;
        }
    }
    enum base_status status = app_load_catalogue(&loaded, request->catalogue);
    if (!app_load_failed(reply, &loaded, status)) {
        if (request->json) {
            app_json_parts(&reply->out, &loaded.catalogue, &loaded.shop, kind);
        } else {
            app_text_parts(&reply->out, &request->style, &loaded.catalogue, &loaded.shop, kind);
        }
    }
    app_load_clear(&loaded);
}

static void say_no_such_name(struct app_reply *reply, const char *name) {
    const char *nearest = explain_nearest_name(base_slice_of(name));
    base_buffer_text(&reply->err, "chainwright: explain: nothing here is called ");
    base_buffer_text(&reply->err, name);
    base_buffer_text(&reply->err, nearest ? "; the nearest is " : "");
    base_buffer_text(&reply->err, nearest ? nearest : "");
    base_buffer_text(&reply->err, ". Ask for a rule, a property, a slot, a kind or a word.\n");
    reply->status = APP_USAGE;
}

void app_explain(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    (void)world;
    if (app_text_explain(&reply->out, &request->style, base_slice_of(request->subject))) {
        if (request->json) {
            base_buffer_clear(&reply->out);
            app_json_explain(&reply->out, base_slice_of(request->subject));
        }
    } else {
        say_no_such_name(reply, request->subject);
    }
}

static void say_counts(struct app_reply *reply, const struct app_loaded *loaded) {
    base_buffer_int(&reply->out, (int64_t)loaded->catalogue.n_all);
    base_buffer_text(&reply->out, " parts of ");
    int64_t kinds = 0;
    for (unsigned k = 0; k < TRADE_KINDS; k++) {
        kinds += loaded->catalogue.n[k] > 0;
    }
    base_buffer_int(&reply->out, kinds);
    base_buffer_text(&reply->out, " kinds, revision ");
    base_buffer_text(&reply->out, loaded->catalogue.revision);
    base_buffer_text(&reply->out, ": nothing to mend.\n");
}

void app_check_data(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    struct app_loaded loaded;
    app_load_init(&loaded, world, request);
    enum base_status status = app_load_catalogue(&loaded, request->catalogue);
    if (request->bike) {
        status = app_first_of(status, app_load_bike(&loaded));
    }
    status = app_first_of(status, app_load_wish(&loaded));
    if (!app_load_failed(reply, &loaded, status)) {
        if (request->json) {
            app_json_checked(&reply->out, &loaded.catalogue, &loaded.shop);
        } else {
            say_counts(reply, &loaded);
        }
    }
    app_load_clear(&loaded);
}

void app_version(struct app_reply *reply, const struct app_request *request) {
    if (request->json) {
        app_json_version(&reply->out);
    } else {
        base_buffer_text(&reply->out, "chainwright " CHAINWRIGHT_VERSION "\n");
    }
}
