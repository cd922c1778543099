/* SPDX-License-Identifier: Apache-2.0 */
#include "app/geometry.h"

#include "app/json_parts.h"
#include "mech/constants.h"

#include <math.h>

static void begin(struct format_out *out, struct base_buffer *buffer) {
    format_out_init(out, buffer, true);
    format_out_object(out);
}

static void end(struct format_out *out) {
    format_out_object_end(out);
    format_out_done(out);
}

static void key_reason(struct format_out *out, const struct base_buffer *reason) {
    format_out_key(out, "reason");
    if (reason->n > 0) {
        format_out_slice(out, (struct base_slice){reason->at, reason->n});
    } else {
        format_out_null(out);
    }
}

static void key_numbers(struct format_out *out, const char *key, const double *numbers, size_t n, double scale) {
    format_out_key(out, key);
    format_out_array(out);
    for (size_t i = 0; i < n; i++) {
        format_out_double(out, numbers[i] * scale);
    }
    format_out_array_end(out);
}

void app_json_path_answer(struct base_buffer *buffer, const struct app_path *path) {
    struct format_out out;
    struct base_buffer reason;
    size_t n = path->reason ? 0 : path->wheels->n;
    base_buffer_init(&reason, 0);
    if (path->reason) {
        app_path_reason(&reason, path);
    }
    begin(&out, buffer);
    app_json_key_number(&out, "length_mm", path->reason ? NAN : path->loop.length_mm);
    app_json_key_number(&out, "links", path->reason || !path->toothed ? NAN : path->loop.links);
    app_json_key_number(&out, "polygon_links", path->reason ? NAN : path->polygon_links);
    key_numbers(&out, "spans_mm", path->loop.span_mm, n, 1);
    key_numbers(&out, "wraps_deg", path->loop.wrap_rad, n, mech_degrees(1));
    key_reason(&out, &reason);
    end(&out);
    base_buffer_clear(&reason);
}

static void put_point(struct format_out *out, struct mech_point point) {
    format_out_array(out);
    format_out_double(out, point.x_mm);
    format_out_double(out, point.y_mm);
    format_out_array_end(out);
}

static void put_row(struct format_out *out, const struct app_suspension_row *row) {
    format_out_object(out);
    app_json_key_number(out, "travel_mm", row->state.travel_mm);
    format_out_key(out, "axle_mm");
    put_point(out, row->state.axle);
    app_json_key_number(out, "chain_stay_mm", row->chain.stay_mm);
    app_json_key_number(out, "span_mm", row->chain.span_mm);
    app_json_key_number(out, "kickback_held_deg", mech_degrees(row->chain.kick_held_rad));
    app_json_key_number(out, "kickback_rolling_deg", mech_degrees(row->chain.kick_rolling_rad));
    app_json_key_number(out, "anti_squat_percent", row->chain.anti_squat_percent);
    app_json_key_number(out, "loop_links", row->loop_links);
    format_out_key(out, "instant_centre_mm");
    if (row->state.has_centre) {
        put_point(out, row->state.centre);
    } else {
        format_out_null(out);
    }
    format_out_object_end(out);
}

static void key_rows(struct format_out *out, const char *key, const struct app_suspension_row *rows, size_t n) {
    format_out_key(out, key);
    format_out_array(out);
    for (size_t i = 0; i < n; i++) {
        put_row(out, &rows[i]);
    }
    format_out_array_end(out);
}

static void key_row(struct format_out *out, const char *key, const struct app_suspension_row *row) {
    format_out_key(out, key);
    put_row(out, row);
}

/* A gear without its rows: at rest, at sag, at the end, and where its loop is longest. */
static void put_gear(struct format_out *out, const struct app_suspension_gear *gear, size_t n) {
    format_out_object(out);
    app_json_key_int(out, "ring", gear->drive.ring);
    app_json_key_int(out, "sprocket", gear->drive.sprocket);
    key_row(out, "rest", &gear->rest);
    key_row(out, "sag", &gear->sag);
    key_row(out, "full", &gear->full);
    app_json_key_number(out, "longest_at_mm", gear->longest_mm);
    app_json_key_number(out, "longest_links", gear->longest_links);
    app_json_key_number(out, "growth_links", gear->longest_links - gear->rest.loop_links);
    key_rows(out, "rows", gear->rows, n);
    format_out_object_end(out);
}

void app_json_suspension(struct base_buffer *buffer, const struct app_suspension *suspension) {
    struct format_out out;
    struct base_buffer reason;
    bool answered = !suspension->reason;
    base_buffer_init(&reason, 0);
    if (!answered) {
        app_suspension_reason(&reason, suspension);
    }
    begin(&out, buffer);
    key_rows(&out, "rows", suspension->gears[0].rows, answered ? suspension->given->n : 0);
    format_out_key(&out, "longest");
    if (answered) {
        format_out_object(&out);
        app_json_key_number(&out, "travel_mm", suspension->longest_mm);
        app_json_key_number(&out, "chain_stay_mm", suspension->longest_stay_mm);
        format_out_object_end(&out);
    } else {
        format_out_null(&out);
    }
    app_json_key_number(&out, "sag_mm", suspension->sag_mm);
    app_json_key_bool(&out, "sag_assumed", suspension->sag_known == BASE_ASSUMED);
    format_out_key(&out, "gears");
    format_out_array(&out);
    for (size_t i = 0; i < suspension->n_gears && answered; i++) {
        put_gear(&out, &suspension->gears[i], suspension->given->n);
    }
    format_out_array_end(&out);
    key_reason(&out, &reason);
    end(&out);
    base_buffer_clear(&reason);
}
