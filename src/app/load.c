/* SPDX-License-Identifier: Apache-2.0 */
#include "app/load.h"

#include "app/json.h"
#include "app/rider.h"
#include "explain/message.h"
#include "fit/judge.h"
#include "format/bike_in.h"
#include "format/climbs_in.h"
#include "format/gpx_in.h"
#include "format/rider_in.h"
#include "format/shop_in.h"
#include "format/wish_in.h"

#include <stdlib.h>
#include <string.h>

void app_load_init(struct app_loaded *out, const struct app_world *world, const struct app_request *request) {
    memset(out, 0, sizeof *out);
    trade_names_init(&out->names);
    base_faults_init(&out->faults);
    trade_wish_init(&out->wish);
    trade_shop_init(&out->shop);
    trade_catalogue_init(&out->catalogue);
    base_buffer_init(&out->trouble, 0);
    base_arena_init(&out->arena, 0);
    out->world = world;
    out->request = request;
}

void app_load_clear(struct app_loaded *loaded) {
    if (loaded->has_bike) {
        trade_bike_clear(&loaded->bike);
    }
    app_road_clear(&loaded->road);
    base_arena_clear(&loaded->arena);
    plan_shelf_free(loaded->shelf);
    trade_catalogue_clear(&loaded->catalogue);
    base_faults_clear(&loaded->faults);
    trade_names_clear(&loaded->names);
    base_buffer_clear(&loaded->trouble);
}

/* --- files --------------------------------------------------------------------------------------------------------- */

struct base_slice app_bytes_of(const struct base_buffer *buffer) {
    return (struct base_slice){buffer->at, buffer->n};
}

/* Keeps the name of the file at which the machine failed. */
static enum base_status keep_trouble(struct app_loaded *loaded, const char *path, enum base_status status) {
    if (status == BASE_SYSTEM && loaded->trouble.n == 0) {
        base_buffer_text(&loaded->trouble, path);
    }
    return status;
}

enum base_status app_load_tell(struct app_loaded *loaded, const char *path, const char *found, const char *allowed) {
    base_faults_add(&loaded->faults, &(struct base_fault){.file = path, .found = found, .allowed = allowed});
    return BASE_BAD_INPUT;
}

static bool is_folder(const struct app_loaded *loaded, const char *path) {
    struct base_buffer names;
    base_buffer_init(&names, 0);
    bool listed = loaded->world->list(loaded->world->self, &names, path) == BASE_OK;
    base_buffer_clear(&names);
    return listed;
}

static enum base_status tell_unreadable(struct app_loaded *loaded, const char *path, enum base_status status) {
    switch (status) {
    case BASE_LIMIT:
        return app_load_tell(loaded, path, "more than 256 MiB", "a file of less");
    case BASE_BAD_INPUT:
        return app_load_tell(loaded, path, is_folder(loaded, path) ? "a folder" : "nothing to read",
                             "a file that is there and may be read");
    default:
        return keep_trouble(loaded, path, status);
    }
}

/* Keeps a copy for the job that is made, or in the case folder, under the name that it has there. */
static enum base_status keep_copy(struct app_loaded *loaded, const char *name, struct base_slice bytes) {
    struct base_buffer path;
    if (loaded->copies) {
        return app_copies_add(loaded->copies, name, bytes);
    }
    if (!loaded->request->save_case) {
        return BASE_OK;
    }
    base_buffer_init(&path, 0);
    base_buffer_text(&path, loaded->request->save_case);
    base_buffer_char(&path, '/');
    base_buffer_text(&path, name);
    enum base_status status =
        path.status == BASE_OK ? loaded->world->write(loaded->world->self, path.at, bytes) : path.status;
    status = keep_trouble(loaded, path.at, status);
    base_buffer_clear(&path);
    return status;
}

bool app_load_is_taken(const struct app_loaded *loaded, const char *folder) {
    struct base_buffer names;
    base_buffer_init(&names, 0);
    bool listed = loaded->world->list(loaded->world->self, &names, folder) == BASE_OK;
    bool taken = listed && names.n > 0;
    base_buffer_clear(&names);
    return taken;
}

enum base_status app_load_begin_case(struct app_loaded *loaded) {
    const char *folder = loaded->request->save_case;
    struct base_buffer asked;
    if (!folder) {
        return BASE_OK;
    }
    if (app_load_is_taken(loaded, folder)) {
        return app_load_tell(loaded, folder, "a folder with files in it",
                             "a folder that is new or empty, for the case alone");
    }
    base_buffer_init(&asked, 0);
    app_json_case(&asked, loaded->request);
    enum base_status status =
        asked.status == BASE_OK ? keep_copy(loaded, "case.json", app_bytes_of(&asked)) : asked.status;
    base_buffer_clear(&asked);
    return status;
}

void app_load_keep_answer(struct app_reply *reply, struct app_loaded *loaded) {
    bool answered = loaded->request->json && (reply->status == APP_DONE || reply->status == APP_NO);
    enum base_status status = answered ? keep_copy(loaded, "expected.json", app_bytes_of(&reply->out)) : BASE_OK;
    if (app_load_failed(reply, loaded, status)) {
        base_buffer_clear(&reply->out);
    }
}

enum base_status app_load_file(struct app_loaded *loaded, struct base_buffer *out, const char *path,
                               const char *case_name) {
    enum base_status status = loaded->world->read(loaded->world->self, out, path);
    if (status != BASE_OK) {
        return tell_unreadable(loaded, path, status);
    }
    return keep_copy(loaded, case_name, app_bytes_of(out));
}

/* --- bike and wish ------------------------------------------------------------------------------------------------- */

/* Every rule once, with the slots of all the places for which it is registered; how many. Room for fit_rules_n. */
static size_t list_rules(struct format_rule *out) {
    size_t n = 0;
    for (size_t r = 0; r < fit_rules_n; r++) {
        const struct fit_rule *rule = fit_rules[r];
        size_t at = 0;
        while (at < n && strcmp(out[at].id, rule->id) != 0) {
            at++;
        }
        if (at == n) {
            out[n++] = (struct format_rule){.id = rule->id, .safety = rule->safety};
        }
        out[at].slots |= fit_rule_slots(rule);
    }
    return n;
}

enum base_status app_parse_bike(struct trade_bike *out, struct base_slice bytes, const char *path,
                                struct trade_names *names, struct base_faults *faults) {
    struct format_rule *rules = malloc((fit_rules_n + 1) * sizeof *rules);
    if (!rules) {
        return BASE_NO_MEMORY;
    }
    size_t n = list_rules(rules);
    enum base_status status = format_bike_read(out, bytes, path, names, rules, n, faults);
    free(rules);
    return status;
}

enum base_status app_complete_rider(struct trade_bike *bike, const char *file, const char *path,
                                    struct base_faults *faults) {
    const struct trade_property_row *row = &trade_property_rows[TRADE_RIDER_POWER_W];
    struct ride_rider rider;
    trade_bike_complete_rider(bike);
    enum app_power_from from = app_rider_of(&rider, bike);
    double power_w = rider.power_w.value;
    if (from != APP_POWER_CLIMB || (power_w >= row->low && power_w <= row->high)) {
        return BASE_OK;
    }
    struct base_buffer found, allowed;
    base_buffer_init(&found, 0);
    base_buffer_init(&allowed, 0);
    explain_tell(&found, "climb.known-took", explain_number(power_w, 0, "W"));
    explain_tell(&allowed, "climb.known-takes", explain_number(row->low, 0, ""), explain_number(row->high, 0, "W"));
    base_faults_add(faults, &(struct base_fault){.file = file,
                                                 .path = path,
                                                 .found = found.at ? found.at : "",
                                                 .allowed = allowed.at ? allowed.at : ""});
    base_buffer_clear(&found);
    base_buffer_clear(&allowed);
    return BASE_BAD_INPUT;
}

/* The rider of the request's own file goes in place of the bike's; then what follows from what was told. */
static enum base_status load_rider(struct app_loaded *loaded) {
    const char *path = loaded->request->rider;
    struct base_buffer bytes;
    if (!path) {
        return app_complete_rider(&loaded->bike, loaded->request->bike, "/rider/known_climb_time_s", &loaded->faults);
    }
    base_buffer_init(&bytes, 0);
    enum base_status status = app_load_file(loaded, &bytes, path, "rider.json");
    if (status == BASE_OK) {
        status = format_rider_read(&loaded->bike, app_bytes_of(&bytes), path, &loaded->names, &loaded->faults);
    }
    base_buffer_clear(&bytes);
    return status == BASE_OK ? app_complete_rider(&loaded->bike, path, "/known_climb_time_s", &loaded->faults) : status;
}

enum base_status app_load_bike(struct app_loaded *loaded) {
    const char *path = loaded->request->bike;
    struct base_buffer bytes;
    base_buffer_init(&bytes, 0);
    enum base_status status = app_load_file(loaded, &bytes, path, "bike.json");
    if (status == BASE_OK) {
        status = app_parse_bike(&loaded->bike, app_bytes_of(&bytes), path, &loaded->names, &loaded->faults);
        loaded->has_bike = status == BASE_OK;
    }
    base_buffer_clear(&bytes);
    return status == BASE_OK ? load_rider(loaded) : status;
}

enum base_status app_load_wish(struct app_loaded *loaded) {
    struct base_buffer bytes;
    if (!loaded->request->wish) {
        return BASE_OK;
    }
    base_buffer_init(&bytes, 0);
    enum base_status status = app_load_file(loaded, &bytes, loaded->request->wish, "wish.json");
    if (status == BASE_OK) {
        status = format_wish_read(&loaded->wish, app_bytes_of(&bytes), loaded->request->wish, &loaded->faults);
    }
    base_buffer_clear(&bytes);
    return status;
}

/* --- the way to ride ----------------------------------------------------------------------------------------------- */

static enum base_status take_gpx(void *to, struct base_slice bytes) { return format_gpx_feed(to, bytes); }

/* Piece by piece; whole only where a case or a job keeps a copy. */
static enum base_status feed_route(struct app_loaded *loaded, struct format_gpx *gpx) {
    const char *path = loaded->request->route;
    size_t before = loaded->faults.total;
    struct base_buffer bytes;
    if (!loaded->request->save_case && !loaded->copies) {
        enum base_status status = loaded->world->stream(loaded->world->self, path, take_gpx, gpx);
        bool of_file = status != BASE_OK && (status != BASE_BAD_INPUT || loaded->faults.total == before);
        return of_file ? tell_unreadable(loaded, path, status) : status; /* else of what stands in it */
    }
    base_buffer_init(&bytes, 0);
    enum base_status status = app_load_file(loaded, &bytes, path, "route.gpx");
    status = status == BASE_OK ? format_gpx_feed(gpx, app_bytes_of(&bytes)) : status;
    base_buffer_clear(&bytes);
    return status;
}

static enum base_status load_route(struct app_loaded *loaded) {
    struct ride_route *route = base_arena_alloc(&loaded->arena, 1, sizeof *route);
    struct format_gpx *gpx;
    enum base_status status =
        route ? format_gpx_new(&gpx, route, &loaded->arena, loaded->request->route, &loaded->faults) : BASE_NO_MEMORY;
    if (status != BASE_OK) {
        return status;
    }
    status = feed_route(loaded, gpx);
    status = status == BASE_OK ? format_gpx_end(gpx) : status;
    loaded->way =
        (struct app_way){.route = route, .file = loaded->request->route, .is_track = format_gpx_is_track(gpx)};
    format_gpx_free(gpx);
    return status;
}

static enum base_status load_climbs(struct app_loaded *loaded) {
    struct ride_cell *climbs = base_arena_alloc(&loaded->arena, FORMAT_CLIMBS_MAX, sizeof *climbs);
    loaded->way = (struct app_way){.climbs = climbs};
    return climbs ? format_climbs_read(climbs, &loaded->way.n_climbs, base_slice_of(loaded->request->climb), "--climb",
                                       &loaded->faults)
                  : BASE_NO_MEMORY;
}

enum base_status app_load_way(struct app_loaded *loaded) {
    if (loaded->request->climb) {
        return load_climbs(loaded);
    }
    return loaded->request->route ? load_route(loaded) : BASE_OK;
}

enum base_status app_take_road(struct app_road *out, struct trade_wish *wish, struct base_arena *arena,
                               const struct trade_bike *bike, const struct app_way *way, const char *file,
                               struct base_faults *faults) {
    struct base_fault fault = {.file = file,
                               .path = "/objectives",
                               .found = "a score of a ride, and no ride",
                               .allowed = "in_band and walked only with --route FILE or --climb LIST"};
    memset(out, 0, sizeof *out);
    enum base_status status = BASE_BAD_INPUT;
    if (way->route || way->climbs) {
        status = app_road_of(out, arena, bike, way);
        wish->objectives |= wish->objectives_named ? 0 : TRADE_OF_ROAD;
    } else if (!(wish->objectives & TRADE_OF_ROAD)) {
        return BASE_OK;
    }
    if (status == BASE_NO) {
        fault = (struct base_fault){.file = way->file,
                                    .found = "no stretch with heights at both ends",
                                    .allowed = "a track or a route with heights (ele)"};
        status = BASE_BAD_INPUT;
    }
    if (status == BASE_BAD_INPUT) {
        base_faults_add(faults, &fault);
    }
    return status;
}

enum base_status app_load_road(struct app_loaded *loaded) {
    return app_take_road(&loaded->road, &loaded->wish, &loaded->arena, &loaded->bike, &loaded->way,
                         loaded->request->wish, &loaded->faults);
}

enum base_status app_load_gear_use(struct app_loaded *loaded, struct format_use *out) {
    const char *path = loaded->request->gear_use;
    struct base_buffer bytes;
    base_buffer_init(&bytes, 0);
    enum base_status status = app_load_file(loaded, &bytes, path, "gear_use.json");
    if (status == BASE_OK) {
        status = format_use_read(out, app_bytes_of(&bytes), path, &loaded->faults);
    }
    base_buffer_clear(&bytes);
    return status;
}

/* --- shop and catalogue -------------------------------------------------------------------------------------------- */

/* folder/name, or shop/name in a case. */
static enum base_status read_in_folder(struct app_loaded *loaded, struct base_buffer *path, struct base_buffer *bytes,
                                       const char *folder, struct base_slice name) {
    struct base_buffer case_name;
    base_buffer_init(path, 0);
    base_buffer_init(bytes, 0);
    base_buffer_init(&case_name, 0);
    base_buffer_text(path, folder);
    base_buffer_char(path, '/');
    base_buffer_slice(path, name);
    base_buffer_text(&case_name, "shop/");
    base_buffer_slice(&case_name, name);
    enum base_status status = path->status == BASE_OK ? case_name.status : path->status;
    if (status == BASE_OK) {
        status = app_load_file(loaded, bytes, path->at, case_name.at);
    }
    base_buffer_clear(&case_name);
    return status;
}

static enum base_status load_shop(struct app_loaded *loaded, const char *folder) {
    struct base_buffer path, bytes;
    enum base_status status = read_in_folder(loaded, &path, &bytes, folder, base_slice_of("shop.json"));
    if (status == BASE_OK) {
        status = format_shop_read(&loaded->shop, app_bytes_of(&bytes), path.at, &loaded->faults);
    } else {
        trade_shop_any_currency(&loaded->shop);
    }
    base_buffer_clear(&path);
    base_buffer_clear(&bytes);
    return status;
}

static enum base_status load_parts(struct app_loaded *loaded, struct format_catalogue *builder, const char *folder,
                                   struct base_slice name) {
    struct base_buffer path, bytes;
    enum trade_kind kind;
    enum base_status status = read_in_folder(loaded, &path, &bytes, folder, name);
    if (status == BASE_OK) {
        status = format_catalogue_kind(&kind, path.at, &loaded->faults);
    }
    if (status == BASE_OK) {
        status = format_catalogue_add(builder, kind, app_bytes_of(&bytes), path.at);
    }
    base_buffer_clear(&path);
    base_buffer_clear(&bytes);
    return status;
}

static bool is_csv(struct base_slice name) { return name.n > 4 && memcmp(name.at + name.n - 4, ".csv", 4) == 0; }

/* A fault of the machine before a fault of a file. */
static enum base_status worse(enum base_status a, enum base_status b) {
    return a == BASE_OK || (a == BASE_BAD_INPUT && b != BASE_OK) ? b : a;
}

/* All CSV files of the folder. Goes on after a bad one, so that all faults are told in one go. */
static enum base_status load_all_parts(struct app_loaded *loaded, struct format_catalogue *builder, const char *folder,
                                       struct base_slice names) {
    enum base_status worst = BASE_OK;
    size_t found = 0;
    while (names.n > 0) {
        const char *end = memchr(names.at, '\n', names.n);
        struct base_slice name = {names.at, end ? (size_t)(end - names.at) : names.n};
        size_t used = name.n + (end ? 1 : 0);
        names.at += used;
        names.n -= used;
        if (!is_csv(name)) {
            continue;
        }
        found++;
        worst = worse(worst, load_parts(loaded, builder, folder, name));
    }
    if (found == 0) {
        return app_load_tell(loaded, folder, "no CSV file",
                             "shop.json and one CSV file for each kind of part, such as cassette.csv");
    }
    return worst;
}

enum base_status app_load_catalogue(struct app_loaded *loaded, const char *folder) {
    struct base_buffer names;
    struct format_catalogue builder;
    base_buffer_init(&names, 0);
    enum base_status status = loaded->world->list(loaded->world->self, &names, folder);
    if (status != BASE_OK) {
        base_buffer_clear(&names);
        return status == BASE_BAD_INPUT
                   ? app_load_tell(loaded, folder, "no folder to read", "a folder that is there and may be read")
                   : keep_trouble(loaded, folder, status);
    }
    enum base_status shop = load_shop(loaded, folder);
    if (shop == BASE_OK || shop == BASE_BAD_INPUT) { /* then only for the faults of the parts */
        format_catalogue_init(&builder, &loaded->shop, &loaded->names, &loaded->faults);
        status = worse(shop, load_all_parts(loaded, &builder, folder, app_bytes_of(&names)));
        if (status == BASE_OK) {
            status = format_catalogue_finish(&loaded->catalogue, &builder);
            status = status == BASE_OK ? plan_shelf_new(&loaded->shelf, &loaded->catalogue) : status;
        } else {
            format_catalogue_clear(&builder);
        }
    } else {
        status = shop;
    }
    loaded->has_catalogue = status == BASE_OK;
    base_buffer_clear(&names);
    return status;
}

/* --- what went wrong ----------------------------------------------------------------------------------------------- */

bool app_load_failed(struct app_reply *reply, const struct app_loaded *loaded, enum base_status status) {
    switch (status) {
    case BASE_OK:
    case BASE_NO:
        return false;
    case BASE_BAD_INPUT:
        if (loaded->request->json) {
            app_json_faults(&reply->err, &loaded->faults);
        } else {
            app_text_faults(&reply->err, &loaded->faults);
        }
        reply->status = APP_BAD_INPUT;
        return true;
    case BASE_LIMIT:
    case BASE_NO_MEMORY:
        base_buffer_text(&reply->err, "chainwright: memory is spent. Close other programs, or split the catalogue.\n");
        break;
    case BASE_SYSTEM:
        base_buffer_text(&reply->err, "chainwright: ");
        base_buffer_text(&reply->err, loaded->trouble.n > 0 ? loaded->trouble.at : "a file");
        base_buffer_text(&reply->err, " can't be read or written: the disk, or its rights.\n");
        break;
    }
    reply->status = APP_FAILED;
    return true;
}

struct plan_question app_question_of(const struct app_loaded *loaded, const struct trade_bike *bike,
                                     const struct trade_wish *wish, const struct app_road *road) {
    return (struct plan_question){.bike = bike,
                                  .wish = wish,
                                  .shop = &loaded->shop,
                                  .catalogue = &loaded->catalogue,
                                  .shelf = loaded->shelf,
                                  .speeds = road->speeds,
                                  .limit_bytes = (size_t)loaded->request->memory_mib << 20};
}
