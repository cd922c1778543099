/* SPDX-License-Identifier: Apache-2.0 */
#include "work/sheet.h"

#include <math.h>
#include <string.h>

/* --- what is read with a step --------------------------------------------------------------------------------------- */

static void add_reading(struct work_sheet *sheet, size_t step, struct work_reading reading) {
    if (sheet->n_readings < WORK_READINGS_MAX) {
        reading.step = step;
        sheet->readings[sheet->n_readings++] = reading;
    }
}

/* A torque without a figure is as marked on the part: there is still something to write down. */
static void add_torques(struct work_sheet *sheet, size_t step) {
    const struct trade_bench_row *row = &trade_bench_rows[sheet->steps.at[step]];
    for (size_t i = 0; i < 2 && row->torques[i] >= 0; i++) {
        const struct trade_torques_row *torque = &trade_torques[row->torques[i]];
        add_reading(sheet, step,
                    (struct work_reading){.check = -1,
                                          .torque = row->torques[i],
                                          .unit = "N\xc2\xb7m",
                                          .low = torque->low_nm,
                                          .high = torque->high_nm,
                                          .expected = (double)NAN,
                                          .known = work_torque_known(torque)});
    }
}

static void add_readings(struct work_sheet *sheet, const struct work_question *question) {
    for (size_t step = 0; step < sheet->steps.n; step++) {
        enum trade_bench operation = sheet->steps.at[step];
        for (unsigned c = 0; c < TRADE_CHECKS; c++) {
            struct work_reading reading;
            if ((trade_check_rows[c].after[operation / 64] >> (operation % 64) & 1) != 0 &&
                work_check_of(&reading, (enum trade_check)c, question)) {
                add_reading(sheet, step, reading);
            }
        }
        add_torques(sheet, step);
    }
}

/* --- what is still to be read --------------------------------------------------------------------------------------- */

/* What must be off before a value can be read: what an operation brings about. */
static const struct {
    enum trade_needs_off needs;
    enum trade_gives gives;
} opens[] = {
    {TRADE_NEEDS_OFF_WHEEL, TRADE_GIVES_WHEEL_OUT},         {TRADE_NEEDS_OFF_CASSETTE, TRADE_GIVES_CASSETTE_OFF},
    {TRADE_NEEDS_OFF_CRANK, TRADE_GIVES_RIGHT_ARM_OFF},     {TRADE_NEEDS_OFF_BRACKET, TRADE_GIVES_DRIVE_CUP_OUT},
    {TRADE_NEEDS_OFF_CONTROLS, TRADE_GIVES_RIGHT_BAR_BARE},
};

/* The first step that is of this phase or a later one. */
static size_t first_of_phase(const struct work_sheet *sheet, enum trade_bench_phase phase) {
    size_t step = 0;
    while (step < sheet->steps.n && trade_bench_rows[sheet->steps.at[step]].phase < phase) {
        step++;
    }
    return step;
}

/* The step before which it can be read at the earliest; false where nothing in this job opens the way to it. */
static bool place_ask(size_t *before, const struct work_sheet *sheet, unsigned property) {
    enum trade_needs_off needs =
        property < TRADE_PROPERTIES ? trade_property_rows[property].needs_off : TRADE_NEEDS_OFF_NOTHING;
    bool open = needs == TRADE_NEEDS_OFF_NOTHING;
    *before = first_of_phase(sheet, TRADE_BENCH_PHASE_STRIP);
    for (size_t i = 0; i < sizeof opens / sizeof opens[0]; i++) {
        for (size_t step = 0; opens[i].needs == needs && step < sheet->steps.n; step++) {
            const struct trade_bench_row *row = &trade_bench_rows[sheet->steps.at[step]];
            if (row->phase == TRADE_BENCH_PHASE_STRIP && row->gives == (int)opens[i].gives) {
                *before = step + 1;
                open = true;
            }
        }
    }
    return open;
}

static void add_ask(struct work_sheet *sheet, struct work_ask ask) {
    for (size_t i = 0; i < sheet->n_asks; i++) {
        if (sheet->asks[i].subject == ask.subject && sheet->asks[i].property == ask.property) {
            return;
        }
    }
    bool reached = place_ask(&ask.before, sheet, ask.property);
    if ((reached || ask.decides) && sheet->n_asks < WORK_ASKS_MAX) {
        sheet->asks[sheet->n_asks++] = ask;
    }
}

/* Readings of a dimension that occur in a set of cases. */
static uint32_t readings_in(const struct fit_cases *cases, size_t d, const struct fit_case_set *set) {
    uint32_t readings = 0;
    for (uint32_t joint = 0; joint < cases->n; joint++) {
        if ((set->bits[joint / 64] >> (joint % 64) & 1) != 0) {
            readings |= UINT32_C(1) << fit_candidate(&cases->dims[d], joint);
        }
    }
    return readings;
}

/* What decides whether the build stands: the dimensions behind its cases, and what a rule needs and has no usual readings. */
static enum base_status add_deciding(struct work_sheet *sheet, const struct work_question *q,
                                     struct base_arena *arena) {
    struct fit_finding *findings = base_arena_alloc(arena, fit_rules_n, sizeof *findings);
    struct fit_case_set *stands = base_arena_alloc(arena, 1, sizeof *stands);
    size_t n = 0;
    if (!findings || !stands) {
        return BASE_NO_MEMORY;
    }
    *stands = q->cases->possible;
    fit_judge_build(findings, &n, q->bike, q->build, q->cases, false);
    for (size_t i = 0; i < n; i++) {
        for (size_t w = 0; w < FIT_CASE_WORDS; w++) {
            stands->bits[w] &= findings[i].cases.bits[w];
        }
    }
    uint32_t dims = fit_deciding(q->cases, stands);
    for (size_t d = 0; d < q->cases->n_dims; d++) {
        if ((dims >> d & 1) != 0) {
            add_ask(sheet, (struct work_ask){.subject = q->cases->dims[d].subject,
                                             .property = q->cases->dims[d].property,
                                             .dim = (int)d,
                                             .stands = readings_in(q->cases, d, stands),
                                             .decides = true});
        }
    }
    for (size_t i = 0; i < n; i++) {
        if (findings[i].hangs) {
            add_ask(sheet, (struct work_ask){.subject = findings[i].ask_subject,
                                             .property = findings[i].ask_property,
                                             .dim = -1,
                                             .decides = true});
        }
    }
    return BASE_OK;
}

static void add_assumed_of(struct work_sheet *sheet, const struct trade_part *part, unsigned subject) {
    const struct trade_kind_row *kind = &trade_kind_rows[part->kind];
    for (size_t i = 0; i < kind->n; i++) {
        enum trade_property property = (enum trade_property)(kind->first + i);
        const struct trade_property_row *row = &trade_property_rows[property];
        const struct trade_value *value = trade_get(part, property);
        /* Of a part only what the job opens the way to: nobody measures the pitch of sprockets at the stand. */
        bool worth = subject == FIT_FRAME || row->needs_off != TRADE_NEEDS_OFF_NOTHING;
        bool length = row->type == TRADE_NUMBER && row->measure[0] != '\0';
        if (worth && length && value->known == BASE_ASSUMED && fit_is_read(subject, property)) {
            add_ask(sheet, (struct work_ask){.subject = (uint8_t)subject, .property = (uint16_t)property, .dim = -1});
        }
    }
}

/* Lengths that were taken for granted, of the frame and of parts that stay; and of the cassette, on whose place the new one's
 * rests. */
static void add_assumed(struct work_sheet *sheet, const struct work_question *q) {
    add_assumed_of(sheet, &q->bike->frame, FIT_FRAME);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        bool counts = q->build->at[s].kind == FIT_KEEP || s == TRADE_SLOT_CASSETTE;
        if (counts && q->bike->fitted[s].state == TRADE_THERE) {
            add_assumed_of(sheet, &q->bike->fitted[s].part, s);
        }
    }
}

/* By step; those that decide before those that do not; else as they came. Few of them: by insertion. */
static void sort_asks(struct work_sheet *sheet) {
    for (size_t i = 1; i < sheet->n_asks; i++) {
        struct work_ask ask = sheet->asks[i];
        size_t at = i;
        while (at > 0 && (sheet->asks[at - 1].before > ask.before ||
                          (sheet->asks[at - 1].before == ask.before && ask.decides && !sheet->asks[at - 1].decides))) {
            sheet->asks[at] = sheet->asks[at - 1];
            at--;
        }
        sheet->asks[at] = ask;
    }
}

/* --- all of it ----------------------------------------------------------------------------------------------------- */

/* The order of the table, which `after` may not allow as it stands: each as early as it may come. */
static void table_order(struct work_list *list) {
    struct work_list out = {.n = 0};
    bool done[TRADE_BENCHES] = {false};
    while (out.n < list->n) {
        size_t next = 0;
        for (bool waits = true; waits; next += waits) {
            waits = done[list->at[next]];
            for (size_t j = 0; j < list->n; j++) {
                waits = waits || (!done[list->at[j]] && work_before(list->at[j], list->at[next]));
            }
        }
        out.at[out.n++] = list->at[next];
        done[list->at[next]] = true;
    }
    *list = out;
}

enum base_status work_sheet_of(struct work_sheet *out, const struct work_question *q) {
    struct work_sheet sheet;
    struct base_arena arena;
    memset(&sheet, 0, sizeof sheet);
    base_arena_init(&arena, 0);
    sheet.charged = work_charged(q->bike, q->build);
    work_operations(&sheet.steps, q->bike, q->build);
    work_found(&sheet.found, q->bike, q->build);
    enum base_status status = work_order(&sheet.steps, &sheet.cost, q->limit_sets);
    sheet.least = status == BASE_OK;
    if (status == BASE_NO) {
        table_order(&sheet.steps);
        sheet.cost = work_cost_of(&sheet.steps);
        status = BASE_OK;
    }
    if (status == BASE_OK) {
        status = add_deciding(&sheet, q, &arena);
    }
    if (status == BASE_OK) {
        sheet.minutes = work_minutes_of(&sheet.steps, sheet.charged, q->shop);
        add_readings(&sheet, q);
        add_assumed(&sheet, q);
        sort_asks(&sheet);
        *out = sheet;
    }
    base_arena_clear(&arena);
    return status;
}
