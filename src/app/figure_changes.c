/* SPDX-License-Identifier: Apache-2.0 */
#include "app/figure.h"

#include "explain/bike.h"
#include "explain/way.h"

#include <string.h>

#define FRAME TRADE_SLOTS /* a row that is no slot */
#define END (TRADE_SLOTS + 1)

/* The two columns: from the hand to the gears, from the frame to the wheel. A part hangs on the one above it; those of
 * `apart` on none. */
static const unsigned left_column[] = {TRADE_SLOT_LEFT_SHIFTER,     TRADE_SLOT_FRONT_DERAILLEUR,
                                       TRADE_SLOT_LEFT_BRAKE_LEVER, TRADE_SLOT_RIGHT_BRAKE_LEVER,
                                       TRADE_SLOT_RIGHT_SHIFTER,    TRADE_SLOT_CABLES,
                                       TRADE_SLOT_REAR_DERAILLEUR,  TRADE_SLOT_HANGER_EXTENDER,
                                       TRADE_SLOT_HANGER,           END};
static const unsigned right_column[] = {FRAME,
                                        TRADE_SLOT_CUP_SPACERS,
                                        TRADE_SLOT_BOTTOM_BRACKET,
                                        TRADE_SLOT_CRANK,
                                        TRADE_SLOT_RING_WASHERS,
                                        TRADE_SLOT_OUTER_RING,
                                        TRADE_SLOT_MIDDLE_RING,
                                        TRADE_SLOT_INNER_RING,
                                        TRADE_SLOT_CHAIN_GUIDE,
                                        TRADE_SLOT_CHAIN,
                                        TRADE_SLOT_CASSETTE,
                                        TRADE_SLOT_CASSETTE_SPACER,
                                        TRADE_SLOT_FREEHUB_BODY,
                                        TRADE_SLOT_REAR_WHEEL,
                                        TRADE_SLOT_REAR_ROTOR,
                                        END};

struct mapped {
    struct app_figure *figure;
    struct draw_changes changes;
    unsigned slots[2][DRAW_ROWS_MAX]; /* what a row shows */
    struct draw_changes_row rows[2][DRAW_ROWS_MAX];
    struct draw_changes_joint joints[2][DRAW_ROWS_MAX];
    struct fit_finding *findings;
    size_t n_findings;
    bool *placed; /* of each finding: told at a joint */
};

/* --- parts --------------------------------------------------------------------------------------------------------- */

/* What becomes of a part; EXPLAIN_FITS where there is and was none. */
static enum explain_mark mark_of(const struct mapped *m, unsigned slot) {
    if (slot == FRAME) {
        return EXPLAIN_STAYS;
    }
    if (m->figure->plan && m->figure->way) {
        return explain_slot_mark(m->figure->plan, m->figure->shown, (enum trade_slot)slot);
    }
    return m->figure->now.at[slot].kind == FIT_NONE ? EXPLAIN_FITS : EXPLAIN_STAYS;
}

static const char *word_of(const struct mapped *m, unsigned slot) {
    if (slot == FRAME) {
        return explain_message("bike.frame");
    }
    bool ring = slot == TRADE_SLOT_OUTER_RING || slot == TRADE_SLOT_MIDDLE_RING || slot == TRADE_SLOT_INNER_RING;
    bool only = ring && explain_rings_of(m->figure->shown) == 1 && m->figure->shown->at[slot].kind != FIT_NONE;
    return only ? explain_message("slots.ring") : explain_slot((enum trade_slot)slot);
}

/* Name and price of a new part. */
static const char *detail_of(struct mapped *m, unsigned slot, enum explain_mark mark) {
    struct base_buffer name;
    if (mark != EXPLAIN_NEW) {
        return "";
    }
    const struct trade_part *part = m->figure->shown->at[slot].part;
    base_buffer_init(&name, 0);
    explain_part_name(&name, part);
    const char *said = app_figure_say(m->figure, "draw.changes.detail", explain_buffered(&name),
                                      explain_money(part->price_minor, m->figure->plan->question.shop));
    base_buffer_clear(&name);
    return said;
}

/* 'crank: new. 32 T, ... The old one is worn.' */
static const char *title_of(struct mapped *m, unsigned slot, enum explain_mark mark) {
    struct base_buffer part;
    base_buffer_init(&part, 0);
    if (mark == EXPLAIN_NEW) {
        explain_part(&part, m->figure->shown->at[slot].part);
        base_buffer_text(&part, ". ");
    }
    if (m->figure->way && slot != FRAME) {
        explain_change(&part, m->figure->plan, m->figure->way, (enum trade_slot)slot);
    }
    const char *said = app_figure_say(m->figure, part.n > 0 ? "draw.changes.part-why" : "draw.changes.part",
                                      explain_words(word_of(m, slot)), explain_code(explain_marks[mark].code),
                                      explain_buffered(&part));
    base_buffer_clear(&part);
    return said;
}

/* The rows of a column from `n` on: those that come off, or those that do not; how many there are then. */
static size_t put_rows(struct mapped *m, size_t column, const unsigned *slots, size_t n, bool off) {
    for (size_t i = 0; slots[i] != END && n < DRAW_ROWS_MAX; i++) {
        enum explain_mark mark = mark_of(m, slots[i]);
        if (mark == EXPLAIN_FITS || (mark == EXPLAIN_OFF) != off) {
            continue;
        }
        m->slots[column][n] = slots[i];
        m->rows[column][n++] = (struct draw_changes_row){.word = word_of(m, slots[i]),
                                                         .detail = detail_of(m, slots[i], mark),
                                                         .mark = mark,
                                                         .beside = EXPLAIN_FITS,
                                                         .title = title_of(m, slots[i], mark)};
    }
    return n;
}

/* What comes off hangs on nothing: it stands before the left column and behind the right one. */
static void put_column(struct mapped *m, size_t column, const unsigned *slots) {
    size_t n = put_rows(m, column, slots, 0, column == 0);
    n = put_rows(m, column, slots, n, column != 0);
    m->changes.columns[column] =
        (struct draw_changes_column){.rows = m->rows[column], .n = n, .joints = m->joints[column]};
}

/* --- joints -------------------------------------------------------------------------------------------------------- */

/* From best to worst, of what a joint can show. */
static int weight_of(enum explain_mark mark) {
    static const enum explain_mark rising[] = {EXPLAIN_FITS, EXPLAIN_ADAPTED, EXPLAIN_DRAWBACK, EXPLAIN_MEASURE,
                                               EXPLAIN_CLASH};
    for (int i = 0; i < 5; i++) {
        if (rising[i] == mark) {
            return i;
        }
    }
    return 0;
}

/* Does the rule look at this row? */
static bool looks_at(const struct fit_rule *rule, unsigned slot) {
    if (slot < TRADE_SLOTS) {
        return (fit_rule_slots(rule) >> slot & 1u) != 0;
    }
    for (unsigned i = 0; i < rule->n_reads; i++) {
        if (rule->reads[i].subject == FIT_FRAME) {
            return true;
        }
    }
    return false;
}

/* Everything that the rules say of two rows, and the worst of it. */
static void judge_joint(struct mapped *m, struct draw_changes_joint *joint, unsigned one, unsigned other) {
    struct base_buffer said;
    base_buffer_init(&said, 0);
    joint->mark = EXPLAIN_FITS;
    for (size_t i = 0; i < m->n_findings; i++) {
        enum explain_mark mark = explain_mark_of(&m->findings[i]);
        if (mark == EXPLAIN_FITS || m->placed[i] || !looks_at(m->findings[i].rule, one) ||
            !looks_at(m->findings[i].rule, other)) {
            continue;
        }
        m->placed[i] = true;
        joint->mark = weight_of(mark) > weight_of(joint->mark) ? mark : joint->mark;
        base_buffer_char(&said, ' ');
        explain_finding(&said, &m->findings[i]);
    }
    const char *told = app_figure_keep(m->figure, &said);
    joint->title = app_figure_say(m->figure, told[0] != '\0' ? "draw.changes.joint-why" : "draw.changes.joint",
                                  explain_words(word_of(m, one)), explain_words(word_of(m, other)),
                                  explain_words(told[0] == ' ' ? told + 1 : told));
}

static bool stands(const struct mapped *m, size_t column, size_t row) {
    return m->rows[column][row].mark != EXPLAIN_OFF;
}

/* Each part that is on the bike hangs on the next one below that is, too, where nothing else stands between. */
static void join_down(struct mapped *m, size_t column) {
    struct draw_changes_column *of = &m->changes.columns[column];
    for (size_t i = 0; i + 1 < of->n; i++) {
        bool apart =
            m->slots[column][i] == TRADE_SLOT_LEFT_SHIFTER || m->slots[column][i] == TRADE_SLOT_FRONT_DERAILLEUR;
        if (stands(m, column, i) && stands(m, column, i + 1) &&
            (!apart || m->slots[column][i + 1] == TRADE_SLOT_FRONT_DERAILLEUR)) {
            struct draw_changes_joint *joint = &m->joints[column][of->n_joints++];
            joint->from = i;
            joint->to = i + 1;
            joint->across = false;
            judge_joint(m, joint, m->slots[column][i], m->slots[column][i + 1]);
        }
    }
}

/* The row of a slot; the number of rows where it is none. */
static size_t row_of(const struct mapped *m, size_t column, unsigned slot) {
    size_t i = 0;
    while (i < m->changes.columns[column].n && m->slots[column][i] != slot) {
        i++;
    }
    return i;
}

/* One joint more: between the columns, or round the right one. */
static void join_far(struct mapped *m, bool across, unsigned one, unsigned other) {
    struct draw_changes_column *of = &m->changes.columns[1];
    size_t from = row_of(m, across ? 0 : 1, one), to = row_of(m, 1, other);
    if (from == m->changes.columns[across ? 0 : 1].n || to == of->n || of->n_joints == DRAW_ROWS_MAX) {
        return;
    }
    struct draw_changes_joint *joint = &m->joints[1][of->n_joints++];
    joint->from = from;
    joint->to = to;
    joint->across = across;
    judge_joint(m, joint, one, other);
    if (joint->mark != EXPLAIN_FITS) { /* there is no room on such a line: it is told at the first part */
        struct draw_changes_row *row = &m->rows[across ? 0 : 1][from];
        row->beside = weight_of(joint->mark) > weight_of(row->beside) ? joint->mark : row->beside;
    }
}

/* What no joint could tell stands at the first part that it is about. */
static void put_beside(struct mapped *m) {
    for (size_t i = 0; i < m->n_findings; i++) {
        enum explain_mark mark = explain_mark_of(&m->findings[i]);
        if (mark == EXPLAIN_FITS || m->placed[i]) {
            continue;
        }
        for (size_t k = 0; k < 2 && !m->placed[i]; k++) {
            for (size_t row = 0; row < m->changes.columns[k].n && !m->placed[i]; row++) {
                if (m->slots[k][row] < TRADE_SLOTS && looks_at(m->findings[i].rule, m->slots[k][row])) {
                    struct draw_changes_row *at = &m->rows[k][row];
                    at->beside = weight_of(mark) > weight_of(at->beside) ? mark : at->beside;
                    m->placed[i] = true;
                }
            }
        }
    }
}

/* --- the whole ----------------------------------------------------------------------------------------------------- */

static enum base_status judge(struct mapped *m) {
    struct app_figure *figure = m->figure;
    struct fit_cases *cases = base_arena_alloc(figure->arena, 1, sizeof *cases);
    m->findings = base_arena_alloc(figure->arena, fit_rules_n, sizeof *m->findings);
    m->placed = base_arena_alloc(figure->arena, fit_rules_n, sizeof *m->placed);
    if (!cases || !m->findings || !m->placed) {
        return BASE_NO_MEMORY;
    }
    fit_cases_of(cases, figure->bike);
    fit_judge_build(m->findings, &m->n_findings, figure->bike, figure->shown, cases, !figure->way);
    return BASE_OK;
}

static const char *answer_of(struct mapped *m) {
    int64_t n[EXPLAIN_MARKS] = {0};
    for (size_t c = 0; c < 2; c++) {
        for (size_t i = 0; i < m->changes.columns[c].n; i++) {
            n[m->rows[c][i].mark] += m->slots[c][i] != FRAME;
        }
    }
    return app_figure_say(m->figure, m->figure->way ? "draw.changes.answer" : "draw.changes.answer-now",
                          explain_count(n[EXPLAIN_STAYS]), explain_count(n[EXPLAIN_NEW]),
                          explain_count(n[EXPLAIN_OFF]));
}

enum base_status app_figure_changes(struct app_figure *figure) {
    struct mapped *m = base_arena_alloc(figure->arena, 1, sizeof *m);
    if (!m) {
        return BASE_NO_MEMORY;
    }
    m->figure = figure;
    m->changes.head = figure->head;
    if (judge(m) != BASE_OK) {
        return BASE_NO_MEMORY;
    }
    put_column(m, 0, left_column);
    put_column(m, 1, right_column);
    join_down(m, 0);
    join_down(m, 1);
    join_far(m, true, TRADE_SLOT_REAR_DERAILLEUR, TRADE_SLOT_CHAIN);
    join_far(m, true, TRADE_SLOT_REAR_DERAILLEUR, TRADE_SLOT_CASSETTE);
    join_far(m, false, FRAME, TRADE_SLOT_REAR_WHEEL);
    put_beside(m);
    m->changes.head.answer = answer_of(m);
    m->changes.head.foot = explain_message("draw.changes.foot");
    draw_changes(figure->out, &figure->style, &m->changes);
    return BASE_OK;
}
