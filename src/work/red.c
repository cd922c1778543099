/* SPDX-License-Identifier: Apache-2.0 */
#include "work/red.h"

#include <math.h>

static bool is_new(const struct work_question *q, enum trade_slot slot) { return q->build->at[slot].kind == FIT_NEW; }

static double number_at(const struct work_question *q, enum trade_slot slot, enum trade_property property) {
    const struct trade_part *part = q->build->at[slot].part;
    return part ? trade_get_number(part, property) : (double)NAN;
}

static int word_at(const struct work_question *q, enum trade_slot slot, enum trade_property property) {
    const struct trade_part *part = q->build->at[slot].part;
    return part ? trade_get_word(part, property) : -1;
}

static void add_left(struct work_red *red, int torque) {
    for (size_t i = 0; i < red->n_left; i++) {
        if (red->left[i] == torque) {
            return;
        }
    }
    if (red->n_left < WORK_LEFT_MAX) {
        red->left[red->n_left++] = torque;
    }
}

static void add_hands(struct work_red *red, const struct work_sheet *sheet, const struct work_question *q) {
    for (size_t i = 0; i < sheet->steps.n; i++) {
        const struct trade_bench_row *row = &trade_bench_rows[sheet->steps.at[i]];
        int hand = work_hand(sheet->steps.at[i], q->bike);
        if (row->hand_by == TRADE_HAND_BY_SHELL_DRIVE) {
            red->cups = true;
            red->drive_hand = hand;
        } else if (row->hand_by == TRADE_HAND_BY_SHELL_OTHER) {
            red->other_hand = hand;
        } else if (hand == TRADE_HAND_LEFT && row->hand_by == TRADE_HAND_BY_TORQUE) {
            add_left(red, (int)row->hand_at);
        }
    }
}

/* The stack that the table has for new outboard cups in this shell, by use and spindle; mixed uses ride as road or off road. */
static const struct trade_outboard_spacers_row *spacers_of(const struct work_question *q) {
    double width = trade_get_number(&q->bike->frame, TRADE_FRAME_SHELL_WIDTH_MM);
    int use = trade_get_word(&q->bike->self, TRADE_BIKE_USE);
    int spindle = word_at(q, TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE);
    bool plate = word_at(q, TRADE_SLOT_FRONT_DERAILLEUR, TRADE_FRONT_DERAILLEUR_MOUNT) == TRADE_FRONT_MOUNT_CUP_BRACKET;
    for (size_t i = 0; is_new(q, TRADE_SLOT_BOTTOM_BRACKET) && i < trade_outboard_spacers_n; i++) {
        const struct trade_outboard_spacers_row *row = &trade_outboard_spacers[i];
        bool wide = fabs(row->shell_mm - width) <= trade_limits[TRADE_LIMIT_SHELL_WIDTH_TOLERANCE_MM].value;
        if (wide && row->use == use && row->spindle == spindle && (row->cup_bracket == TRADE_YES_NO_YES) == plate) {
            return row;
        }
    }
    return NULL;
}

/* A ring that is bolted straight to the arm stands off by its offset. */
static double offset_of(const struct work_question *q) {
    for (unsigned s = TRADE_SLOT_OUTER_RING; s <= TRADE_SLOT_INNER_RING; s++) {
        int mount = word_at(q, (enum trade_slot)s, TRADE_RING_MOUNT);
        bool direct = mount == TRADE_RING_MOUNT_DIRECT_3_BOLT || mount == TRADE_RING_MOUNT_DIRECT_8_BOLT ||
                      mount == TRADE_RING_MOUNT_DIRECT_LOCKRING;
        if (direct && is_new(q, (enum trade_slot)s)) {
            return number_at(q, (enum trade_slot)s, TRADE_RING_OFFSET_MM);
        }
    }
    return (double)NAN;
}

static double behind_of(const struct work_question *q) {
    double own = number_at(q, TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SPACER_MM);
    double more = number_at(q, TRADE_SLOT_CASSETTE_SPACER, TRADE_SPACER_THICKNESS_MM);
    bool spaced = q->build->at[TRADE_SLOT_CASSETTE_SPACER].part != NULL;
    return own + (spaced ? more : 0);
}

static int fluid_of(const struct work_question *q, enum trade_slot lever) {
    int pull = is_new(q, lever) ? word_at(q, lever, TRADE_BRAKE_LEVER_PULL) : -1;
    return pull == TRADE_LEVER_PULL_MINERAL || pull == TRADE_LEVER_PULL_DOT ? pull : -1;
}

struct work_red work_red_of(const struct work_sheet *sheet, const struct work_question *q) {
    struct work_red red = {.drive_hand = -1, .other_hand = -1};
    add_hands(&red, sheet, q);
    bool cassette = (sheet->charged >> TRADE_OPERATION_CASSETTE_OFF_ON & 1) != 0;
    bool threaded = word_at(q, TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SPLINE) == TRADE_SPLINE_THREADED;
    bool chain = (sheet->charged >> TRADE_OPERATION_CHAIN_OFF_ON & 1) != 0;
    red.spacers = spacers_of(q);
    red.drive_spacer_mm = number_at(q, TRADE_SLOT_CUP_SPACERS, TRADE_SPACER_THICKNESS_MM);
    red.offset_mm = offset_of(q);
    red.behind_mm = cassette && !threaded ? behind_of(q) : (double)NAN;
    red.links = chain ? q->links : 0;
    red.quick_link = word_at(q, TRADE_SLOT_CHAIN, TRADE_CHAIN_JOINING) == TRADE_JOINING_QUICK_LINK;
    red.fluid[0] = fluid_of(q, TRADE_SLOT_RIGHT_BRAKE_LEVER);
    red.fluid[1] = fluid_of(q, TRADE_SLOT_LEFT_BRAKE_LEVER);
    return red;
}
