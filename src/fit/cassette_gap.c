/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Smallest sprocket and frame: the chain on it must pass the dropout.
 *
 * The large end of a cassette rests on the shoulder of the body, so that another stack, or a spacer behind it, moves the
 * small end: the gap to the frame follows. On the shoulder that is there the hub's own width and recess cancel; a new
 * wheel whose shoulder nobody states is taken to have it where this one has it. What does not come further out than
 * today's is not doubted. The chain is one that the cassette is made for.
 */
#include "fit/rule.h"
#include "fit/rules.h"
#include "mech/line.h"

#include <math.h>

enum {
    GAP,
    STACK_NOW,
    OVERHANG_NOW,
    SPACER_NOW,
    STACK,
    OVERHANG,
    SPACER,
    SPROCKET,
    STAYS,
    CHAIN,
    WHEEL_STAYS,
    SHOULDER,
    HUB_WIDTH,
    RECESS,
    CHAIN_NOW,
    SPROCKET_NOW,
    READS
};
enum { FITS, INWARD, ROOM, TIGHT, STRIKES, ASK };

static double or_zero(const struct fit_values *v, unsigned i) { return fit_known(v, i) ? fit_number(v, i) : 0.0; }

static struct mech_line_cassette cassette(const struct fit_values *v, unsigned stack, unsigned spacer,
                                          unsigned overhang) {
    return (struct mech_line_cassette){
        .stack_mm = fit_number(v, stack), .spacers_mm = or_zero(v, spacer), .overhang_mm = or_zero(v, overhang)};
}

/* A new wheel that says where its shoulder is, in a hub whose ends are known. */
static bool own_shoulder(const struct fit_values *v) {
    return !fit_stays(v, WHEEL_STAYS) && fit_known(v, SHOULDER) && fit_known(v, HUB_WIDTH) && fit_known(v, RECESS);
}

/* Width over the pins of a chain for a cassette; NAN where none is published, or the cassette says none. */
static double chain_width_mm(const struct fit_values *v, unsigned chain) {
    for (size_t i = 0; i < trade_chains_n && fit_known(v, chain); i++) {
        if (trade_chains[i].chain_family == (int)fit_word(v, chain)) {
            return trade_chains[i].width_mm;
        }
    }
    return NAN;
}

/* Something that is wanted is open: what must be measured, or that the new cassette does not say. Silent: nothing is. */
static struct fit_verdict judge_open(const struct fit_values *v) {
    static const uint8_t of_cassette[] = {STACK, OVERHANG, SPROCKET, CHAIN};
    for (size_t i = 0; i < sizeof of_cassette; i++) {
        if (!fit_known(v, of_cassette[i])) {
            return fit_lacks(v, STAYS, of_cassette[i], ASK);
        }
    }
    if (own_shoulder(v)) {
        return fit_silent();
    }
    if (fit_has(v, SPACER_NOW) && !fit_known(v, SPACER_NOW)) {
        return fit_ask(SPACER_NOW, ASK);
    }
    return fit_known(v, STACK_NOW) ? fit_silent() : fit_ask(STACK_NOW, ASK);
}

/* Nothing that moves the small end changes. */
static bool as_now(const struct fit_values *v) {
    bool same_spacer = fit_has(v, SPACER) == fit_has(v, SPACER_NOW) &&
                       (!fit_has(v, SPACER) || trade_same(v->at[SPACER], v->at[SPACER_NOW], TRADE_NUMBER));
    return fit_stays(v, STAYS) && fit_stays(v, WHEEL_STAYS) && same_spacer;
}

static double gap_of(const struct fit_values *v) {
    struct mech_line_cassette next = cassette(v, STACK, SPACER, OVERHANG);
    if (own_shoulder(v)) {
        struct mech_line_hub hub = {.width_mm = fit_number(v, HUB_WIDTH), .recess_mm = fit_number(v, RECESS)};
        return mech_line_gap_mm(&hub, &next, fit_number(v, SHOULDER));
    }
    static const struct mech_line_hub any = {0};
    struct mech_line_cassette now = cassette(v, STACK_NOW, SPACER_NOW, OVERHANG_NOW);
    return mech_line_gap_mm(&any, &next, mech_line_shoulder_mm(&any, &now, fit_number(v, GAP)));
}

static const double rounding_mm = 1e-9;

/* Has the chain beside the smallest sprocket as much room as today's has, by the widths of the two? What is no nearer to the
 * frame than today is not doubted, whatever the gap is. */
static bool no_less_room(const struct fit_values *v, double gap, double least) {
    double width = chain_width_mm(v, CHAIN_NOW);
    if (own_shoulder(v) || isnan(width) || !fit_known(v, SPROCKET_NOW)) {
        return false;
    }
    double least_now = mech_line_gap_least_mm(width, fit_number(v, SPROCKET_NOW));
    return gap - least >= fit_number(v, GAP) - least_now - rounding_mm;
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (as_now(v)) {
        return fit_silent();
    }
    struct fit_verdict open = judge_open(v);
    if (open.kind != FIT_SILENT) {
        return open;
    }
    double width = chain_width_mm(v, CHAIN);
    if (isnan(width)) {
        return fit_silent();
    }
    double gap = gap_of(v), least = mech_line_gap_least_mm(width, fit_number(v, SPROCKET));
    double strikes = least - fit_limit(TRADE_LIMIT_GAP_CLEARANCE_MM);
    bool inward = !own_shoulder(v) && gap >= fit_number(v, GAP) - rounding_mm;
    unsigned reason = inward                         ? INWARD
                      : gap >= least - rounding_mm   ? FITS
                      : no_less_room(v, gap, least)  ? ROOM
                      : gap >= strikes - rounding_mm ? TIGHT
                                                     : STRIKES;
    struct fit_verdict out = fit_say(reason == STRIKES ? FIT_CLASH : reason == TIGHT ? FIT_DRAWBACK : FIT_FITS, reason);
    fit_add_number(&out, gap, 1, "mm");
    if (reason != INWARD && reason != ROOM) {
        fit_add_number(&out, least, 1, "mm");
    }
    return out;
}

const struct fit_rule fit_cassette_gap = {
    .id = "cassette-gap",
    .reads =
        {
            [GAP] = FIT_READ(FIT_FRAME, TRADE_FRAME_GAP_MM, FIT_NEEDED),
            [STACK_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_CASSETTE, TRADE_CASSETTE_STACK_MM, FIT_OPTIONAL),
            [OVERHANG_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_CASSETTE, TRADE_CASSETTE_OVERHANG_MM, FIT_NEEDED),
            [SPACER_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_CASSETTE_SPACER, TRADE_SPACER_THICKNESS_MM, FIT_MAYBE),
            [STACK] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_STACK_MM, FIT_SHEET),
            [OVERHANG] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_OVERHANG_MM, FIT_SHEET),
            [SPACER] = FIT_READ(TRADE_SLOT_CASSETTE_SPACER, TRADE_SPACER_THICKNESS_MM, FIT_EMPTY_OK),
            [SPROCKET] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SPROCKET_MM, FIT_SHEET),
            [STAYS] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_FITTED, FIT_NEEDED),
            [CHAIN] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_CHAIN, FIT_SHEET),
            [WHEEL_STAYS] = FIT_READ(TRADE_SLOT_REAR_WHEEL, FIT_FITTED, FIT_NEEDED),
            [SHOULDER] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_SHOULDER_MM, FIT_OPTIONAL),
            [HUB_WIDTH] = FIT_READ(FIT_FRAME, TRADE_FRAME_HUB_WIDTH_MM, FIT_OPTIONAL),
            [RECESS] = FIT_READ(FIT_FRAME, TRADE_FRAME_RECESS_MM, FIT_OPTIONAL),
            [CHAIN_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_CASSETTE, TRADE_CASSETTE_CHAIN, FIT_OPTIONAL),
            [SPROCKET_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SPROCKET_MM, FIT_OPTIONAL),
        },
    .n_reads = READS,
    .reasons =
        {
            [FITS] = "cassette-gap.fits",
            [INWARD] = "cassette-gap.inward",
            [ROOM] = "cassette-gap.room",
            [TIGHT] = "cassette-gap.tight",
            [STRIKES] = "cassette-gap.strikes",
            [ASK] = "cassette-gap.ask",
        },
    .judge = judge,
    .source = "geometry along the axle; the clearance is common practice",
};
