/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Bikes that the program turns down, told at intake: a frame that must not be worked on first, then what has no
 * derailleur drive of its own.
 */
#include "fit/judge.h"

/* One reason to turn a bike down: a word of a property of the bike. */
struct refusal {
    const char *why, *can_do;
    uint64_t words; /* of the property; bit 1 << word */
    uint16_t property;
    uint8_t subject; /* FIT_FRAME, or a slot that has a part */
};

#define WORD(X) (UINT64_C(1) << (X))
#define REFUSED(NAME, SUBJECT, PROPERTY, WORDS)                                                                        \
    {                                                                                                                  \
        .why = "refused." NAME, .can_do = "refused." NAME ".can-do", .subject = (SUBJECT), .property = (PROPERTY),     \
        .words = (WORDS)                                                                                               \
    }

static const struct refusal refusals[] = {
    REFUSED("damage", FIT_FRAME, TRADE_FRAME_DAMAGE,
            WORD(TRADE_DAMAGE_CRACKED) | WORD(TRADE_DAMAGE_BENT) | WORD(TRADE_DAMAGE_REPAIRED)),
    REFUSED("motor", FIT_FRAME, TRADE_FRAME_MOTOR, WORD(TRADE_MOTOR_HUB_MOTOR) | WORD(TRADE_MOTOR_MID_MOTOR)),
    REFUSED("belt", FIT_FRAME, TRADE_FRAME_DRIVE, WORD(TRADE_DRIVE_BELT)),
    REFUSED("tandem", FIT_FRAME, TRADE_FRAME_TANDEM, WORD(TRADE_YES_NO_YES)),
    REFUSED("gear-hub", TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_KIND, WORD(TRADE_HUB_KIND_GEAR_HUB)),
    REFUSED("fixed", TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_KIND, WORD(TRADE_HUB_KIND_FIXED)),
    REFUSED("coaster", TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_KIND, WORD(TRADE_HUB_KIND_COASTER)),
    REFUSED("coaster", FIT_FRAME, TRADE_FRAME_BRAKE, WORD(TRADE_BRAKE_COASTER)),
    REFUSED("one-piece", TRADE_SLOT_CRANK, TRADE_CRANK_SPINDLE, WORD(TRADE_SPINDLE_ONE_PIECE)),
    REFUSED("one-piece", FIT_FRAME, TRADE_FRAME_SHELL, WORD(TRADE_SHELL_ONE_PIECE_51)),
};

static bool holds(const struct refusal *r, const struct trade_bike *bike) {
    if (r->subject != FIT_FRAME && bike->fitted[r->subject].state != TRADE_THERE) {
        return false;
    }
    const struct trade_part *part = r->subject == FIT_FRAME ? &bike->frame : &bike->fitted[r->subject].part;
    int word = trade_get_word(part, (enum trade_property)r->property);
    return word >= 0 && (r->words & WORD(word)) != 0;
}

bool fit_refused(const struct trade_bike *bike, const char **why, const char **can_do) {
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        if (holds(&refusals[i], bike)) {
            *why = refusals[i].why;
            *can_do = refusals[i].can_do;
            return true;
        }
    }
    return false;
}
