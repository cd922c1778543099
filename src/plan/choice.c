/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a slot of a build may hold.
 */
#include "plan/choice.h"

#include "plan/shelf.h"
#include "trade/vocabulary.h"

uint32_t plan_ranks(const struct plan *plan, enum trade_slot slot) {
    return 2 + (uint32_t)plan->question.catalogue->n[trade_slot_rows[slot].kind];
}

struct fit_choice plan_choice(const struct plan *plan, enum trade_slot slot, uint32_t rank) {
    if (rank == 0) {
        return (struct fit_choice){.kind = FIT_KEEP, .part = &plan->question.bike->fitted[slot].part};
    }
    if (rank == 1) {
        return (struct fit_choice){.kind = FIT_NONE};
    }
    enum trade_kind kind = trade_slot_rows[slot].kind;
    return (struct fit_choice){.kind = FIT_NEW, .part = &plan->question.catalogue->parts[kind][rank - 2]};
}

bool plan_takes(enum trade_slot slot, const struct trade_part *part) {
    enum trade_property property;
    unsigned word;
    if (trade_slot_rows[slot].kind != part->kind) {
        return false;
    }
    if (!trade_slot_wants(slot, &property, &word)) {
        return true;
    }
    int has = trade_get_word(part, property);
    bool sided = property != TRADE_SPACER_PLACE;
    return has == (int)word || (sided && has == TRADE_SIDE_EITHER);
}

static bool count_allowed(const struct plan *plan, enum trade_slot slot, const struct trade_part *part) {
    struct trade_value scratch;
    if (slot != TRADE_SLOT_CASSETTE || plan->wish.sprockets == 0) {
        return true;
    }
    const struct trade_value *speeds = fit_part_value(&scratch, part, false, FIT_SPEEDS);
    return !trade_is_open(speeds) && (plan->wish.sprockets >> (unsigned)speeds->number & 1) != 0;
}

bool plan_may(const struct plan *plan, enum trade_slot slot, uint32_t rank) {
    const struct trade_bike *bike = plan->question.bike;
    bool has = trade_bike_has(bike, slot);
    bool stay = (plan->wish.keep >> slot & 1) != 0;
    struct fit_choice choice = plan_choice(plan, slot, rank);
    if (plan->beyond.only[slot] && !plan->beyond.only[slot][rank]) {
        return false;
    }
    if (rank == 1) {
        return !has || (trade_slot_rows[slot].may_be_none && !stay);
    }
    if (rank == 0) {
        bool good = trade_may_stay(choice.part) || (plan->beyond.may_stay >> slot & 1);
        return has && good && count_allowed(plan, slot, choice.part);
    }
    return !stay && !plan->shelf->lacks[trade_slot_rows[slot].kind][rank - 2] && plan_takes(slot, choice.part) &&
           count_allowed(plan, slot, choice.part);
}
