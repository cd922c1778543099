/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Right shifter, rear derailleur and cassette: does a click move one sprocket?
 *
 * What was made for each other fits, by table, whatever its rounded figures multiply to. Arithmetic is for mixed sets
 * only. It can prove that one does not index; that one does has to be tried on the stand. Shifter and derailleur of one
 * family move the pitch that they were made for, whatever the cassette. Friction has no clicks, electronic
 * sets and closed ones go with themselves, and families without published figures mix with nothing.
 */
#include "fit/rule.h"
#include "fit/rules.h"
#include "mech/index.h"

#include "trade/vocabulary.h"

#include <math.h>

enum {
    ACTUATION,
    ACTUATION_NOW,
    PULL,
    PULL_NOW, /* of a shifter that stays: where nobody has read it, there are cases of it */
    PULL_MM,
    SET,
    DERAILLEUR_ACTUATION,
    DERAILLEUR_PULLS,
    RATIO,
    DERAILLEUR_SET,
    SPACING,
    PITCH,
    CASSETTE_SET,
    SPEEDS,
    STAYS,
    DERAILLEUR_STAYS,
    CASSETTE_STAYS,
    READS
};
enum { FITS, FRICTION, NO_CLICKS, SET_FITS, TRY, NOISY, CLICKS_OFF, CABLE, OTHER_SET, NO_FIGURES, ASK };

static bool together(const struct fit_values *v) {
    return fit_stays(v, STAYS) && fit_stays(v, DERAILLEUR_STAYS) && fit_stays(v, CASSETTE_STAYS);
}

/* The read that holds the shifter's family. */
static unsigned pull_read(const struct fit_values *v) {
    return fit_stays(v, STAYS) && fit_has(v, PULL_NOW) ? PULL_NOW : PULL;
}

static struct fit_verdict open(const struct fit_values *v, unsigned stays, unsigned read) {
    return together(v) ? fit_silent() : fit_lacks(v, stays, read, ASK);
}

/* --- closed sets ------------------------------------------------------------------------------------------------ */

/* Is one set named by both? Of a part that stays, an open name is asked for; a new one of a set says so. */
static struct fit_verdict judge_sets(const struct fit_values *v, unsigned with, unsigned with_stays) {
    if (!fit_known(v, SET) || !fit_known(v, with)) {
        return fit_known(v, SET) ? open(v, with_stays, with) : open(v, STAYS, SET);
    }
    bool one = trade_same(v->at[SET], v->at[with], TRADE_NAME);
    return fit_say(one ? FIT_FITS : FIT_CLASH, one ? SET_FITS : OTHER_SET);
}

static bool closed_cassette(const struct fit_values *v) { return fit_word(v, SPACING) == TRADE_SPACING_CLOSED; }

/* Shifter and derailleur by their set, then a cassette with a spacing of its own by its. */
static struct fit_verdict judge_closed(const struct fit_values *v) {
    struct fit_verdict out = judge_sets(v, DERAILLEUR_SET, DERAILLEUR_STAYS);
    return out.kind == FIT_FITS && closed_cassette(v) ? judge_sets(v, CASSETTE_SET, CASSETTE_STAYS) : out;
}

/* --- mixed sets ------------------------------------------------------------------------------------------------- */

/* A figure of the part in hand, else of its family's row where that is more than a faint memory; NAN when neither. */
static double figure(const struct fit_values *v, unsigned read, const struct trade_pulls_row *row, double of_row) {
    if (fit_known(v, read)) {
        return fit_number(v, read);
    }
    return row && row->mark != TRADE_MARK_MEM_LOW ? of_row : NAN;
}

/* Of the families that the derailleur is made for, or, where nobody has read it, of the lever that it stands with. */
static double ratio_of(const struct fit_values *v) {
    bool read = fit_known(v, DERAILLEUR_PULLS);
    for (unsigned pull = 0; pull < TRADE_PULL_COUNT; pull++) {
        bool made_for = read ? fit_among(v, DERAILLEUR_PULLS, pull) : pull == fit_word(v, pull_read(v));
        const struct trade_pulls_row *row = made_for ? trade_pulls_of(pull) : NULL;
        if (row && !isnan(row->ratio)) {
            return figure(v, RATIO, row, row->ratio);
        }
    }
    return NAN;
}

static bool has_figures(unsigned pull) { return trade_pulls_of(pull) && !isnan(trade_pulls_of(pull)->pull_mm); }

/* Is the derailleur made for this family of shifters, or for one that shares its derailleurs? What nobody has read works
 * with the lever that it stands with. */
static bool derailleur_suits(const struct fit_values *v, unsigned family) {
    bool suits = !fit_known(v, DERAILLEUR_PULLS);
    for (unsigned pull = 0; pull < TRADE_PULL_COUNT && !suits; pull++) {
        suits = fit_among(v, DERAILLEUR_PULLS, pull) && trade_share_derailleurs(family, pull);
    }
    return suits;
}

/* The pitch that a family was made for; of two rows with its number of sprockets, the one nearer to what its figures
 * multiply to. NAN when no row has one. */
static double made_for_mm(const struct trade_pulls_row *row) {
    double move = mech_index_move_mm(row->pull_mm, row->ratio), best = NAN;
    for (size_t i = 0; i < trade_sprockets_n; i++) {
        const struct trade_sprockets_row *s = &trade_sprockets[i];
        bool its = s->speeds == row->speeds && s->spacing == row->spacing && !isnan(s->pitch_mm);
        if (its && (isnan(best) || fabs(s->pitch_mm - move) < fabs(best - move))) {
            best = s->pitch_mm;
        }
    }
    return best;
}

/* A lever on a derailleur of its family, but with other sprockets: pull and ratio go together, and only the pitches are
 * read to two digits. Taking their nominal figures instead would pass a lever for ten sprockets on nine. */
static enum mech_index_class class_of_family(int speeds, double made_for, double pitch) {
    double allowed = (speeds - 1) / 2.0 * MECH_INDEX_TOLERANCE * pitch;
    return mech_index_class_of(fmax(mech_index_centred_error_mm(speeds, made_for, 1.0, pitch) - allowed, 0.0));
}

static struct fit_verdict judge_mixed(const struct fit_values *v) {
    unsigned pull = fit_word(v, pull_read(v));
    double pull_mm = has_figures(pull) ? figure(v, PULL_MM, trade_pulls_of(pull), trade_pulls_of(pull)->pull_mm) : NAN;
    double ratio = ratio_of(v);
    if (isnan(pull_mm) || isnan(ratio) || fit_word(v, SPACING) == TRADE_SPACING_SHARED_9_10_11) {
        return fit_say(FIT_CLASH, NO_FIGURES);
    }
    if (!fit_known(v, PITCH)) {
        return open(v, CASSETTE_STAYS, PITCH);
    }
    int speeds = fit_count(v, SPEEDS);
    double pitch = fit_number(v, PITCH);
    double made_for = derailleur_suits(v, pull) ? made_for_mm(trade_pulls_of(pull)) : NAN;
    bool family = !isnan(made_for);
    double move = family ? made_for : mech_index_move_mm(pull_mm, ratio);
    enum mech_index_class class =
        family ? class_of_family(speeds, made_for, pitch) : mech_index_judge(speeds, pull_mm, ratio, pitch);
    struct fit_verdict out = class == MECH_INDEX_NO      ? fit_say(FIT_CLASH, CLICKS_OFF)
                             : class == MECH_INDEX_NOISY ? fit_say(FIT_DRAWBACK, NOISY)
                                                         : fit_say(FIT_DRAWBACK, TRY);
    fit_add_number(&out, move, 2, "mm");
    fit_add_number(&out, pitch, 2, "mm");
    fit_add_number(&out, fabs(mech_index_total_error_mm(speeds, move, 1.0, pitch)), 1, "mm");
    return out;
}

/* --- one family ------------------------------------------------------------------------------------------------- */

static struct fit_verdict judge_family(const struct fit_values *v, unsigned pull) {
    const struct trade_pulls_row *row = trade_pulls_of(pull);
    bool of_family = row && row->speeds == fit_count(v, SPEEDS) && row->spacing == (int)fit_word(v, SPACING);
    if (!of_family || !derailleur_suits(v, pull)) {
        return judge_mixed(v);
    }
    struct fit_verdict out = fit_say(FIT_FITS, FITS);
    fit_add_word(&out, TRADE_DOMAIN_PULL, pull);
    return out;
}

static struct fit_verdict judge_indexed(const struct fit_values *v) {
    unsigned read = pull_read(v);
    if (!fit_known(v, read)) {
        return open(v, STAYS, read);
    }
    bool pulls = fit_known(v, DERAILLEUR_PULLS), pair_stays = fit_stays(v, STAYS) && fit_stays(v, DERAILLEUR_STAYS);
    if (!pulls && (!pair_stays || fit_stays(v, CASSETTE_STAYS))) {
        return open(v, DERAILLEUR_STAYS, DERAILLEUR_PULLS);
    }
    if (!fit_known(v, SPEEDS)) {
        return open(v, CASSETTE_STAYS, SPEEDS);
    }
    bool closed = fit_word(v, read) == TRADE_PULL_CLOSED;
    if ((pulls && closed != fit_among(v, DERAILLEUR_PULLS, TRADE_PULL_CLOSED)) || (!closed && closed_cassette(v))) {
        return fit_say(FIT_CLASH, OTHER_SET);
    }
    return closed ? judge_closed(v) : judge_family(v, fit_word(v, read));
}

/* A lever without clicks goes with any derailleur that a cable works; who had clicks until now will miss them. */
static struct fit_verdict judge_friction(const struct fit_values *v) {
    bool had_none = !fit_known(v, ACTUATION_NOW) || fit_word(v, ACTUATION_NOW) == TRADE_ACTUATION_FRICTION;
    return fit_stays(v, STAYS) || had_none ? fit_say(FIT_FITS, FRICTION) : fit_say(FIT_DRAWBACK, NO_CLICKS);
}

static struct fit_verdict judge(const struct fit_values *v) {
    bool electronic = fit_word(v, ACTUATION) == TRADE_ACTUATION_ELECTRONIC;
    if (electronic != (fit_word(v, DERAILLEUR_ACTUATION) == TRADE_ACTUATION_ELECTRONIC)) {
        return fit_say(FIT_CLASH, CABLE);
    }
    if (electronic) {
        return judge_closed(v);
    }
    return fit_word(v, ACTUATION) == TRADE_ACTUATION_FRICTION ? judge_friction(v) : judge_indexed(v);
}

const struct fit_rule fit_shift_family = {
    .id = "shift-family",
    .reads =
        {
            [ACTUATION] = FIT_READ(TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_ACTUATION, FIT_NEEDED),
            [ACTUATION_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_ACTUATION, FIT_MAYBE),
            [PULL] = FIT_READ(TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_PULL, FIT_OPTIONAL),
            [PULL_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_PULL, FIT_EMPTY_OK),
            [PULL_MM] = FIT_READ(TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_PULL_MM, FIT_OPTIONAL),
            [SET] = FIT_READ(TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_SET, FIT_OPTIONAL),
            [DERAILLEUR_ACTUATION] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_ACTUATION, FIT_NEEDED),
            [DERAILLEUR_PULLS] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_PULLS, FIT_OPTIONAL),
            [RATIO] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_RATIO, FIT_OPTIONAL),
            [DERAILLEUR_SET] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_SET, FIT_OPTIONAL),
            [SPACING] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SPACING, FIT_NEEDED),
            [PITCH] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_PITCH_MM, FIT_OPTIONAL),
            [CASSETTE_SET] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SET, FIT_OPTIONAL),
            [SPEEDS] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_SPEEDS, FIT_SHEET),
            [STAYS] = FIT_READ(TRADE_SLOT_RIGHT_SHIFTER, FIT_FITTED, FIT_NEEDED),
            [DERAILLEUR_STAYS] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, FIT_FITTED, FIT_NEEDED),
            [CASSETTE_STAYS] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_FITTED, FIT_NEEDED),
        },
    .n_reads = READS,
    .reasons =
        {
            [FITS] = "shift-family.fits",
            [FRICTION] = "shift-family.friction",
            [NO_CLICKS] = "shift-family.no-clicks",
            [SET_FITS] = "shift-family.set",
            [TRY] = "shift-family.try",
            [NOISY] = "shift-family.noisy",
            [CLICKS_OFF] = "shift-family.clicks-off",
            [CABLE] = "shift-family.cable",
            [OTHER_SET] = "shift-family.other-set",
            [NO_FIGURES] = "shift-family.no-figures",
            [ASK] = "shift-family.ask",
        },
    .judge = judge,
    .source = "Wikibooks, Bicycles / Maintenance and Repair / Gear-changing Dimensions; Compatibility 04: rear "
              "derailleurs, BikeGremlin (web article); families by the table of pulls",
};
