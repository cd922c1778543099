/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rear derailleur on hanger. With an extender between them it bolts to the extender, which ends as a standard hanger.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { KIND, STAYS, MOUNTS, DERAILLEUR_STAYS, EXTENDER, READS };
enum { FITS, LINK, HANGERLESS, OTHER, ASK };

/* The best that a mount of the derailleur offers on this hanger; NULL: none of them is in the table. Verdicts of the
 * table stand from best to worst. */
static const struct trade_hanger_fits_row *best_row(const struct fit_values *v, unsigned kind) {
    const struct trade_hanger_fits_row *best = NULL;
    for (size_t i = 0; i < trade_hanger_fits_n; i++) {
        const struct trade_hanger_fits_row *row = &trade_hanger_fits[i];
        if (row->hanger_kind == (int)kind && fit_among(v, MOUNTS, (unsigned)row->derailleur_mount) &&
            (!best || row->verdict < best->verdict)) {
            best = row;
        }
    }
    return best;
}

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_known(v, MOUNTS)) {
        bool together = fit_stays(v, STAYS) && fit_stays(v, DERAILLEUR_STAYS);
        return together ? fit_silent() : fit_lacks(v, DERAILLEUR_STAYS, MOUNTS, ASK);
    }
    unsigned kind = fit_there(v, EXTENDER) ? (unsigned)TRADE_HANGER_KIND_STANDARD : fit_word(v, KIND);
    const struct trade_hanger_fits_row *row = best_row(v, kind);
    struct fit_verdict out = fit_say(FIT_CLASH, OTHER);
    if (row && row->verdict == TRADE_VERDICT_FITS) {
        out = fit_say(FIT_FITS, row->derailleur_mount == TRADE_DERAILLEUR_MOUNT_HANGERLESS ? HANGERLESS : FITS);
    } else if (row && row->verdict == TRADE_VERDICT_ADAPTER) {
        out = fit_say(FIT_ADAPTER, LINK);
    }
    fit_add_word(&out, TRADE_DOMAIN_HANGER_KIND, kind);
    return out;
}

const struct fit_rule fit_hanger = {
    .id = "hanger",
    .reads =
        {
            [KIND] = FIT_READ(TRADE_SLOT_HANGER, TRADE_HANGER_KIND, FIT_NEEDED),
            [STAYS] = FIT_READ(TRADE_SLOT_HANGER, FIT_FITTED, FIT_NEEDED),
            [MOUNTS] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_MOUNTS, FIT_SHEET),
            [DERAILLEUR_STAYS] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, FIT_FITTED, FIT_NEEDED),
            [EXTENDER] = FIT_READ(TRADE_SLOT_HANGER_EXTENDER, FIT_PRESENT, FIT_EMPTY_OK),
        },
    .n_reads = READS,
    .reasons =
        {
            [FITS] = "hanger.fits",
            [LINK] = "hanger.link",
            [HANGERLESS] = "hanger.hangerless",
            [OTHER] = "hanger.other",
            [ASK] = "hanger.ask",
        },
    .judge = judge,
    .source =
        "At last, a universal derailleur hanger, Escape to the Pyrenees blog; Direct mount against standard mount "
        "hangers, a hanger seller's page (name withheld)",
};
