/* SPDX-License-Identifier: Apache-2.0 */
#include "app/json_parts.h"
#include "app/quote.h"

#include "base/date.h"
#include "explain/part.h"
#include "fit/small_parts.h"
#include "work/operations.h"

static void put_day(struct format_out *out, const char *key, int32_t day) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_date_write(&text, day);
    app_json_key_held(out, key, &text);
    base_buffer_clear(&text);
}

static void put_whole_or_null(struct format_out *out, const char *key, int64_t value) {
    format_out_key(out, key);
    if (value < 0) {
        format_out_null(out);
    } else {
        format_out_int(out, value);
    }
}

static void put_slots(struct format_out *out, const char *key, uint32_t slots) {
    format_out_key(out, key);
    format_out_array(out);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (slots >> s & 1) {
            format_out_text(out, trade_slot_rows[s].name);
        }
    }
    format_out_array_end(out);
}

static void put_part_lines(struct format_out *out, const struct work_quote *work) {
    format_out_key(out, "part_lines");
    format_out_array(out);
    for (size_t i = 0; i < work->n_parts; i++) {
        const struct work_part_line *line = &work->parts[i];
        struct base_buffer text;
        base_buffer_init(&text, 0);
        explain_part(&text, line->part);
        format_out_object(out);
        app_json_key_text(out, "slot", trade_slot_rows[line->slot].name);
        app_json_key_text(out, "id", line->part->id);
        app_json_key_held(out, "text", &text);
        app_json_key_int(out, "amount", line->part->listed_minor);
        app_json_key_bool(out, "ordered", line->ordered);
        format_out_object_end(out);
        base_buffer_clear(&text);
    }
    format_out_array_end(out);
}

static void put_labour_lines(struct format_out *out, const struct work_quote *work) {
    format_out_key(out, "labour_lines");
    format_out_array(out);
    for (size_t i = 0; i < work->n_labour; i++) {
        format_out_object(out);
        app_json_key_text(out, "operation", trade_operation_rows[work->labour[i].operation].name);
        app_json_key_text(out, "text", trade_operation_rows[work->labour[i].operation].label);
        app_json_key_int(out, "amount", work->labour[i].minor);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

static void put_bill(struct format_out *out, const struct work_bill *bill) {
    app_json_key_int(out, "parts_amount", bill->parts_minor);
    app_json_key_int(out, "labour_amount", bill->labour_minor);
    app_json_key_int(out, "consumables_amount", bill->consumables_minor);
    app_json_key_int(out, "discount_amount", bill->discount_minor);
    format_out_key(out, "taxes");
    format_out_array(out);
    for (size_t i = 0; i < bill->n_taxes; i++) {
        format_out_object(out);
        format_out_key(out, "percent");
        format_out_fixed(out, bill->taxes[i].thousandths / 1000.0, 3);
        app_json_key_int(out, "amount", bill->taxes[i].minor);
        format_out_object_end(out);
    }
    format_out_array_end(out);
    app_json_key_int(out, "net", bill->net_minor);
    app_json_key_int(out, "total", bill->total_minor);
    app_json_key_int(out, "cash", bill->cash_minor);
    app_json_key_int(out, "deposit", bill->deposit_minor);
}

static void put_not_in_it(struct format_out *out, const struct app_quote *quote, const struct plan_way *way) {
    uint32_t needed = fit_small_parts(quote->bike, &way->build);
    format_out_key(out, "not_in_it");
    format_out_array(out);
    for (unsigned i = 0; i < TRADE_SMALL_PARTS; i++) {
        if (needed >> i & 1) {
            format_out_text(out, trade_small_part_rows[i].name);
        }
    }
    format_out_array_end(out);
}

/* What strip-down may bring to light, with its time. */
static void put_found(struct format_out *out, const struct app_quote *quote, const struct plan_way *way) {
    struct work_list found;
    work_found(&found, quote->bike, &way->build);
    format_out_key(out, "may_be_found");
    format_out_array(out);
    for (size_t i = 0; i < found.n; i++) {
        format_out_object(out);
        app_json_key_text(out, "operation", trade_bench_rows[found.at[i]].name);
        app_json_key_number(out, "least_min", trade_bench_rows[found.at[i]].low);
        app_json_key_number(out, "most_min", trade_bench_rows[found.at[i]].high);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

static void put_choice(struct format_out *out, const struct app_quote *quote, const struct app_quote_choice *choice) {
    const struct work_quote *work = &choice->work;
    format_out_object(out);
    app_json_key_text(out, "letter", app_quote_keeps(choice) ? NULL : choice->letter);
    put_bill(out, &work->bill);
    put_part_lines(out, work);
    put_labour_lines(out, work);
    put_slots(out, "stays", work->stays);
    put_slots(out, "comes_off", work->off);
    put_not_in_it(out, quote, choice->way);
    put_found(out, quote, choice->way);
    if (work->ready_days < 0) {
        app_json_key_text(out, "parts_here", NULL);
    } else {
        put_day(out, "parts_here", quote->day + work->ready_days);
    }
    app_json_key_way(out, "build", quote->shown->plan, choice->way);
    format_out_object_end(out);
}

void app_json_quote(struct base_buffer *buffer, const struct app_quote *quote) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_int(&out, "format", 1);
    app_json_key_text(&out, "label", quote->bike->label);
    put_day(&out, "day", quote->day);
    if (quote->shop->valid_days < 0) {
        app_json_key_text(&out, "holds_until", NULL);
    } else {
        put_day(&out, "holds_until", quote->last_day);
    }
    app_json_key_text(&out, "currency", quote->shop->currency);
    app_json_key_bool(&out, "amounts_include_tax", quote->shop->prices_include_tax);
    format_out_key(&out, "discount_percent");
    format_out_fixed(&out, quote->discount_thousandths / 1000.0, 3);
    put_whole_or_null(&out, "call_first", quote->call_first_minor);
    app_json_key_text(&out, "old_parts", quote->old_parts);
    app_json_key_text(&out, "climb", quote->climb);
    app_json_key_text(&out, "revision", quote->shown->plan->question.catalogue->revision);
    format_out_key(&out, "choices");
    format_out_array(&out);
    for (size_t i = 0; i < quote->n_ways; i++) {
        put_choice(&out, quote, &quote->choices[i]);
    }
    format_out_array_end(&out);
    format_out_key(&out, "keep_rings");
    if (quote->n > quote->n_ways) {
        put_choice(&out, quote, &quote->choices[quote->n - 1]);
    } else {
        format_out_null(&out);
    }
    format_out_object_end(&out);
    format_out_done(&out);
}
