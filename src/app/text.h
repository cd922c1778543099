/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Answers as a person reads them on a terminal: a question, the answer in words, then the figures behind it.
 *
 * 80 columns, nothing beyond column 79; tiles with their words; colour only when asked for and never alone. Sentences come
 * from src/explain; here they are laid out. No clock, no locale: the same answer gives the same bytes.
 */
#ifndef APP_TEXT_H
#define APP_TEXT_H

#include "app/answers.h"
#include "base/fault.h"
#include "base/text.h"
#include "paper/paper.h"
#include "plan/plan.h"

struct app_style {
    bool colour; /* a terminal, and NO_COLOR is unset */
    bool plain;  /* not UTF-8: dashes, minus, times, degree and middle dot are replaced before anything is laid out */
    struct paper *paper; /* not NULL: what is laid out goes there, and nothing to out */
};

/* Which gears has it now? Does the chain run straight? How long must the chain be? Does a click move one sprocket? Does
 * it all fit together? shop: whose money the parts were priced in, or NULL. Each appends a page to out; a failure to grow stays in out->status. */
void app_text_gears(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                    const struct app_gears *gears);
void app_text_line(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                   const struct app_line *line, const struct trade_shop *shop);
void app_text_chain(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                    const struct app_chain *chain);
void app_text_shift(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                    const struct app_shift *shift);
void app_text_fit(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                  const struct fit_finding *findings, size_t n);

/* The whole plan: the ways shown, the bike as it stands with its gaps and faults, its gears now, then each pick. */
void app_text_plan(struct base_buffer *out, const struct app_style *style, const struct app_plan_shown *shown,
                   struct base_arena *scratch);

/* A bike that is turned down, and what can still be done. */
void app_text_refused(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                      const char *why, const char *can_do);
/* A rule, a reason, a property, a slot or a word; false when the name is none of them. */
bool app_text_explain(struct base_buffer *out, const struct app_style *style, struct base_slice name);
/* Faults, one line each: file:line:column: name: found ..., ... is allowed. */
void app_text_faults(struct base_buffer *out, const struct base_faults *faults);
/* Catalogue parts of a kind (or all), one line each, id first. */
void app_text_parts(struct base_buffer *out, const struct app_style *style, const struct trade_catalogue *catalogue,
                    const struct trade_shop *shop, int kind);

#endif
