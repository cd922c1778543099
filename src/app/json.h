/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Answers as JSON documents. The keys are described by the schemas in docs/schema/.
 */
#ifndef APP_JSON_H
#define APP_JSON_H

#include "app/answers.h"
#include "app/commands.h"
#include "app/text.h"
#include "base/fault.h"

/* The gears of a bike. */
void app_json_gears(struct base_buffer *out, const struct app_gears *gears);
/* Its chain line. */
void app_json_line(struct base_buffer *out, const struct app_line *line);
/* Its chain. */
void app_json_chain(struct base_buffer *out, const struct app_chain *chain);
/* Its indexing. */
void app_json_shift(struct base_buffer *out, const struct app_shift *shift);
/* Findings about joints, and parts that go by their condition. */
void app_json_fit(struct base_buffer *out, const struct trade_bike *bike, const struct fit_finding *findings, size_t n);

/* The picks first, then the first `ways` in rising cost. */
void app_json_plan(struct base_buffer *out, const struct app_plan_shown *shown, size_t ways);

/* A bike that is turned down: codes of the messages why and what can still be done. */
void app_json_refused(struct base_buffer *out, const char *why, const char *can_do);
/* What is wrong with what was read. */
void app_json_faults(struct base_buffer *out, const struct base_faults *faults);
/* Parts of the shop; kind: enum trade_kind, or -1 for all. */
void app_json_parts(struct base_buffer *out, const struct trade_catalogue *catalogue, const struct trade_shop *shop,
                    int kind);
/* Everything that is called so. */
void app_json_explain(struct base_buffer *out, struct base_slice name);
/* What check-data found nothing to mend in: how many parts of each kind. */
void app_json_checked(struct base_buffer *out, const struct trade_catalogue *catalogue, const struct trade_shop *shop);
void app_json_version(struct base_buffer *out);
/* What was asked, for a case that is saved: the command and the options that an answer hangs on. */
void app_json_case(struct base_buffer *out, const struct app_request *request);

#endif
