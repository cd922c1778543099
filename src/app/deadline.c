/* SPDX-License-Identifier: Apache-2.0 */
#include "app/deadline.h"

static bool is_over(void *self) {
    const struct app_deadline *deadline = self;
    return deadline->world->seconds(deadline->world->self) >= deadline->at;
}

void app_deadline_set(struct app_deadline *out, struct plan_question *question, const struct app_world *world,
                      double seconds) {
    *out = (struct app_deadline){.world = world};
    if (seconds > 0) {
        out->at = world->seconds(world->self) + seconds;
        question->enough = is_over;
        question->self = out;
    }
}
