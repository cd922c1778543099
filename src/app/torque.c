/* SPDX-License-Identifier: Apache-2.0 */
#include "app/torque.h"

#include "app/commands.h"
#include "explain/explain.h"
#include "mech/preload.h"

#include <math.h>
#include <string.h>

static const struct trade_frictions_row *friction_of(int surface) {
    const struct trade_frictions_row *unknown = &trade_frictions[0];
    for (size_t i = 0; i < trade_frictions_n; i++) {
        if (trade_frictions[i].surface == surface) {
            return &trade_frictions[i];
        }
        unknown = trade_frictions[i].surface == TRADE_SURFACE_UNKNOWN ? &trade_frictions[i] : unknown;
    }
    return unknown;
}

struct app_torque app_torque_of(const struct trade_torques_row *row, double maker_nm) {
    bool told = !isnan(maker_nm);
    const struct trade_frictions_row *friction = friction_of(row->surface);
    struct app_torque out = {.row = row,
                             .low_nm = told ? maker_nm : row->low_nm,
                             .high_nm = told ? maker_nm : row->high_nm,
                             .maker_nm = maker_nm,
                             .factor = friction->factor,
                             .scatter_share = trade_limits[TRADE_LIMIT_PRELOAD_SCATTER_SHARE].value,
                             .low_n = NAN,
                             .high_n = NAN,
                             .friction_source = friction->source};
    struct mech_preload_range range;
    if (mech_preload_force_range(&range, out.factor, out.scatter_share, out.low_nm, out.high_nm, row->thread_mm) ==
        BASE_OK) {
        out.low_n = range.low_n;
        out.high_n = range.high_n;
    }
    return out;
}

bool app_torque_unusual(const struct app_torque *torque) {
    return torque->maker_nm < torque->row->low_nm || torque->maker_nm > torque->row->high_nm;
}

/* --- the command --------------------------------------------------------------------------------------------------- */

/* Rows that a word is about: the one of this name, else each whose name or description holds it. How many. */
static size_t find_rows(const struct trade_torques_row *rows[TRADE_TORQUE_COUNT], const char *word) {
    size_t n = 0;
    for (size_t i = 0; i < trade_torques_n; i++) {
        const struct trade_torques_row *row = &trade_torques[i];
        if (word && strcmp(row->name, word) == 0) {
            rows[0] = row;
            return 1;
        }
        if (!word || strstr(row->name, word) || strstr(row->what, word)) {
            rows[n++] = row;
        }
    }
    return n;
}

static void say_no_such_row(struct app_reply *reply, const char *name) {
    const char *names[TRADE_TORQUE_COUNT];
    for (size_t i = 0; i < trade_torques_n; i++) {
        names[i] = trade_torques[i].name;
    }
    int nearest = base_text_nearest(base_slice_of(name), names, trade_torques_n);
    explain_tell(&reply->err, nearest < 0 ? "torque.no-such" : "torque.no-such-nearest", explain_words(name),
                 explain_words(nearest < 0 ? "" : names[nearest]));
    base_buffer_char(&reply->err, '\n');
    reply->status = APP_USAGE;
}

void app_torques(struct app_reply *reply, const struct app_request *request) {
    const struct trade_torques_row *rows[TRADE_TORQUE_COUNT];
    struct app_torque torques[TRADE_TORQUE_COUNT];
    bool told = request->maker_nm > 0;
    size_t n = find_rows(rows, request->subject);
    if (n == 0) {
        say_no_such_row(reply, request->subject);
        return;
    }
    if (n > 1 && told) { /* a maker's figure is for one thing */
        explain_tell(&reply->err, "torque.which", explain_words(request->subject), explain_spelt((int64_t)n));
        base_buffer_char(&reply->err, '\n');
        reply->status = APP_USAGE;
        return;
    }
    for (size_t i = 0; i < n; i++) {
        torques[i] = app_torque_of(rows[i], told ? request->maker_nm : (double)NAN);
    }
    if (request->json) {
        app_json_torques(&reply->out, torques, n);
    } else if (n == 1) {
        app_text_torque(&reply->out, &request->style, torques);
    } else {
        app_text_torques(&reply->out, &request->style, torques, n);
    }
}
