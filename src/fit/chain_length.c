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
enum { CUT, AS_IT_IS, BOX_SHORT, SHORT, NO_LOOP, ASK };

/* Pitches to cut; 0 when ring and sprocket do not stand clear of each other on this stay. */
static int links_needed(const struct fit_values *v, int ring, bool sprung) {
    double bare = 0, stay = fit_number(v, sprung ? STAY_LONGEST : STAY);
    enum mech_chain_rule rule = MECH_CHAIN_ORDINARY;
    if (fit_word(v, RULE) == TRADE_CHAIN_RULE_WIDE_SINGLE) {
        rule = sprung ? MECH_CHAIN_WIDE_SUSPENDED : MECH_CHAIN_WIDE_RIGID;
    }
    int links = 0;
    if (mech_loop_bare_links(&bare, ring, fit_count(v, LARGEST), stay) != BASE_OK ||
        mech_chain_links_to_cut(&links, bare, rule) != BASE_OK) {
        return 0;
    }
    return links;
}

static struct fit_verdict judge_links(const struct fit_values *v, int needed) {
    int have = fit_count(v, LINKS);
    bool stays = fit_stays(v, CHAIN_STAYS);
    struct fit_verdict out = fit_say(FIT_FITS, have > needed ? CUT : AS_IT_IS);
    if (have < needed) {
        out = fit_say(FIT_CLASH, stays ? SHORT : BOX_SHORT);
    }
    fit_add_number(&out, needed, 0, "pitches");
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
    int needed = links_needed(v, rings.largest, sprung);
    return needed > 0 ? judge_links(v, needed) : fit_say(FIT_CLASH, NO_LOOP);
}

const struct fit_rule fit_chain_length = {
    .id = "chain-length",
    .reads = {FIT_RING_TEETH(OUTER, MIDDLE, INNER, FIT_EMPTY_OK),
              [LARGEST] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_LARGEST, FIT_NEEDED),
              [STAY] = FIT_READ(FIT_FRAME, TRADE_FRAME_CHAINSTAY_MM, FIT_NEEDED),
              [STAY_LONGEST] = FIT_READ(FIT_FRAME, TRADE_FRAME_CHAINSTAY_LONGEST_MM, FIT_OPTIONAL),
              [SUSPENSION] = FIT_READ(FIT_FRAME, TRADE_FRAME_SUSPENSION, FIT_OPTIONAL),
              [RULE] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_CHAIN_RULE, FIT_NEEDED),
              [LINKS] = FIT_READ(TRADE_SLOT_CHAIN, TRADE_CHAIN_LINKS, FIT_OPTIONAL),
              [CHAIN_STAYS] = FIT_READ(TRADE_SLOT_CHAIN, FIT_FITTED, FIT_NEEDED)},
    .n_reads = READS,
    .reasons = {[CUT] = "chain-length.cut",
                [AS_IT_IS] = "chain-length.as-it-is",
                [BOX_SHORT] = "chain-length.box-short",
                [SHORT] = "chain-length.short",
                [NO_LOOP] = "chain-length.no-loop",
                [ASK] = "chain-length.ask"},
    .judge = judge,
    .source =
        "bare loop and two: sheldonbrown.com, as quoted in Chain sizing 1x11, Bike Forums thread, 2016; wide range: "
        "a workshop's page on chain length (name withheld); common practice",
};
