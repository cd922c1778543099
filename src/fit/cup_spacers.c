/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What lies between shell and drive-side cup: the plate of a front derailleur, and spacers.
 *
 * The stack has to stay as thick as it is while the bottom bracket stays: with the plate gone, the spindle would lie
 * too far in and the chain line with it. A new bottom bracket brings the spacers that belong to it. What is more than
 * that moves the spindle, and so both arms, towards the drive side.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { SPACERS, SPACERS_NOW, PLATE, PLATE_NOW, MOUNT, MOUNT_NOW, BRACKET_STAYS, SPINDLE, READS };

/* A plate of a front derailleur, mm; 0 where its mount has none, and the usual one where its mount needs one that nobody
 * has measured. */
static double plate_mm(const struct fit_values *v, unsigned plate, unsigned mount) {
    if (!fit_has(v, plate)) {
        return 0;
    }
    double usual = 0;
    for (size_t i = 0; i < trade_front_mounts_n && fit_known(v, mount); i++) {
        if (trade_front_mounts[i].front_mount == (int)fit_word(v, mount)) {
            usual = trade_front_mounts[i].spacer_mm;
        }
    }
    if (fit_known(v, mount) && usual <= 0) {
        return 0;
    }
    return fit_number(v, plate) > 0 ? fit_number(v, plate) : usual;
}

static double spacers_mm(const struct fit_values *v, unsigned i) { return fit_has(v, i) ? fit_number(v, i) : 0; }

/* How much thinner the plate gets, mm; below 0 where a thicker one comes. */
static double plate_lost_mm(const struct fit_values *v) {
    return plate_mm(v, PLATE_NOW, MOUNT_NOW) - plate_mm(v, PLATE, MOUNT);
}

enum { BRINGS_ITS_OWN, FILLED, MAKES_ROOM, MISSING, MISSING_RING };

static struct fit_verdict with_mm(enum fit_kind kind, unsigned reason, double mm) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_number(&out, mm, 1, "mm");
    return out;
}

static struct fit_verdict judge_plate(const struct fit_values *v) {
    double lost = plate_lost_mm(v), match = fit_limit(TRADE_LIMIT_SPACER_MATCH_MM);
    double missing = lost + spacers_mm(v, SPACERS_NOW) - spacers_mm(v, SPACERS);
    if (lost >= -match && lost <= match) {
        return fit_silent();
    }
    if (!fit_stays(v, BRACKET_STAYS)) {
        return fit_say(FIT_FITS, BRINGS_ITS_OWN);
    }
    if (lost < 0) {
        return with_mm(FIT_FITS, MAKES_ROOM, -lost);
    }
    if (missing <= match) {
        return with_mm(FIT_ADAPTER, FILLED, lost);
    }
    bool cartridge = fit_known(v, SPINDLE) && fit_bracket_spindle(fit_word(v, SPINDLE));
    return with_mm(FIT_CLASH, cartridge ? MISSING_RING : MISSING, missing);
}

enum { FITS, OFF_CENTRE };

static struct fit_verdict judge_spacers(const struct fit_values *v) {
    double belong = fit_stays(v, BRACKET_STAYS) ? spacers_mm(v, SPACERS_NOW) + plate_lost_mm(v) : 0;
    double more = spacers_mm(v, SPACERS) - (belong > 0 ? belong : 0);
    return more > fit_limit(TRADE_LIMIT_SPACER_MATCH_MM) ? with_mm(FIT_DRAWBACK, OFF_CENTRE, more)
                                                         : with_mm(FIT_FITS, FITS, spacers_mm(v, SPACERS));
}

/* clang-format off */
#define CUP_READS(WHEN_EMPTY)                                                                                          \
    [SPACERS] = FIT_READ(TRADE_SLOT_CUP_SPACERS, TRADE_SPACER_THICKNESS_MM, WHEN_EMPTY),                               \
    [SPACERS_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_CUP_SPACERS, TRADE_SPACER_THICKNESS_MM, FIT_EMPTY_OK),               \
    [PLATE] = FIT_READ(TRADE_SLOT_FRONT_DERAILLEUR, TRADE_FRONT_DERAILLEUR_BRACKET_MM, FIT_EMPTY_OK),                  \
    [PLATE_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_FRONT_DERAILLEUR, TRADE_FRONT_DERAILLEUR_BRACKET_MM, FIT_EMPTY_OK),    \
    [MOUNT] = FIT_READ(TRADE_SLOT_FRONT_DERAILLEUR, TRADE_FRONT_DERAILLEUR_MOUNT, FIT_MAYBE),                          \
    [MOUNT_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_FRONT_DERAILLEUR, TRADE_FRONT_DERAILLEUR_MOUNT, FIT_MAYBE),            \
    [BRACKET_STAYS] = FIT_READ(TRADE_SLOT_BOTTOM_BRACKET, FIT_FITTED, FIT_NEEDED)
/* clang-format on */

const struct fit_rule fit_bracket_spacer = {
    .id = "bracket-spacer",
    .reads = {CUP_READS(FIT_EMPTY_OK), [SPINDLE] = FIT_READ(TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE,
                                                            FIT_OPTIONAL)},
    .n_reads = READS,
    .reasons = {[BRINGS_ITS_OWN] = "bracket-spacer.brings-its-own",
                [FILLED] = "bracket-spacer.filled",
                [MAKES_ROOM] = "bracket-spacer.makes-room",
                [MISSING] = "bracket-spacer.missing",
                [MISSING_RING] = "bracket-spacer.missing-ring"},
    .judge = judge_plate,
    .source = "common practice",
};

/* SPINDLE is the last read; this rule does without. */
const struct fit_rule fit_cup_spacers = {
    .id = "cup-spacers",
    .reads = {CUP_READS(FIT_NEEDED)},
    .n_reads = SPINDLE,
    .reasons = {[FITS] = "cup-spacers.fits", [OFF_CENTRE] = "cup-spacers.off-centre"},
    .judge = judge_spacers,
    .source = "common practice",
};
