/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Ring on crank: place, bolt circle, smallest ring, and rings that can't come off.
 *
 * Mounts are words, and uneven arms are words of their own, so that rings fit where the words are equal. A crank whose
 * rings are riveted keeps just the rings that it has, and they go where it goes.
 */
#include "fit/rings.h"
#include "fit/rules.h"

enum { MOUNT, TEETH, STAYS, CRANK_STAYS, PLACES, CRANK_MOUNT, FIXED, FIXED_NOW, HAD, INNER_MOUNT, READS };
enum { FITS, RAISED, HELD, OLD_HELD, FULL, PLACE, OTHER, SMALL, ASK };

static bool fixed(const struct fit_values *v) {
    return fit_known_yes(v, FIXED) ||
           (fit_known(v, CRANK_MOUNT) && fit_word(v, CRANK_MOUNT) == TRADE_RING_MOUNT_RIVETED);
}

/* A ring and a crank one of which is new, where rivets have a say. */
static struct fit_verdict judge_fixed(const struct fit_values *v) {
    bool ring_stays = fit_stays(v, STAYS), crank_stays = fit_stays(v, CRANK_STAYS);
    if (!fit_has(v, STAYS)) {
        return crank_stays && fixed(v) && fit_there(v, HAD) ? fit_say(FIT_CLASH, HELD) : fit_silent();
    }
    if (ring_stays && !crank_stays && fit_known_yes(v, FIXED_NOW)) {
        return fit_say(FIT_CLASH, OLD_HELD);
    }
    return fixed(v) ? fit_say(ring_stays && crank_stays ? FIT_FITS : FIT_CLASH, ring_stays && crank_stays ? FITS : FULL)
                    : fit_silent();
}

/* Is the place there? An open list of places still has those that hold a ring on the bike now. */
static struct fit_verdict judge_place(const struct fit_values *v, enum trade_place place) {
    if (!fit_known(v, PLACES)) {
        return fit_stays(v, CRANK_STAYS) && fit_there(v, HAD) ? fit_silent() : fit_ask(PLACES, ASK);
    }
    if (fit_among(v, PLACES, place)) {
        return fit_silent();
    }
    struct fit_verdict clash = fit_say(FIT_CLASH, PLACE);
    fit_add_word(&clash, TRADE_DOMAIN_PLACE, place);
    return clash;
}

/* Which read holds the mount of this place. Inner rings of triples have one of their own; where nobody has read it, a
 * place among two is taken to have the same as the outer one. */
static unsigned mount_read(const struct fit_values *v, enum trade_place place) {
    if (place != TRADE_PLACE_INNER) {
        return CRANK_MOUNT;
    }
    bool triple = fit_known(v, PLACES) && fit_among(v, PLACES, TRADE_PLACE_MIDDLE);
    return fit_known(v, INNER_MOUNT) || (triple && fit_stays(v, CRANK_STAYS)) ? INNER_MOUNT : CRANK_MOUNT;
}

static struct fit_verdict judge_teeth(const struct fit_values *v, unsigned mount) {
    const struct trade_ring_mounts_row *row = fit_ring_mount_row(mount);
    int teeth = fit_count(v, TEETH);
    if (row->mark == TRADE_MARK_MEM_LOW || row->smallest_teeth < 0 || teeth >= row->smallest_teeth) {
        return fit_say(FIT_FITS, FITS);
    }
    bool special = row->special_smallest_teeth >= 0 && teeth >= row->special_smallest_teeth;
    struct fit_verdict out = fit_say(special ? FIT_FITS : FIT_CLASH, special ? RAISED : SMALL);
    fit_add_number(&out, teeth, 0, "T");
    fit_add_word(&out, TRADE_DOMAIN_RING_MOUNT, mount);
    fit_add_number(&out, special || row->special_smallest_teeth < 0 ? row->smallest_teeth : row->special_smallest_teeth,
                   0, "T");
    return out;
}

static struct fit_verdict judge_mount(const struct fit_values *v, enum trade_place place) {
    unsigned crank = mount_read(v, place);
    bool together = fit_stays(v, STAYS) && fit_stays(v, CRANK_STAYS);
    if (!fit_known(v, MOUNT) || !fit_known(v, crank) || !fit_known(v, TEETH)) {
        unsigned open = !fit_known(v, crank) ? crank : !fit_known(v, MOUNT) ? MOUNT : TEETH;
        return together ? fit_say(FIT_FITS, FITS) : fit_ask(open, ASK);
    }
    if (fit_word(v, MOUNT) == fit_word(v, crank)) {
        return judge_teeth(v, fit_word(v, MOUNT));
    }
    struct fit_verdict clash = fit_say(FIT_CLASH, OTHER);
    fit_add_word(&clash, TRADE_DOMAIN_RING_MOUNT, fit_word(v, MOUNT));
    fit_add_word(&clash, TRADE_DOMAIN_RING_MOUNT, fit_word(v, crank));
    return clash;
}

static struct fit_verdict judge(const struct fit_values *v, enum trade_place place) {
    struct fit_verdict out = judge_fixed(v);
    if (out.kind != FIT_SILENT || !fit_has(v, STAYS)) {
        return out;
    }
    out = judge_place(v, place);
    return out.kind != FIT_SILENT ? out : judge_mount(v, place);
}

static struct fit_verdict judge_outer(const struct fit_values *v) { return judge(v, TRADE_PLACE_OUTER); }
static struct fit_verdict judge_middle(const struct fit_values *v) { return judge(v, TRADE_PLACE_MIDDLE); }
static struct fit_verdict judge_inner(const struct fit_values *v) { return judge(v, TRADE_PLACE_INNER); }

/* clang-format off */
#define RING_MOUNT(SLOT, PLACE_WORD, N_READS, JUDGE)                                                                   \
    {                                                                                                                  \
        .id = "ring-mount",                                                                                            \
        .variant = PLACE_WORD,                                                                                         \
        .reads = {                                                                                                     \
            [MOUNT] = FIT_READ(SLOT, TRADE_RING_MOUNT, FIT_SHEET | FIT_EMPTY_OK),                                                     \
            [TEETH] = FIT_READ(SLOT, TRADE_RING_TEETH, FIT_SHEET | FIT_EMPTY_OK),                                                     \
            [STAYS] = FIT_READ(SLOT, FIT_FITTED, FIT_EMPTY_OK),                                                        \
            [CRANK_STAYS] = FIT_READ(TRADE_SLOT_CRANK, FIT_FITTED, FIT_NEEDED),                                        \
            [PLACES] = FIT_READ(TRADE_SLOT_CRANK, TRADE_CRANK_PLACES, FIT_SHEET),                                   \
            [CRANK_MOUNT] = FIT_READ(TRADE_SLOT_CRANK, TRADE_CRANK_MOUNT, FIT_NEEDED),                                 \
            [FIXED] = FIT_READ(TRADE_SLOT_CRANK, TRADE_CRANK_RINGS_FIXED, FIT_OPTIONAL),                               \
            [FIXED_NOW] = FIT_READ(FIT_NOW + TRADE_SLOT_CRANK, TRADE_CRANK_RINGS_FIXED, FIT_MAYBE),                    \
            [HAD] = FIT_READ(FIT_NOW + SLOT, FIT_PRESENT, FIT_EMPTY_OK),                                               \
            [INNER_MOUNT] = FIT_READ(TRADE_SLOT_CRANK, TRADE_CRANK_INNER_MOUNT, FIT_OPTIONAL),                         \
        },                                                                                                             \
        .n_reads = N_READS,                                                                                            \
        .reasons = {                                                                                                   \
            [FITS] = "ring-mount.fits", [RAISED] = "ring-mount.raised", [HELD] = "ring-mount.held",                    \
            [OLD_HELD] = "ring-mount.old-held", [FULL] = "ring-mount.full", [PLACE] = "ring-mount.place",              \
            [OTHER] = "ring-mount.other", [SMALL] = "ring-mount.small", [ASK] = "ring-mount.ask",                      \
        },                                                                                                             \
        .judge = JUDGE,                                                                                                \
        .source = "bolt circles and smallest rings: Numbers - bicycle crib sheet, sheldonbrown.com; riveted rings: "   \
                  "common practice",                                                                                   \
    }
/* clang-format on */

/* INNER_MOUNT is the last read, so that the other places leave it out by their number of reads. */
const struct fit_rule fit_ring_mount_outer =
    RING_MOUNT(TRADE_SLOT_OUTER_RING, TRADE_PLACE_OUTER, INNER_MOUNT, judge_outer);
const struct fit_rule fit_ring_mount_middle =
    RING_MOUNT(TRADE_SLOT_MIDDLE_RING, TRADE_PLACE_MIDDLE, INNER_MOUNT, judge_middle);
const struct fit_rule fit_ring_mount_inner = RING_MOUNT(TRADE_SLOT_INNER_RING, TRADE_PLACE_INNER, READS, judge_inner);
