/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The answer to 'why not?': of one part, of two that are to go together, or of a plan that has no way.
 */
#ifndef APP_WHY_NOT_H
#define APP_WHY_NOT_H

#include "app/commands.h"
#include "plan/why_not.h"

struct app_why_not {
    struct plan *plan;            /* under the whole wish */
    bool asked;                   /* of a part; else of the plan alone */
    struct plan_why_not why;      /* asked */
    struct plan_conflict against; /* not asked, and the plan has no way */
};

/* Done when some way holds what was asked for; no when none does; failed when memory ended the search before that was
 * known. */
enum app_exit app_why_not_status(const struct app_why_not *answer);

/* As a person reads it, and as a program does. */
void app_text_why_not(struct base_buffer *out, const struct app_style *style, const struct app_why_not *answer);
void app_json_why_not(struct base_buffer *out, const struct app_why_not *answer);

#endif
