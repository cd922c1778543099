/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Freehub body on hub. Bodies are the hub maker's own: a family of splines alone decides nothing.
 *
 * The body that stands on a hub stays with it; another hub needs a body of its own, unless it is sold with one. A new
 * body fits a hub that lists its splines among the bodies sold for it: the body of the catalogue stands for the hub
 * maker's one with these splines, and a new wheel is taken with the body that is chosen beside it.
 */
#include "fit/rule.h"
#include "fit/rules.h"

#include <math.h>

enum { SPLINE, LENGTH, STAYS, HAD, WHEEL_STAYS, KIND, BODIES, FIXED, LONG_TOO, OWN_BODY, READS };
enum { FITS, THREAD, MISSING, OLD_BODY, FIXED_ON, OTHER, LONG, ASK, WITH_WHEEL };

/* The longest nine-key body of the table: the one that not every hub takes. */
static double long_body_mm(void) {
    double longest = 0.0;
    for (size_t i = 0; i < trade_bodies_n; i++) {
        if (trade_bodies[i].spline == TRADE_SPLINE_NINE_KEY) {
            longest = fmax(longest, trade_bodies[i].length_mm);
        }
    }
    return longest;
}

static bool is_long(const struct fit_values *v) {
    return fit_word(v, SPLINE) == TRADE_SPLINE_NINE_KEY &&
           fit_number(v, LENGTH) >= long_body_mm() - fit_limit(TRADE_LIMIT_BODY_LENGTH_TOLERANCE_MM);
}

static struct fit_verdict with_spline(enum fit_kind kind, unsigned reason, const struct fit_values *v) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_word(&out, TRADE_DOMAIN_SPLINE, fit_word(v, SPLINE));
    return out;
}

static struct fit_verdict judge_long(const struct fit_values *v) {
    if (!fit_known(v, LENGTH)) {
        return fit_say(FIT_CLASH, ASK); /* a new body of no known length */
    }
    if (!is_long(v)) {
        return with_spline(FIT_FITS, FITS, v);
    }
    if (!fit_known(v, LONG_TOO)) {
        return fit_lacks(v, WHEEL_STAYS, LONG_TOO, ASK);
    }
    struct fit_verdict out =
        with_spline(fit_yes(v, LONG_TOO) ? FIT_FITS : FIT_CLASH, fit_yes(v, LONG_TOO) ? FITS : LONG, v);
    if (out.kind == FIT_CLASH) {
        fit_add_number(&out, fit_number(v, LENGTH), 1, "mm");
    }
    return out;
}

static struct fit_verdict judge_new(const struct fit_values *v) {
    if (fit_stays(v, WHEEL_STAYS) && fit_known_yes(v, FIXED)) {
        return fit_say(FIT_CLASH, FIXED_ON);
    }
    if (!fit_known(v, BODIES)) {
        return fit_lacks(v, WHEEL_STAYS, BODIES, ASK);
    }
    if (!fit_among(v, BODIES, fit_word(v, SPLINE))) {
        return with_spline(FIT_CLASH, OTHER, v);
    }
    return fit_word(v, SPLINE) == TRADE_SPLINE_NINE_KEY ? judge_long(v) : with_spline(FIT_FITS, FITS, v);
}

/* No body is chosen: none is wanted, there was none, or the new wheel brings one. */
static struct fit_verdict judge_none(const struct fit_values *v, bool threaded) {
    bool wheel_stays = fit_stays(v, WHEEL_STAYS);
    if (threaded || (wheel_stays && !fit_there(v, HAD))) {
        return fit_silent();
    }
    if (wheel_stays || !fit_known(v, OWN_BODY)) {
        return fit_say(FIT_CLASH, MISSING);
    }
    struct fit_verdict out = fit_say(FIT_FITS, WITH_WHEEL);
    fit_add_word(&out, TRADE_DOMAIN_SPLINE, fit_word(v, OWN_BODY));
    return out;
}

static struct fit_verdict judge(const struct fit_values *v) {
    bool threaded = fit_word(v, KIND) == TRADE_HUB_KIND_THREADED, wheel_stays = fit_stays(v, WHEEL_STAYS);
    if (!fit_has(v, SPLINE)) {
        return judge_none(v, threaded);
    }
    if (fit_stays(v, STAYS) && wheel_stays) {
        return fit_silent();
    }
    if (threaded) {
        return fit_say(FIT_CLASH, THREAD);
    }
    return fit_stays(v, STAYS) ? fit_say(FIT_CLASH, OLD_BODY) : judge_new(v);
}

const struct fit_rule fit_body_hub = {
    .id = "body-hub",
    .reads =
        {
            [SPLINE] = FIT_READ(TRADE_SLOT_FREEHUB_BODY, TRADE_FREEHUB_BODY_SPLINE, FIT_EMPTY_OK),
            [LENGTH] = FIT_READ(TRADE_SLOT_FREEHUB_BODY, TRADE_FREEHUB_BODY_LENGTH_MM, FIT_MAYBE),
            [STAYS] = FIT_READ(TRADE_SLOT_FREEHUB_BODY, FIT_FITTED, FIT_EMPTY_OK),
            [HAD] = FIT_READ(FIT_NOW + TRADE_SLOT_FREEHUB_BODY, FIT_PRESENT, FIT_EMPTY_OK),
            [WHEEL_STAYS] = FIT_READ(TRADE_SLOT_REAR_WHEEL, FIT_FITTED, FIT_NEEDED),
            [KIND] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_KIND, FIT_NEEDED),
            [BODIES] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_BODIES, FIT_OPTIONAL),
            /* of the hub that stays, the only one that matters: where nobody has looked, there are cases of it */
            [FIXED] = FIT_READ(FIT_NOW + TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_BODY_FIXED, FIT_EMPTY_OK),
            [LONG_TOO] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_LONG_BODY, FIT_OPTIONAL),
            [OWN_BODY] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_COMES_WITH_BODY, FIT_OPTIONAL),
        },
    .n_reads = READS,
    .reasons =
        {
            [FITS] = "body-hub.fits",
            [THREAD] = "body-hub.thread",
            [MISSING] = "body-hub.missing",
            [OLD_BODY] = "body-hub.old-body",
            [FIXED_ON] = "body-hub.fixed",
            [OTHER] = "body-hub.other",
            [LONG] = "body-hub.long",
            [ASK] = "body-hub.ask",
            [WITH_WHEEL] = "body-hub.with-wheel",
        },
    .judge = judge,
    .source = "common practice; The weird compatibility of 11-speed hubs, Rookie Journal",
};
