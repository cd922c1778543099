/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Cassette on freehub body: splines, length with what lies behind, smallest sprocket; and a threaded freewheel on the
 * thread of its hub.
 *
 * Which length of body a cassette fills without a spacer is the cassette's own property, never guessed from its number
 * of sprockets. What it always needs behind it comes on top of what a longer body needs.
 *
 * Where no body is chosen beside a new wheel, the cassette goes on the one that the wheel is sold with.
 */
#include "fit/rule.h"
#include "fit/rules.h"

#include <math.h>

enum {
    SPLINE,
    ALSO,
    CLASS,
    OWN_SPACER,
    SPEEDS,
    SMALLEST,
    STAYS,
    BODY_SPLINE,
    BODY_LENGTH,
    LENGTH_NOW, /* of a body that stays: where nobody has measured it, there are cases of it */
    BODY_SMALLEST,
    BODY_STAYS,
    SPACER,
    SPACER_NOW,
    HUB,
    WHEEL_STAYS,
    OWN_BODY, /* of a new wheel: the body that it is sold with */
    OWN_LENGTH,
    READS
};
enum { FITS, BEHIND, ON_THREAD, MANY, THREAD, FREEWHEEL, SPLINES, SHEET, LENGTH, SPACER_OFF, SMALL, ASK };

static bool near(double a, double b, enum trade_limit tolerance) { return fabs(a - b) <= fit_limit(tolerance); }

/* The two stand on the bike together. */
static bool together(const struct fit_values *v) { return fit_stays(v, STAYS) && fit_stays(v, BODY_STAYS); }

/* The read that holds the body's splines. */
static unsigned body_read(const struct fit_values *v) { return fit_has(v, BODY_SPLINE) ? BODY_SPLINE : OWN_BODY; }

/* Is there a body, in its slot or on a new wheel? */
static bool has_body(const struct fit_values *v) {
    return fit_has(v, BODY_SPLINE) || (!fit_stays(v, WHEEL_STAYS) && fit_known(v, OWN_BODY));
}

/* The read that holds the body's length. */
static unsigned length_read(const struct fit_values *v) {
    if (!fit_has(v, BODY_SPLINE)) {
        return OWN_LENGTH;
    }
    return fit_stays(v, BODY_STAYS) && fit_has(v, LENGTH_NOW) ? LENGTH_NOW : BODY_LENGTH;
}

/* Open where it matters: not doubted where the two turn on the bike already. */
static struct fit_verdict open(const struct fit_values *v, unsigned stays, unsigned read) {
    return together(v) ? fit_say(FIT_FITS, FITS) : fit_lacks(v, stays, read, ASK);
}

/* --- thread ----------------------------------------------------------------------------------------------------- */

static struct fit_verdict judge_freewheel(const struct fit_values *v) {
    if (fit_word(v, HUB) != TRADE_HUB_KIND_THREADED) {
        return fit_say(FIT_CLASH, FREEWHEEL);
    }
    if (!fit_known(v, SPEEDS) || fit_number(v, SPEEDS) <= fit_limit(TRADE_LIMIT_THREADED_MOST_SPROCKETS)) {
        return fit_say(FIT_FITS, ON_THREAD);
    }
    struct fit_verdict out = fit_say(FIT_DRAWBACK, MANY);
    fit_add_number(&out, fit_number(v, SPEEDS), 0, "");
    return out;
}

/* --- splines ---------------------------------------------------------------------------------------------------- */

static bool row_holds(const struct trade_spline_fits_row *row, const struct fit_values *v, unsigned spline) {
    unsigned read = length_read(v);
    bool length = isnan(row->body_mm) ||
                  (fit_known(v, read) && near(row->body_mm, fit_number(v, read), TRADE_LIMIT_BODY_LENGTH_TOLERANCE_MM));
    bool speeds = row->speeds < 0 || (fit_known(v, SPEEDS) && fit_count(v, SPEEDS) == row->speeds);
    return row->cassette_spline == (int)spline && row->body_spline == (int)fit_word(v, body_read(v)) && length &&
           speeds;
}

/* The row for splines of the cassette, one that names the speeds before one that does not; NULL: they don't slide on. */
static const struct trade_spline_fits_row *row_of(const struct fit_values *v, unsigned spline) {
    const struct trade_spline_fits_row *best = NULL;
    for (size_t i = 0; i < trade_spline_fits_n; i++) {
        const struct trade_spline_fits_row *row = &trade_spline_fits[i];
        if (row_holds(row, v, spline) && (!best || (best->speeds < 0 && row->speeds >= 0))) {
            best = row;
        }
    }
    return best;
}

static bool slides(const struct trade_spline_fits_row *row) { return row && row->verdict != TRADE_VERDICT_CLASH; }

/* By its own splines, else by the others that it is also made for. */
static const struct trade_spline_fits_row *best_row(const struct fit_values *v) {
    const struct trade_spline_fits_row *own = row_of(v, fit_word(v, SPLINE));
    if ((slides(own) && own->verdict != TRADE_VERDICT_MEASURE) || !fit_known(v, ALSO)) {
        return own;
    }
    const struct trade_spline_fits_row *also = row_of(v, fit_word(v, ALSO));
    return slides(also) ? also : own;
}

/* --- length ----------------------------------------------------------------------------------------------------- */

/* The lengths of this body in the table are told apart; a body without a published length is not judged by it. */
static bool has_lengths(unsigned spline) {
    for (size_t i = 0; i < trade_body_spacers_n; i++) {
        if (trade_body_spacers[i].spline == (int)spline) {
            return true;
        }
    }
    return false;
}

static const struct trade_body_spacers_row *spacer_row(const struct fit_values *v) {
    for (size_t i = 0; i < trade_body_spacers_n; i++) {
        const struct trade_body_spacers_row *row = &trade_body_spacers[i];
        if (row->spline == (int)fit_word(v, body_read(v)) &&
            near(row->class_mm, fit_number(v, CLASS), TRADE_LIMIT_BODY_LENGTH_TOLERANCE_MM) &&
            near(row->body_mm, fit_number(v, length_read(v)), TRADE_LIMIT_BODY_LENGTH_TOLERANCE_MM)) {
            return row;
        }
    }
    return NULL;
}

/* What lies behind the cassette against what belongs there, low to high. A cassette that stays on its body with nothing
 * recorded behind it is not doubted: the wheel was not taken apart. */
static struct fit_verdict judge_spacer(const struct fit_values *v, double low, double high) {
    double has = fit_has(v, SPACER) ? fit_number(v, SPACER) : 0.0, tolerance = fit_limit(TRADE_LIMIT_SPACER_MATCH_MM);
    bool undisturbed = together(v) && !fit_has(v, SPACER) && !fit_there(v, SPACER_NOW);
    bool right = has >= low - tolerance && has <= high + tolerance;
    if (undisturbed || (right && low <= 0)) {
        return fit_say(FIT_FITS, FITS);
    }
    struct fit_verdict out = fit_say(right ? FIT_ADAPTER : FIT_CLASH, right ? BEHIND : SPACER_OFF);
    fit_add_number(&out, right ? has : high, 2, "mm");
    if (!right) {
        fit_add_number(&out, has, 2, "mm");
    }
    return out;
}

static struct fit_verdict judge_length(const struct fit_values *v, const struct trade_spline_fits_row *slide) {
    double own = fit_known(v, OWN_SPACER) ? fit_number(v, OWN_SPACER) : 0.0,
           extra = isnan(slide->behind_mm) ? 0.0 : slide->behind_mm;
    if (!has_lengths(fit_word(v, body_read(v))) || !isnan(slide->body_mm)) {
        return judge_spacer(v, own + extra, own + extra);
    }
    if (!fit_known(v, CLASS) || !fit_known(v, length_read(v))) {
        return fit_known(v, CLASS) ? open(v, BODY_STAYS, length_read(v)) : open(v, STAYS, CLASS);
    }
    const struct trade_body_spacers_row *row = spacer_row(v);
    if (row) {
        return judge_spacer(v, row->spacer_mm + own, row->spacer_high_mm + own);
    }
    if (together(v)) {
        return fit_say(FIT_FITS, FITS);
    }
    struct fit_verdict clash = fit_say(FIT_CLASH, LENGTH);
    fit_add_number(&clash, fit_number(v, CLASS), 1, "mm");
    fit_add_number(&clash, fit_number(v, length_read(v)), 1, "mm");
    return clash;
}

/* --- smallest sprocket ------------------------------------------------------------------------------------------ */

/* Teeth of the smallest sprocket that passes the body; 0 when nobody knows for sure. */
static int least_teeth(const struct fit_values *v) {
    if (fit_known(v, BODY_SMALLEST)) {
        return fit_count(v, BODY_SMALLEST);
    }
    for (size_t i = 0; i < trade_bodies_n; i++) {
        const struct trade_bodies_row *row = &trade_bodies[i];
        if (row->spline == (int)fit_word(v, body_read(v)) && row->mark != TRADE_MARK_MEM_LOW) {
            return row->smallest_teeth;
        }
    }
    return 0;
}

static struct fit_verdict judge_smallest(const struct fit_values *v) {
    int least = least_teeth(v);
    if (!fit_known(v, SMALLEST) || fit_count(v, SMALLEST) >= least) {
        return fit_silent();
    }
    struct fit_verdict clash = fit_say(FIT_CLASH, SMALL);
    fit_add_number(&clash, fit_number(v, SMALLEST), 0, "T");
    fit_add_number(&clash, least, 0, "T");
    return clash;
}

static struct fit_verdict other_splines(const struct fit_values *v, unsigned reason) {
    struct fit_verdict clash = fit_say(FIT_CLASH, reason);
    fit_add_word(&clash, TRADE_DOMAIN_SPLINE, fit_word(v, SPLINE));
    fit_add_word(&clash, TRADE_DOMAIN_SPLINE, fit_word(v, body_read(v)));
    return clash;
}

static struct fit_verdict judge_body(const struct fit_values *v) {
    const struct trade_spline_fits_row *slide = best_row(v);
    if (!slides(slide)) {
        return other_splines(v, SPLINES);
    }
    if (slide->verdict == TRADE_VERDICT_MEASURE && !together(v)) {
        return other_splines(v, SHEET); /* no property tells these apart: it is not bought on a guess */
    }
    struct fit_verdict small = judge_smallest(v);
    return small.kind == FIT_CLASH ? small : judge_length(v, slide);
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, SPLINE)) {
        return open(v, STAYS, SPLINE);
    }
    if (fit_word(v, SPLINE) == TRADE_SPLINE_THREADED) {
        return judge_freewheel(v);
    }
    if (fit_word(v, HUB) == TRADE_HUB_KIND_THREADED || !has_body(v)) {
        return fit_say(FIT_CLASH, THREAD);
    }
    return judge_body(v);
}

const struct fit_rule fit_cassette_body = {
    .id = "cassette-body",
    .reads =
        {
            [SPLINE] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SPLINE, FIT_SHEET),
            [ALSO] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_ALSO_SPLINE, FIT_OPTIONAL),
            [CLASS] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_CLASS_MM, FIT_OPTIONAL),
            [OWN_SPACER] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SPACER_MM, FIT_OPTIONAL),
            [SPEEDS] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_SPEEDS, FIT_OPTIONAL),
            [SMALLEST] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_SMALLEST, FIT_OPTIONAL),
            [STAYS] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_FITTED, FIT_NEEDED),
            [BODY_SPLINE] = FIT_READ(TRADE_SLOT_FREEHUB_BODY, TRADE_FREEHUB_BODY_SPLINE, FIT_EMPTY_OK),
            [BODY_LENGTH] = FIT_READ(TRADE_SLOT_FREEHUB_BODY, TRADE_FREEHUB_BODY_LENGTH_MM, FIT_MAYBE),
            [LENGTH_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_FREEHUB_BODY, TRADE_FREEHUB_BODY_LENGTH_MM, FIT_EMPTY_OK),
            [BODY_SMALLEST] = FIT_READ(TRADE_SLOT_FREEHUB_BODY, TRADE_FREEHUB_BODY_SMALLEST_TEETH, FIT_MAYBE),
            [BODY_STAYS] = FIT_READ(TRADE_SLOT_FREEHUB_BODY, FIT_FITTED, FIT_EMPTY_OK),
            [SPACER] = FIT_READ(TRADE_SLOT_CASSETTE_SPACER, TRADE_SPACER_THICKNESS_MM, FIT_EMPTY_OK),
            [SPACER_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_CASSETTE_SPACER, FIT_PRESENT, FIT_EMPTY_OK),
            [HUB] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_KIND, FIT_NEEDED),
            [WHEEL_STAYS] = FIT_READ(TRADE_SLOT_REAR_WHEEL, FIT_FITTED, FIT_NEEDED),
            [OWN_BODY] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_COMES_WITH_BODY, FIT_OPTIONAL),
            [OWN_LENGTH] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_COMES_WITH_BODY_MM, FIT_OPTIONAL),
        },
    .n_reads = READS,
    .reasons =
        {
            [FITS] = "cassette-body.fits",
            [BEHIND] = "cassette-body.behind",
            [ON_THREAD] = "cassette-body.on-thread",
            [MANY] = "cassette-body.many",
            [THREAD] = "cassette-body.thread",
            [FREEWHEEL] = "cassette-body.freewheel",
            [SPLINES] = "cassette-body.splines",
            [SHEET] = "cassette-body.sheet",
            [LENGTH] = "cassette-body.length",
            [SPACER_OFF] = "cassette-body.spacer-off",
            [SMALL] = "cassette-body.small",
            [ASK] = "cassette-body.ask",
        },
    .judge = judge,
    .source = "Freehub types, standards and compatibility, Cyclabo, 2023 (spacer matrix); Freehubs and cassettes, a "
              "workshop's technical page with body-length table (name withheld)",
};
