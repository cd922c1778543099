/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Chain and sprockets wear each other: a worn chain goes, a new one skips on worn sprockets, and new sprockets die under
 * a worn chain. Judged also where both stay, since a worn chain is not a joint that works.
 */
#include "fit/wear.h"

#include "fit/rule.h"
#include "fit/rules.h"

#include <math.h>

enum { CHAIN_STAYS, CASSETTE_STAYS, SPROCKETS_WORN, WORN, FAMILY, READS };
enum { FITS, CHAIN_WORN, HALF_WORN, SPROCKETS, SPROCKETS_TOO, MAY_SKIP };

double fit_chain_limit_percent(int family) {
    double least = INFINITY;
    for (size_t i = 0; i < trade_chains_n; i++) {
        if (trade_chains[i].chain_family == family) {
            return trade_chains[i].worn_percent;
        }
        least = fmin(least, trade_chains[i].worn_percent);
    }
    return least;
}

static double limit_percent(const struct fit_values *v) {
    return fit_chain_limit_percent(fit_known(v, FAMILY) ? (int)fit_word(v, FAMILY) : -1);
}

static struct fit_verdict with_percents(enum fit_kind kind, unsigned reason, double worn, double limit) {
    struct fit_verdict out = fit_say(kind, reason);
    fit_add_number(&out, worn, 2, "%");
    fit_add_number(&out, limit, 2, "%");
    return out;
}

static struct fit_verdict judge_old_chain(double worn, double limit, bool cassette_stays) {
    if (worn >= limit) {
        return with_percents(FIT_CLASH, CHAIN_WORN, worn, limit);
    }
    if (!cassette_stays && worn > limit * fit_limit(TRADE_LIMIT_CHAIN_HALF_WORN_SHARE)) {
        return with_percents(FIT_DRAWBACK, HALF_WORN, worn, limit);
    }
    return fit_say(FIT_FITS, FITS);
}

/* A new chain on old sprockets. Somebody who looked at them and found them good is believed over the chain's reading,
 * but for the try under load. */
static struct fit_verdict judge_old_sprockets(const struct fit_values *v, double worn, double limit) {
    if (fit_known_yes(v, SPROCKETS_WORN)) {
        return fit_say(FIT_CLASH, SPROCKETS);
    }
    double too = fit_limit(TRADE_LIMIT_SPROCKETS_WORN_PERCENT);
    if (worn >= too && !fit_known(v, SPROCKETS_WORN)) {
        return with_percents(FIT_CLASH, SPROCKETS_TOO, worn, too);
    }
    return worn >= limit ? with_percents(FIT_DRAWBACK, MAY_SKIP, worn, limit) : fit_say(FIT_FITS, FITS);
}

static struct fit_verdict judge(const struct fit_values *v) {
    bool chain_stays = fit_stays(v, CHAIN_STAYS), cassette_stays = fit_stays(v, CASSETTE_STAYS);
    bool nobody_looked = !fit_known(v, WORN) && !fit_known(v, SPROCKETS_WORN);
    if ((!chain_stays && !cassette_stays) || (chain_stays && cassette_stays && nobody_looked)) {
        return fit_silent();
    }
    double worn = fit_known(v, WORN) ? fit_number(v, WORN) : -INFINITY, limit = limit_percent(v);
    return chain_stays ? judge_old_chain(worn, limit, cassette_stays) : judge_old_sprockets(v, worn, limit);
}

const struct fit_rule fit_wear = {
    .id = "wear",
    .reads = {[CHAIN_STAYS] = FIT_READ(TRADE_SLOT_CHAIN, FIT_FITTED, FIT_NEEDED),
              [CASSETTE_STAYS] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_FITTED, FIT_NEEDED),
              [SPROCKETS_WORN] = FIT_READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_WORN, FIT_OPTIONAL),
              [WORN] = FIT_READ(FIT_NOW + TRADE_SLOT_CHAIN, TRADE_CHAIN_WORN_PERCENT, FIT_NEEDED),
              [FAMILY] = FIT_READ(FIT_NOW + TRADE_SLOT_CHAIN, TRADE_CHAIN_FAMILY, FIT_MAYBE)},
    .n_reads = READS,
    .as_it_stands = true,
    .reasons = {[FITS] = "wear.fits",
                [CHAIN_WORN] = "wear.chain-worn",
                [HALF_WORN] = "wear.half-worn",
                [SPROCKETS] = "wear.sprockets",
                [SPROCKETS_TOO] = "wear.sprockets-too",
                [MAY_SKIP] = "wear.may-skip"},
    .judge = judge,
    .source = "limits: How do I measure for wear?, a bicycle trader's page (name withheld), 2018; Chain-stretch "
              "measurement, a personal technical page; by class: common practice",
};
