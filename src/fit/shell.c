/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Bottom bracket and shell: thread or bore, width, and the spacers that belong to outboard cups.
 *
 * English, French and Swiss shells measure the same inside; a cup of the wrong one goes in by force and ruins the
 * frame. So the thread is a word that somebody has read, never one that follows from a diameter.
 */
#include "fit/rule.h"
#include "fit/rules.h"

#include <math.h>

enum { FRAME_SHELL, WIDTH, SHELL, LEAST, WIDEST, STAYS, SPINDLE, USE, READS };
enum { THREADED, PRESSED, SPACERS, STAYS_AS_IT_IS, OTHER, ALIKE, WIDE, ASK };

static const struct trade_shells_row *shell_row(unsigned shell) {
    size_t i = 0;
    while (trade_shells[i].shell != (int)shell) {
        i++; /* the table has a row for every word */
    }
    return &trade_shells[i];
}

static struct fit_verdict judge_other(unsigned bracket, unsigned frame) {
    const struct trade_shells_row *a = shell_row(bracket), *b = shell_row(frame);
    bool alike = a->inner_low_mm <= b->inner_high_mm && b->inner_low_mm <= a->inner_high_mm;
    struct fit_verdict out = fit_say(FIT_CLASH, alike ? ALIKE : OTHER);
    fit_add_word(&out, TRADE_DOMAIN_SHELL, bracket);
    fit_add_word(&out, TRADE_DOMAIN_SHELL, frame);
    return out;
}

/* The spacers of outboard cups on this shell, without a front derailleur's plate among them; NULL where no source tells
 * them. Where they are told, not all sources agree. A rule that looked for the plate would judge a bottom bracket that
 * stays whenever the derailleur comes off; `explain` says what the plate does. */
static const struct trade_outboard_spacers_row *spacers_row(const struct fit_values *v) {
    for (size_t i = 0; i < trade_outboard_spacers_n && fit_known(v, SPINDLE) && fit_known(v, USE); i++) {
        const struct trade_outboard_spacers_row *row = &trade_outboard_spacers[i];
        if (fabs(row->shell_mm - fit_number(v, WIDTH)) <= fit_limit(TRADE_LIMIT_SHELL_WIDTH_TOLERANCE_MM) &&
            row->use == (int)fit_word(v, USE) && row->spindle == (int)fit_word(v, SPINDLE) &&
            row->cup_bracket == (int)TRADE_YES_NO_NO) {
            return row;
        }
    }
    return NULL;
}

static struct fit_verdict judge_fits(const struct fit_values *v) {
    const struct trade_shells_row *shell = shell_row(fit_word(v, SHELL));
    bool threaded = shell->drive_hand >= 0;
    const struct trade_outboard_spacers_row *spacers = threaded ? spacers_row(v) : NULL;
    struct fit_verdict out = fit_say(FIT_FITS, threaded ? THREADED : PRESSED);
    if (spacers) {
        out = fit_say(FIT_FITS, SPACERS);
    }
    fit_add_word(&out, TRADE_DOMAIN_SHELL, fit_word(v, SHELL));
    if (threaded) {
        fit_add_word(&out, TRADE_DOMAIN_HAND, (unsigned)shell->drive_hand);
    }
    if (spacers) {
        fit_add_number(&out, spacers->drive_mm, 1, "mm");
        fit_add_number(&out, spacers->other_mm, 1, "mm");
    }
    return out;
}

static struct fit_verdict judge_width(const struct fit_values *v) {
    double tolerance = fit_limit(TRADE_LIMIT_SHELL_WIDTH_TOLERANCE_MM), width = fit_number(v, WIDTH);
    if (width >= fit_number(v, LEAST) - tolerance && width <= fit_number(v, WIDEST) + tolerance) {
        return judge_fits(v);
    }
    struct fit_verdict clash = fit_say(FIT_CLASH, WIDE);
    fit_add_read_mm(&clash, width);
    fit_add_read_mm(&clash, fit_number(v, LEAST));
    fit_add_read_mm(&clash, fit_number(v, WIDEST));
    return clash;
}

static struct fit_verdict judge(const struct fit_values *v) {
    for (unsigned i = SHELL; i <= WIDEST; i++) {
        if (!fit_known(v, i)) {
            return fit_stays(v, STAYS) ? fit_say(FIT_FITS, STAYS_AS_IT_IS) : fit_ask(i, ASK);
        }
        if (i == SHELL && fit_word(v, SHELL) != fit_word(v, FRAME_SHELL)) {
            return judge_other(fit_word(v, SHELL), fit_word(v, FRAME_SHELL));
        }
    }
    return judge_width(v);
}

const struct fit_rule fit_shell = {
    .id = "shell",
    .reads = {[FRAME_SHELL] = FIT_READ(FIT_FRAME, TRADE_FRAME_SHELL, FIT_NEEDED),
              [WIDTH] = FIT_READ(FIT_FRAME, TRADE_FRAME_SHELL_WIDTH_MM, FIT_NEEDED),
              [SHELL] = FIT_READ(TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SHELL, FIT_SHEET),
              [LEAST] = FIT_READ(TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_LEAST_SHELL_MM, FIT_SHEET),
              [WIDEST] = FIT_READ(TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_WIDEST_SHELL_MM, FIT_SHEET),
              [STAYS] = FIT_READ(TRADE_SLOT_BOTTOM_BRACKET, FIT_FITTED, FIT_NEEDED),
              [SPINDLE] = FIT_READ(TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE, FIT_OPTIONAL),
              [USE] = FIT_READ(FIT_BIKE, TRADE_BIKE_USE, FIT_OPTIONAL)},
    .n_reads = READS,
    .reasons = {[THREADED] = "shell.threaded",
                [PRESSED] = "shell.pressed",
                [SPACERS] = "shell.spacers",
                [STAYS_AS_IT_IS] = "shell.stays",
                [OTHER] = "shell.other",
                [ALIKE] = "shell.alike",
                [WIDE] = "shell.width",
                [ASK] = "shell.ask"},
    .judge = judge,
    .source = "Bottom bracket threading chart, BikeRaceInfo; DIN ISO 6696 (ISO 6696:1989), scope",
};
