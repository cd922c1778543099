/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a slot of a build may hold.
 */
#include "plan/choice.h"

#include "trade/vocabulary.h"

#include <math.h>

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
    return !stay && !plan->lacks[trade_slot_rows[slot].kind][rank - 2] && plan_takes(slot, choice.part) &&
           count_allowed(plan, slot, choice.part);
}

/* The first property that this part lacks although a rule needs it of one of the part's slots; -1 when none. */
static int lacking(const struct trade_part *part) {
    struct trade_value scratch;
    for (size_t r = 0; r < fit_rules_n; r++) {
        for (unsigned i = 0; i < fit_rules[r]->n_reads; i++) {
            const struct fit_read *read = &fit_rules[r]->reads[i];
            if (read->subject >= TRADE_SLOTS || trade_slot_rows[read->subject].kind != part->kind ||
                (read->flags & (FIT_OPTIONAL | FIT_OF_NEW)) == FIT_OPTIONAL) {
                continue;
            }
            if (trade_is_open(fit_part_value(&scratch, part, false, read->property))) {
                return read->property < TRADE_PROPERTIES ? (int)read->property : (int)TRADE_CASSETTE_SPROCKETS;
            }
        }
    }
    return -1;
}

/* What a new part must say for the measures: it is not in hand and can't be measured. Rings lie where the crank's maker
 * says; a spindle of a bracket has a length; a cassette has a stack. */
static int crank_lacks(const struct trade_part *part) {
    static const enum trade_property planes[3] = {TRADE_CRANK_OUTER_PLANE_MM, TRADE_CRANK_MIDDLE_PLANE_MM,
                                                  TRADE_CRANK_INNER_PLANE_MM};
    const struct trade_value *has = trade_get(part, TRADE_CRANK_PLACES);
    if (trade_is_open(has)) {
        return TRADE_CRANK_PLACES;
    }
    for (unsigned i = 0; i < 3; i++) {
        if ((has->words >> i & 1) && isnan(trade_get_number(part, planes[i]))) {
            return TRADE_CRANK_LINE_MM;
        }
    }
    return -1;
}

static int bracket_lacks(const struct trade_part *part) {
    int spindle = trade_get_word(part, TRADE_BOTTOM_BRACKET_SPINDLE);
    bool its_own = spindle == TRADE_SPINDLE_SQUARE_JIS || spindle == TRADE_SPINDLE_SQUARE_ISO ||
                   spindle == TRADE_SPINDLE_SPLINED_8_SHALLOW || spindle == TRADE_SPINDLE_SPLINED_8_DEEP ||
                   spindle == TRADE_SPINDLE_SPLINED_10;
    bool open = isnan(trade_get_number(part, TRADE_BOTTOM_BRACKET_SPINDLE_MM));
    return its_own && open ? TRADE_BOTTOM_BRACKET_SPINDLE_MM : -1;
}

static int cassette_lacks(const struct trade_part *part) {
    return isnan(trade_get_number(part, TRADE_CASSETTE_STACK_MM)) ? TRADE_CASSETTE_STACK_MM : -1;
}

/* The property that keeps a part out of the plan; -1 when none does. */
static int what_it_lacks(const struct trade_part *part) {
    int property = lacking(part);
    if (property >= 0) {
        return property;
    }
    switch (part->kind) {
    case TRADE_KIND_CRANK:
        return crank_lacks(part);
    case TRADE_KIND_BOTTOM_BRACKET:
        return bracket_lacks(part);
    case TRADE_KIND_CASSETTE:
        return cassette_lacks(part);
    default:
        return -1;
    }
}

enum base_status plan_find_left_out(struct plan *plan) {
    const struct trade_catalogue *catalogue = plan->question.catalogue;
    plan->left_out = base_arena_alloc(&plan->arena, catalogue->n_all, sizeof *plan->left_out);
    if (!plan->left_out) {
        return BASE_NO_MEMORY;
    }
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        plan->lacks[kind] = base_arena_alloc(&plan->arena, catalogue->n[kind], sizeof *plan->lacks[kind]);
        if (!plan->lacks[kind]) {
            return BASE_NO_MEMORY;
        }
        for (size_t i = 0; i < catalogue->n[kind]; i++) {
            const struct trade_part *part = &catalogue->parts[kind][i];
            int property = what_it_lacks(part);
            plan->lacks[kind][i] = property >= 0;
            if (property >= 0) {
                plan->left_out[plan->n_left_out++] =
                    (struct trade_left_out){.id = part->id, .property = (enum trade_property)property};
            }
        }
    }
    return BASE_OK;
}
