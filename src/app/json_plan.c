/* SPDX-License-Identifier: Apache-2.0 */
#include "app/json.h"
#include "app/json_parts.h"
#include "explain/explain.h"
#include "fit/small_parts.h"
#include "plan/stand_in.h"

#include <math.h>
#include <stdlib.h>

static const char *const purpose_names[PLAN_PURPOSES] = {
    [PLAN_LEAST_MONEY] = "least_money",     [PLAN_LEAST_CHANGE] = "least_change", [PLAN_EASIEST] = "easiest_climbing",
    [PLAN_FASTEST] = "highest_gear",        [PLAN_CLOSEST] = "closest_range",     [PLAN_CERTAIN] = "nothing_to_measure",
    [PLAN_CLEAN] = "fewest_drawbacks",      [PLAN_LIGHTEST] = "lightest",         [PLAN_MOST_IN_BAND] = "most_in_band",
    [PLAN_LEAST_ON_FOOT] = "least_on_foot",
};
static const char *const wish_names[PLAN_WISHES] = {
    [PLAN_WISH_RINGS] = "rings",           [PLAN_WISH_SPROCKETS] = "sprockets", [PLAN_WISH_LOWEST] = "lowest_m_max",
    [PLAN_WISH_HIGHEST] = "highest_m_min", [PLAN_WISH_BUDGET] = "budget",       [PLAN_WISH_KEEP] = "keep",
};

const char *app_json_wish_name(enum plan_wish_id id) { return wish_names[id]; }

/* --- one way ------------------------------------------------------------------------------------------------------- */

static void put_metres(struct format_out *out, const char *key, int32_t tenths, bool is_known) {
    format_out_key(out, key);
    if (is_known && tenths > 0) {
        format_out_fixed(out, tenths / 10000.0, 4);
    } else {
        format_out_null(out);
    }
}

void app_json_values(struct format_out *out, const struct plan *plan, const struct plan_values *v) {
    app_json_key_int(out, "cost", v->cost_minor);
    app_json_key_int(out, "price", v->price_minor);
    app_json_key_int(out, "labour", v->labour_minor);
    app_json_key_number(out, "mass_g", v->mass_known == BASE_OPEN ? (double)NAN : v->mass_g);
    app_json_key_bool(out, "mass_assumed", v->mass_known == BASE_ASSUMED);
    put_metres(out, "lowest_m", v->lowest, plan->gears_known);
    put_metres(out, "highest_m", v->highest, plan->gears_known);
    app_json_key_number(out, "line_error_mm", v->line_steps < 0 ? NAN : v->line_steps / 2.0);
    app_json_key_number(out, "bench_min", v->tenths / 10.0);
    app_json_key_int(out, "changed", __builtin_popcount(v->changed));
    if (plan->question.speeds) {
        bool open = v->score.in_band == PLAN_NO_SCORE;
        app_json_key_number(out, "in_band", open ? (double)NAN : v->score.in_band / 1000.0);
        app_json_key_number(out, "walked_m", open ? (double)NAN : v->score.walked_m);
    }
}

void app_json_build_parts(struct format_out *out, const struct fit_build *build) {
    format_out_key(out, "parts");
    format_out_object(out);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        const struct fit_choice *choice = &build->at[s];
        app_json_key_text(out, trade_slot_rows[s].name,
                          choice->kind == FIT_NEW    ? choice->part->id
                          : choice->kind == FIT_KEEP ? "keep"
                                                     : "none");
    }
    format_out_object_end(out);
}

static void put_candidate(struct format_out *out, const struct fit_dim *dim, unsigned candidate) {
    const struct trade_property_row *row = &trade_property_rows[dim->property];
    if (row->type == TRADE_WORD) {
        format_out_text(out, trade_domain_rows[row->domain].words[dim->at[candidate].word].word);
    } else {
        format_out_double(out, dim->at[candidate].number);
    }
}

static void put_path_key(struct format_out *out, unsigned subject, unsigned property) {
    struct base_buffer path;
    base_buffer_init(&path, 0);
    explain_path(&path, subject, property);
    format_out_key(out, path.status == BASE_OK ? path.at : "/");
    base_buffer_clear(&path);
}

/* The candidates that a joint case has in some of the dimensions, as a number. */
static uint32_t projected(const struct fit_cases *cases, uint32_t dims, uint32_t joint) {
    uint32_t at = 0;
    for (size_t d = 0; d < cases->n_dims; d++) {
        at += (dims >> d & 1) ? fit_candidate(&cases->dims[d], joint) * cases->dims[d].stride : 0;
    }
    return at;
}

/* One case: the values that decide, and null for what must be measured whatever it reads. */
static void put_case(struct format_out *out, const struct plan *plan, const struct plan_way *way, uint32_t dims,
                     uint32_t joint) {
    format_out_object(out);
    for (size_t d = 0; d < plan->cases.n_dims; d++) {
        if (dims >> d & 1) {
            put_path_key(out, plan->cases.dims[d].subject, plan->cases.dims[d].property);
            put_candidate(out, &plan->cases.dims[d], fit_candidate(&plan->cases.dims[d], joint));
        }
    }
    for (size_t h = 0; h < plan->n_hangs; h++) {
        if (way->hangs >> h & 1) {
            put_path_key(out, plan->hangs[h].subject, plan->hangs[h].property);
            format_out_null(out);
        }
    }
    format_out_object_end(out);
}

/* The cases in which a way fits, each as {path: value} over the properties that decide it; empty when it is certain. */
static void put_cases(struct format_out *out, const struct plan *plan, const struct plan_way *way) {
    uint32_t dims = fit_deciding(&plan->cases, &way->cases);
    bool put[FIT_CASES_MAX] = {false};
    format_out_key(out, "cases");
    format_out_array(out);
    for (uint32_t joint = 0; joint < plan->cases.n && !way->certain; joint++) {
        uint32_t at = projected(&plan->cases, dims, joint);
        if ((way->cases.bits[joint / 64] >> (joint % 64) & 1) && !put[at]) {
            put[at] = true;
            put_case(out, plan, way, dims, joint);
        }
    }
    format_out_array_end(out);
}

/* Small parts that no catalogue prices, by their ids. */
static void put_also_needed(struct format_out *out, const struct plan *plan, const struct fit_build *build) {
    uint32_t needed = fit_small_parts(plan->question.bike, build);
    format_out_key(out, "also_needed");
    format_out_array(out);
    for (unsigned i = 0; i < TRADE_SMALL_PARTS; i++) {
        if (needed >> i & 1) {
            format_out_text(out, trade_small_part_rows[i].name);
        }
    }
    format_out_array_end(out);
}

static void put_drawbacks(struct format_out *out, const struct plan *plan, const struct plan_way *way) {
    format_out_key(out, "drawbacks");
    format_out_array(out);
    for (size_t i = 0; i < plan->n_drawbacks; i++) {
        if (way->drawbacks >> i & 1) {
            format_out_text(out, plan->drawbacks[i]);
        }
    }
    format_out_array_end(out);
}

/* Of a pick: parts in stock that would do instead of those that must be ordered, by slot. */
static void put_stand_ins(struct format_out *out, const struct plan *plan, const struct plan_way *way) {
    format_out_key(out, "stand_ins");
    format_out_object(out);
    for (unsigned s = 0; s < TRADE_SLOTS && way->purposes != 0; s++) {
        const struct trade_part *here = plan_stand_in(plan, way, (enum trade_slot)s);
        if (here) {
            app_json_key_text(out, trade_slot_rows[s].name, here->id);
        }
    }
    format_out_object_end(out);
}

static void put_purposes(struct format_out *out, uint32_t purposes) {
    format_out_key(out, "picks");
    format_out_array(out);
    for (unsigned p = 0; p < PLAN_PURPOSES; p++) {
        if (purposes >> p & 1) {
            format_out_text(out, purpose_names[p]);
        }
    }
    format_out_array_end(out);
}

static void put_interfaces(struct format_out *out, const struct plan *plan, const struct plan_way *way) {
    struct fit_finding *findings = malloc((fit_rules_n + 1) * sizeof *findings);
    size_t n = 0;
    if (!findings) {
        out->buffer->status = BASE_NO_MEMORY;
        return;
    }
    fit_judge_build(findings, &n, plan->question.bike, &way->build, &plan->cases, false);
    app_json_findings(out, "interfaces", findings, n);
    free(findings);
}

void app_json_way(struct format_out *out, const struct plan *plan, const struct plan_way *way, bool why) {
    format_out_object(out);
    app_json_values(out, plan, &way->values);
    app_json_build_parts(out, &way->build);
    app_json_key_bool(out, "certain", way->certain);
    put_cases(out, plan, way);
    put_drawbacks(out, plan, way);
    put_also_needed(out, plan, &way->build);
    app_json_key_int(out, "equals", way->equals > INT64_MAX ? INT64_MAX : (int64_t)way->equals);
    put_purposes(out, way->purposes);
    put_stand_ins(out, plan, way);
    if (why) {
        put_interfaces(out, plan, way);
    }
    format_out_object_end(out);
}

/* --- the plan ------------------------------------------------------------------------------------------------------ */

static void put_builds(struct format_out *out, const struct plan *plan, size_t ways, bool why) {
    size_t shown = 0;
    format_out_key(out, "builds");
    format_out_array(out);
    for (size_t i = 0; i < plan->n_picks && shown < ways; i++, shown++) {
        app_json_way(out, plan, &plan->ways[plan->picks[i]], why);
    }
    for (size_t i = 0; i < plan->n_ways && shown < ways; i++) {
        if (plan->ways[i].purposes == 0) {
            app_json_way(out, plan, &plan->ways[i], why);
            shown++;
        }
    }
    format_out_array_end(out);
}

static void put_objectives(struct format_out *out, const struct trade_wish *wish) {
    format_out_key(out, "objectives");
    format_out_array(out);
    for (unsigned o = 0; o < TRADE_OBJECTIVES; o++) {
        if (wish->objectives >> o & 1) {
            format_out_text(out, trade_objective_names[o]);
        }
    }
    format_out_array_end(out);
}

static void put_left_out(struct format_out *out, const struct plan *plan) {
    format_out_key(out, "left_out");
    format_out_array(out);
    for (size_t i = 0; i < plan->shelf->n_left_out; i++) {
        app_json_lacking(out, plan->shelf->left_out[i].id, plan->shelf->left_out[i].property);
    }
    format_out_array_end(out);
}

static void put_because(struct format_out *out, const struct app_plan_shown *shown) {
    const struct plan *plan = shown->plan;
    format_out_key(out, "because");
    format_out_array(out);
    for (size_t i = 0; i < shown->n_reliefs; i++) {
        const struct plan_relief *relief = &shown->reliefs[i];
        format_out_object(out);
        format_out_key(out, "give_up");
        format_out_array(out);
        for (unsigned w = 0; w < PLAN_WISHES; w++) {
            if (relief->given_up >> w & 1) {
                format_out_text(out, wish_names[w]);
            }
        }
        format_out_array_end(out);
        app_json_values(out, plan, &relief->values);
        app_json_build_parts(out, &relief->build);
        format_out_object_end(out);
    }
    if (shown->n_reliefs == 0) {
        format_out_object(out);
        app_json_key_text(out, plan->complete ? "catalogue" : "limit", explain_message(app_no_way(plan)));
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

/* What a search that was stopped did not look at whole; null when that is all. */
static void put_open_gears(struct format_out *out, const struct plan *plan) {
    format_out_key(out, "open_gears");
    if (plan->all_open) {
        format_out_null(out);
        return;
    }
    format_out_array(out);
    for (size_t i = 0; i < plan->n_open_gears; i++) {
        format_out_object(out);
        put_metres(out, "lowest_m", plan->open_gears[i].lowest, plan->gears_known);
        put_metres(out, "highest_m", plan->open_gears[i].counted, plan->gears_known);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

void app_json_key_way(struct format_out *out, const char *key, const struct plan *plan, const struct plan_way *way) {
    format_out_key(out, key);
    if (way) {
        app_json_way(out, plan, way, false);
    } else {
        format_out_null(out);
    }
}

/* What hills of the wish ask of the lowest gear; nothing where it names none. */
static void put_climbs(struct format_out *out, const struct trade_wish *wish) {
    if (wish->n_climbs == 0) {
        return;
    }
    format_out_key(out, "climbs");
    format_out_array(out);
    for (size_t i = 0; i < wish->n_climbs; i++) {
        format_out_object(out);
        app_json_key_number(out, "gradient_percent", wish->climbs[i].gradient_percent);
        app_json_key_number(out, "cadence_rpm", wish->climbs[i].cadence_rpm);
        app_json_key_number(out, "lowest_m_max", wish->climbs[i].lowest_m_max);
        app_json_key_text(out, "known", app_json_known(wish->climbs[i].known));
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

void app_json_put_plan(struct format_out *out, const struct app_plan_shown *shown, size_t ways) {
    const struct plan *plan = shown->plan;
    format_out_object(out);
    put_builds(out, plan, ways, shown->why);
    app_json_key_int(out, "front_size", (int64_t)plan->n_ways);
    put_objectives(out, &plan->wish);
    app_json_key_bool(out, "complete", plan->complete);
    put_open_gears(out, plan);
    app_json_key_text(out, "currency", plan->question.shop->currency);
    format_out_key(out, "now");
    format_out_object(out);
    put_metres(out, "lowest_m", plan->now_values.lowest, plan->gears_known);
    put_metres(out, "highest_m", plan->now_values.highest, plan->gears_known);
    format_out_object_end(out);
    app_json_key_way(out, "keep_rings", plan, shown->kept.found ? &shown->kept.way : NULL);
    app_json_key_way(out, "keep_rings_clean", plan, shown->kept.clean_found ? &shown->kept.clean : NULL);
    put_climbs(out, &plan->wish);
    put_left_out(out, plan);
    app_json_open(out, shown);
    app_json_assumed(out, plan->question.bike);
    app_json_key_bool(out, "cases_cut", plan->cases.cut);
    if (plan->n_ways == 0) {
        put_because(out, shown);
    }
    format_out_object_end(out);
}

void app_json_plan(struct base_buffer *buffer, const struct app_plan_shown *shown, size_t ways) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    app_json_put_plan(&out, shown, ways);
    format_out_done(&out);
}
