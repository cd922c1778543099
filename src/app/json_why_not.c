/* SPDX-License-Identifier: Apache-2.0 */
#include "app/why_not.h"

#include "app/json_parts.h"
#include "explain/stop.h"

enum app_exit app_why_not_status(const struct app_why_not *answer) {
    bool fits = answer->asked ? answer->why.fits : answer->plan->n_ways > 0;
    bool known = answer->asked ? answer->why.complete : answer->plan->complete && answer->against.complete;
    return fits ? APP_DONE : known ? APP_NO : APP_FAILED;
}

static const char *stop_name(const struct plan_stop *stop) {
    switch (stop->kind) {
    case PLAN_STOP_WISH:
        return app_json_wish_name((enum plan_wish_id)stop->what);
    case PLAN_STOP_KEEP:
    case PLAN_STOP_CONDITION:
        return trade_slot_rows[stop->what].name;
    case PLAN_STOP_RULE:
        return fit_rules[stop->what]->id;
    }
    return NULL;
}

static void put_stop(struct format_out *out, const struct plan *plan, const struct plan_stop *stop) {
    static const char *const kinds[] = {[PLAN_STOP_WISH] = "wish",
                                        [PLAN_STOP_KEEP] = "keep",
                                        [PLAN_STOP_CONDITION] = "condition",
                                        [PLAN_STOP_RULE] = "rule"};
    struct fit_finding finding;
    format_out_object(out);
    app_json_key_text(out, "kind", kinds[stop->kind]);
    app_json_key_text(out, "name", stop_name(stop));
    format_out_key(out, "finding");
    if (plan_stop_finding(&finding, plan, stop)) {
        app_json_finding(out, &finding);
    } else {
        format_out_null(out);
    }
    format_out_key(out, "without");
    format_out_object(out);
    app_json_values(out, plan, &stop->values);
    app_json_build_parts(out, &stop->build);
    format_out_object_end(out);
    format_out_object_end(out);
}

static void put_against(struct format_out *out, const struct plan *plan, const struct plan_conflict *conflict) {
    format_out_key(out, "against");
    format_out_array(out);
    for (size_t i = 0; conflict->complete && i < conflict->n; i++) {
        put_stop(out, plan, &conflict->stops[i]);
    }
    format_out_array_end(out);
}

static void put_asked(struct format_out *out, const struct plan_why_not *why) {
    format_out_key(out, "asked");
    format_out_array(out);
    for (size_t i = 0; i < why->n; i++) {
        format_out_object(out);
        app_json_key_text(out, "id", why->part[i]->id);
        app_json_key_text(out, "slot", why->left_out ? NULL : trade_slot_rows[why->slot[i]].name);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

static void put_left_out(struct format_out *out, const struct trade_left_out *left_out) {
    format_out_key(out, "left_out");
    if (left_out) {
        app_json_lacking(out, left_out->id, left_out->property);
    } else {
        format_out_null(out);
    }
}

static void put_answer(struct format_out *out, const struct app_why_not *answer) {
    const struct plan_why_not *why = &answer->why;
    const struct plan *plan = answer->plan;
    bool fits = answer->asked ? why->fits : plan->n_ways > 0;
    put_asked(out, why);
    app_json_key_bool(out, "fits", fits);
    app_json_key_bool(out, "complete", answer->asked ? why->complete : plan->complete && answer->against.complete);
    put_left_out(out, why->left_out);
    app_json_key_way(out, "build", plan, answer->asked && fits ? &why->way : NULL);
    app_json_key_way(out, "beaten_by", plan, why->beaten_by);
    struct fit_finding findings[PLAN_RULES_MAX];
    app_json_findings(out, "on_bike", findings, plan_swapped_clashes(findings, why, plan));
    put_against(out, plan, answer->asked ? &why->conflict : &answer->against);
    app_json_key_text(out, "nearest", why->nearest ? why->nearest->id : NULL);
    app_json_key_way(out, "nearest_build", plan, why->nearest ? &why->nearest_way : NULL);
}

void app_json_why_not(struct base_buffer *buffer, const struct app_why_not *answer) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    put_answer(&out, answer);
    format_out_object_end(&out);
    format_out_done(&out);
}
