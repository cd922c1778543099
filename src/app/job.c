/* SPDX-License-Identifier: Apache-2.0 */
#include "app/job.h"

#include "app/climb.h"
#include "app/json_parts.h"
#include "explain/message.h"
#include "trade/vocabulary.h"

#include <math.h>
#include <string.h>

#define NUMBER_DIGITS 4

/* --- paths --------------------------------------------------------------------------------------------------------- */

/* folder/name, in the job's arena; NULL without memory. */
static const char *path_in(struct app_job *job, const char *name) {
    struct base_buffer path;
    base_buffer_init(&path, 0);
    base_buffer_text(&path, job->folder);
    base_buffer_char(&path, '/');
    base_buffer_text(&path, name);
    const char *kept = path.status == BASE_OK ? base_arena_copy(&job->arena, path.at, path.n) : NULL;
    base_buffer_clear(&path);
    return kept;
}

/* record/0007.json */
static const char *path_of_entry(struct app_job *job, size_t number) {
    char name[] = "record/0000.json";
    size_t last = strlen("record/") + NUMBER_DIGITS;
    for (size_t i = 0; i < NUMBER_DIGITS; i++, number /= 10) {
        name[last - 1 - i] = (char)('0' + (char)(number % 10));
    }
    return path_in(job, name);
}

/* Does a list of names, each with a line feed behind it, hold this one? */
static bool holds(const struct base_buffer *names, const char *name) {
    size_t n = strlen(name);
    for (const char *at = names->at; at && *at != '\0'; at = strchr(at, '\n') + 1) {
        if (strncmp(at, name, n) == 0 && at[n] == '\n') {
            return true;
        }
    }
    return false;
}

/* --- reading ------------------------------------------------------------------------------------------------------- */

static enum base_status read_quote(struct app_job *job, const char *path) {
    struct base_buffer bytes;
    base_buffer_init(&bytes, 0);
    enum base_status status = app_load_file(&job->loaded, &bytes, path, "quote.json");
    if (status == BASE_OK) {
        status = format_quoted_read(&job->quoted, &job->arena, app_bytes_of(&bytes), path, &job->loaded.faults);
    }
    base_buffer_clear(&bytes);
    return status;
}

static enum base_status read_entry(struct app_job *job, const char *path) {
    struct base_buffer bytes;
    void *grown = base_arena_grow(&job->arena, job->entries, job->n, &job->room, job->n + 1, sizeof *job->entries);
    if (!grown || !path) {
        return BASE_NO_MEMORY;
    }
    job->entries = grown;
    base_buffer_init(&bytes, 0);
    enum base_status status = app_load_file(&job->loaded, &bytes, path, "entry.json");
    if (status == BASE_OK) {
        status = format_entry_read(&job->entries[job->n], &job->arena, app_bytes_of(&bytes), path, &job->loaded.faults);
    }
    job->n += status == BASE_OK;
    base_buffer_clear(&bytes);
    return status;
}

/* How many files of the record there are; without the folder none. */
static size_t count_entries(struct app_job *job, const char *record) {
    struct base_buffer names;
    size_t n = 0;
    base_buffer_init(&names, 0);
    if (job->loaded.world->list(job->loaded.world->self, &names, record) == BASE_OK) {
        for (const char *at = names.at; at && *at != '\0'; at = strchr(at, '\n') + 1) {
            const char *end = strchr(at, '\n');
            n += end - at > 5 && strncmp(end - 5, ".json", 5) == 0;
        }
    }
    base_buffer_clear(&names);
    return n;
}

/* Entry by entry, without a gap. */
static enum base_status read_record(struct app_job *job) {
    const char *record = path_in(job, "record");
    size_t n = record ? count_entries(job, record) : 0;
    enum base_status status = record ? BASE_OK : BASE_NO_MEMORY;
    if (n > APP_ENTRIES_MAX) {
        return app_load_tell(&job->loaded, record, "too many files", "9999 entries at most");
    }
    for (size_t i = 1; i <= n && status == BASE_OK; i++) {
        status = read_entry(job, path_of_entry(job, i));
    }
    return status;
}

/* What the quote was made from. */
static enum base_status read_sources(struct app_job *job, const struct base_buffer *names) {
    struct app_loaded *loaded = &job->loaded;
    job->request.bike = path_in(job, "bike.json");
    job->request.wish = holds(names, "wish.json") ? path_in(job, "wish.json") : NULL;
    job->request.rider = holds(names, "rider.json") ? path_in(job, "rider.json") : NULL;
    job->request.route = holds(names, "route.gpx") ? path_in(job, "route.gpx") : NULL;
    job->request.climb = job->quoted.climb;
    job->request.catalogue = path_in(job, "shop");
    if (!job->request.bike || !job->request.catalogue) {
        return BASE_NO_MEMORY;
    }
    enum base_status status = app_load_bike(loaded), way = app_load_way(loaded), wish = app_load_wish(loaded);
    enum base_status shop = app_load_catalogue(loaded, job->request.catalogue);
    status = status != BASE_OK ? status : way != BASE_OK ? way : wish != BASE_OK ? wish : shop;
    status = status == BASE_OK ? app_load_road(loaded) : status;
    return status == BASE_OK ? app_climb_bound(&loaded->wish, &loaded->bike) : status;
}

/* --- the build ----------------------------------------------------------------------------------------------------- */

bool app_job_put(struct fit_build *build, const struct app_job *job, enum trade_slot slot, const char *id) {
    struct fit_choice *choice = &build->at[slot];
    if (strcmp(id, "none") == 0) {
        *choice = (struct fit_choice){FIT_NONE, NULL};
        return true;
    }
    if (strcmp(id, "keep") == 0) {
        struct fit_build now;
        fit_build_now(&now, &job->loaded.bike);
        *choice = now.at[slot];
        return choice->kind == FIT_KEEP;
    }
    const struct trade_part *part = trade_catalogue_find(&job->loaded.catalogue, id);
    if (!part || part->kind != trade_slot_rows[slot].kind) {
        return false;
    }
    *choice = (struct fit_choice){FIT_NEW, part};
    return true;
}

const struct format_quoted_way *app_job_quoted(const struct app_job *job, const char *letter) {
    for (size_t i = 0; i < job->quoted.n; i++) {
        if (strcmp(job->quoted.ways[i].letter, letter) == 0) {
            return &job->quoted.ways[i];
        }
    }
    return NULL;
}

static enum base_status put_way(struct app_job *job, const char *quote) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (!app_job_put(&job->agreed, job, (enum trade_slot)s, job->way->ids[s])) {
            return app_load_tell(&job->loaded, quote, job->way->ids[s],
                                 "keep, none, or a part of the job's shop folder that goes into the slot");
        }
    }
    return BASE_OK;
}

static enum base_status put_swaps(struct app_job *job) {
    job->build = job->agreed;
    for (size_t i = 0; i < job->n; i++) {
        const struct work_entry *entry = &job->entries[i];
        if (entry->kind != WORK_SWAPPED) {
            continue;
        }
        int slot = trade_find_slot(base_slice_of(entry->name));
        if (slot < 0 || !app_job_put(&job->build, job, (enum trade_slot)slot, entry->text)) {
            const char *path = path_of_entry(job, i + 1);
            return path ? app_load_tell(&job->loaded, path, entry->text, "a part of the job's shop folder for the slot")
                        : BASE_NO_MEMORY;
        }
    }
    return BASE_OK;
}

static enum base_status make_sheet(struct app_job *job) {
    const struct trade_bike *bike = &job->loaded.bike;
    job->cases = base_arena_alloc(&job->arena, 1, sizeof *job->cases);
    job->chain = base_arena_alloc(&job->arena, 1, sizeof *job->chain);
    job->sheet = base_arena_alloc(&job->arena, 1, sizeof *job->sheet);
    if (!job->cases || !job->chain || !job->sheet) {
        return BASE_NO_MEMORY;
    }
    fit_cases_of(job->cases, bike);
    app_chain_of(job->chain, bike, &job->build, job->cases, false);
    return work_sheet_of(job->sheet, &(struct work_question){.bike = bike,
                                                             .build = &job->build,
                                                             .shop = &job->loaded.shop,
                                                             .cases = job->cases,
                                                             .links = job->chain->links,
                                                             .links_known = job->chain->known});
}

/* The way that was agreed, or the one that alone was offered beside keeping the rings. */
static enum base_status find_build(struct app_job *job, const char *quote) {
    const char *letter = work_agreed(job->entries, job->n);
    size_t offered = job->quoted.n > 0 && strcmp(job->quoted.ways[job->quoted.n - 1].letter, "keep") == 0
                         ? job->quoted.n - 1
                         : job->quoted.n;
    job->way = letter ? app_job_quoted(job, letter) : offered == 1 ? &job->quoted.ways[0] : NULL;
    if (letter && !job->way) {
        return app_load_tell(&job->loaded, quote, letter, "the letter of a way that was quoted");
    }
    if (!job->way) {
        return BASE_OK;
    }
    enum base_status status = put_way(job, quote);
    status = status == BASE_OK ? put_swaps(job) : status;
    return status == BASE_OK ? make_sheet(job) : status;
}

/* More than this, as it was quoted, and the customer is called first. */
static enum base_status take_call_first(struct app_job *job) {
    struct base_buffer amount;
    if (job->quoted.call_first_minor < 0) {
        return BASE_OK;
    }
    base_buffer_init(&amount, 0);
    explain_put_amount(&amount, job->quoted.call_first_minor, &job->loaded.shop);
    job->request.call_first = amount.status == BASE_OK ? base_arena_copy(&job->arena, amount.at, amount.n) : NULL;
    base_buffer_clear(&amount);
    return job->request.call_first ? BASE_OK : BASE_NO_MEMORY;
}

enum base_status app_job_load(struct app_job *out, const struct app_world *world, const struct app_request *request,
                              const char *folder) {
    struct base_buffer names;
    *out = (struct app_job){.folder = folder, .request = *request};
    base_arena_init(&out->arena, 0);
    app_load_init(&out->loaded, world, &out->request);
    base_buffer_init(&names, 0);
    const char *quote = path_in(out, "quote.json");
    enum base_status status = quote ? world->list(world->self, &names, folder) : BASE_NO_MEMORY;
    if (status == BASE_BAD_INPUT) {
        /* `work` and all papers but one take either. */
        bool may_be_bike = folder == request->bike && !(request->paper && strcmp(request->paper, "handover") == 0);
        status = app_load_tell(&out->loaded, folder, "no folder to read",
                               may_be_bike ? "the folder of a job, or a bike with --catalogue FOLDER"
                                           : "the folder of a job, as `quote --job` makes it");
    } else if (status == BASE_OK && !holds(&names, "quote.json")) {
        status = app_load_tell(&out->loaded, folder, "a folder without quote.json",
                               "a job that was written to its end, as `quote --job` does");
    }
    if (status == BASE_OK) {
        enum base_status quoted = read_quote(out, quote), sources = read_sources(out, &names);
        enum base_status record = read_record(out);
        status = sources != BASE_OK ? sources : quoted != BASE_OK ? quoted : record;
    }
    base_buffer_clear(&names);
    status = status == BASE_OK ? take_call_first(out) : status;
    return status == BASE_OK ? find_build(out, quote) : status;
}

void app_job_clear(struct app_job *job) {
    app_load_clear(&job->loaded);
    base_arena_clear(&job->arena);
}

/* --- the plan ------------------------------------------------------------------------------------------------------ */

/* The quoted way of a job as its plan has it; NULL: the plan is another one now. */
static const struct plan_way *way_of(const struct app_job *job, const struct plan *plan,
                                     const struct plan_kept_rings *kept) {
    const char *letter = job->way->letter;
    if (strcmp(letter, "keep") == 0) {
        return kept->clean_found ? &kept->clean : kept->found ? &kept->way : NULL;
    }
    size_t pick = (size_t)(letter[0] - 'A');
    return pick < plan->n_picks ? &plan->ways[plan->picks[pick]] : NULL;
}

/* Is another part on the bike than was agreed? */
static bool is_swapped(const struct app_job *job) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        const struct fit_choice *agreed = &job->agreed.at[s], *put = &job->build.at[s];
        if (agreed->kind != put->kind || agreed->part != put->part) {
            return true;
        }
    }
    return false;
}

enum base_status app_job_plan(struct plan **plan, const struct plan_way **way, struct app_job *job) {
    const struct app_loaded *loaded = &job->loaded;
    const struct plan_question question = app_question_of(loaded, &loaded->bike, &loaded->wish, &loaded->road);
    struct plan_kept_rings *kept = base_arena_alloc(&job->arena, 1, sizeof *kept);
    struct plan_way *swapped = base_arena_alloc(&job->arena, 1, sizeof *swapped);
    *plan = NULL;
    enum base_status status = kept && swapped ? plan_new(plan, &question) : BASE_NO_MEMORY;
    status = status == BASE_OK ? plan_keep_rings(kept, *plan) : status;
    if (status != BASE_OK) {
        return status;
    }
    const struct plan_way *quoted = way_of(job, *plan, kept);
    if (!quoted) {
        return app_load_tell(&job->loaded, job->folder, "a way that these files do not give",
                             "files as they were quoted");
    }
    *way = quoted; /* itself where it can be: the ride of the plan knows its ways */
    if (is_swapped(job)) {
        *swapped = *quoted;
        swapped->build = job->build;
        *way = swapped;
    }
    return BASE_OK;
}

/* --- writing ------------------------------------------------------------------------------------------------------- */

static void put_number(struct format_out *out, const char *key, double value) {
    if (!isnan(value)) {
        app_json_key_number(out, key, value);
    }
}

static void put_text(struct format_out *out, const char *key, const char *text) {
    if (text) {
        app_json_key_text(out, key, text);
    }
}

void app_json_put_entry(struct format_out *out, const struct work_entry *entry) {
    format_out_object(out);
    app_json_key_int(out, "format", 1);
    app_json_key_text(out, "kind", work_entry_words[entry->kind]);
    app_json_key_text(out, "at", entry->at);
    put_text(out, "by", entry->by);
    put_text(out, "name", entry->name);
    put_text(out, "text", entry->text);
    put_number(out, "value", entry->value);
    put_number(out, "low", entry->low);
    put_number(out, "high", entry->high);
    put_text(out, "reason", entry->reason);
    format_out_object_end(out);
}

void app_json_entry(struct base_buffer *buffer, const struct work_entry *entry) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    app_json_put_entry(&out, entry);
    format_out_done(&out);
}

enum base_status app_job_add(struct app_job *job, const struct work_entry *entry) {
    struct base_buffer bytes;
    const struct app_world *world = job->loaded.world;
    const char *path = path_of_entry(job, job->n + 1);
    base_buffer_init(&bytes, 0);
    app_json_entry(&bytes, entry);
    enum base_status status = path ? bytes.status : BASE_NO_MEMORY;
    status = status == BASE_OK ? world->create(world->self, path, app_bytes_of(&bytes)) : status;
    if (status == BASE_SYSTEM) {
        base_buffer_text(&job->loaded.trouble, path);
    }
    base_buffer_clear(&bytes);
    return status;
}

enum base_status app_job_time(char out[APP_TIME], const struct app_loaded *loaded, const char *at) {
    if (!at) {
        return loaded->world->now(loaded->world->self, out);
    }
    memcpy(out, at, APP_TIME); /* as long as that: app_is_time() */
    return BASE_OK;
}

bool app_is_time(const char *text) { return format_is_time(base_slice_of(text)); }
