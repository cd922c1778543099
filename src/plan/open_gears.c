/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/open_gears.h"

bool plan_leave_open(struct plan *plan, int32_t lowest, int32_t counted) {
    struct plan_gearing *open = base_arena_grow(&plan->arena, plan->open_gears, plan->n_open_gears,
                                                &plan->open_gears_room, plan->n_open_gears + 1, sizeof *open);
    if (open) {
        plan->open_gears = open;
        open[plan->n_open_gears++] = (struct plan_gearing){lowest, counted};
    }
    return open != NULL;
}

/* Is a gearing at least as good as a way's, in what is compared? */
static bool as_good(const struct plan *plan, const struct plan_gearing *gearing, const struct plan_way *way) {
    uint32_t objectives = plan->wish.objectives;
    return (!(objectives >> TRADE_LOWEST & 1) || gearing->lowest <= way->values.lowest) &&
           (!(objectives >> TRADE_HIGHEST & 1) || gearing->counted >= way->values.counted);
}

static bool is_final(const struct plan *plan, const struct plan_way *way) {
    for (size_t i = 0; i < plan->n_open_gears; i++) {
        if (as_good(plan, &plan->open_gears[i], way)) {
            return false;
        }
    }
    return !plan->all_open;
}

void plan_keep_final(struct plan *plan) {
    size_t left = 0;
    for (size_t i = 0; i < plan->n_ways; i++) {
        if (is_final(plan, &plan->ways[i])) {
            plan->ways[left++] = plan->ways[i];
        }
    }
    plan->n_ways = left;
}
