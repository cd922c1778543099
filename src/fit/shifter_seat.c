/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Where a shifter sits: its own clamp, a twist grip, the bracket of the brake lever, the end of a drop bar, the frame.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { SEAT, STAYS, MADE_FOR, BAR, BOSSES, BRACKETS, LEVER_STAYS, READS };
enum { FITS, GRIP, SHORT_GRIP, CLAMP, NO_BOSSES, ASK_BOSSES, OTHER_BAR, NOT_ON_BAR, NO_LEVER, BRACKET, ASK };

static struct fit_verdict with_seat(enum fit_kind kind, unsigned reason, const struct fit_values *v) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_word(&out, TRADE_DOMAIN_SEAT, fit_word(v, SEAT));
    return out;
}

static const struct trade_seat_bars_row *bar_row(const struct fit_values *v) {
    for (size_t i = 0; i < trade_seat_bars_n; i++) {
        if (trade_seat_bars[i].seat == (int)fit_word(v, SEAT) && trade_seat_bars[i].bar == (int)fit_word(v, BAR)) {
            return &trade_seat_bars[i];
        }
    }
    return NULL;
}

/* The best that a bracket of the lever offers. Verdicts of the table stand from best to worst. */
static int best_bracket(const struct fit_values *v) {
    int best = TRADE_VERDICT_CLASH;
    for (size_t i = 0; i < trade_seat_fits_n; i++) {
        const struct trade_seat_fits_row *row = &trade_seat_fits[i];
        if (row->shifter_seat == (int)fit_word(v, SEAT) && fit_among(v, BRACKETS, (unsigned)row->bracket_seat) &&
            row->verdict < best) {
            best = row->verdict;
        }
    }
    return best;
}

static struct fit_verdict judge_bracket(const struct fit_values *v) {
    bool together = fit_stays(v, STAYS) && fit_stays(v, LEVER_STAYS);
    if (!fit_has(v, LEVER_STAYS)) {
        return with_seat(FIT_CLASH, NO_LEVER, v);
    }
    if (!fit_known(v, BRACKETS)) {
        return together ? with_seat(FIT_FITS, FITS, v) : fit_lacks(v, LEVER_STAYS, BRACKETS, ASK);
    }
    switch ((enum trade_verdict)best_bracket(v)) {
    case TRADE_VERDICT_FITS:
        return with_seat(FIT_FITS, FITS, v);
    case TRADE_VERDICT_ADAPTER:
        return with_seat(FIT_ADAPTER, CLAMP, v);
    case TRADE_VERDICT_DRAWBACK:
        return together ? with_seat(FIT_FITS, FITS, v) : with_seat(FIT_DRAWBACK, GRIP, v);
    case TRADE_VERDICT_MEASURE:
    case TRADE_VERDICT_CLASH:
    case TRADE_VERDICT_COUNT:
        break;
    }
    return with_seat(FIT_CLASH, BRACKET, v);
}

/* What a new shifter of this seat asks of the bike beside the bar. */
static struct fit_verdict judge_new(const struct fit_values *v) {
    switch (fit_word(v, SEAT)) {
    case TRADE_SEAT_TWIST:
        return fit_say(FIT_DRAWBACK, SHORT_GRIP);
    case TRADE_SEAT_DOWN_TUBE:
        if (!fit_known(v, BOSSES)) {
            return fit_ask(BOSSES, ASK_BOSSES);
        }
        return fit_known_yes(v, BOSSES) ? with_seat(FIT_FITS, FITS, v) : fit_say(FIT_CLASH, NO_BOSSES);
    default:
        return with_seat(FIT_FITS, FITS, v);
    }
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (fit_known(v, MADE_FOR) && fit_word(v, MADE_FOR) != fit_word(v, BAR)) {
        struct fit_verdict out = fit_say(FIT_CLASH, OTHER_BAR);
        fit_add_word(&out, TRADE_DOMAIN_BAR, fit_word(v, MADE_FOR));
        fit_add_word(&out, TRADE_DOMAIN_BAR, fit_word(v, BAR));
        return out;
    }
    if (fit_word(v, SEAT) == TRADE_SEAT_IN_LEVER) {
        return fit_silent(); /* lever-bar and shifter-lever judge the unit */
    }
    const struct trade_seat_bars_row *row = bar_row(v);
    if (!row || row->verdict == TRADE_VERDICT_CLASH) {
        struct fit_verdict out = with_seat(FIT_CLASH, NOT_ON_BAR, v);
        fit_add_word(&out, TRADE_DOMAIN_BAR, fit_word(v, BAR));
        return out;
    }
    if (row->needs_bracket == TRADE_YES_NO_YES) {
        return judge_bracket(v);
    }
    return fit_stays(v, STAYS) ? with_seat(FIT_FITS, FITS, v) : judge_new(v);
}

/* clang-format off */
#define SHIFTER_SEAT(SHIFTER, LEVER, SIDE)                                                                             \
    {                                                                                                                  \
        .id = "shifter-seat",                                                                                          \
        .variant = SIDE,                                                                                               \
        .reads = {                                                                                                     \
            [SEAT] = FIT_READ(SHIFTER, TRADE_SHIFTER_SEAT, FIT_NEEDED),                                                \
            [STAYS] = FIT_READ(SHIFTER, FIT_FITTED, FIT_NEEDED),                                                       \
            [MADE_FOR] = FIT_READ(SHIFTER, TRADE_SHIFTER_BAR, FIT_OPTIONAL),                                           \
            [BAR] = FIT_READ(FIT_FRAME, TRADE_FRAME_BAR, FIT_NEEDED),                                                  \
            [BOSSES] = FIT_READ(FIT_FRAME, TRADE_FRAME_DOWN_TUBE_BOSSES, FIT_OPTIONAL),                                \
            [BRACKETS] = FIT_READ(LEVER, TRADE_BRAKE_LEVER_BRACKETS, FIT_MAYBE),                                       \
            [LEVER_STAYS] = FIT_READ(LEVER, FIT_FITTED, FIT_EMPTY_OK),                                                 \
        },                                                                                                             \
        .n_reads = READS,                                                                                              \
        .reasons = {                                                                                                   \
            [FITS] = "shifter-seat.fits", [GRIP] = "shifter-seat.grip", [SHORT_GRIP] = "shifter-seat.short-grip",      \
            [CLAMP] = "shifter-seat.clamp", [NO_BOSSES] = "shifter-seat.no-bosses", [ASK_BOSSES] = "shifter-seat.bosses", [OTHER_BAR] = "shifter-seat.other-bar",  \
            [NOT_ON_BAR] = "shifter-seat.not-on-bar", [NO_LEVER] = "shifter-seat.no-lever",                            \
            [BRACKET] = "shifter-seat.bracket", [ASK] = "shifter-seat.ask",                                            \
        },                                                                                                             \
        .judge = judge,                                                                                                \
        .source = "Integrated clamp article, MBR magazine, 2018; Handlebar dimensions (Sheldon Brown table), Love "    \
                  "City Cycles",                                                                                       \
    }
/* clang-format on */

const struct fit_rule fit_shifter_seat_right =
    SHIFTER_SEAT(TRADE_SLOT_RIGHT_SHIFTER, TRADE_SLOT_RIGHT_BRAKE_LEVER, TRADE_SIDE_RIGHT);
const struct fit_rule fit_shifter_seat_left =
    SHIFTER_SEAT(TRADE_SLOT_LEFT_SHIFTER, TRADE_SLOT_LEFT_BRAKE_LEVER, TRADE_SIDE_LEFT);
