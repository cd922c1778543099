/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_plan.h"

#include "explain/finding.h"

const struct plan_way *app_pick(const struct app_plan_page *p, size_t pick) {
    return &p->plan->ways[p->plan->picks[pick]];
}

char app_letter(size_t pick) { return (char)('A' + (char)pick); }

/* --- the answer ---------------------------------------------------------------------------------------------------- */

static void put_title(struct app_plan_page *p) {
    struct base_buffer text;
    unsigned now = trade_bike_rings(p->bike), then = p->plan->wish.rings;
    base_buffer_init(&text, 0);
    if (now > 0 && then > 0) {
        explain_tell(&text, now == then ? "plan.keeping" : "plan.from-to", explain_spelt(now), explain_spelt(then));
    }
    app_title(&p->page, p->bike, text.n > 0 ? app_held(&p->page, &text) : NULL);
    base_buffer_clear(&text);
    app_question(&p->page, "plan.question");
}

static bool is_certain(const struct plan_way *way) { return way->certain; }
static bool is_uncertain(const struct plan_way *way) { return !way->certain; }
static bool has_drawback(const struct plan_way *way) { return way->drawbacks != 0; }

/* Letters of the picks of a sort; how many. */
static size_t put_letters(struct base_buffer *out, const struct app_plan_page *p, bool (*is)(const struct plan_way *)) {
    static const char *const letters[] = {"A", "B", "C", "D", "E"};
    const char *words[5] = {NULL};
    size_t n = 0;
    for (size_t i = 0; i < p->plan->n_picks; i++) {
        if (is(app_pick(p, i))) {
            words[n++] = letters[i];
        }
    }
    explain_put_list(out, words, n, "list.and");
    return n;
}

static void put_when(struct base_buffer *out, const struct app_plan_page *p) {
    struct base_buffer sure, unsure;
    base_buffer_init(&sure, 0);
    base_buffer_init(&unsure, 0);
    size_t n_sure = put_letters(&sure, p, is_certain), n_unsure = put_letters(&unsure, p, is_uncertain);
    base_buffer_text(out, " ");
    if (n_unsure == 0) {
        explain_tell(out, "plan.all-certain", explain_count((int64_t)n_sure));
    } else if (n_sure == 0) {
        explain_tell(out, "plan.none-certain", explain_count((int64_t)n_unsure));
    } else {
        explain_tell(out, "plan.some-certain", explain_buffered(&sure), explain_buffered(&unsure),
                     explain_count((int64_t)n_unsure));
    }
    base_buffer_clear(&sure);
    base_buffer_clear(&unsure);
}

static void put_which_drawbacks(struct base_buffer *out, const struct app_plan_page *p) {
    struct base_buffer letters;
    base_buffer_init(&letters, 0);
    size_t n = put_letters(&letters, p, has_drawback);
    if (n > 0) {
        base_buffer_text(out, " ");
        explain_tell(out, n == p->plan->n_picks ? "plan.all-drawbacks" : "plan.drawbacks", explain_buffered(&letters),
                     explain_count((int64_t)n));
    }
    base_buffer_clear(&letters);
}

static void put_answer(struct app_plan_page *p) {
    struct base_buffer text;
    const struct plan *plan = p->plan;
    const struct trade_shop *shop = plan->question.shop;
    base_buffer_init(&text, 0);
    explain_tell(&text, plan->n_picks == 1 ? "plan.one-way" : "plan.ways", explain_spelt((int64_t)plan->n_picks),
                 explain_money(app_pick(p, 0)->values.cost_minor, shop),
                 explain_money(app_pick(p, plan->n_picks - 1)->values.cost_minor, shop));
    put_when(&text, p);
    put_which_drawbacks(&text, p);
    app_end_paragraph(&p->page, &text);
    if (p->next.any) {
        app_lay_blank(&p->page, 1);
        explain_next(&text, plan, &p->next);
        app_end_paragraph(&p->page, &text);
    }
    app_lay_blank(&p->page, 1);
    app_plan_table(p);
}

/* Nothing fits: which wishes are in each other's way, and what opens a way. */
static void put_none(struct app_plan_page *p) {
    const struct app_plan_shown *shown = p->shown;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    const char *none = shown->n_reliefs > 0 ? "plan.none" : app_no_way(p->plan);
    app_paragraph(&p->page, none, explain_count((int64_t)shown->n_reliefs));
    app_lay_blank(&p->page, shown->n_reliefs > 0 ? 1 : 0);
    for (size_t i = 0; i < shown->n_reliefs; i++) {
        struct base_buffer relief;
        base_buffer_init(&relief, 0);
        explain_relief(&relief, p->plan, &shown->reliefs[i]);
        explain_tell(&text, "plan.relief", explain_buffered(&relief),
                     explain_money(shown->reliefs[i].values.cost_minor, p->plan->question.shop));
        app_lay_at(&p->page, APP_BODY, "-");
        app_lay_wrapped(&p->page, APP_BODY + 2, APP_LAST_COLUMN, app_held(&p->page, &text), NULL);
        base_buffer_clear(&relief);
        base_buffer_clear(&text);
    }
}

static uint32_t new_slots(const struct fit_build *build) {
    uint32_t slots = 0;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        slots |= build->at[s].kind == FIT_NEW ? UINT32_C(1) << s : 0;
    }
    return slots;
}

#define RINGS                                                                                                          \
    (UINT32_C(1) << TRADE_SLOT_OUTER_RING | UINT32_C(1) << TRADE_SLOT_MIDDLE_RING |                                    \
     UINT32_C(1) << TRADE_SLOT_INNER_RING)

/* As many rings as now, of which some are new. */
static void put_renewed_rings(struct app_plan_page *p, struct base_buffer *text, unsigned rings,
                              const struct explain_arg *cost) {
    const struct fit_build *build = &p->shown->kept.way.build;
    struct base_buffer renewed, others;
    base_buffer_init(&renewed, 0);
    base_buffer_init(&others, 0);
    explain_new_rings(&renewed, p->bike, build);
    explain_slots(&others, new_slots(build) & ~RINGS);
    explain_tell(text, "plan.keep-rings-renewed", explain_spelt(rings), *cost, explain_buffered(&renewed));
    if (others.n > 0) {
        base_buffer_text(text, " ");
        explain_tell(text, "plan.keep-rings-others", explain_buffered(&others));
    }
    base_buffer_clear(&renewed);
    base_buffer_clear(&others);
}

/* What the cheapest way of keeping the rings works with, and what it costs without a drawback. */
static void put_kept_drawbacks(struct app_plan_page *p, struct base_buffer *text) {
    const struct plan_kept_rings *kept = &p->shown->kept;
    struct fit_finding findings[PLAN_RULES_MAX];
    struct base_buffer slots;
    size_t n = 0;
    fit_judge_build(findings, &n, p->bike, &kept->way.build, &p->plan->cases, false);
    for (size_t i = 0; i < n; i++) {
        if (explain_mark_of(&findings[i]) == EXPLAIN_DRAWBACK) {
            base_buffer_text(text, " ");
            explain_finding(text, &findings[i]);
        }
    }
    if (kept->clean_found && kept->way.drawbacks != 0) {
        base_buffer_init(&slots, 0);
        explain_slots(&slots, new_slots(&kept->clean.build));
        base_buffer_text(text, " ");
        explain_tell(text, "plan.keep-rings-clean",
                     explain_money(kept->clean.values.cost_minor, p->plan->question.shop), explain_buffered(&slots));
        base_buffer_clear(&slots);
    }
}

static void put_keep_rings(struct app_plan_page *p) {
    const struct plan_way *keep = &p->shown->kept.way;
    unsigned rings = trade_bike_rings(p->bike);
    if (!p->shown->kept.found || rings < 2 || p->plan->wish.rings == rings) {
        return;
    }
    struct explain_arg cost = explain_money(keep->values.cost_minor, p->plan->question.shop);
    struct base_buffer slots, text;
    base_buffer_init(&slots, 0);
    base_buffer_init(&text, 0);
    explain_slots(&slots, new_slots(&keep->build));
    if (new_slots(&keep->build) & RINGS) {
        put_renewed_rings(p, &text, rings, &cost);
    } else {
        explain_tell(&text, slots.n > 0 ? "plan.keep-rings" : "plan.keep-rings-as-is",
                     explain_code(rings == 2 ? "plan.both" : "plan.all-three"), cost, explain_buffered(&slots));
    }
    put_kept_drawbacks(p, &text);
    app_lay_blank(&p->page, 1);
    app_end_paragraph(&p->page, &text);
    base_buffer_clear(&slots);
}

/* --- the page ------------------------------------------------------------------------------------------------------ */

void app_plan_gears_now(struct app_plan_page *p) {
    struct app_gears gears;
    if (app_gears_of(&gears, p->scratch, p->bike, &p->plan->now) != BASE_OK) {
        p->page.out->status = BASE_NO_MEMORY;
        return;
    }
    app_question(&p->page, "gears.question");
    app_lay_gears(&p->page, &gears);
}

void app_plan_page_init(struct app_plan_page *out, struct base_buffer *to, const struct app_style *style,
                        const struct app_plan_shown *shown, struct base_arena *scratch) {
    *out = (struct app_plan_page){.page = app_page_on(to, style),
                                  .shown = shown,
                                  .plan = shown->plan,
                                  .bike = shown->plan->question.bike,
                                  .scratch = scratch};
    plan_next(&out->next, out->plan);
    out->n_asked = plan_asked(out->asked, APP_ASKED_MAX, out->plan);
}

void app_plan_answer(struct app_plan_page *p) {
    put_title(p);
    if (p->plan->n_picks > 0) {
        put_answer(p);
    } else {
        put_none(p);
    }
    put_keep_rings(p);
}

void app_text_plan(struct base_buffer *out, const struct app_style *style, const struct app_plan_shown *shown,
                   struct base_arena *scratch) {
    struct app_plan_page p;
    app_plan_page_init(&p, out, style, shown, scratch);
    app_plan_answer(&p);
    app_plan_bike(&p);
    app_plan_gears_now(&p);
    for (size_t i = 0; i < p.plan->n_picks; i++) {
        const char letter[2] = {app_letter(i), '\0'};
        app_plan_way(&p, app_pick(&p, i), letter);
    }
    app_plan_end(&p);
}
