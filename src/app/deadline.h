/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How long a plan may take, by the clock of the outside world.
 */
#ifndef APP_DEADLINE_H
#define APP_DEADLINE_H

#include "app/world.h"
#include "plan/plan.h"

struct app_deadline {
    const struct app_world *world; /* borrowed */
    double at;                     /* by world->seconds */
};

/* Ends the plan of this question so many seconds from now; out must outlive the question. seconds 0: never. */
void app_deadline_set(struct app_deadline *out, struct plan_question *question, const struct app_world *world,
                      double seconds);

#endif
