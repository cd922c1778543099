/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What changes: the joints of the bike as two columns, from the hand to the gears and from the frame to the wheel. A part
 * is a tile with its word; a line is a joint, with a tile where it is more than a fit.
 */
#include "draw/figures.h"

#include "explain/message.h"

#include <math.h>

#define TILE 20.0
#define JOINT_TILE 17.0
#define WORD 28.0 /* from a tile's left edge to its word */
#define LEFT 8.0
#define RIGHT 190.0
#define RIGHT_WIDE 370.0
#define ROW 50.0
#define ROW_WIDE 66.0
#define BASE 15.0 /* of a word, from the top of its tile */
#define GAP 6.0

struct map {
    struct draw_sheet sheet;
    const struct draw_changes *of;
    double row, top, x[2]; /* x of the two columns' tiles */
    double word_end[2][DRAW_ROWS_MAX];
    bool wide;
};

static const enum draw_colour colours[EXPLAIN_MARKS] = {
    [EXPLAIN_FITS] = DRAW_INK,        [EXPLAIN_STAYS] = DRAW_INK,    [EXPLAIN_NEW] = DRAW_NEW,
    [EXPLAIN_ADAPTED] = DRAW_ADAPTED, [EXPLAIN_OFF] = DRAW_OFF,      [EXPLAIN_MEASURE] = DRAW_MEASURE,
    [EXPLAIN_CLASH] = DRAW_CLASH,     [EXPLAIN_DRAWBACK] = DRAW_INK,
};

static double y_of(const struct map *m, size_t row) { return m->top + m->row * (double)row; }
static double middle_of(const struct map *m, size_t row) { return y_of(m, row) + TILE / 2.0; }

/* Where a column's words must end. */
static double edge_of(const struct map *m, size_t column) {
    return column == 0 ? m->x[1] - 4.0 * GAP : m->sheet.width - 3.0 * GAP;
}

static void draw_row(struct map *m, size_t column, size_t i) {
    const struct draw_changes_row *row = &m->of->columns[column].rows[i];
    const struct draw_face face = {DRAW_START, colours[row->mark], false, false};
    double x = m->x[column], y = y_of(m, i), word = x + WORD, second = 0.0;
    if (row->beside != EXPLAIN_FITS) {
        second = TILE + 2.0;
    }
    draw_open(&m->sheet, row->title);
    draw_tile(&m->sheet, row->mark, x, y, TILE);
    draw_tile(&m->sheet, row->beside, x + TILE + 2.0, y, TILE);
    double room = edge_of(m, column) - word - second;
    (void)draw_text_cut(&m->sheet, word + second, y + BASE, face, row->word, room);
    if (m->wide && row->detail[0] != '\0') {
        (void)draw_text_cut(&m->sheet, word, y + BASE + DRAW_LINE_HEIGHT, draw_left, row->detail,
                            edge_of(m, column) - word);
    }
    draw_close(&m->sheet);
    m->word_end[column][i] = word + second + fmin(draw_width_of(row->word, false), room);
}

/* What is more than a fit, its tile in the middle of the line and its word beside it. */
static void draw_mark(struct map *m, const struct draw_changes_joint *joint, double x, double y) {
    if (joint->mark != EXPLAIN_FITS) {
        const struct draw_face face = {DRAW_START, colours[joint->mark], false, false};
        const double half = JOINT_TILE / 2.0;
        draw_blank(&m->sheet, (struct draw_box){x - half, y - half, x + half, y + half});
        draw_tile(&m->sheet, joint->mark, x - half, y - half, JOINT_TILE);
        (void)draw_text(&m->sheet, x + half + GAP, y + GAP, face, explain_message(explain_marks[joint->mark].code));
    }
}

/* Straight down the column. */
static void draw_joint_down(struct map *m, size_t column, const struct draw_changes_joint *joint) {
    double x = m->x[column] + TILE / 2.0, from = y_of(m, joint->from) + TILE, to = y_of(m, joint->to);
    double y = m->wide ? to - JOINT_TILE / 2.0 - 3.0 : (from + to) / 2.0;
    draw_open(&m->sheet, joint->title);
    draw_line(&m->sheet, DRAW_MIDDLE, x, from, x, to);
    draw_mark(m, joint, x, y);
    draw_close(&m->sheet);
}

/* From a part of the left column to one of the right, by one angled line before the right column. */
static void draw_joint_across(struct map *m, const struct draw_changes_joint *joint) {
    double x = m->x[1] - 2.5 * GAP, from = middle_of(m, joint->from), to = middle_of(m, joint->to);
    const struct draw_point points[4] = {
        {m->word_end[0][joint->from] + GAP, from}, {x, from}, {x, to}, {m->x[1] - 1.0, to}};
    draw_open(&m->sheet, joint->title);
    draw_points(&m->sheet, DRAW_MIDDLE, -1, points, 4, false);
    draw_close(&m->sheet);
}

/* Between two parts of the right column that are not neighbours, along the right edge. */
static void draw_joint_round(struct map *m, const struct draw_changes_joint *joint) {
    double x = m->sheet.width - DRAW_EDGE, from = middle_of(m, joint->from), to = middle_of(m, joint->to);
    const struct draw_point points[4] = {
        {m->word_end[1][joint->from] + GAP, from}, {x, from}, {x, to}, {m->word_end[1][joint->to] + GAP, to}};
    draw_open(&m->sheet, joint->title);
    draw_points(&m->sheet, DRAW_MIDDLE, -1, points, 4, false);
    draw_close(&m->sheet);
}

static bool is_shown(const struct map *m, enum explain_mark mark) {
    for (size_t c = 0; c < 2; c++) {
        const struct draw_changes_column *column = &m->of->columns[c];
        for (size_t i = 0; i < column->n; i++) {
            if (column->rows[i].mark == mark || column->rows[i].beside == mark) {
                return true;
            }
        }
        for (size_t i = 0; i < column->n_joints; i++) {
            if (column->joints[i].mark == mark) {
                return true;
            }
        }
    }
    return false;
}

/* Each tile that is shown, with its word. */
static double draw_key(struct map *m, double y) {
    double x = LEFT;
    for (int mark = EXPLAIN_STAYS; mark < EXPLAIN_MARKS; mark++) {
        const char *word = explain_message(explain_marks[mark].code);
        double width = WORD + draw_width_of(word, false);
        if (!is_shown(m, (enum explain_mark)mark)) {
            continue;
        }
        if (x + width > m->sheet.width - DRAW_EDGE) {
            x = LEFT;
            y += TILE + GAP;
        }
        draw_tile(&m->sheet, (enum explain_mark)mark, x, y, TILE);
        (void)draw_text(&m->sheet, x + WORD, y + BASE, draw_left, word);
        x += width + 2.0 * GAP;
    }
    return y + TILE;
}

void draw_changes(struct base_buffer *out, const struct draw_style *style, const struct draw_changes *changes) {
    struct map m = {.of = changes,
                    .wide = style->wide,
                    .row = style->wide ? ROW_WIDE : ROW,
                    .x = {LEFT, style->wide ? RIGHT_WIDE : RIGHT}};
    draw_sheet_begin(&m.sheet, style->ground, style->wide ? DRAW_WIDE_UNITS : DRAW_NARROW_UNITS);
    m.top = draw_head_of(&m.sheet, &changes->head) + GAP;
    size_t rows = 0;
    for (size_t c = 0; c < 2; c++) {
        const struct draw_changes_column *column = &changes->columns[c];
        for (size_t i = 0; i < column->n; i++) {
            draw_row(&m, c, i);
        }
        rows = column->n > rows ? column->n : rows;
    }
    for (size_t c = 0; c < 2; c++) {
        for (size_t i = 0; i < changes->columns[c].n_joints; i++) {
            const struct draw_changes_joint *joint = &changes->columns[c].joints[i];
            if (joint->across) {
                draw_joint_across(&m, joint);
            } else if (joint->to == joint->from + 1) {
                draw_joint_down(&m, c, joint);
            } else {
                draw_joint_round(&m, joint);
            }
        }
    }
    double bottom = draw_key(&m, y_of(&m, rows - 1) + TILE + 2.0 * DRAW_LINE_HEIGHT);
    draw_sheet_end(out, &m.sheet, &changes->head, bottom);
}
