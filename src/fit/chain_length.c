/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Is the chain long enough? The bare loop round the largest ring and the largest sprocket, and what the derailleur's
 * rule adds, against the length of the chain: in its box, or as it hangs on the bike. Too long is cut; too short tears
 * off the hanger.
 */
#include "fit/rings.h"
#include "fit/rules.h"
#include "mech/chain.h"
#include "mech/loop.h"

enum { OUTER, MIDDLE, INNER, LARGEST, STAY, STAY_LONGEST, SUSPENSION, RULE, LINKS, CHAIN_STAYS, READS };
enum { CUT, AS_IT_IS, TIGHT, BOX_SHORT, SHORT, NO_LOOP, ASK };

struct need {
    enum mech_chain_rule rule;
    double bare; /* pitches of the bare loop */
    int links;   /* to cut; 0 when ring and sprocket do not stand clear of each other on this stay */
};

static struct need need_of(const struct fit_values *v, int ring, bool sprung) {
    struct need need = {.rule = MECH_CHAIN_ORDINARY};
    double stay = fit_number(v, sprung ? STAY_LONGEST : STAY);
    if (fit_word(v, RULE) == TRADE_CHAIN_RULE_WIDE_SINGLE) {
        need.rule = sprung ? MECH_CHAIN_WIDE_SUSPENDED : MECH_CHAIN_WIDE_RIGID;
    }
    if (mech_loop_bare_links(&need.bare, ring, fit_count(v, LARGEST), stay) != BASE_OK ||
        mech_chain_links_to_cut(&need.links, need.bare, need.rule) != BASE_OK) {
        need.links = 0;
    }
    return need;
}

/* Is it short of the ordinary rule by no more than the chain stay may be off as it was read? The rule for wide ranges has
 * no such edge: what it adds is a habit itself. */
static bool within_reading(const struct need *need, int have) {
    return need->rule == MECH_CHAIN_ORDINARY &&
           have + fit_limit(TRADE_LIMIT_STAY_READING_PITCHES) >= need->bare + fit_limit(TRADE_LIMIT_BARE_LEAST_PITCHES);
}

static struct fit_verdict judge_links(const struct fit_values *v, const struct need *need) {
    int have = fit_count(v, LINKS);
    struct fit_verdict out = fit_say(FIT_FITS, have > need->links ? CUT : AS_IT_IS);
    if (have < need->links && within_reading(need, have)) {
        out = fit_say(FIT_DRAWBACK, TIGHT);
    } else if (have < need->links) {
        out = fit_say(FIT_CLASH, fit_stays(v, CHAIN_STAYS) ? SHORT : BOX_SHORT);
    }
    fit_add_number(&out, need->links, 0, "pitches");
    fit_add_number(&out, have, 0, "pitches");
    return out;
}

static struct fit_verdict judge(const struct fit_values *v) {
    struct fit_rings rings = fit_rings_of(v, OUTER);
    if (rings.n == 0) {
        return fit_silent();
    }
    bool sprung = fit_known_yes(v, SUSPENSION);
    if (sprung && !fit_known(v, STAY_LONGEST)) {
        return fit_ask(STAY_LONGEST, ASK);
    }
    if (!fit_known(v, LINKS)) {
        return fit_ask(LINKS, ASK);
    }
    struct need need = need_of(v, rings.largest, sprung);
    return need.links > 0 ? judge_links(v, &need) : fit_say(FIT_CLASH, NO_LOOP);
}

const struct fit_rule fit_chain_length = {
    .id = "chain-length",
    .reads = {FIT_RING_TEETH(OUTER, MIDDLE, INNER, FIT_EMPTY_OK),
              [LARGEST] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_LARGEST, FIT_NEEDED),
              [STAY] = FIT_READ(FIT_FRAME, TRADE_FRAME_CHAINSTAY_MM, FIT_NEEDED),
              [STAY_LONGEST] = FIT_READ(FIT_FRAME, TRADE_FRAME_CHAINSTAY_LONGEST_MM, FIT_OPTIONAL),
              [SUSPENSION] = FIT_READ(FIT_FRAME, TRADE_FRAME_SUSPENSION, FIT_OPTIONAL),
              [RULE] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_CHAIN_RULE, FIT_NEEDED),
              [LINKS] = FIT_READ(TRADE_SLOT_CHAIN, TRADE_CHAIN_LINKS, FIT_SHEET),
              [CHAIN_STAYS] = FIT_READ(TRADE_SLOT_CHAIN, FIT_FITTED, FIT_NEEDED)},
    .n_reads = READS,
    .reasons = {[CUT] = "chain-length.cut",
                [AS_IT_IS] = "chain-length.as-it-is",
                [TIGHT] = "chain-length.tight",
                [BOX_SHORT] = "chain-length.box-short",
                [SHORT] = "chain-length.short",
                [NO_LOOP] = "chain-length.no-loop",
                [ASK] = "chain-length.ask"},
    .judge = judge,
    .source =
        "bare loop and two: sheldonbrown.com, as quoted in Chain sizing 1x11, Bike Forums thread, 2016; wide range: "
        "a workshop's page on chain length (name withheld); common practice",
};
