/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Hanger extender on hanger. It hangs where the bolt of a standard derailleur would, unless it is made for another kind.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { MADE_FOR, KIND, READS };
enum { VAGUER, OTHER };

static bool takes_standard_bolt(unsigned kind) {
    for (size_t i = 0; i < trade_hanger_fits_n; i++) {
        const struct trade_hanger_fits_row *row = &trade_hanger_fits[i];
        if (row->hanger_kind == (int)kind && row->derailleur_mount == TRADE_DERAILLEUR_MOUNT_STANDARD) {
            return row->verdict == TRADE_VERDICT_FITS;
        }
    }
    return false;
}

static struct fit_verdict judge(const struct fit_values *v) {
    unsigned made_for = fit_word(v, MADE_FOR), kind = fit_word(v, KIND);
    if (made_for == kind || (made_for == TRADE_HANGER_KIND_STANDARD && takes_standard_bolt(kind))) {
        return fit_say(FIT_DRAWBACK, VAGUER);
    }
    struct fit_verdict clash = fit_say(FIT_CLASH, OTHER);
    fit_add_word(&clash, TRADE_DOMAIN_HANGER_KIND, made_for);
    fit_add_word(&clash, TRADE_DOMAIN_HANGER_KIND, kind);
    return clash;
}

const struct fit_rule fit_extender = {
    .id = "extender",
    .reads =
        {
            [MADE_FOR] = FIT_READ(TRADE_SLOT_HANGER_EXTENDER, TRADE_HANGER_EXTENDER_KIND, FIT_NEEDED),
            [KIND] = FIT_READ(TRADE_SLOT_HANGER, TRADE_HANGER_KIND, FIT_NEEDED),
        },
    .n_reads = READS,
    .reasons = {[VAGUER] = "extender.vaguer", [OTHER] = "extender.other"},
    .judge = judge,
    .source = "common practice",
};
