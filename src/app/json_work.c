/* SPDX-License-Identifier: Apache-2.0 */
#include "app/work.h"

#include "app/json_parts.h"
#include "explain/bench.h"
#include "explain/message.h"
#include "explain/path.h"

#include <math.h>

static const char *word_or_null(enum trade_domain domain, int word) {
    return word < 0 ? NULL : trade_domain_rows[domain].words[word].word;
}

static void key_payer(struct format_out *out, enum trade_bench operation, uint32_t charged) {
    enum trade_operation payer = work_payer(operation, charged);
    app_json_key_text(out, "paid_by", payer < TRADE_OPERATIONS ? trade_operation_rows[payer].name : NULL);
}

static void put_tools(struct format_out *out, uint64_t tools) {
    format_out_key(out, "tools");
    format_out_array(out);
    for (unsigned t = 0; t < TRADE_TOOLS; t++) {
        if ((tools >> t & 1) != 0) {
            format_out_text(out, trade_tool_rows[t].name);
        }
    }
    format_out_array_end(out);
}

static void put_torques(struct format_out *out, const int rows[2]) {
    format_out_key(out, "torques");
    format_out_array(out);
    for (size_t i = 0; i < 2 && rows[i] >= 0; i++) {
        format_out_object(out);
        app_json_key_text(out, "name", trade_torques[rows[i]].name);
        app_json_key_number(out, "low_nm", trade_torques[rows[i]].low_nm);
        app_json_key_number(out, "high_nm", trade_torques[rows[i]].high_nm);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

static void put_operation(struct format_out *out, const struct app_work *work, enum trade_bench operation) {
    const struct trade_bench_row *row = &trade_bench_rows[operation];
    int surface = row->torques[0] >= 0 ? trade_torques[row->torques[0]].surface : row->surface;
    app_json_key_text(out, "operation", row->name);
    app_json_key_text(out, "what", explain_bench(operation));
    app_json_key_text(out, "caution", explain_bench_caution(operation));
    key_payer(out, operation, work->sheet.charged);
    app_json_key_text(out, "phase", word_or_null(TRADE_DOMAIN_BENCH_PHASE, (int)row->phase));
    app_json_key_text(out, "place", word_or_null(TRADE_DOMAIN_BENCH_PLACE, (int)row->place));
    app_json_key_text(out, "position", word_or_null(TRADE_DOMAIN_BENCH_POSITION, (int)row->position));
    put_tools(out, row->tools);
    put_torques(out, row->torques);
    app_json_key_text(out, "hand", word_or_null(TRADE_DOMAIN_HAND, work_hand(operation, work->question.bike)));
    app_json_key_text(out, "surface", word_or_null(TRADE_DOMAIN_SURFACE, surface));
    app_json_key_number(out, "low_min", row->low);
    app_json_key_number(out, "high_min", row->high);
    app_json_key_text(out, "source", row->source);
}

static void put_list(struct format_out *out, const char *key, const struct app_work *work,
                     const struct work_list *list) {
    format_out_key(out, key);
    format_out_array(out);
    for (size_t i = 0; i < list->n; i++) {
        format_out_object(out);
        put_operation(out, work, list->at[i]);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

static void put_reading(struct format_out *out, const struct work_reading *reading) {
    struct base_buffer name;
    base_buffer_init(&name, 0);
    explain_reading_name(&name, reading);
    format_out_object(out);
    app_json_key_int(out, "step", (int64_t)reading->step);
    app_json_key_text(out, "check", reading->check >= 0 ? trade_check_rows[reading->check].name : NULL);
    app_json_key_text(out, "torque", reading->torque >= 0 ? trade_torques[reading->torque].name : NULL);
    app_json_key_text(out, "what", explain_held(out->buffer, &name));
    app_json_key_text(out, "unit", reading->unit);
    app_json_key_number(out, "low", reading->low);
    app_json_key_number(out, "high", reading->high);
    app_json_key_number(out, "expected", reading->expected);
    app_json_key_text(out, "known", app_json_known(reading->known));
    format_out_object_end(out);
    base_buffer_clear(&name);
}

static void put_readings(struct format_out *out, const struct work_sheet *sheet) {
    format_out_key(out, "readings");
    format_out_array(out);
    for (size_t i = 0; i < sheet->n_readings; i++) {
        put_reading(out, &sheet->readings[i]);
    }
    format_out_array_end(out);
}

/* The usual readings with which the way stands; none where it has no usual ones. */
static void put_stands(struct format_out *out, const struct app_work *work, const struct work_ask *ask) {
    format_out_key(out, "stands");
    format_out_array(out);
    const struct fit_dim *dim = ask->dim >= 0 ? &work->question.cases->dims[ask->dim] : NULL;
    for (unsigned i = 0; dim && i < dim->n; i++) {
        if ((ask->stands >> i & 1) != 0) {
            app_json_value(out, &trade_property_rows[dim->property], &dim->at[i]);
        }
    }
    format_out_array_end(out);
}

static void put_asks(struct format_out *out, const struct app_work *work) {
    format_out_key(out, "to_measure");
    format_out_array(out);
    for (size_t i = 0; i < work->sheet.n_asks; i++) {
        const struct work_ask *ask = &work->sheet.asks[i];
        format_out_object(out);
        app_json_key_int(out, "before_step", (int64_t)ask->before);
        format_out_key(out, "path");
        app_json_path(out, ask->subject, ask->property);
        app_json_key_bool(out, "decides", ask->decides);
        put_stands(out, work, ask);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

static void put_red(struct format_out *out, const struct work_red *red) {
    struct base_buffer facts[EXPLAIN_RED_MAX];
    size_t n = explain_red(facts, red);
    format_out_key(out, "red");
    format_out_array(out);
    for (size_t i = 0; i < n; i++) {
        format_out_text(out, explain_held(out->buffer, &facts[i]));
        base_buffer_clear(&facts[i]);
    }
    format_out_array_end(out);
}

static void put_charged(struct format_out *out, const struct app_work *work) {
    const struct trade_shop *shop = work->question.shop;
    format_out_key(out, "charged");
    format_out_array(out);
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        if ((work->sheet.charged >> o & 1) != 0) {
            format_out_object(out);
            app_json_key_text(out, "operation", trade_operation_rows[o].name);
            app_json_key_number(out, "minutes", shop->minutes[o]);
            app_json_key_int(out, "labour", shop->labour_minor[o]);
            format_out_object_end(out);
        }
    }
    format_out_array_end(out);
}

/* Minutes in tenths, as they are charged. */
static void key_minutes(struct format_out *out, const char *key, double minutes) {
    format_out_key(out, key);
    format_out_fixed(out, minutes, 1);
}

static void put_minutes(struct format_out *out, const struct work_sheet *sheet) {
    key_minutes(out, "charged_min", sheet->minutes.charged);
    key_minutes(out, "low_min", sheet->minutes.low);
    key_minutes(out, "high_min", sheet->minutes.high);
    app_json_key_int(out, "turns", sheet->cost.turns);
    app_json_key_int(out, "moves", sheet->cost.moves);
    app_json_key_int(out, "tool_changes", sheet->cost.tools);
    app_json_key_bool(out, "least", sheet->least);
}

void app_json_work(struct base_buffer *buffer, const struct app_work *work) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_text(&out, "way", work->letter);
    app_json_build_parts(&out, &work->way->build);
    put_minutes(&out, &work->sheet);
    put_charged(&out, work);
    app_json_key_int(&out, "labour", work->way->values.labour_minor);
    put_red(&out, &work->red);
    put_asks(&out, work);
    put_list(&out, "steps", work, &work->sheet.steps);
    put_readings(&out, &work->sheet);
    put_list(&out, "found", work, &work->sheet.found);
    format_out_object_end(&out);
    format_out_done(&out);
}

void app_json_no_work(struct base_buffer *buffer, const struct plan *plan) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_text(&out, "way", NULL);
    app_json_key_bool(&out, "complete", plan->complete);
    format_out_object_end(&out);
    format_out_done(&out);
}
