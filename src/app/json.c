/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The smaller answers as JSON; the plan's own is in json_plan.c.
 */
#include "app/json.h"

#include "app/json_parts.h"
#include "explain/explain.h"
#include "format/json_out.h"

#include <math.h>

/* --- what several answers share ------------------------------------------------------------------------------------ */

void app_json_key_text(struct format_out *out, const char *key, const char *text) {
    format_out_key(out, key);
    format_out_text(out, text);
}

void app_json_key_held(struct format_out *out, const char *key, const struct base_buffer *text) {
    if (text->status != BASE_OK) {
        out->buffer->status = text->status;
    }
    app_json_key_text(out, key, text->at ? text->at : "");
}

void app_json_key_int(struct format_out *out, const char *key, int64_t value) {
    format_out_key(out, key);
    format_out_int(out, value);
}

/* null when it is not a number: nobody knows. */
void app_json_key_number(struct format_out *out, const char *key, double value) {
    format_out_key(out, key);
    format_out_double(out, value);
}

void app_json_key_bool(struct format_out *out, const char *key, bool value) {
    format_out_key(out, key);
    format_out_bool(out, value);
}

void app_json_path(struct format_out *out, unsigned subject, unsigned property) {
    struct base_buffer path;
    base_buffer_init(&path, 0);
    explain_path(&path, subject, property);
    format_out_slice(out, (struct base_slice){path.at, path.n});
    base_buffer_clear(&path);
}

const char *app_json_known(enum base_known known) {
    static const char *const names[] = {"measured", "table", "assumed", "open"};
    return names[known];
}

void app_json_put_waits(struct format_out *out, enum base_known known, const struct app_open *open) {
    app_json_key_text(out, "known", app_json_known(open->n > 0 ? BASE_OPEN : known));
    format_out_key(out, "open");
    format_out_array(out);
    for (size_t i = 0; i < open->n; i++) {
        app_json_path(out, open->at[i].subject, open->at[i].property);
    }
    format_out_array_end(out);
}

static void put_facts(struct format_out *out, const struct fit_verdict *verdict) {
    format_out_key(out, "facts");
    format_out_array(out);
    for (unsigned i = 0; i < verdict->n_facts; i++) {
        const struct fit_fact *fact = &verdict->facts[i];
        format_out_object(out);
        if (fact->type == FIT_FACT_WORD) {
            app_json_key_text(out, "word", trade_domain_rows[fact->domain].words[fact->word].word);
        } else {
            app_json_key_number(out, "value", fact->number);
            app_json_key_text(out, "unit", fact->unit);
        }
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

void app_json_lacking(struct format_out *out, const char *id, enum trade_property property) {
    format_out_object(out);
    app_json_key_text(out, "id", id);
    app_json_key_text(out, "property", trade_property_rows[property].name);
    format_out_object_end(out);
}

static void put_slots(struct format_out *out, uint32_t slots) {
    format_out_key(out, "slots");
    format_out_array(out);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (slots >> s & 1) {
            format_out_text(out, trade_slot_rows[s].name);
        }
    }
    format_out_array_end(out);
}

/* The slots that a rule names itself, without those that only a measure passes through. */
static uint32_t named_slots(const struct fit_rule *rule) {
    uint32_t slots = 0;
    for (unsigned i = 0; i < rule->n_reads; i++) {
        slots |= rule->reads[i].subject < TRADE_SLOTS ? 1u << rule->reads[i].subject : 0;
    }
    return slots;
}

void app_json_finding(struct format_out *out, const struct fit_finding *finding) {
    struct base_buffer reason;
    bool asks = finding->conditional || finding->hangs;
    base_buffer_init(&reason, 0);
    explain_finding(&reason, finding);
    format_out_object(out);
    app_json_key_text(out, "rule", finding->rule->id);
    put_slots(out, named_slots(finding->rule));
    app_json_key_text(out, "verdict", app_verdict_name(finding));
    format_out_key(out, "reason");
    format_out_slice(out, (struct base_slice){reason.at, reason.n});
    format_out_key(out, "measure");
    if (asks) {
        app_json_path(out, finding->ask_subject, finding->ask_property);
    } else {
        format_out_null(out);
    }
    put_facts(out, &finding->verdict);
    app_json_key_text(out, "known", app_json_known(finding->known));
    app_json_key_text(out, "source", finding->rule->source);
    if (finding->overruled) {
        format_out_key(out, "overruled");
        format_out_object(out);
        app_json_key_text(out, "by", finding->overruled->by);
        app_json_key_text(out, "reason", finding->overruled->reason);
        format_out_object_end(out);
    }
    format_out_object_end(out);
    base_buffer_clear(&reason);
}

void app_json_findings(struct format_out *out, const char *key, const struct fit_finding *findings, size_t n) {
    format_out_key(out, key);
    format_out_array(out);
    for (size_t i = 0; i < n; i++) {
        app_json_finding(out, &findings[i]);
    }
    format_out_array_end(out);
}

static const char *verdict_name(enum fit_kind kind) {
    static const char *const names[] = {"fits", "fits", "adapter", "drawback", "measure", "clash"};
    return names[kind];
}

static void begin(struct format_out *out, struct base_buffer *buffer) {
    format_out_init(out, buffer, true);
    format_out_object(out);
}

static void end(struct format_out *out) {
    format_out_object_end(out);
    format_out_done(out);
}

/* --- answers ------------------------------------------------------------------------------------------------------- */

void app_json_gears(struct base_buffer *buffer, const struct app_gears *gears) {
    struct format_out out;
    begin(&out, buffer);
    format_out_key(&out, "gears");
    format_out_array(&out);
    for (size_t i = 0; i < gears->n; i++) {
        format_out_object(&out);
        app_json_key_int(&out, "ring", gears->gears[i].ring);
        app_json_key_int(&out, "sprocket", gears->gears[i].sprocket);
        app_json_key_number(&out, "ratio", gears->gears[i].ratio);
        app_json_key_number(&out, "development_m", gears->development_m[i]);
        format_out_object_end(&out);
    }
    format_out_array_end(&out);
    app_json_key_number(&out, "range_percent", gears->range_percent);
    app_json_key_number(&out, "lowest_m", gears->lowest_m);
    app_json_key_number(&out, "highest_m", gears->highest_m);
    format_out_key(&out, "steps_percent");
    format_out_array(&out);
    for (size_t i = 0; i + 1 < gears->n; i++) {
        format_out_double(&out, gears->steps_percent[i]);
    }
    format_out_array_end(&out);
    app_json_key_int(&out, "repeated", (int64_t)gears->repeats);
    app_json_put_waits(&out, gears->known, &gears->open);
    end(&out);
}

static const char *const means_names[] = {
    [PLAN_BY_CRANK] = "crank",        [PLAN_BY_SPINDLE] = "spindle", [PLAN_BY_PLACE] = "ring_place",
    [PLAN_BY_OFFSET] = "ring_offset", [PLAN_BY_WASHERS] = "washers", [PLAN_BY_CUP_SPACERS] = "cup_spacers"};

/* The means, and the size or the place that it has then. */
static void put_change(struct format_out *out, const struct plan_change *change) {
    app_json_key_text(out, "means", means_names[change->means]);
    if (change->means == PLAN_BY_PLACE) {
        enum trade_place place = change->slot == TRADE_SLOT_OUTER_RING    ? TRADE_PLACE_OUTER
                                 : change->slot == TRADE_SLOT_MIDDLE_RING ? TRADE_PLACE_MIDDLE
                                                                          : TRADE_PLACE_INNER;
        app_json_key_text(out, "place", trade_domain_rows[TRADE_DOMAIN_PLACE].words[place].word);
    } else {
        app_json_key_number(out, "value_mm", change->value_mm);
    }
}

/* The first change stands in front, so that what reads a single means finds it. */
static void put_arrangement(struct format_out *out, const struct plan_arrangement *a) {
    format_out_object(out);
    put_change(out, &a->changes[0]);
    app_json_key_number(out, "moves_mm", a->by_mm);
    app_json_key_number(out, "error_mm", a->error_mm);
    app_json_key_bool(out, "drawback", a->drawback);
    app_json_key_bool(out, "measure", a->asks);
    app_json_key_number(out, "mean_offset_mm", a->crooked_mm);
    format_out_key(out, "cost");
    if (a->priced) {
        format_out_int(out, a->cost_minor);
    } else {
        format_out_null(out);
    }
    format_out_key(out, "changes");
    format_out_array(out);
    for (size_t i = 0; i < a->n_changes; i++) {
        format_out_object(out);
        put_change(out, &a->changes[i]);
        app_json_key_text(out, "slot", trade_slot_rows[a->changes[i].slot].name);
        app_json_key_text(out, "part", a->changes[i].part ? a->changes[i].part->id : NULL);
        format_out_object_end(out);
    }
    format_out_array_end(out);
    format_out_object_end(out);
}

static void put_tolerances(struct format_out *out, const struct plan_tolerances *t) {
    format_out_key(out, "tolerance");
    format_out_object(out);
    app_json_key_number(out, "front_worst_mm", t->front_worst_mm);
    app_json_key_number(out, "front_likely_mm", t->front_likely_mm);
    app_json_key_number(out, "rear_worst_mm", t->rear_worst_mm);
    app_json_key_number(out, "rear_likely_mm", t->rear_likely_mm);
    app_json_key_bool(out, "flips_at_worst", t->flips_at_worst);
    app_json_key_bool(out, "flips_when_likely", t->flips_when_likely);
    format_out_key(out, "inputs");
    format_out_array(out);
    for (size_t i = 0; i < t->n; i++) {
        format_out_object(out);
        format_out_key(out, "path");
        app_json_path(out, t->at[i].subject, t->at[i].property);
        app_json_key_number(out, "band_mm", t->at[i].band_mm);
        app_json_key_number(out, "front_mm_per_mm", t->at[i].front);
        app_json_key_number(out, "rear_mm_per_mm", t->at[i].rear);
        app_json_key_bool(out, "flips", t->at[i].flips);
        format_out_object_end(out);
    }
    format_out_array_end(out);
    format_out_object_end(out);
}

static double sum_mm(const struct fit_sum *sum) { return sum->known == BASE_OPEN ? NAN : sum->mm; }

static void put_target(struct format_out *out, const struct plan_line *line) {
    static const char *const names[] = {"new", "table", "rear", NULL};
    format_out_key(out, "target_mm");
    if (line->target == PLAN_TARGET_OPEN) {
        format_out_null(out);
    } else {
        format_out_array(out);
        format_out_double(out, line->low_mm);
        format_out_double(out, line->high_mm);
        format_out_array_end(out);
    }
    app_json_key_text(out, "target_from", names[line->target]);
    app_json_key_text(out, "target_source", line->source);
}

void app_json_line(struct base_buffer *buffer, const struct app_line *line) {
    struct format_out out;
    begin(&out, buffer);
    app_json_key_number(&out, "front_mm", sum_mm(&line->line.front));
    app_json_key_number(&out, "rear_mm", sum_mm(&line->line.rear));
    put_target(&out, &line->line);
    app_json_key_number(&out, "error_mm", line->line.error_mm);
    format_out_key(&out, "angles");
    format_out_array(&out);
    for (size_t i = 0; i < line->n_angles; i++) {
        format_out_object(&out);
        app_json_key_int(&out, "ring", line->angles[i].ring);
        app_json_key_int(&out, "sprocket", line->angles[i].sprocket);
        app_json_key_number(&out, "offset_mm", line->angles[i].offset_mm);
        app_json_key_number(&out, "angle_deg", line->angles[i].angle_deg);
        format_out_object_end(&out);
    }
    format_out_array_end(&out);
    app_json_key_number(&out, "axles_mm", line->axles_mm);
    app_json_key_bool(&out, "gap_assumed", line->gap_assumed);
    app_json_key_number(&out, "rear_mm_per_mm_of_gap", line->rear_per_gap_mm);
    app_json_key_number(&out, "angle_deg_per_mm_of_gap", line->angle_per_gap_deg);
    format_out_key(&out, "arrangements");
    format_out_array(&out);
    for (size_t i = 0; line->arranged && i < line->arranged->n; i++) {
        put_arrangement(&out, &line->arranged->best[i]);
    }
    format_out_array_end(&out);
    app_json_key_bool(&out, "weighted", line->weighted);
    app_json_key_number(&out, "mean_offset_mm", line->arranged ? line->arranged->crooked_mm : (double)NAN);
    put_tolerances(&out, &line->tolerances);
    app_json_put_waits(&out, base_weakest(line->line.front.known, line->line.rear.known), &line->open);
    end(&out);
}

static void key_count(struct format_out *out, const char *key, int value, bool is_known) {
    format_out_key(out, key);
    if (is_known) {
        format_out_int(out, value);
    } else {
        format_out_null(out);
    }
}

static void put_cages(struct format_out *out, const struct app_chain *chain) {
    format_out_key(out, "gears");
    format_out_array(out);
    for (size_t i = 0; i < chain->n_gears; i++) {
        const struct app_cage_gear *gear = &chain->gears[i];
        format_out_object(out);
        app_json_key_int(out, "ring", gear->ring);
        app_json_key_int(out, "sprocket", gear->sprocket);
        app_json_key_number(out, "path_links", gear->path_links);
        app_json_key_number(out, "cage_deg", gear->cage_deg);
        app_json_key_number(out, "gap_mm", gear->gap_mm);
        app_json_key_number(out, "slack_links", gear->slack_links);
        app_json_key_number(out, "ring_wrap_deg", gear->ring_wrap_deg);
        app_json_key_number(out, "sprocket_wrap_deg", gear->sprocket_wrap_deg);
        app_json_key_number(out, "tension_n", gear->tension_n);
        app_json_key_number(out, "ground_mm", gear->ground_mm);
        app_json_key_number(out, "growth_links", gear->growth_links);
        app_json_key_number(out, "longest_at_mm", gear->longest_mm);
        app_json_key_number(out, "kickback_held_deg", gear->kick_deg);
        app_json_key_number(out, "anti_squat_percent", gear->anti_squat_percent);
        app_json_key_number(out, "rest_cage_deg", gear->rest_deg);
        app_json_key_number(out, "rest_slack_links", gear->rest_slack_links);
        app_json_key_text(out, "verdict", verdict_name(gear->verdict));
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

static void put_taut(struct format_out *out, const struct app_chain *chain) {
    format_out_key(out, "taut");
    format_out_array(out);
    for (size_t i = 0; i < chain->n_taut; i++) {
        format_out_object(out);
        app_json_key_int(out, "links", chain->taut[i].links);
        app_json_key_bool(out, "half_link", chain->taut[i].half_link);
        app_json_key_number(out, "chainstay_mm", chain->taut[i].stay_mm);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

void app_json_chain(struct base_buffer *buffer, const struct app_chain *chain) {
    struct format_out out;
    begin(&out, buffer);
    key_count(&out, "links", chain->links, chain->links > 0);
    app_json_key_number(&out, "bare_links", chain->bare_links);
    key_count(&out, "rule_of_thumb_links", chain->rule_links, chain->rule_links > 0);
    key_count(&out, "capacity_needed_teeth", chain->capacity_needed, chain->ring > 0);
    key_count(&out, "capacity_teeth", chain->capacity, chain->capacity >= 0);
    app_json_key_text(&out, "verdict", verdict_name(chain->verdict));
    app_json_key_text(&out, "chain_rule", chain->single ? "single" : chain->wide_single ? "wide_single" : "ordinary");
    key_count(&out, "ring", chain->ring, chain->ring > 0);
    key_count(&out, "sprocket", chain->sprocket, chain->sprocket > 0);
    app_json_key_number(&out, "chainstay_mm", chain->stay_mm);
    put_taut(&out, chain);
    app_json_findings(&out, "interfaces", chain->findings, chain->n_findings);
    put_cages(&out, chain);
    app_json_put_waits(&out, base_weakest(base_weakest(chain->known, chain->rule_known), chain->capacity_known),
                       &chain->open);
    end(&out);
}

void app_json_shift(struct base_buffer *buffer, const struct app_shift *shift) {
    struct format_out out;
    begin(&out, buffer);
    app_json_key_number(&out, "step_mm", shift->step_mm);
    app_json_key_number(&out, "pitch_mm", shift->pitch_mm);
    app_json_key_number(&out, "error_mm_total", shift->error_mm_total);
    app_json_key_text(&out, "verdict", verdict_name(shift->verdict));
    app_json_key_number(&out, "pull_mm", shift->pull_mm);
    app_json_key_number(&out, "ratio", shift->ratio);
    app_json_findings(&out, "interfaces", shift->findings, shift->n_findings);
    app_json_put_waits(&out, shift->known, &shift->open);
    end(&out);
}

void app_json_fit(struct base_buffer *buffer, const struct trade_bike *bike, const struct fit_finding *findings,
                  size_t n) {
    struct format_out out;
    begin(&out, buffer);
    app_json_findings(&out, "interfaces", findings, n);
    format_out_key(&out, "goes");
    format_out_array(&out);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (app_goes(bike) >> s & 1) {
            format_out_text(&out, trade_slot_rows[s].name);
        }
    }
    format_out_array_end(&out);
    end(&out);
}

void app_json_put_refused(struct format_out *out, const char *why, const char *can_do) {
    format_out_key(out, "refused");
    format_out_object(out);
    app_json_key_text(out, "why", explain_message(why));
    app_json_key_text(out, "can_do", explain_message(can_do));
    app_json_key_text(out, "code", why);
    format_out_object_end(out);
}

void app_json_refused(struct base_buffer *buffer, const char *why, const char *can_do) {
    struct format_out out;
    begin(&out, buffer);
    app_json_put_refused(&out, why, can_do);
    end(&out);
}

void app_json_put_faults(struct format_out *out, const struct base_faults *faults) {
    format_out_key(out, "faults");
    format_out_array(out);
    for (size_t i = 0; i < faults->n; i++) {
        const struct base_fault *fault = &faults->list[i];
        format_out_object(out);
        app_json_key_text(out, "file", fault->file);
        key_count(out, "line", (int)fault->line, fault->line > 0);
        key_count(out, "column", (int)fault->column, fault->column > 0);
        app_json_key_text(out, "path", fault->path);
        app_json_key_text(out, "found", fault->found);
        app_json_key_text(out, "allowed", fault->allowed);
        app_json_key_text(out, "nearest", fault->nearest);
        format_out_object_end(out);
    }
    format_out_array_end(out);
    app_json_key_int(out, "total", (int64_t)faults->total);
}

void app_json_faults(struct base_buffer *buffer, const struct base_faults *faults) {
    struct format_out out;
    begin(&out, buffer);
    app_json_put_faults(&out, faults);
    end(&out);
}
