/* SPDX-License-Identifier: Apache-2.0 */
/*
 * All that is known of one way of a plan: the report for whom wants to check it. It exists on paper only; what it says stands in
 * the answers of other commands, too.
 */
#ifndef APP_REPORT_H
#define APP_REPORT_H

#include "app/ride.h"
#include "app/work.h"

#define APP_REPORT_FIGURES 6

struct app_report {
    const struct app_plan_shown *shown;
    const struct plan_way *way;
    const char *letter;          /* of the way among the plan's picks, or "keep" */
    const struct app_work *work; /* its bench sheet */
    const struct app_ride *ride; /* NULL: no route and no climbs */
    struct base_slice figures[APP_REPORT_FIGURES];
    size_t n_figures;
};

/* The report as a page; scratch owns what is worked out for it. */
void app_text_report(struct base_buffer *out, const struct app_style *style, const struct app_report *report,
                     struct base_arena *scratch);

#endif
