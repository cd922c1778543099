/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Brake lever and the brake that it works: cable pull, or fluid. Which lever works which brake differs by country, so
 * that each side of the bar names its own brake. Judged also where the lever stays: that it is ridden proves no brake.
 */
#include "fit/brakes.h"
#include "fit/rule.h"
#include "fit/rules.h"

enum { PULL, STAYS, HAD, BRAKE, READS };
enum { FITS, SYSTEM, MISSING, NEEDED, FLUID, CABLE, CABLE_OR_FLUID, SHEET, ASK };

static bool by_hand(unsigned brake) { return brake != TRADE_BRAKE_COASTER && brake != TRADE_BRAKE_NONE; }

static bool fluid(unsigned pull) { return pull == TRADE_LEVER_PULL_MINERAL || pull == TRADE_LEVER_PULL_DOT; }

static struct fit_verdict with_both(enum fit_kind kind, unsigned reason, unsigned pull, unsigned brake) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_word(&out, TRADE_DOMAIN_LEVER_PULL, pull);
    fit_add_word(&out, TRADE_DOMAIN_BRAKE, brake);
    return out;
}

/* A brake whose lever no table names: its own sheet does. A cable can't work a brake with fluid, nor fluid a drum. */
static struct fit_verdict judge_unlisted(const struct fit_values *v, unsigned brake) {
    if (fit_stays(v, STAYS)) {
        return fit_silent();
    }
    bool wants_fluid = brake == TRADE_BRAKE_RIM_HYDRAULIC;
    if (fluid(fit_word(v, PULL)) != wants_fluid) {
        return with_both(FIT_CLASH, CABLE_OR_FLUID, fit_word(v, PULL), brake);
    }
    struct fit_verdict out = fit_say(FIT_CLASH, SHEET);
    fit_add_word(&out, TRADE_DOMAIN_BRAKE, brake);
    return out;
}

/* Nobody has looked which brake it works: a lever that is there stays, and a new one waits. */
static struct fit_verdict judge_unread(const struct fit_values *v) {
    if (!fit_has(v, STAYS)) {
        return fit_there(v, HAD) ? fit_say(FIT_CLASH, NEEDED) : fit_silent();
    }
    return fit_stays(v, STAYS) ? fit_silent() : fit_ask(BRAKE, ASK);
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, BRAKE)) {
        return judge_unread(v);
    }
    unsigned brake = fit_word(v, BRAKE);
    if (!by_hand(brake)) {
        return fit_silent();
    }
    if (!fit_has(v, STAYS)) {
        struct fit_verdict out = fit_say(FIT_CLASH, MISSING);
        fit_add_word(&out, TRADE_DOMAIN_BRAKE, brake);
        return out;
    }
    if (!fit_known(v, PULL)) {
        return fit_stays(v, STAYS) ? fit_silent() : fit_say(FIT_CLASH, ASK); /* a brake is not built on a guess */
    }
    int wanted = fit_brake_row(brake)->lever_pull;
    if (wanted < 0) {
        return judge_unlisted(v, brake);
    }
    unsigned pull = fit_word(v, PULL);
    if (fluid(pull) != fluid((unsigned)wanted)) {
        return with_both(FIT_CLASH, CABLE_OR_FLUID, pull, brake);
    }
    if (pull != (unsigned)wanted) {
        return with_both(FIT_CLASH, fluid(pull) ? FLUID : CABLE, pull, brake);
    }
    bool new_system = fluid(pull) && !fit_stays(v, STAYS);
    return with_both(new_system ? FIT_DRAWBACK : FIT_FITS, new_system ? SYSTEM : FITS, pull, brake);
}

/* clang-format off */
#define LEVER_BRAKE(SLOT, BRAKE_PROPERTY, SIDE)                                                                        \
    {                                                                                                                  \
        .id = "lever-brake",                                                                                           \
        .variant = SIDE,                                                                                               \
        .reads = {                                                                                                     \
            [PULL] = FIT_READ(SLOT, TRADE_BRAKE_LEVER_PULL, FIT_SHEET | FIT_EMPTY_OK),                                 \
            [STAYS] = FIT_READ(SLOT, FIT_FITTED, FIT_EMPTY_OK),                                                        \
            [HAD] = FIT_READ(FIT_NOW + (SLOT), FIT_PRESENT, FIT_EMPTY_OK),\
            [BRAKE] = FIT_READ(FIT_FRAME, BRAKE_PROPERTY, FIT_OPTIONAL),                                               \
        },                                                                                                             \
        .n_reads = READS,                                                                                              \
        .safety = true,                                                                                                \
        .as_it_stands = true,                                                                                          \
        .reasons = {                                                                                                   \
            [FITS] = "lever-brake.fits", [SYSTEM] = "lever-brake.system", [MISSING] = "lever-brake.missing", [NEEDED] = "lever-brake.needed",\
          \
            [FLUID] = "lever-brake.fluid", [CABLE] = "lever-brake.cable",                                              \
            [CABLE_OR_FLUID] = "lever-brake.cable-or-fluid", [SHEET] = "lever-brake.sheet", [ASK] = "lever-brake.ask", \
        },                                                                                                             \
        .judge = judge,                                                                                                \
        .source = "common practice",                                                                                   \
    }
/* clang-format on */

const struct fit_rule fit_lever_brake_right =
    LEVER_BRAKE(TRADE_SLOT_RIGHT_BRAKE_LEVER, TRADE_FRAME_RIGHT_LEVER_BRAKE, TRADE_SIDE_RIGHT);
const struct fit_rule fit_lever_brake_left =
    LEVER_BRAKE(TRADE_SLOT_LEFT_BRAKE_LEVER, TRADE_FRAME_LEFT_LEVER_BRAKE, TRADE_SIDE_LEFT);
