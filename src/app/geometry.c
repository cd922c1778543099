/* SPDX-License-Identifier: Apache-2.0 */
#include "app/geometry.h"

#include "app/commands.h"
#include "app/load.h"
#include "explain/explain.h"
#include "mech/constants.h"

#include <math.h>

/* --- a chain round wheels ------------------------------------------------------------------------------------------ */

static size_t most_wrapped(const struct mech_loop *loop, size_t n) {
    size_t most = 0;
    for (size_t i = 1; i < n; i++) {
        most = loop->wrap_rad[i] > loop->wrap_rad[most] ? i : most;
    }
    return most;
}

enum base_status app_path_of(struct app_path *out, const struct format_wheels *wheels) {
    static const char *const reasons[] = {[MECH_LOOP_NO_TANGENT] = "path.no-tangent",
                                          [MECH_LOOP_NOT_TOUCHED] = "path.not-touched",
                                          [MECH_LOOP_NOT_CLOSED] = "path.not-closed"};
    struct mech_loop_fault fault;
    *out = (struct app_path){.wheels = wheels, .toothed = true};
    for (size_t i = 0; i < wheels->n; i++) {
        out->toothed = out->toothed && wheels->teeth[i] > 0;
    }
    out->polygon_links = out->toothed ? mech_loop_polygon_links(wheels->teeth, wheels->n) : NAN;
    enum base_status status = mech_loop_solve_or_tell(&out->loop, &fault, wheels->at, wheels->n);
    if (status == BASE_NO) {
        out->reason = reasons[fault.why];
        out->wheel = fault.wheel;
        return BASE_OK;
    }
    if (status == BASE_OK && out->loop.turns == 0 && wheels->n > 2) {
        out->reason = "path.not-touched";
        out->wheel = most_wrapped(&out->loop, wheels->n);
    }
    return status;
}

void app_path_reason(struct base_buffer *out, const struct app_path *path) {
    explain_tell(out, path->reason, explain_count((int64_t)path->wheel + 1),
                 explain_count((int64_t)((path->wheel + 1) % path->wheels->n) + 1));
}

/* --- a rear suspension --------------------------------------------------------------------------------------------- */

static const char *const reasons[] = {
    [MECH_SUSPENSION_WHY_NONE] = "suspension.out-of-reach",
    [MECH_SUSPENSION_PIVOT_ON_AXLE] = "suspension.pivot-on-axle",
    [MECH_SUSPENSION_NO_LINK] = "suspension.no-link",
    [MECH_SUSPENSION_OUT_OF_REACH] = "suspension.out-of-reach",
    [MECH_SUSPENSION_BEYOND_POINTS] = "suspension.beyond-points",
    [MECH_SUSPENSION_WHEELS_OVERLAP] = "suspension.wheels-overlap",
    [MECH_SUSPENSION_IDLER_FREE] = "suspension.idler-free",
};

/* An answer that is no is an answer: BASE_OK, with the reason kept. */
static enum base_status told(struct app_suspension *out, enum base_status status, enum mech_suspension_why why,
                             double travel_mm) {
    if (status != BASE_NO) {
        return status;
    }
    out->reason = reasons[why];
    out->reason_mm = travel_mm;
    return BASE_OK;
}

/* A gear at a travel, seen from rest. Nothing where there is a reason already. */
static enum base_status find_row(struct app_suspension *out, struct app_suspension_row *row,
                                 const struct mech_suspension_state *rest, const struct mech_suspension_drive *drive,
                                 double travel_mm) {
    enum mech_suspension_why why = MECH_SUSPENSION_WHY_NONE;
    if (out->reason) {
        return BASE_OK;
    }
    row->state = *rest;
    enum base_status status = mech_suspension_move(&row->state, &why, &out->given->suspension, travel_mm);
    if (status == BASE_OK) {
        status = mech_suspension_chain(&row->chain, &why, drive, rest, &row->state);
    }
    if (status == BASE_OK) {
        status = mech_suspension_loop_links(&row->loop_links, &why, drive, &row->state);
    }
    return told(out, status, why, travel_mm);
}

/* The travels that were given: from the lowest, or rest, to the highest; and the one farthest from rest, the first of equals. */
struct travels {
    double low_mm, high_mm, far_mm;
};

static struct travels travels_of(const struct format_suspension *given) {
    struct travels t = {0, 0, 0};
    for (size_t i = 0; i < given->n; i++) {
        double mm = given->travel_mm[i];
        t.low_mm = fmin(t.low_mm, mm);
        t.high_mm = fmax(t.high_mm, mm);
        t.far_mm = fabs(mm) > fabs(t.far_mm) ? mm : t.far_mm;
    }
    return t;
}

static enum base_status find_gear(struct app_suspension *out, struct app_suspension_gear *gear,
                                  const struct mech_suspension_state *rest, const struct travels *t) {
    enum mech_suspension_why why = MECH_SUSPENSION_WHY_NONE;
    struct mech_suspension_state longest;
    enum base_status status = find_row(out, &gear->rest, rest, &gear->drive, 0);
    for (size_t i = 0; i < out->given->n && status == BASE_OK; i++) {
        status = find_row(out, &gear->rows[i], rest, &gear->drive, out->given->travel_mm[i]);
    }
    status = status == BASE_OK ? find_row(out, &gear->full, rest, &gear->drive, t->far_mm) : status;
    status = status == BASE_OK ? find_row(out, &gear->sag, rest, &gear->drive, out->sag_mm) : status;
    gear->longest_links = gear->rest.loop_links;
    if (status == BASE_OK && !out->reason && out->moves) {
        status = mech_suspension_longest_loop(&longest, &gear->longest_links, &why, &out->given->suspension,
                                              &gear->drive, t->low_mm, t->high_mm);
        gear->longest_mm = status == BASE_OK ? longest.travel_mm : 0;
        status = told(out, status, why, t->high_mm);
    }
    return status;
}

static enum base_status find_longest(struct app_suspension *out, const struct mech_suspension_state *rest,
                                     const struct travels *t) {
    struct mech_suspension_state longest = *rest;
    enum mech_suspension_why why = MECH_SUSPENSION_WHY_NONE;
    enum base_status status = BASE_OK;
    if (out->moves) {
        status = mech_suspension_longest(&longest, &why, &out->given->suspension, t->low_mm, t->high_mm);
    }
    out->longest_mm = longest.travel_mm;
    out->longest_stay_mm = hypot(longest.axle.x_mm, longest.axle.y_mm);
    return told(out, status, why, t->high_mm);
}

/* The gear of now, and the one that was asked about. */
static enum base_status list_gears(struct app_suspension *out, struct base_arena *arena) {
    const struct format_suspension *given = out->given;
    out->n_gears = given->new_ring > 0 ? 2 : 1;
    for (size_t i = 0; i < out->n_gears; i++) {
        struct app_suspension_gear *gear = &out->gears[i];
        gear->drive = given->drive;
        gear->drive.ring = i == 0 ? given->drive.ring : given->new_ring;
        gear->drive.sprocket = i == 0 ? given->drive.sprocket : given->new_sprocket;
        gear->rows = base_arena_alloc(arena, given->n, sizeof *gear->rows);
        if (!gear->rows) {
            return BASE_NO_MEMORY;
        }
    }
    return BASE_OK;
}

/* Where the rider's weight holds it: as given, else the usual share of the highest travel. */
static void find_sag(struct app_suspension *out, const struct travels *t) {
    bool given = !isnan(out->given->sag_mm);
    out->sag_mm = given ? out->given->sag_mm : t->high_mm * trade_limits[TRADE_LIMIT_SAG_SHARE].value;
    out->sag_known = given ? BASE_MEASURED : BASE_ASSUMED;
}

enum base_status app_suspension_of(struct app_suspension *out, struct base_arena *arena,
                                   const struct format_suspension *given) {
    enum mech_suspension_why why = MECH_SUSPENSION_WHY_NONE;
    struct mech_suspension_state rest;
    struct travels t = travels_of(given);
    *out = (struct app_suspension){.given = given, .moves = t.low_mm < t.high_mm};
    find_sag(out, &t);
    enum base_status status = list_gears(out, arena);
    if (status == BASE_OK) {
        status = mech_suspension_rest(&rest, &why, &given->suspension);
        status = told(out, status, why, 0);
    }
    if (status != BASE_OK || out->reason) {
        return status;
    }
    for (size_t i = 0; i < out->n_gears && status == BASE_OK; i++) {
        status = find_gear(out, &out->gears[i], &rest, &t);
    }
    return status == BASE_OK && !out->reason ? find_longest(out, &rest, &t) : status;
}

/* A length that was read, or what it usually is. */
static double read_or_usual(double read, enum trade_limit usual, bool *assumed) {
    *assumed = *assumed || isnan(read);
    return isnan(read) ? trade_limits[usual].value : read;
}

enum base_status app_suspension_of_bike(struct app_suspension *out, struct base_arena *arena,
                                        const struct trade_bike *bike, const int gear[2], const int new_gear[2]) {
    const struct mech_suspension_frame *frame = bike->suspension;
    double rolling_mm = trade_get_number(&bike->wheel, TRADE_WHEEL_ROLLING_MM);
    bool assumed = false;
    struct format_suspension *given = frame ? base_arena_alloc(arena, 1, sizeof *given) : NULL;
    if (!given) {
        return frame ? BASE_NO_MEMORY : BASE_NO;
    }
    *given = (struct format_suspension){.suspension = frame->suspension, .sag_mm = frame->sag_mm, .n = 1};
    given->travel_mm[0] = frame->travel_mm;
    given->new_ring = new_gear[0];
    given->new_sprocket = new_gear[1];
    given->drive = (struct mech_suspension_drive){
        .ring = gear[0],
        .sprocket = gear[1],
        .idler_teeth = frame->idler_teeth,
        .idler = frame->idler,
        .wheel_radius_mm = read_or_usual(rolling_mm / (2 * MECH_PI), TRADE_LIMIT_USUAL_WHEEL_RADIUS_MM, &assumed),
        .wheelbase_mm = read_or_usual(trade_get_number(&bike->frame, TRADE_FRAME_WHEELBASE_MM),
                                      TRADE_LIMIT_USUAL_WHEELBASE_MM, &assumed),
        .mass_height_mm = read_or_usual(trade_get_number(&bike->rider, TRADE_RIDER_COM_HEIGHT_MM),
                                        TRADE_LIMIT_USUAL_MASS_HEIGHT_MM, &assumed)};
    enum base_status status = app_suspension_of(out, arena, given);
    out->sag_known = assumed ? BASE_ASSUMED : out->sag_known;
    return status;
}

void app_suspension_reason(struct base_buffer *out, const struct app_suspension *suspension) {
    explain_tell(out, suspension->reason, explain_number(suspension->reason_mm, 1, "mm"));
}

/* --- commands ------------------------------------------------------------------------------------------------------ */

typedef enum base_status answer_bytes(struct app_reply *reply, struct app_loaded *loaded, struct base_slice bytes,
                                      struct base_arena *arena);

/* Reads the file and answers; cleans up. */
static void ask_file(struct app_reply *reply, const struct app_world *world, const struct app_request *request,
                     answer_bytes *answer) {
    struct app_loaded loaded;
    struct base_arena arena;
    struct base_buffer bytes;
    app_load_init(&loaded, world, request);
    base_arena_init(&arena, 0);
    base_buffer_init(&bytes, 0);
    enum base_status status = app_load_file(&loaded, &bytes, request->bike, "geometry.json");
    if (status == BASE_OK) {
        status = answer(reply, &loaded, (struct base_slice){bytes.at, bytes.n}, &arena);
    }
    (void)app_load_failed(reply, &loaded, status);
    base_buffer_clear(&bytes);
    base_arena_clear(&arena);
    app_load_clear(&loaded);
}

static enum base_status answer_path(struct app_reply *reply, struct app_loaded *loaded, struct base_slice bytes,
                                    struct base_arena *arena) {
    (void)arena;
    struct format_wheels wheels;
    struct app_path path;
    enum base_status status = format_wheels_read(&wheels, bytes, loaded->request->bike, &loaded->faults);
    if (status == BASE_OK) {
        status = app_path_of(&path, &wheels);
    }
    if (status != BASE_OK) {
        return status;
    }
    reply->status = path.reason ? APP_NO : APP_DONE;
    if (loaded->request->json) {
        app_json_path_answer(&reply->out, &path);
    } else {
        app_text_path(&reply->out, &loaded->request->style, &path);
    }
    return BASE_OK;
}

static enum base_status answer_suspension(struct app_reply *reply, struct app_loaded *loaded, struct base_slice bytes,
                                          struct base_arena *arena) {
    struct app_suspension suspension;
    struct format_suspension *given = base_arena_alloc(arena, 1, sizeof *given);
    if (!given) {
        return BASE_NO_MEMORY;
    }
    enum base_status status = format_suspension_read(given, bytes, loaded->request->bike, &loaded->faults);
    if (status == BASE_OK) {
        status = app_suspension_of(&suspension, arena, given);
    }
    if (status != BASE_OK) {
        return status;
    }
    reply->status = suspension.reason ? APP_NO : APP_DONE;
    if (loaded->request->json) {
        app_json_suspension(&reply->out, &suspension);
    } else {
        app_text_suspension(&reply->out, &loaded->request->style, &suspension);
    }
    return BASE_OK;
}

void app_path(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_file(reply, world, request, answer_path);
}

void app_suspension(struct app_reply *reply, const struct app_world *world, const struct app_request *request) {
    ask_file(reply, world, request, answer_suspension);
}
