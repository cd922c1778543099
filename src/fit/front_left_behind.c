/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a front derailleur leaves on the frame when it comes off, by its mount.
 */
#include "fit/rule.h"
#include "fit/rules.h"

enum { HAD, MOUNT, DERAILLEUR, READS };
enum { BAND, TAB, HOLES, PLATE, UNREAD };

/* In the words of the mounts; the table of mounts says the same in a sentence. */
static const uint8_t left[TRADE_FRONT_MOUNT_COUNT] = {
    [TRADE_FRONT_MOUNT_BAND_28_6] = BAND,    [TRADE_FRONT_MOUNT_BAND_31_8] = BAND,
    [TRADE_FRONT_MOUNT_BAND_34_9] = BAND,    [TRADE_FRONT_MOUNT_BRAZED_TAB] = TAB,
    [TRADE_FRONT_MOUNT_DIRECT_LOW] = HOLES,  [TRADE_FRONT_MOUNT_DIRECT_HIGH] = HOLES,
    [TRADE_FRONT_MOUNT_CUP_BRACKET] = PLATE,
};

static struct fit_verdict judge(const struct fit_values *v) {
    if (!fit_there(v, HAD) || fit_there(v, DERAILLEUR)) {
        return fit_silent();
    }
    return fit_say(FIT_FITS, fit_known(v, MOUNT) ? left[fit_word(v, MOUNT)] : UNREAD);
}

const struct fit_rule fit_front_left_behind = {
    .id = "front-left-behind",
    .reads = {[HAD] = FIT_READ(FIT_NOW + TRADE_SLOT_FRONT_DERAILLEUR, FIT_PRESENT, FIT_EMPTY_OK),
              [MOUNT] = FIT_READ(FIT_NOW + TRADE_SLOT_FRONT_DERAILLEUR, TRADE_FRONT_DERAILLEUR_MOUNT, FIT_MAYBE),
              [DERAILLEUR] = FIT_READ(TRADE_SLOT_FRONT_DERAILLEUR, FIT_PRESENT, FIT_EMPTY_OK)},
    .n_reads = READS,
    .reasons = {[BAND] = "front-left-behind.band",
                [TAB] = "front-left-behind.tab",
                [HOLES] = "front-left-behind.holes",
                [PLATE] = "front-left-behind.plate",
                [UNREAD] = "front-left-behind.unread"},
    .judge = judge,
    .source = "common practice",
};
