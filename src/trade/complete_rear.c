/* SPDX-License-Identifier: Apache-2.0 */
/* What frame, rear wheel, body, cassette and shifter of a bike tell of each other. */
#include "trade/complete.h"
#include "trade/vocabulary.h"

#include <math.h>

static void fit_wheel(struct trade_bike *bike) {
    struct trade_part *wheel = trade_part_in(bike, TRADE_SLOT_REAR_WHEEL);
    trade_share(&bike->frame, TRADE_FRAME_HUB_WIDTH_MM, wheel, TRADE_REAR_WHEEL_HUB_WIDTH_MM);
    trade_share(&bike->frame, TRADE_FRAME_AXLE, wheel, TRADE_REAR_WHEEL_AXLE);
    trade_complete_frame(&bike->frame); /* the usual axle of this width, where neither says */
    trade_share(&bike->frame, TRADE_FRAME_AXLE, wheel, TRADE_REAR_WHEEL_AXLE);
    trade_share(&bike->wheel, TRADE_WHEEL_BEAD_SEAT_MM, wheel, TRADE_REAR_WHEEL_BEAD_SEAT_MM);
}

/* A threaded hub carries a freewheel and has no body. */
static void fit_freewheel(struct trade_bike *bike) {
    const struct trade_part *wheel = trade_part_in(bike, TRADE_SLOT_REAR_WHEEL);
    struct trade_part *cassette = trade_part_in(bike, TRADE_SLOT_CASSETTE);
    struct trade_fitted *body = &bike->fitted[TRADE_SLOT_FREEHUB_BODY];
    if (cassette && trade_has_word(wheel, TRADE_REAR_WHEEL_KIND, TRADE_HUB_KIND_THREADED)) {
        enum base_known known = trade_follows(trade_get(wheel, TRADE_REAR_WHEEL_KIND)).known;
        trade_fill(cassette, TRADE_CASSETTE_SPLINE, trade_word(TRADE_SPLINE_THREADED, known));
    }
    if (trade_has_word(cassette, TRADE_CASSETTE_SPLINE, TRADE_SPLINE_THREADED) && body->state == TRADE_NOT_LOOKED_AT) {
        body->state = TRADE_EMPTY;
    }
}

/* The hub is of the kind that takes the cassette. */
static void fit_hub(struct trade_bike *bike) {
    struct trade_part *wheel = trade_part_in(bike, TRADE_SLOT_REAR_WHEEL);
    const struct trade_part *cassette = trade_part_in(bike, TRADE_SLOT_CASSETTE);
    if (wheel && cassette && !trade_is_open(trade_get(cassette, TRADE_CASSETTE_SPLINE))) {
        struct trade_value spline = trade_follows(trade_get(cassette, TRADE_CASSETTE_SPLINE));
        bool threaded = spline.word == TRADE_SPLINE_THREADED;
        trade_fill(wheel, TRADE_REAR_WHEEL_KIND,
                   trade_word(threaded ? TRADE_HUB_KIND_THREADED : TRADE_HUB_KIND_CASSETTE, spline.known));
    }
}

/* Splines that go with those of the other, as far as only one kind fits without more ado. */
static struct trade_value matching_spline(const struct trade_value *spline, bool of_body, int n, double body_mm) {
    struct trade_said said = {0};
    for (size_t i = 0; i < trade_spline_fits_n && !trade_is_open(spline); i++) {
        const struct trade_spline_fits_row *row = &trade_spline_fits[i];
        bool for_speed = row->speeds < 0 || n == 0 || row->speeds == n;
        bool for_length = isnan(row->body_mm) || isnan(body_mm) || trade_near(row->body_mm, body_mm);
        int given = of_body ? row->cassette_spline : row->body_spline;
        if (given == (int)spline->word && for_speed && for_length && row->verdict == TRADE_VERDICT_FITS) {
            trade_hear(&said, of_body ? row->body_spline : row->cassette_spline, row->mark);
        }
    }
    return trade_said_word(&said, spline->known);
}

static void fit_cassette(struct trade_bike *bike) {
    struct trade_part *cassette = trade_part_in(bike, TRADE_SLOT_CASSETTE);
    struct trade_part *body = trade_part_in(bike, TRADE_SLOT_FREEHUB_BODY);
    if (!cassette || !body) {
        return;
    }
    int n = trade_sprockets_of(cassette);
    double body_mm = trade_get_number(body, TRADE_FREEHUB_BODY_LENGTH_MM);
    trade_fill(cassette, TRADE_CASSETTE_SPLINE,
               matching_spline(trade_get(body, TRADE_FREEHUB_BODY_SPLINE), false, n, body_mm));
    trade_fill(body, TRADE_FREEHUB_BODY_SPLINE,
               matching_spline(trade_get(cassette, TRADE_CASSETTE_SPLINE), true, n, body_mm));
    trade_complete_class(cassette, isnan(body_mm) ? INFINITY : body_mm);
    if (bike->fitted[TRADE_SLOT_CASSETTE_SPACER].state == TRADE_EMPTY) {
        /* With nothing behind it, it fills the body that it sits on. */
        trade_share(cassette, TRADE_CASSETTE_CLASS_MM, body, TRADE_FREEHUB_BODY_LENGTH_MM);
    }
}

/* An indexed shifter of a family tells the spacing of the sprockets that it was made for, if there are as many. */
static void fit_spacing(struct trade_bike *bike) {
    const struct trade_part *shifter = trade_part_in(bike, TRADE_SLOT_RIGHT_SHIFTER);
    struct trade_part *cassette = trade_part_in(bike, TRADE_SLOT_CASSETTE);
    if (!shifter || !cassette) {
        return;
    }
    const struct trade_value *pull = trade_get(shifter, TRADE_SHIFTER_PULL);
    struct trade_said said = {0};
    for (size_t i = 0; i < trade_pulls_n && !trade_is_open(pull); i++) {
        const struct trade_pulls_row *row = &trade_pulls[i];
        if (row->pull == (int)pull->word && row->spacing >= 0 && row->speeds == trade_sprockets_of(cassette)) {
            trade_hear(&said, row->spacing, TRADE_MARK_CP); /* what a family was made for is its name, not a memory */
        }
    }
    trade_fill(cassette, TRADE_CASSETTE_SPACING, trade_said_word(&said, pull->known));
}

/* A lever with clicks has one for each sprocket, most likely: some have one to spare (common practice). */
static void fit_positions(struct trade_bike *bike) {
    struct trade_part *shifter = trade_part_in(bike, TRADE_SLOT_RIGHT_SHIFTER);
    const struct trade_part *cassette = trade_part_in(bike, TRADE_SLOT_CASSETTE);
    int n = cassette ? trade_sprockets_of(cassette) : 0;
    if (!shifter || n == 0 || trade_has_word(shifter, TRADE_SHIFTER_ACTUATION, TRADE_ACTUATION_FRICTION)) {
        return;
    }
    trade_complete_shifter(shifter); /* its family goes before */
    trade_fill(shifter, TRADE_SHIFTER_POSITIONS, trade_number(n, BASE_ASSUMED));
}

/* A derailleur that follows the clicks of a lever was made for them, and for what its group is made for too, most likely:
 * what stands on the bike together works together (common practice). */
static void fit_pulls(struct trade_bike *bike) {
    const struct trade_part *shifter = trade_part_in(bike, TRADE_SLOT_RIGHT_SHIFTER);
    struct trade_part *derailleur = trade_part_in(bike, TRADE_SLOT_REAR_DERAILLEUR);
    if (!shifter || !derailleur || trade_is_open(trade_get(shifter, TRADE_SHIFTER_PULL))) {
        return;
    }
    unsigned pull = trade_get(shifter, TRADE_SHIFTER_PULL)->word;
    struct trade_value pulls = {.words = UINT64_C(1) << pull, .known = BASE_ASSUMED};
    for (size_t i = 0; i < trade_pulls_n; i++) {
        pulls.words |=
            trade_share_derailleurs(pull, (unsigned)trade_pulls[i].pull) ? UINT64_C(1) << trade_pulls[i].pull : 0;
    }
    trade_fill(derailleur, TRADE_REAR_DERAILLEUR_PULLS, pulls);
}

/* The chain is the one that the sprockets want, most likely: one class narrower runs too (common practice). */
static void fit_chain(struct trade_bike *bike) {
    struct trade_part *chain = trade_part_in(bike, TRADE_SLOT_CHAIN);
    struct trade_part *cassette = trade_part_in(bike, TRADE_SLOT_CASSETTE);
    struct trade_said said = {0};
    if (!chain || !cassette) {
        return;
    }
    trade_complete_cassette(cassette);
    const struct trade_value *wanted = trade_get(cassette, TRADE_CASSETTE_CHAIN);
    for (size_t i = 0; i < trade_chain_fits_n && !trade_is_open(wanted); i++) {
        const struct trade_chain_fits_row *row = &trade_chain_fits[i];
        if (row->cassette_chain == (int)wanted->word && row->verdict == TRADE_VERDICT_FITS) {
            trade_hear(&said, row->chain_family, row->mark);
        }
    }
    trade_complete_chain(chain); /* its width goes before */
    trade_fill(chain, TRADE_CHAIN_FAMILY, trade_said_word(&said, BASE_ASSUMED));
}

void trade_complete_rear(struct trade_bike *bike) {
    fit_wheel(bike);
    fit_freewheel(bike);
    fit_cassette(bike);
    fit_hub(bike);
    fit_spacing(bike);
    fit_positions(bike);
    fit_pulls(bike);
    fit_chain(bike);
}
