/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/why_not.h"

#include "plan/choice.h"
#include "plan/nearness.h"
#include "plan/relief.h"

#include <string.h>

/* Slots of which only some ranks are allowed. */
struct pins {
    struct base_arena arena; /* home of the lists of ranks */
    struct plan_beyond beyond;
};

static uint32_t rank_of(const struct plan *plan, const struct trade_part *part) {
    return 2 + (uint32_t)(part - plan->question.catalogue->parts[part->kind]);
}

/* The slot may hold one of these parts, and nothing else. */
static enum base_status pin(struct pins *pins, const struct plan *plan, enum trade_slot slot,
                            const struct trade_part *const *parts, size_t n) {
    bool *only = base_arena_alloc(&pins->arena, plan_ranks(plan, slot), sizeof *only);
    if (!only) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < n; i++) {
        only[rank_of(plan, parts[i])] = true;
    }
    pins->beyond.only[slot] = only;
    return BASE_OK;
}

static enum base_status pin_all(struct pins *pins, const struct plan *plan, const struct plan_why_not *asked) {
    enum base_status status = BASE_OK;
    memset(&pins->beyond, 0, sizeof pins->beyond);
    for (size_t i = 0; i < asked->n && status == BASE_OK; i++) {
        status = pin(pins, plan, asked->slot[i], &asked->part[i], 1);
    }
    return status;
}

/* The plan with the pins, for these objectives. *out is the caller's. */
static enum base_status plan_pinned(struct plan **out, const struct plan *plan, const struct pins *pins,
                                    uint32_t objectives) {
    struct trade_wish wish = plan->wish;
    wish.objectives = objectives;
    return plan_again(out, plan, &wish, &pins->beyond);
}

/* --- does it fit --------------------------------------------------------------------------------------------------- */

/* What beats the way, a pick if one does; NULL when nothing does. */
static const struct plan_way *what_beats(const struct plan *plan, const struct plan_way *way) {
    const struct plan_way *beats = NULL;
    for (size_t i = 0; i < plan->n_ways; i++) {
        const struct plan_way *other = &plan->ways[i];
        if ((!beats || (beats->purposes == 0 && other->purposes != 0)) && plan_beats(plan, other, way)) {
            beats = other;
        }
    }
    return beats;
}

/* The cheapest that nothing of the plan beats, else the cheapest. */
static void choose_way(struct plan_why_not *out, struct plan *plan, const struct plan *pinned) {
    for (size_t i = 0; i < pinned->n_ways; i++) {
        struct plan_way way = pinned->ways[i];
        plan_adopt(plan, pinned, &way);
        const struct plan_way *beats = what_beats(plan, &way);
        if (i == 0 || !beats) {
            out->way = way;
            out->beaten_by = beats;
        }
        if (!beats) {
            return;
        }
    }
}

static enum base_status try_here(struct plan_why_not *out, struct plan *plan, struct pins *pins) {
    struct plan *pinned;
    enum base_status status = pin_all(pins, plan, out);
    if (status == BASE_OK) {
        status = plan_pinned(&pinned, plan, pins, plan->wish.objectives);
    }
    if (status == BASE_OK) {
        out->complete = out->complete && pinned->complete;
        out->fits = pinned->n_ways > 0;
        choose_way(out, plan, pinned);
        plan_free(pinned);
    }
    return status;
}

/* The next places for the parts, each one of its own, counted as in two digits; false when there are no more. */
static bool next_places(struct plan_why_not *out, unsigned *at) {
    for (; *at < TRADE_SLOTS * TRADE_SLOTS; ++*at) {
        enum trade_slot a = (enum trade_slot)(*at / TRADE_SLOTS), b = (enum trade_slot)(*at % TRADE_SLOTS);
        bool second = out->n == 1 ? b == 0 : a != b && plan_takes(b, out->part[1]);
        if (second && plan_takes(a, out->part[0])) {
            out->slot[0] = a;
            out->slot[1] = b;
            ++*at;
            return true;
        }
    }
    return false;
}

/* --- the nearest that would do ------------------------------------------------------------------------------------- */

/* Is there a way with one of the first n parts in place of the one that was asked for? */
static enum base_status try_nearest(bool *has, struct plan_why_not *out, struct plan *plan, struct pins *pins,
                                    const struct trade_part *const *nearest, size_t n) {
    struct plan *found;
    enum base_status status = pin(pins, plan, out->slot[0], nearest, n);
    if (status == BASE_OK) {
        status = plan_pinned(&found, plan, pins, 1u << TRADE_COST);
    }
    if (status == BASE_OK) {
        *has = found->n_ways > 0;
        out->complete = out->complete && (*has || found->complete);
        if (*has) {
            out->nearest_way = found->ways[0];
            plan_adopt(plan, found, &out->nearest_way);
            out->nearest = found->ways[0].build.at[out->slot[0]].part;
        }
        plan_free(found);
    }
    return status;
}

/* The shortest list of the nearest parts with which there is a way ends with the one that is looked for. */
static enum base_status look_for_nearest(struct plan_why_not *out, struct plan *plan, struct pins *pins) {
    const struct trade_part **nearest;
    size_t high = 0;
    bool has = false;
    enum base_status status = plan_nearest_parts(&nearest, &high, &pins->arena, plan, out->slot[0], out->part[0]);
    if (status == BASE_OK && high > 0) {
        status = try_nearest(&has, out, plan, pins, nearest, high);
    }
    for (size_t low = 0; status == BASE_OK && out->nearest && high - low > 1;) {
        size_t middle = low + (high - low) / 2;
        status = try_nearest(&has, out, plan, pins, nearest, middle);
        low = has ? low : middle;
        high = has ? middle : high;
    }
    return status;
}

/* --- the answer ---------------------------------------------------------------------------------------------------- */

static enum base_status say_why(struct plan_why_not *out, struct plan *plan, struct pins *pins) {
    enum base_status status = pin_all(pins, plan, out);
    if (status == BASE_OK) {
        status = plan_conflict(&out->conflict, plan, &pins->beyond);
    }
    out->complete = out->complete && out->conflict.complete;
    return status == BASE_OK ? look_for_nearest(out, plan, pins) : status;
}

static enum base_status work_out(struct plan_why_not *out, struct plan *plan, struct pins *pins) {
    unsigned at = 0;
    enum base_status status = next_places(out, &at) ? BASE_OK : BASE_BAD_INPUT;
    const enum trade_slot first[PLAN_ASKED_PARTS] = {out->slot[0], out->slot[1]};
    do {
        status = status == BASE_OK ? try_here(out, plan, pins) : status;
    } while (status == BASE_OK && !out->fits && next_places(out, &at));
    if (status == BASE_OK && !out->fits) {
        memcpy(out->slot, first, sizeof first);
        status = say_why(out, plan, pins);
    }
    return status;
}

enum base_status plan_why_not(struct plan_why_not *out, struct plan *plan, const struct trade_part *const *parts,
                              size_t n) {
    struct pins pins;
    memset(out, 0, sizeof *out);
    out->n = n;
    out->complete = true;
    for (size_t i = 0; i < n; i++) {
        out->part[i] = parts[i];
    }
    for (size_t i = 0; i < plan->shelf->n_left_out; i++) {
        for (size_t p = 0; p < n; p++) {
            if (strcmp(plan->shelf->left_out[i].id, parts[p]->id) == 0) {
                out->left_out = &plan->shelf->left_out[i];
                return BASE_OK;
            }
        }
    }
    base_arena_init(&pins.arena, 0);
    enum base_status status = work_out(out, plan, &pins);
    base_arena_clear(&pins.arena);
    return status;
}

size_t plan_swapped_clashes(struct fit_finding *out, const struct plan_why_not *why, const struct plan *plan) {
    struct fit_build swapped = plan->now;
    uint32_t slots = 0;
    size_t n = 0;
    for (size_t i = 0; i < why->n && !why->fits && !why->left_out; i++) {
        swapped.at[why->slot[i]] = (struct fit_choice){.kind = FIT_NEW, .part = why->part[i]};
        slots |= 1u << why->slot[i];
    }
    for (size_t r = 0; r < fit_rules_n && n < PLAN_RULES_MAX; r++) {
        if (fit_rule_slots(fit_rules[r]) & slots) {
            fit_judge_rule(&out[n], fit_rules[r], plan->question.bike, &swapped, &plan->cases, false);
            n += fit_no_case(&out[n].cases);
        }
    }
    return n;
}
