/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_shared.h"

#include <math.h>

#define NEARLY_MM 1.0 /* as far outside the window as the gap and a bent ring blur anyway */

static const char degree[] = "\xc2\xb0";

static struct explain_arg line_mm(const struct fit_sum *sum) {
    return explain_known(app_half(sum->mm), 1, "mm", sum->known);
}

/* How the window is known: a row of a table, unless the frame's maker says it. */
static enum base_known window_known(const struct plan_line *line) {
    return line->target == PLAN_TARGET_REAR ? line->rear.known : BASE_TABLE;
}

/* The window as it is shown: one that is computed from the rear line is no finer than half a millimetre. */
static double shown_mm(const struct plan_line *line, double edge_mm) {
    return line->target == PLAN_TARGET_REAR ? app_half(edge_mm) : edge_mm;
}

/* The window's edges, in tenths only where they are not whole. What is assumed is marked in front of the first, what is
 * from a table behind the second. */
static struct explain_arg low_mm(const struct plan_line *line) {
    enum base_known known = window_known(line) == BASE_ASSUMED ? BASE_ASSUMED : BASE_MEASURED;
    double mm = shown_mm(line, line->low_mm);
    return explain_known(mm, explain_decimals(TRADE_FRAME_NEW_LINE_LOW_MM, mm), "", known);
}
static struct explain_arg high_mm(const struct plan_line *line) {
    enum base_known known = window_known(line) == BASE_ASSUMED ? BASE_MEASURED : window_known(line);
    double mm = shown_mm(line, line->high_mm);
    return explain_known(mm, explain_decimals(TRADE_FRAME_NEW_LINE_HIGH_MM, mm), "mm", known);
}

/* How far the line lies outside the window, as the two are shown: of the line rounded to half a millimetre. */
static double off_mm(const struct plan_line *line) {
    double shown = app_half(line->front.mm);
    bool off = line->error_mm > 0 || line->error_mm < 0;
    return !off ? 0 : fmax(shown_mm(line, line->low_mm) - shown, fmax(shown - shown_mm(line, line->high_mm), 0));
}

/* --- the answer ---------------------------------------------------------------------------------------------------- */

static unsigned rings_of(const struct plan_line *line) {
    return (unsigned)line->present[0] + line->present[1] + line->present[2];
}

static const char *answer_code(const struct plan_line *line) {
    if (line->error_mm == 0) {
        return "line.yes";
    }
    return fabs(line->error_mm) <= NEARLY_MM ? "line.nearly" : "line.no";
}

static void put_answer(struct app_page *page, const struct plan_line *line) {
    static const char *const where[4] = {"line.at-one", "line.at-one", "line.at-two", "line.at-three"};
    if (isnan(line->error_mm)) {
        app_put_paragraph(page, "line.open", NULL, 0);
        return;
    }
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, answer_code(line), line_mm(&line->front), explain_code(where[rings_of(line)]), low_mm(line),
                 high_mm(line));
    app_end_paragraph(page, &text);
}

/* --- figures behind it --------------------------------------------------------------------------------------------- */

static void put_front(struct app_page *page, const struct plan_line *line) {
    static const char *const places[3] = {"line.outer", "line.middle", "line.inner"};
    struct base_buffer text;
    base_buffer_init(&text, 0);
    for (unsigned i = 0; i < 3; i++) {
        if (line->present[i]) {
            base_buffer_text(&text, text.n > 0 ? ", " : "");
            explain_tell(&text, places[i], explain_known(line->ring[i].mm, 1, "mm", line->ring[i].known));
        }
    }
    if (app_held(page, &text)[0] != '\0') {
        app_end_fact(page, APP_FACT, "line.label-rings", &text);
    } else {
        base_buffer_clear(&text);
    }
}

static void put_window(struct app_page *page, const struct plan_line *line) {
    static const char *const codes[] = {[PLAN_TARGET_NEW] = "line.window-new",
                                        [PLAN_TARGET_TABLE] = "line.window-table",
                                        [PLAN_TARGET_REAR] = "line.window-rear"};
    if (line->target == PLAN_TARGET_OPEN) {
        return;
    }
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, codes[line->target], low_mm(line), high_mm(line));
    if (off_mm(line) > 0) {
        base_buffer_text(&text, ". ");
        explain_tell(&text, line->error_mm > 0 ? "line.too-far-out" : "line.too-far-in",
                     explain_known(off_mm(line), 1, "mm", line->front.known));
    }
    app_end_fact(page, APP_FACT, "line.label-wants", &text);
    if (line->disputed[0] != '\0') {
        app_fact(page, "line.label-sources", "line.disputed", explain_words(line->disputed));
    }
}

static void put_rear(struct app_page *page, const struct app_line *line) {
    if (line->line.rear.known == BASE_OPEN) {
        return;
    }
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, "line.rear", line_mm(&line->line.rear));
    if (line->gap_assumed) {
        base_buffer_text(&text, ". ");
        explain_tell(&text, "line.gap", explain_number(line->rear_per_gap_mm, 0, "mm"));
    }
    app_end_fact(page, APP_FACT, "line.label-rear", &text);
}

/* --- angles -------------------------------------------------------------------------------------------------------- */

/* The angles of one ring in its largest and its smallest sprocket; false when they are open. */
static bool extremes_of(const struct app_angle **large, const struct app_angle **small, const struct app_line *line,
                        int ring) {
    *large = NULL;
    *small = NULL;
    for (size_t i = 0; i < line->n_angles; i++) {
        const struct app_angle *a = &line->angles[i];
        if (a->ring != ring || isnan(a->angle_deg)) {
            continue;
        }
        *large = !*large || a->sprocket > (*large)->sprocket ? a : *large;
        *small = !*small || a->sprocket < (*small)->sprocket ? a : *small;
    }
    return *large != NULL;
}

static struct explain_arg angle_arg(const struct app_angle *angle) {
    enum base_known known = angle->known == BASE_TABLE ? BASE_MEASURED : angle->known;
    return explain_known(fabs(angle->angle_deg), 1, degree, known);
}

static void put_angle(struct base_buffer *text, const struct app_line *line, int ring, bool several) {
    const struct app_angle *large, *small;
    if (!extremes_of(&large, &small, line, ring)) {
        return;
    }
    double most = fmax(fabs(large->angle_deg), fabs(small->angle_deg));
    explain_tell(text, several ? "line.angles-of-ring" : "line.angles", angle_arg(large),
                 explain_count(large->sprocket), angle_arg(small), explain_count(small->sprocket), explain_count(ring));
    if (most > trade_limits[TRADE_LIMIT_CHAIN_ANGLE_NOTE_DEG].value) {
        base_buffer_text(text, ". ");
        explain_tell(text, "line.listen",
                     explain_number(trade_limits[TRADE_LIMIT_CHAIN_ANGLE_NOTE_DEG].value, 0, degree));
    }
}

void app_lay_angles(struct app_page *page, const struct app_line *line) {
    const char *label = "line.label-angle";
    int before = -1;
    for (;;) {
        int ring = 0; /* rings from small to large */
        for (size_t i = 0; i < line->n_angles; i++) {
            int teeth = line->angles[i].ring;
            ring = teeth > before && (ring == 0 || teeth < ring) ? teeth : ring;
        }
        if (ring == 0) {
            break;
        }
        struct base_buffer text;
        base_buffer_init(&text, 0);
        put_angle(&text, line, ring, rings_of(&line->line) > 1);
        if (app_held(page, &text)[0] != '\0') {
            app_end_fact(page, APP_FACT, label, &text);
            label = NULL;
        }
        base_buffer_clear(&text);
        before = ring;
    }
}

void app_line_sentence(struct base_buffer *text, const struct plan_line *line) {
    if (line->front.known == BASE_OPEN) {
        explain_say(text, "line.front-open");
    } else {
        struct explain_arg front = line_mm(&line->front);
        explain_put_arg(text, &front);
    }
    if (line->target != PLAN_TARGET_OPEN) {
        base_buffer_text(text, "; ");
        explain_tell(text, "line.frame-wants", low_mm(line), high_mm(line));
    }
    if (off_mm(line) > 0) {
        base_buffer_text(text, ": ");
        explain_tell(text, line->error_mm > 0 ? "line.far-out" : "line.far-in",
                     explain_known(off_mm(line), 1, "mm", line->front.known));
    }
}

/* --- what would bring it nearer ------------------------------------------------------------------------------------ */

static const char *change_code(const struct plan_change *change) {
    static const char *const codes[] = {[PLAN_BY_CRANK] = "line.by-crank",     [PLAN_BY_SPINDLE] = "line.by-spindle",
                                        [PLAN_BY_PLACE] = "line.by-place",     [PLAN_BY_OFFSET] = "line.by-offset",
                                        [PLAN_BY_WASHERS] = "line.by-washers", [PLAN_BY_CUP_SPACERS] = "line.by-cups"};
    if (!change->part) {
        return change->means == PLAN_BY_WASHERS ? "line.no-washers" : "line.no-cups";
    }
    return change->means == PLAN_BY_SPINDLE && isnan(change->value_mm) ? "line.by-bracket" : codes[change->means];
}

static struct explain_arg change_value(const struct plan_change *change) {
    static const char *const places[] = {"line.place-outer", "line.place-middle", "line.place-inner"};
    if (change->means == PLAN_BY_CRANK) {
        return explain_words(change->part->id);
    }
    if (change->means == PLAN_BY_PLACE) {
        return explain_code(places[change->slot - TRADE_SLOT_OUTER_RING]);
    }
    return explain_number(isnan(change->value_mm) ? 0 : change->value_mm, 1, "mm");
}

/* A change, and the shop's part for it. */
static void put_change(struct base_buffer *text, const struct plan_change *change) {
    struct explain_arg value = change_value(change);
    explain_tell(text, change_code(change), value);
    if (change->part && change->part->id && change->means != PLAN_BY_CRANK) {
        base_buffer_text(text, " (");
        base_buffer_text(text, change->part->id);
        base_buffer_text(text, ")");
    }
}

/* How far it moves the line, and how near that is; by use, how crooked the chain then runs. */
static void put_result(struct base_buffer *text, const struct plan_arrangement *a, bool weighted) {
    base_buffer_text(text, ": ");
    explain_tell(text, "line.moves", explain_number(fabs(a->by_mm), 1, "mm"),
                 explain_code(a->by_mm > 0 ? "line.out" : "line.in"));
    base_buffer_text(text, " ");
    if (a->error_mm == 0) {
        explain_say(text, "line.then-inside");
    } else {
        explain_tell(text, "line.then-off", explain_number(fabs(a->error_mm), 1, "mm"));
    }
    if (weighted) {
        base_buffer_text(text, " ");
        explain_tell(text, "line.then-used", explain_number(a->crooked_mm, 1, "mm"));
    }
}

static bool moves_cups(const struct plan_arrangement *a) {
    return a->n_changes > 0 && a->changes[a->n_changes - 1].means == PLAN_BY_CUP_SPACERS;
}

static void put_arrangement(struct base_buffer *text, const struct plan_arrangement *a, const struct trade_shop *shop,
                            bool weighted) {
    for (size_t i = 0; i < a->n_changes; i++) {
        if (i > 0) {
            base_buffer_text(text, " ");
            explain_say(text, "line.and");
            base_buffer_text(text, " ");
        }
        put_change(text, &a->changes[i]);
    }
    put_result(text, a, weighted);
    if (a->drawback) {
        base_buffer_text(text, " ");
        explain_say(text, moves_cups(a) ? "line.off-centre" : "line.drawback");
    }
    if (a->asks && a->ask_property < TRADE_PROPERTIES) {
        base_buffer_text(text, " ");
        explain_tell(text, "line.measure-first", explain_words(trade_property_rows[a->ask_property].label));
    }
    if (a->priced && shop) {
        base_buffer_text(text, " ");
        explain_tell(text, "line.costs", explain_money(a->cost_minor, shop));
    }
}

#define SHOWN 5 /* arrangements on the page; a program gets them all */

static void put_arrangements(struct app_page *page, const struct app_line *line, const struct trade_shop *shop) {
    for (size_t i = 0; line->arranged && i < line->arranged->n && i < SHOWN; i++) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        put_arrangement(&text, &line->arranged->best[i], shop, line->weighted);
        app_end_fact(page, APP_FACT, i == 0 ? "line.label-nearer" : NULL, &text);
    }
}

/* --- how far it can be trusted ------------------------------------------------------------------------------------- */

/* Values that turn the answer round when they are off alone. */
static void put_turning(struct base_buffer *text, const struct plan_tolerances *t) {
    for (size_t i = 0; i < t->n; i++) {
        if (t->at[i].flips) {
            base_buffer_text(text, text->n > 0 ? ", " : "");
            explain_tell(text, "line.trust-value", explain_words(trade_property_rows[t->at[i].property].label),
                         explain_number(t->at[i].band_mm, 1, "mm"));
        }
    }
}

static void put_trust(struct app_page *page, const struct plan_tolerances *t) {
    struct base_buffer text, turning;
    if (t->n == 0) {
        return;
    }
    base_buffer_init(&text, 0);
    base_buffer_init(&turning, 0);
    put_turning(&turning, t);
    explain_tell(&text, "line.trust", explain_number(t->worst_mm, 1, "mm"), explain_number(t->likely_mm, 1, "mm"));
    base_buffer_text(&text, ". ");
    if (turning.n > 0) {
        explain_tell(&text, "line.trust-turns", explain_buffered(&turning));
    } else {
        explain_say(&text, t->flips_at_worst ? "line.trust-turns-together" : "line.trust-stands");
    }
    app_end_fact(page, APP_FACT, "line.label-trust", &text);
    base_buffer_clear(&turning);
}

void app_text_line(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                   const struct app_line *line, const struct trade_shop *shop) {
    struct app_page page = app_page_on(out, style);
    app_title(&page, bike, NULL);
    app_question(&page, "line.question");
    put_answer(&page, &line->line);
    app_lay_blank(&page, 1);
    put_front(&page, &line->line);
    put_window(&page, &line->line);
    put_rear(&page, line);
    app_lay_angles(&page, line);
    if (line->weighted && line->arranged && !isnan(line->arranged->crooked_mm)) {
        app_fact(&page, "line.label-used", "line.used",
                 explain_known(line->arranged->crooked_mm, 1, "mm",
                               base_weakest(line->line.front.known, line->line.rear.known)));
    }
    put_trust(&page, &line->tolerances);
    put_arrangements(&page, line, shop);
    app_lay_open(&page, &line->open);
}
