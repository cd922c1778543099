/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_shared.h"

#include <math.h>

void app_shift_sentence(struct base_buffer *text, const struct app_shift *shift) {
    static const char *const ends[] = {
        [FIT_SILENT] = "shift.usual", [FIT_FITS] = "shift.usual", [FIT_ADAPTER] = "shift.usual",
        [FIT_DRAWBACK] = "shift.try", [FIT_ASK] = "shift.waits",  [FIT_CLASH] = "shift.no"};
    enum base_known known = shift->known == BASE_TABLE ? BASE_ASSUMED : shift->known;
    double total = shift->error_mm_total;
    explain_tell(text, "shift.step", explain_known(shift->step_mm, 2, "mm", known),
                 explain_known(shift->pitch_mm, 2, "mm", known));
    base_buffer_text(text, " ");
    if (!isnan(total)) {
        explain_tell(text, total < 0 ? "shift.short" : "shift.long", explain_known(fabs(total), 1, "mm", known),
                     explain_count(shift->sprockets - 1));
        base_buffer_text(text, ", ");
    }
    explain_say(text, ends[shift->verdict]);
}

/* Without cable, or without index, no click has a length: the rules' own sentences tell it. */
static bool has_clicks(const struct app_shift *shift) { return !isnan(shift->step_mm) && !isnan(shift->pitch_mm); }

void app_shift_fact(struct base_buffer *text, const struct app_shift *shift) {
    if (has_clicks(shift)) {
        app_shift_sentence(text, shift);
        return;
    }
    for (size_t i = 0; i < shift->n_findings && text->n == 0; i++) {
        enum explain_mark mark = explain_mark_of(&shift->findings[i]);
        if (mark == EXPLAIN_FITS || mark == EXPLAIN_ADAPTED) {
            explain_reason(text, &shift->findings[i]);
        }
    }
}

void app_text_shift(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                    const struct app_shift *shift) {
    struct app_page page = app_page_on(out, style);
    struct fit_cases cases;
    struct base_buffer text;
    app_title(&page, bike, NULL);
    app_question(&page, "shift.question");
    if (has_clicks(shift)) {
        base_buffer_init(&text, 0);
        app_shift_sentence(&text, shift);
        app_end_sentence(&page, &text);
        app_lay_blank(&page, 1);
        app_fact(&page, "shift.label-pull", "shift.pull", explain_known(shift->pull_mm, 2, "mm", shift->known));
        app_fact(&page, "shift.label-ratio", "shift.ratio", explain_known(shift->ratio, 2, "mm", shift->known));
    } else {
        base_buffer_init(&text, 0);
        app_shift_fact(&text, shift);
        if (text.n == 0) {
            explain_say(&text, shift->open.n > 0 ? "shift.open" : "shift.no-clicks");
        }
        app_end_paragraph(&page, &text);
    }
    fit_cases_of(&cases, bike);
    app_lay_findings(&page, shift->findings, shift->n_findings, &cases);
    app_lay_open(&page, &shift->open);
}
