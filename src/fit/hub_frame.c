/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Hub in frame: width over locknuts or end caps, axle, and what a rear end of steel forgives.
 */
#include "fit/rule.h"
#include "fit/rules.h"

#include <math.h>

enum { WIDTH, AXLE, STAYS, OTHER_CAPS, FRAME_WIDTH, FRAME_AXLE, MATERIAL, OFFSET, READS };
enum { FITS, REDISH, CAPS, CAPS_UNTOLD, SPREAD, SQUEEZE, OTHER_WIDTH, STIFF, OTHER_AXLE, ASK };

static bool near(double a, double b) { return fabs(a - b) <= fit_limit(TRADE_LIMIT_HUB_WIDTH_TOLERANCE_MM); }

/* Quick release and nuts sit in the same slotted dropouts. */
static bool same_axle(const struct fit_values *v) {
    bool thru = fit_word(v, AXLE) == TRADE_AXLE_THRU_12, frame_thru = fit_word(v, FRAME_AXLE) == TRADE_AXLE_THRU_12;
    return thru == frame_thru;
}

static struct fit_verdict with_widths(enum fit_kind kind, unsigned reason, const struct fit_values *v) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_number(&out, fit_number(v, WIDTH), 1, "mm");
    fit_add_number(&out, fit_number(v, FRAME_WIDTH), 1, "mm");
    return out;
}

static struct fit_verdict other_axle(const struct fit_values *v) {
    struct fit_verdict out = fit_say(FIT_CLASH, OTHER_AXLE);
    fit_add_word(&out, TRADE_DOMAIN_AXLE, fit_word(v, AXLE));
    fit_add_word(&out, TRADE_DOMAIN_AXLE, fit_word(v, FRAME_AXLE));
    return out;
}

/* A frame whose rear end stands to one side wants the rim back in its middle. */
static struct fit_verdict judge_equal(const struct fit_values *v) {
    if (!same_axle(v)) {
        return other_axle(v);
    }
    double offset = fit_known(v, OFFSET) ? fit_number(v, OFFSET) : 0.0;
    if (offset == 0.0 || fit_stays(v, STAYS)) {
        return with_widths(FIT_FITS, FITS, v);
    }
    struct fit_verdict out = fit_say(FIT_DRAWBACK, REDISH);
    fit_add_number(&out, offset, 1, "mm");
    return out;
}

/* The row for this pair of widths; one that asks for a material counts only where the material is known to be it.
 * *by_material tells that some row of the pair asks for one. */
static const struct trade_hub_fits_row *row_of(const struct fit_values *v, bool *by_material) {
    const struct trade_hub_fits_row *found = NULL;
    *by_material = false;
    for (size_t i = 0; i < trade_hub_fits_n; i++) {
        const struct trade_hub_fits_row *row = &trade_hub_fits[i];
        if (!near(row->frame_mm, fit_number(v, FRAME_WIDTH)) || !near(row->hub_mm, fit_number(v, WIDTH))) {
            continue;
        }
        *by_material = *by_material || row->material >= 0;
        if (row->material < 0 || (fit_known(v, MATERIAL) && row->material == (int)fit_word(v, MATERIAL))) {
            found = row;
        }
    }
    return found;
}

static struct fit_verdict judge_row(const struct fit_values *v, const struct trade_hub_fits_row *row) {
    if (row->verdict == TRADE_VERDICT_CLASH) {
        struct fit_verdict out = with_widths(FIT_CLASH, row->material < 0 ? OTHER_WIDTH : STIFF, v);
        if (row->material >= 0) {
            fit_add_word(&out, TRADE_DOMAIN_MATERIAL, (unsigned)row->material);
        }
        return out;
    }
    if (row->verdict == TRADE_VERDICT_ADAPTER) {
        bool sold = fit_known_yes(v, OTHER_CAPS);
        return with_widths(sold ? FIT_ADAPTER : FIT_CLASH, sold ? CAPS : CAPS_UNTOLD, v);
    }
    if (!same_axle(v)) {
        return other_axle(v);
    }
    if (row->verdict == TRADE_VERDICT_FITS) {
        return with_widths(FIT_FITS, FITS, v);
    }
    return with_widths(FIT_DRAWBACK, row->hub_mm > row->frame_mm ? SPREAD : SQUEEZE, v);
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (near(fit_number(v, WIDTH), fit_number(v, FRAME_WIDTH))) {
        return judge_equal(v);
    }
    bool by_material;
    const struct trade_hub_fits_row *row = row_of(v, &by_material);
    if (!row && by_material && !fit_known(v, MATERIAL)) {
        return fit_ask(MATERIAL, ASK);
    }
    return row ? judge_row(v, row) : with_widths(FIT_CLASH, OTHER_WIDTH, v);
}

const struct fit_rule fit_hub_frame = {
    .id = "hub-frame",
    .reads =
        {
            [WIDTH] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_HUB_WIDTH_MM, FIT_NEEDED),
            [AXLE] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_AXLE, FIT_NEEDED),
            [STAYS] = FIT_READ(TRADE_SLOT_REAR_WHEEL, FIT_FITTED, FIT_NEEDED),
            [OTHER_CAPS] = FIT_READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_OTHER_CAPS, FIT_OPTIONAL),
            [FRAME_WIDTH] = FIT_READ(FIT_FRAME, TRADE_FRAME_HUB_WIDTH_MM, FIT_NEEDED),
            [FRAME_AXLE] = FIT_READ(FIT_FRAME, TRADE_FRAME_AXLE, FIT_NEEDED),
            [MATERIAL] = FIT_READ(FIT_FRAME, TRADE_FRAME_MATERIAL, FIT_OPTIONAL),
            [OFFSET] = FIT_READ(FIT_FRAME, TRADE_FRAME_REAR_OFFSET_MM, FIT_OPTIONAL),
        },
    .n_reads = READS,
    .reasons =
        {
            [FITS] = "hub-frame.fits",
            [REDISH] = "hub-frame.redish",
            [CAPS] = "hub-frame.caps",
            [CAPS_UNTOLD] = "hub-frame.caps-untold",
            [SPREAD] = "hub-frame.spread",
            [SQUEEZE] = "hub-frame.squeeze",
            [OTHER_WIDTH] = "hub-frame.width",
            [STIFF] = "hub-frame.stiff",
            [OTHER_AXLE] = "hub-frame.axle",
            [ASK] = "hub-frame.ask",
        },
    .judge = judge,
    .source = "Bicycle spacing crib sheet, sheldonbrown.com; what steel forgives and others do not: common practice",
};
