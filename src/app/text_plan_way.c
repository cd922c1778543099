/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_plan.h"

#include "app/geometry.h"
#include "base/number.h"
#include "fit/small_parts.h"

#include <math.h>
#include <string.h>

#define NO_LIMIT ((size_t)1000)
#define LETTER_WIDTH 3 /* of a way's letter and the blanks behind it */
#define BIT(slot) (UINT32_C(1) << (slot))

/* One way while it is laid out. */
struct way_page {
    struct app_plan_page *p;
    const struct plan_way *way;
    const char *letter;
    struct fit_finding *findings; /* of its joints */
    size_t n_findings;
    const struct fit_finding *beside[TRADE_SLOTS]; /* what the second tile of a part stands for; NULL: none */
    bool left_out[26];                             /* ways under which a reason stands that is left out here */
};

/* --- findings and the parts that they belong to -------------------------------------------------------------------- */

/* Parts that stand between others: what they adapt is told of the other part. */
static bool stands_between(unsigned slot) {
    return slot == TRADE_SLOT_RING_WASHERS || slot == TRADE_SLOT_CUP_SPACERS || slot == TRADE_SLOT_CASSETTE_SPACER ||
           slot == TRADE_SLOT_HANGER_EXTENDER;
}

/* The first part of the build that the rule looks at and that does not stand between others; TRADE_SLOTS when none. */
static unsigned part_of(const struct way_page *w, const struct fit_finding *finding) {
    if (explain_mark_of(finding) == EXPLAIN_MEASURE && finding->ask_subject < TRADE_SLOTS) {
        return finding->ask_subject;
    }
    for (unsigned i = 0; i < finding->rule->n_reads; i++) {
        unsigned subject = finding->rule->reads[i].subject;
        if (subject < TRADE_SLOTS && !stands_between(subject) && w->way->build.at[subject].kind != FIT_NONE) {
            return subject;
        }
    }
    return TRADE_SLOTS;
}

static void place_findings(struct way_page *w) {
    for (size_t i = 0; i < w->n_findings; i++) {
        enum explain_mark mark = explain_mark_of(&w->findings[i]);
        unsigned slot = mark == EXPLAIN_MEASURE || mark == EXPLAIN_ADAPTED ? part_of(w, &w->findings[i]) : TRADE_SLOTS;
        if (slot < TRADE_SLOTS && (!w->beside[slot] || explain_mark_of(w->beside[slot]) == EXPLAIN_ADAPTED)) {
            w->beside[slot] = &w->findings[i];
        }
    }
}

/* --- reasons, each told once --------------------------------------------------------------------------------------- */

static const struct app_told *told_before(const struct app_plan_page *p, enum trade_slot slot, const char *reason) {
    for (size_t i = 0; i < p->n_told; i++) {
        if (p->told[i].slot == slot && strcmp(p->told[i].reason, reason) == 0) {
            return &p->told[i];
        }
    }
    return NULL;
}

static void remember(struct app_plan_page *p, enum trade_slot slot, const struct base_buffer *reason, char letter) {
    const char *copy = base_arena_copy(p->scratch, reason->at, reason->n);
    void *grown = base_arena_grow(p->scratch, p->told, p->n_told, &p->told_room, p->n_told + 1, sizeof *p->told);
    if (!copy || !grown) {
        p->page.out->status = BASE_NO_MEMORY;
        return;
    }
    p->told = grown;
    p->told[p->n_told++] = (struct app_told){slot, copy, letter};
}

/* The reason of a change, unless it stands under an earlier way. */
static void put_reason(struct base_buffer *text, struct way_page *w, enum trade_slot slot) {
    struct base_buffer reason;
    base_buffer_init(&reason, 0);
    explain_change(&reason, w->p->plan, w->way, slot);
    const char *text_of = app_held(&w->p->page, &reason);
    const struct app_told *before = text_of[0] != '\0' ? told_before(w->p, slot, text_of) : NULL;
    if (before) {
        w->left_out[before->letter - 'A'] = true;
    } else if (text_of[0] != '\0') {
        base_buffer_text(text, text->n > 0 ? ". " : "");
        base_buffer_text(text, text_of);
        remember(w->p, slot, &reason, w->letter[0]);
    }
    base_buffer_clear(&reason);
}

static void put_left_out(struct way_page *w) {
    size_t n = 0;
    char letter[2] = "A";
    for (size_t i = 0; i < sizeof w->left_out / sizeof w->left_out[0]; i++) {
        if (w->left_out[i]) {
            letter[0] = (char)('A' + (char)i);
            n++;
        }
    }
    if (n > 0) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        explain_tell(&text, n == 1 ? "way.reason-under" : "way.reasons-before", explain_words(letter));
        app_lay_wrapped(&w->p->page, APP_SLOT, APP_LAST_COLUMN, app_held(&w->p->page, &text), NULL);
        base_buffer_clear(&text);
    }
}

/* --- parts --------------------------------------------------------------------------------------------------------- */

static const char *label_of(const struct way_page *w, enum trade_slot slot) {
    bool ring = slot == TRADE_SLOT_OUTER_RING || slot == TRADE_SLOT_MIDDLE_RING || slot == TRADE_SLOT_INNER_RING;
    return ring && explain_rings_of(&w->way->build) == 1 ? explain_message("slots.ring") : explain_slot(slot);
}

static void put_part_row(struct way_page *w, enum explain_mark mark, enum explain_mark beside, const char *label,
                         struct base_buffer *text, const char *price) {
    struct app_page *page = &w->p->page;
    app_lay_to(page, APP_BODY);
    app_lay_tile(page, mark);
    app_lay_tile(page, beside);
    app_lay_at(page, APP_SLOT, label);
    if (page->at + 2 > APP_PART) {
        app_lay_end(page);
    }
    app_lay_wrapped(page, APP_PART, APP_PART_LAST, app_held(&w->p->page, text), price);
    base_buffer_clear(text);
}

static void put_new(struct way_page *w, enum trade_slot slot) {
    const struct fit_finding *beside = w->beside[slot];
    const struct trade_part *part = w->way->build.at[slot].part;
    struct base_buffer text, price;
    base_buffer_init(&text, 0);
    base_buffer_init(&price, 0);
    explain_part(&text, part);
    put_reason(&text, w, slot);
    if (beside && explain_mark_of(beside) == EXPLAIN_ADAPTED) {
        base_buffer_text(&text, text.n > 0 && text.at[text.n - 1] == '.' ? " " : ". ");
        explain_reason(&text, beside);
    }
    explain_put_amount(&price, part->price_minor, w->p->plan->question.shop);
    put_part_row(w, EXPLAIN_NEW, beside ? explain_mark_of(beside) : EXPLAIN_FITS, label_of(w, slot), &text,
                 app_held(&w->p->page, &price));
    base_buffer_clear(&price);
}

/* A part that stays with something to tell: it must be measured, or sits on something. */
static void put_kept(struct way_page *w, enum trade_slot slot) {
    const struct fit_finding *beside = w->beside[slot];
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (explain_mark_of(beside) == EXPLAIN_MEASURE) {
        struct base_buffer name;
        base_buffer_init(&name, 0);
        explain_name(&name, beside->ask_subject, beside->ask_property);
        explain_tell(&text, "way.stays-if", explain_buffered(&name));
        base_buffer_clear(&name);
    } else {
        explain_say(&text, "way.stays");
        base_buffer_text(&text, " ");
        explain_reason(&text, beside);
    }
    put_part_row(w, EXPLAIN_STAYS, explain_mark_of(beside), label_of(w, slot), &text, NULL);
}

static void put_slots_row(struct way_page *w, enum explain_mark mark, uint32_t slots) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (slots != 0) {
        explain_slots(&text, slots);
        put_part_row(w, mark, EXPLAIN_FITS, explain_message(explain_marks[mark].code), &text, NULL);
    }
}

/* Did a finding before say this drawback already? */
static bool said_before(const struct way_page *w, size_t i, const char *code) {
    for (size_t k = 0; k < i; k++) {
        const struct fit_finding *other = &w->findings[k];
        if (explain_mark_of(other) == EXPLAIN_DRAWBACK && other->rule->reasons[other->verdict.reason] == code) {
            return true;
        }
    }
    return false;
}

/* Drawbacks, each sentence once. */
static void put_drawbacks(struct way_page *w) {
    for (size_t i = 0; i < w->n_findings; i++) {
        const struct fit_finding *finding = &w->findings[i];
        if (explain_mark_of(finding) != EXPLAIN_DRAWBACK ||
            said_before(w, i, finding->rule->reasons[finding->verdict.reason])) {
            continue;
        }
        struct base_buffer text;
        base_buffer_init(&text, 0);
        explain_finding(&text, finding);
        put_part_row(w, EXPLAIN_DRAWBACK, EXPLAIN_FITS, explain_message(explain_marks[EXPLAIN_DRAWBACK].code), &text,
                     NULL);
    }
}

static void put_parts(struct way_page *w) {
    uint32_t stays = 0, off = 0;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        enum trade_slot slot = (enum trade_slot)s;
        switch (explain_slot_mark(w->p->plan, &w->way->build, slot)) {
        case EXPLAIN_NEW:
            put_new(w, slot);
            break;
        case EXPLAIN_STAYS:
            if (w->beside[s]) {
                put_kept(w, slot);
            } else {
                stays |= BIT(s);
            }
            break;
        case EXPLAIN_OFF:
            off |= BIT(s);
            break;
        default:
            break;
        }
    }
    put_slots_row(w, EXPLAIN_STAYS, stays);
    put_slots_row(w, EXPLAIN_OFF, off);
    put_drawbacks(w);
    put_left_out(w);
}

/* --- gears, chain line, chain -------------------------------------------------------------------------------------- */

static void put_text(struct way_page *w, const char *label, struct base_buffer *text) {
    if (app_held(&w->p->page, text)[0] != '\0') {
        app_end_fact(&w->p->page, APP_FACT, label, text);
    }
    base_buffer_clear(text);
}

static void put_gears(struct way_page *w) {
    const struct plan_values *now = &w->p->plan->now_values, *values = &w->way->values;
    struct app_gears gears;
    struct base_buffer text, low, high;
    if (app_gears_of(&gears, w->p->scratch, w->p->bike, &w->way->build) != BASE_OK) {
        w->p->page.out->status = BASE_NO_MEMORY;
        return;
    }
    if (gears.n == 0) {
        return;
    }
    double largest = 0;
    for (size_t i = 0; i + 1 < gears.n; i++) {
        largest = fmax(largest, gears.steps_percent[i]);
    }
    base_buffer_init(&text, 0);
    base_buffer_init(&low, 0);
    base_buffer_init(&high, 0);
    explain_lowest_change(&low, values->lowest, now->lowest);
    explain_highest_change(&high, values->highest, now->highest);
    const char *unit = w->p->plan->gears_known ? "m" : "";
    explain_tell(&text, low.n > 0 ? "way.gears" : "way.gears-alone", explain_number(values->lowest / 10000.0, 3, unit),
                 explain_buffered(&low), explain_number(values->highest / 10000.0, 3, unit), explain_buffered(&high),
                 explain_number(gears.range_percent, 0, "%"), explain_number(largest, 0, "%"));
    app_end_fact(&w->p->page, APP_FACT, "way.label-gears", &text);
    if (gears.rings == 1) {
        app_lay_sprocket_row(&w->p->page, &gears);
    } else {
        explain_value_of(&text, w->way->build.at[TRADE_SLOT_CASSETTE].part, TRADE_CASSETTE_SPROCKETS);
        app_end_fact(&w->p->page, APP_FACT, "gears.sprockets", &text);
    }
    base_buffer_clear(&low);
    base_buffer_clear(&high);
}

static void put_clearance(struct base_buffer *text, const struct way_page *w) {
    for (size_t i = 0; i < w->n_findings; i++) {
        const struct fit_finding *finding = &w->findings[i];
        if (strcmp(finding->rule->id, "stay-clearance") == 0 && explain_mark_of(finding) == EXPLAIN_FITS) {
            base_buffer_text(text, ". ");
            explain_reason(text, finding);
            app_drop_point(text);
            return;
        }
    }
}

static void put_line(struct way_page *w) {
    struct app_line line;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (app_line_of(&line, w->p->scratch, w->p->bike, &w->way->build) != BASE_OK) {
        w->p->page.out->status = BASE_NO_MEMORY;
        return;
    }
    app_line_sentence(&text, &line.line);
    put_clearance(&text, w);
    app_end_fact(&w->p->page, APP_FACT, "way.label-line", &text);
    if (line.line.disputed[0] != '\0') {
        app_fact(&w->p->page, "line.label-sources", "line.disputed", explain_words(line.line.disputed));
    }
    app_lay_angles(&w->p->page, &line);
}

static void put_chain(struct way_page *w) {
    struct app_chain chain;
    struct app_shift shift;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    app_chain_of(&chain, w->p->bike, &w->way->build, &w->p->plan->cases, false);
    if (chain.links > 0) {
        app_chain_sentence(&text, &chain);
        app_end_fact(&w->p->page, APP_FACT, "way.label-chain", &text);
    } else {
        app_fact(&w->p->page, "way.label-chain", "way.chain-open", explain_count(0));
    }
    if (chain.capacity_needed > 0) {
        app_cage_sentence(&text, &chain);
        app_end_fact(&w->p->page, APP_FACT, "chain.label-cage", &text);
    }
    app_shift_of(&shift, w->p->bike, &w->way->build, &w->p->plan->cases, false);
    app_shift_fact(&text, &shift);
    put_text(w, "way.label-shifting", &text);
}

/* --- how it pedals, where the bike says how its rear axle goes ------------------------------------------------------ */

/* Rings from the smallest on, and the sprockets of a build; false while one of them is open. */
static bool find_teeth(int *smallest, int *largest, const struct trade_counts **sprockets,
                       const struct fit_build *build) {
    static const enum trade_slot rings[3] = {TRADE_SLOT_INNER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_OUTER_RING};
    const struct trade_part *cassette = build->at[TRADE_SLOT_CASSETTE].part;
    *smallest = *largest = 0;
    for (size_t i = 0; i < 3; i++) {
        double teeth = build->at[rings[i]].part ? trade_get_number(build->at[rings[i]].part, TRADE_RING_TEETH) : NAN;
        if (!isnan(teeth)) {
            *smallest = *smallest == 0 || (int)teeth < *smallest ? (int)teeth : *smallest;
            *largest = (int)teeth > *largest ? (int)teeth : *largest;
        }
    }
    bool counted = cassette && !trade_is_open(trade_get(cassette, TRADE_CASSETTE_SPROCKETS));
    *sprockets = counted ? trade_get(cassette, TRADE_CASSETTE_SPROCKETS)->counts : NULL;
    return *smallest > 0 && counted;
}

/* A share and a length as the road has them, marked by what is known of the rider. */
static struct explain_arg share_arg(const struct plan_score *score, enum base_known known) {
    return explain_known(score->in_band / 10.0, 0, "%", known);
}
static struct explain_arg foot_arg(const struct plan_score *score, enum base_known known) {
    return explain_known(score->walked_m, 0, "m", known);
}

/* What the gears make of the road, beside those of now where they are known. */
static void put_ride(struct way_page *w) {
    const struct app_road *road = w->p->shown->road;
    const struct plan_score *now = &w->p->plan->now_values.score, *then = &w->way->values.score;
    if (!road || then->in_band == PLAN_NO_SCORE) {
        return;
    }
    bool compared = now->in_band != PLAN_NO_SCORE;
    app_fact(&w->p->page, "way.label-ride", compared ? "way.ride" : "way.ride-alone", share_arg(then, road->known),
             foot_arg(then, road->known), share_arg(now, road->known), foot_arg(now, road->known));
}

static void put_pedalling_of(struct way_page *w, const char *label, const char *code, const int now[2],
                             const int then[2]) {
    struct app_suspension suspension;
    struct base_buffer text;
    enum base_status status = app_suspension_of_bike(&suspension, w->p->scratch, w->p->bike, now, then);
    if (status == BASE_NO_MEMORY) {
        w->p->page.out->status = status;
    }
    if (status != BASE_OK || suspension.reason) {
        return;
    }
    base_buffer_init(&text, 0);
    explain_say(&text, code);
    base_buffer_text(&text, ", ");
    app_pedalling_sentences(&text, &suspension.gears[0], &suspension.gears[1], suspension.sag_mm, suspension.sag_known);
    app_drop_point(&text);
    app_end_fact(&w->p->page, APP_FACT, label, &text);
}

/* The lowest gears, in which it climbs, and the largest rings on the middle of the cassette, in which it rolls along. */
static void put_pedalling(struct way_page *w) {
    const struct trade_counts *now_list, *then_list;
    int now_small, now_large, then_small, then_large;
    if (!w->p->bike->suspension || !find_teeth(&now_small, &now_large, &now_list, &w->p->plan->now) ||
        !find_teeth(&then_small, &then_large, &then_list, &w->way->build)) {
        return;
    }
    const int now[2] = {now_small, now_list->at[now_list->n - 1]},
              then[2] = {then_small, then_list->at[then_list->n - 1]};
    const int now_mid[2] = {now_large, now_list->at[now_list->n / 2]},
              then_mid[2] = {then_large, then_list->at[then_list->n / 2]};
    put_pedalling_of(w, "way.label-pedalling", "pedalling.climbing", now, then);
    put_pedalling_of(w, NULL, "pedalling.rolling", now_mid, then_mid);
}

/* --- what it hangs on, gives up, weighs, costs --------------------------------------------------------------------- */

/* Parts in stock that would do instead of those that must be ordered. */
static void put_stand_ins(struct way_page *w, struct base_buffer *text) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        const struct trade_part *here = plan_stand_in(w->p->plan, w->way, (enum trade_slot)s);
        struct base_buffer name;
        if (!here) {
            continue;
        }
        base_buffer_init(&name, 0);
        explain_part_name(&name, here);
        base_buffer_text(text, "; ");
        explain_tell(text, "way.stand-in", explain_buffered(&name));
        base_buffer_clear(&name);
    }
}

/* Days until the last new part is here, and how many have to be ordered. */
static void put_order(struct way_page *w) {
    size_t n = 0;
    int32_t days = 0;
    const struct trade_part *last = NULL;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        const struct fit_choice *choice = &w->way->build.at[s];
        if (choice->kind != FIT_NEW || choice->part->stock != 0) {
            continue;
        }
        n++;
        if (!last || choice->part->days > days) {
            last = choice->part;
            days = choice->part->days;
        }
    }
    struct base_buffer text, name;
    base_buffer_init(&text, 0);
    base_buffer_init(&name, 0);
    if (n == 0) {
        explain_say(&text, "way.all-here");
    } else {
        explain_part_name(&name, last);
        explain_tell(&text, days > 0 ? "way.to-order" : "way.to-order-no-day", explain_spelt((int64_t)n),
                     explain_count(days), explain_buffered(&name));
        put_stand_ins(w, &text);
    }
    put_text(w, "way.label-order", &text);
    base_buffer_clear(&name);
}

/* What no catalogue prices, and the job can't do without. */
static void put_also_needed(struct way_page *w) {
    struct base_buffer parts;
    base_buffer_init(&parts, 0);
    explain_small_parts(&parts, fit_small_parts(w->p->bike, &w->way->build));
    if (parts.n > 0) {
        app_fact(&w->p->page, "way.label-also-needed", "way.also-needed", explain_buffered(&parts));
    }
    base_buffer_clear(&parts);
}

/* What to take when the reading is another one: the cheapest pick that waits for nothing. */
static void put_instead(struct base_buffer *text, const struct way_page *w) {
    for (size_t i = 0; i < w->p->plan->n_picks && text->n > 0; i++) {
        if (app_pick(w->p, i)->certain) {
            const char letter[2] = {app_letter(i), '\0'};
            base_buffer_text(text, " ");
            explain_tell(text, "way.else-take", explain_words(letter));
            return;
        }
    }
}

static void put_rest(struct way_page *w) {
    const struct plan *plan = w->p->plan;
    const struct plan_values *values = &w->way->values;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_hangs_on(&text, plan, w->way);
    put_instead(&text, w);
    put_text(w, "way.label-hangs-on", &text);
    explain_gives_up(&text, plan, w->way, app_pick(w->p, 0), "A");
    put_text(w, "way.label-gives-up", &text);
    explain_mass(&text, plan, w->way);
    put_text(w, "way.label-weight", &text);
    app_fact(&w->p->page, "way.label-cost", "way.cost", explain_money(values->price_minor, plan->question.shop),
             explain_money(values->labour_minor, plan->question.shop),
             explain_number((double)base_round(values->tenths / 10.0), 0, "min"));
    put_also_needed(w);
    put_order(w);
    if (w->way->equals > 0) {
        int64_t equals = w->way->equals > INT32_MAX ? INT32_MAX : (int64_t)w->way->equals;
        app_fact(&w->p->page, "way.label-equals", "way.equals", explain_spelt(equals));
    }
}

/* --- the way ------------------------------------------------------------------------------------------------------- */

static void put_heading(struct way_page *w) {
    struct base_buffer text, cost;
    struct explain_arg money = explain_money(w->way->values.cost_minor, w->p->plan->question.shop);
    base_buffer_init(&text, 0);
    base_buffer_init(&cost, 0);
    base_buffer_text(&text, w->letter);
    base_buffer_text(&text, "  ");
    explain_put_arg(&cost, &money);
    size_t room = APP_LAST_COLUMN - LETTER_WIDTH - 2 - app_width(&w->p->page, app_held(&w->p->page, &cost));
    uint32_t left = explain_purposes(&text, w->way, w->way->purposes, room, true);
    app_lay_heading(&w->p->page, app_held(&w->p->page, &text), app_held(&w->p->page, &cost));
    base_buffer_clear(&text);
    base_buffer_clear(&cost);
    if (left != 0) {
        (void)explain_purposes(&text, w->way, left, NO_LIMIT, false);
        explain_tell(&cost, "way.also", explain_buffered(&text));
        app_end_paragraph(&w->p->page, &cost);
        app_lay_blank(&w->p->page, 1);
        base_buffer_clear(&text);
    }
}

void app_plan_way(struct app_plan_page *p, const struct plan_way *way, const char *letter) {
    struct way_page w = {.p = p, .way = way, .letter = letter};
    w.findings = base_arena_alloc(p->scratch, fit_rules_n, sizeof *w.findings);
    if (!w.findings) {
        p->page.out->status = BASE_NO_MEMORY;
        return;
    }
    fit_judge_build(w.findings, &w.n_findings, p->bike, &w.way->build, &p->plan->cases, false);
    place_findings(&w);
    put_heading(&w);
    put_parts(&w);
    app_lay_blank(&p->page, 1);
    put_gears(&w);
    put_ride(&w);
    put_line(&w);
    put_chain(&w);
    put_pedalling(&w);
    put_rest(&w);
    if (p->shown->why) {
        app_lay_findings(&p->page, w.findings, w.n_findings, &p->plan->cases);
    }
}
