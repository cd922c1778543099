/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Ring and chain stay.
 *
 * The ring is a disc of its outside radius whose inner face lies at plane - thickness / 2. The stay's face was read at
 * some distances behind the shell centre, from the centre plane outwards; between two readings it is taken as straight,
 * and in front of the first as no further out than there, since stays part towards the rear. Behind the last reading
 * nothing is known.
 *
 * Where the readings do not reach, the bike itself is a reading: what is not larger, and lies no further in, than a ring
 * that turns there now, clears too. Then the frame maker's largest ring decides.
 */
#include "fit/rule.h"
#include "fit/rules.h"
#include "fit/stay.h"
#include "mech/sprocket.h"

#include <math.h>

/* clang-format off */
enum {
    TEETH, THICKNESS, OFFSET, PLANE,
    STAY_60, STAY_70, STAY_80, STAY_100, LARGEST,
    HERE, SECOND, THIRD, HERE_PLANE, SECOND_PLANE, THIRD_PLANE, HERE_OFFSET, /* rings on the bike now; HERE: in this place */
    STAYS, CRANK_STAYS, BRACKET_STAYS, WASHERS_STAY,
    READS
};
/* clang-format on */
enum { CLEARS, AS_NOW, FRAME_TAKES, CLOSE, FRAME_REFUSES, ASK_STAY, ASK_PLANE };

/* Where the stay is read; the properties are named after it. */
static const struct {
    unsigned read;
    double behind_mm;
} points[FIT_STAY_POINTS] = {{STAY_60, 60}, {STAY_70, 70}, {STAY_80, 80}, {STAY_100, 100}};

double fit_stay_face_mm(const double faces_mm[FIT_STAY_POINTS], double radius_mm) {
    double furthest = NAN, last_at = NAN, last = NAN;
    for (size_t i = 0; i < FIT_STAY_POINTS; i++) {
        double at = points[i].behind_mm, face = faces_mm[i];
        if (isnan(face)) {
            continue;
        }
        if (at >= radius_mm) {
            double here = isnan(last) ? face : last + (face - last) * (radius_mm - last_at) / (at - last_at);
            return fmax(furthest, here); /* the one that is a number, where the other is not */
        }
        furthest = fmax(furthest, face);
        last_at = at;
        last = face;
    }
    return NAN;
}

static double face_mm(const struct fit_values *v, double radius_mm) {
    double faces_mm[FIT_STAY_POINTS];
    for (size_t i = 0; i < FIT_STAY_POINTS; i++) {
        faces_mm[i] = fit_known(v, points[i].read) ? fit_number(v, points[i].read) : NAN;
    }
    return fit_stay_face_mm(faces_mm, radius_mm);
}

/* The reading that would decide: the first one not in front of the ring's edge; behind all of them the maker's limit. */
static unsigned wanted_read(double radius_mm) {
    for (size_t i = 0; i < FIT_STAY_POINTS; i++) {
        if (points[i].behind_mm >= radius_mm && points[i].read != STAY_60) {
            return points[i].read;
        }
    }
    return LARGEST;
}

static bool no_larger(const struct fit_values *v, unsigned teeth) {
    return fit_known(v, teeth) && fit_number(v, teeth) >= fit_number(v, TEETH);
}

/* In a place that stays where it is: the ring that is there, or one no larger and not offset further towards the frame. */
static bool here_as_now(const struct fit_values *v) {
    bool washers_stay = !fit_has(v, WASHERS_STAY) || fit_stays(v, WASHERS_STAY);
    if (!fit_stays(v, CRANK_STAYS) || !fit_stays(v, BRACKET_STAYS) || !washers_stay) {
        return false;
    }
    return fit_stays(v, STAYS) || (no_larger(v, HERE) && fit_known(v, OFFSET) && fit_known(v, HERE_OFFSET) &&
                                   fit_number(v, OFFSET) <= fit_number(v, HERE_OFFSET));
}

/* Does it turn where a ring as large turns now? Sums of lengths agree to a thousandth. */
static bool as_now(const struct fit_values *v) {
    if (here_as_now(v)) {
        return true;
    }
    for (unsigned i = 0; i < 3 && fit_known(v, PLANE); i++) {
        unsigned plane = HERE_PLANE + i;
        if (no_larger(v, HERE + i) && fit_known(v, plane) && fit_number(v, plane) <= fit_number(v, PLANE) + 0.001) {
            return true;
        }
    }
    return false;
}

static struct fit_verdict with_clearance(enum fit_kind kind, unsigned reason, double clearance_mm) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_number(&out, clearance_mm, 1, "mm");
    fit_add_number(&out, fit_limit(TRADE_LIMIT_RING_TO_STAY_MM), 1, "mm");
    return out;
}

static struct fit_verdict judge_unread(const struct fit_values *v, double radius_mm, bool read_far_enough) {
    if (as_now(v)) {
        return fit_say(FIT_FITS, AS_NOW);
    }
    if (!fit_known(v, LARGEST)) {
        return read_far_enough ? fit_ask(PLANE, ASK_PLANE) : fit_ask(wanted_read(radius_mm), ASK_STAY);
    }
    bool takes = fit_number(v, TEETH) <= fit_number(v, LARGEST);
    struct fit_verdict out = fit_say(takes ? FIT_FITS : FIT_CLASH, takes ? FRAME_TAKES : FRAME_REFUSES);
    fit_add_number(&out, fit_number(v, LARGEST), 0, "T");
    return out;
}

/* A reading nearer to the ring's edge than the one that was used, and so not further out; READS when there is none. */
static unsigned nearer_read(const struct fit_values *v, double radius_mm) {
    for (size_t i = 0; i < FIT_STAY_POINTS; i++) {
        if (points[i].behind_mm >= radius_mm) {
            return fit_known(v, points[i].read) ? READS : points[i].read;
        }
    }
    return READS;
}

static struct fit_verdict judge_close(const struct fit_values *v, double radius_mm, double clearance_mm) {
    if (as_now(v)) {
        return fit_say(FIT_FITS, AS_NOW);
    }
    unsigned nearer = nearer_read(v, radius_mm);
    return nearer != READS ? fit_ask(nearer, ASK_STAY) : with_clearance(FIT_CLASH, CLOSE, clearance_mm);
}

static struct fit_verdict judge(const struct fit_values *v) {
    double diameter_mm = 0;
    if (mech_sprocket_outside_diameter_mm(&diameter_mm, fit_count(v, TEETH)) != BASE_OK) {
        return fit_ask(TEETH, ASK_STAY);
    }
    double face = face_mm(v, diameter_mm / 2);
    if (isnan(face) || !fit_known(v, PLANE)) {
        return judge_unread(v, diameter_mm / 2, !isnan(face));
    }
    double clearance = fit_number(v, PLANE) - fit_number(v, THICKNESS) / 2 - face;
    bool clears = clearance >= fit_limit(TRADE_LIMIT_RING_TO_STAY_MM);
    return clears ? with_clearance(FIT_FITS, CLEARS, clearance) : judge_close(v, diameter_mm / 2, clearance);
}

/* clang-format off */
#define STAY_CLEARANCE(SLOT, OTHER, THIRD_SLOT, PLACE_WORD, MEASURE)                                                             \
    {                                                                                                                  \
        .id = "stay-clearance",                                                                                        \
        .variant = PLACE_WORD,                                                                                         \
        .reads = {                                                                                                     \
            [TEETH] = FIT_READ(SLOT, TRADE_RING_TEETH, FIT_NEEDED),                                                    \
            [THICKNESS] = FIT_READ(SLOT, TRADE_RING_THICKNESS_MM, FIT_NEEDED),                                         \
            [OFFSET] = FIT_READ(SLOT, TRADE_RING_OFFSET_MM, FIT_OPTIONAL),                                             \
            [PLANE] = FIT_READ(FIT_MEASURE + MEASURE, FIT_VALUE, FIT_OPTIONAL | FIT_RISING),                                        \
            [STAY_60] = FIT_READ(FIT_FRAME, TRADE_FRAME_STAY_60_MM, FIT_OPTIONAL),                                     \
            [STAY_70] = FIT_READ(FIT_FRAME, TRADE_FRAME_STAY_70_MM, FIT_OPTIONAL),                                     \
            [STAY_80] = FIT_READ(FIT_FRAME, TRADE_FRAME_STAY_80_MM, FIT_OPTIONAL),                                     \
            [STAY_100] = FIT_READ(FIT_FRAME, TRADE_FRAME_STAY_100_MM, FIT_OPTIONAL),                                   \
            [LARGEST] = FIT_READ(FIT_FRAME, TRADE_FRAME_LARGEST_RING_TEETH, FIT_OPTIONAL),                             \
            [HERE] = FIT_READ(FIT_NOW + SLOT, TRADE_RING_TEETH, FIT_MAYBE),                                            \
            [SECOND] = FIT_READ(FIT_NOW + OTHER, TRADE_RING_TEETH, FIT_MAYBE),                                         \
            [THIRD] = FIT_READ(FIT_NOW + THIRD_SLOT, TRADE_RING_TEETH, FIT_MAYBE),                                     \
            [HERE_PLANE] = FIT_READ(FIT_NOW + SLOT, TRADE_RING_PLANE_MM, FIT_MAYBE),                                   \
            [SECOND_PLANE] = FIT_READ(FIT_NOW + OTHER, TRADE_RING_PLANE_MM, FIT_MAYBE),                                \
            [THIRD_PLANE] = FIT_READ(FIT_NOW + THIRD_SLOT, TRADE_RING_PLANE_MM, FIT_MAYBE),                            \
            [HERE_OFFSET] = FIT_READ(FIT_NOW + SLOT, TRADE_RING_OFFSET_MM, FIT_MAYBE),                                 \
            [STAYS] = FIT_READ(SLOT, FIT_FITTED, FIT_NEEDED),                                                          \
            [CRANK_STAYS] = FIT_READ(TRADE_SLOT_CRANK, FIT_FITTED, FIT_EMPTY_OK),                                      \
            [BRACKET_STAYS] = FIT_READ(TRADE_SLOT_BOTTOM_BRACKET, FIT_FITTED, FIT_EMPTY_OK),                           \
            [WASHERS_STAY] = FIT_READ(TRADE_SLOT_RING_WASHERS, FIT_FITTED, FIT_EMPTY_OK),                              \
        },                                                                                                             \
        .n_reads = READS,                                                                                              \
        .reasons = {                                                                                                   \
            [CLEARS] = "stay-clearance.clears", [AS_NOW] = "stay-clearance.as-now",                                    \
            [FRAME_TAKES] = "stay-clearance.frame-takes", [CLOSE] = "stay-clearance.close",                            \
            [FRAME_REFUSES] = "stay-clearance.frame-refuses", [ASK_STAY] = "stay-clearance.ask-stay",                  \
            [ASK_PLANE] = "stay-clearance.ask-plane",                                                                  \
        },                                                                                                             \
        .judge = judge,                                                                                                \
        .source = "least 3 mm: How is chainline measured?, general Q&A page; outside diameter: ASME B29.1",           \
    }
/* clang-format on */

#define OUTER TRADE_SLOT_OUTER_RING
#define MIDDLE TRADE_SLOT_MIDDLE_RING
#define INNER TRADE_SLOT_INNER_RING

const struct fit_rule fit_stay_clearance_outer =
    STAY_CLEARANCE(OUTER, MIDDLE, INNER, TRADE_PLACE_OUTER, FIT_OUTER_PLANE);
const struct fit_rule fit_stay_clearance_middle =
    STAY_CLEARANCE(MIDDLE, OUTER, INNER, TRADE_PLACE_MIDDLE, FIT_MIDDLE_PLANE);
const struct fit_rule fit_stay_clearance_inner =
    STAY_CLEARANCE(INNER, OUTER, MIDDLE, TRADE_PLACE_INNER, FIT_INNER_PLANE);
