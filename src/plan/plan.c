/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A plan from question to answer: fill in the wish, search, drop what is beaten, name the picks.
 */
#include "plan/plan.h"

#include "plan/front.h"
#include "plan/mass.h"
#include "plan/open_gears.h"
#include "plan/picks.h"
#include "plan/relief.h"
#include "plan/values.h"

#include <math.h>
#include <stdlib.h>

/* The wish that nobody gave: one ring, not harder than now. */
static void fill_wish(struct plan *plan) {
    plan->wish = *plan->question.wish;
    if (plan->wish.given || plan->now_values.lowest == 0) {
        return;
    }
    plan->wish.lowest_m_max = plan->now_values.lowest / 10000.0;
}

/* Which ways one search looks for. */
struct scope {
    bool open_mass; /* those whose change of mass is open, or the others */
    bool certain;   /* only those that fit in every case and hang on nothing */
};

/* Searches for one number of rings and adds what nothing beats to plan->ways. */
static enum base_status search_once(struct plan *plan, size_t *room, struct scope scope) {
    struct base_budget budget = {.limit = plan->question.limit_bytes ? plan->question.limit_bytes : PLAN_LIMIT_BYTES};
    struct base_arena arena;
    struct plan_found *found = NULL;
    size_t n = 0;
    base_arena_share(&arena, &budget);
    struct plan_model *model = base_arena_alloc(&arena, 1, sizeof *model);
    enum base_status status = model ? plan_model_init(model, plan, &arena) : BASE_NO_MEMORY;
    if (status == BASE_OK) {
        model->open_mass = scope.open_mass;
        model->certain = scope.certain;
        status = plan_search(&found, &n, model);
    }
    if (status == BASE_OK) {
        status = plan_add_ways(plan, room, model, found, n);
    }
    base_arena_clear(&arena);
    return status == BASE_NO_MEMORY && budget.refused ? BASE_LIMIT : status;
}

/* Must ways whose change of mass is open be told apart? */
static bool by_open_mass(const struct plan *plan) {
    return (plan->wish.objectives >> TRADE_MASS & 1) && plan_mass_may_be_open(plan);
}

/* Searches for each number of rings, and among these for ways of known and of open mass; no more once it was stopped. */
static enum base_status search_all(struct plan *plan, bool certain) {
    unsigned wished = plan->wish.rings, last = wished ? wished : 3;
    unsigned scopes = by_open_mass(plan) ? 2 : 1;
    size_t room = 0;
    enum base_status status = BASE_OK;
    plan->ways = NULL;
    plan->n_ways = 0;
    for (unsigned rings = wished ? wished : 1; rings <= last && status == BASE_OK; rings++) {
        plan->wish.rings = rings;
        for (unsigned scope = 0; scope < scopes && status == BASE_OK; scope++) {
            plan->all_open = plan->all_open || plan->stopped;
            if (!plan->stopped) {
                status = search_once(plan, &room, (struct scope){scope == 1, certain});
            }
        }
    }
    plan->wish.rings = wished;
    return status;
}

/* Nothing that is less than certain beats a way that is, so that the certain ones are a part of the front of their own. */
enum base_status plan_work_out(struct plan *plan) {
    enum base_status status = search_all(plan, false);
    plan->complete = status == BASE_OK && !plan->stopped;
    if (status == BASE_LIMIT) {
        status = search_all(plan, true);
    }
    if (status == BASE_LIMIT) {
        plan->n_ways = 0;
        status = BASE_OK;
    }
    if (status == BASE_OK) {
        plan_settle_front(plan, plan->wish.rings == 0 || by_open_mass(plan));
    }
    if (plan->stopped) {
        plan_keep_final(plan);
    }
    return status;
}

/* A plan, zeroed before, up to the point where it can be searched; the default wish is filled in. */
static enum base_status set_up(struct plan *plan, const struct plan_question *question) {
    base_arena_init(&plan->arena, 0);
    plan->question = *question;
    plan->question.enough = question->plain ? NULL : question->enough;
    plan->gears_known = !isnan(trade_get_number(&question->bike->wheel, TRADE_WHEEL_ROLLING_MM));
    fit_build_now(&plan->now, question->bike);
    fit_cases_of(&plan->cases, question->bike);
    plan->shelf = question->shelf;
    if (!plan->shelf) {
        if (plan_shelf_new(&plan->own_shelf, question->catalogue) != BASE_OK) {
            return BASE_NO_MEMORY;
        }
        plan->shelf = plan->own_shelf;
    }
    plan_values_of(&plan->now_values, question, &plan->now, plan->shelf->usual_mass_g,
                   plan_cap(question->wish, question->bike));
    fill_wish(plan);
    return BASE_OK;
}

enum base_status plan_new(struct plan **out, const struct plan_question *question) {
    struct plan *plan = calloc(1, sizeof *plan);
    if (!plan) {
        return BASE_NO_MEMORY;
    }
    enum base_status status = set_up(plan, question);
    if (status == BASE_OK) {
        status = plan_work_out(plan);
    }
    if (status == BASE_OK) {
        plan_name_picks(plan);
        *out = plan;
    } else {
        plan_free(plan);
    }
    return status;
}

void plan_free(struct plan *plan) {
    if (plan) {
        base_arena_clear(&plan->arena);
        plan_shelf_free(plan->own_shelf);
        free(plan);
    }
}
