/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Answers as JSON documents. The keys are described by the schemas in docs/schema/.
 */
#ifndef APP_JSON_H
#define APP_JSON_H

#include "app/answers.h"
#include "app/text.h"
#include "base/fault.h"

void app_json_gears(struct base_buffer *out, const struct app_gears *gears);
void app_json_line(struct base_buffer *out, const struct app_line *line);
void app_json_chain(struct base_buffer *out, const struct app_chain *chain);
void app_json_shift(struct base_buffer *out, const struct app_shift *shift);
void app_json_fit(struct base_buffer *out, const struct fit_finding *findings, size_t n);

/* The picks first, then the first `ways` in rising cost. */
void app_json_plan(struct base_buffer *out, const struct app_plan_shown *shown, size_t ways);

void app_json_refused(struct base_buffer *out, const char *why, const char *can_do);
void app_json_faults(struct base_buffer *out, const struct base_faults *faults);
void app_json_parts(struct base_buffer *out, const struct trade_catalogue *catalogue, const struct trade_shop *shop,
                    int kind);

#endif
