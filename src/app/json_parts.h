/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Pieces that several JSON answers share.
 */
#ifndef APP_JSON_PARTS_H
#define APP_JSON_PARTS_H

#include "app/answers.h"
#include "app/text.h"
#include "format/json_out.h"

/* A key with its value; a number that is not finite becomes null: nobody knows. */
void app_json_key_text(struct format_out *out, const char *key, const char *text);
/* What a buffer holds; its failure becomes that of the document. */
void app_json_key_held(struct format_out *out, const char *key, const struct base_buffer *text);
void app_json_key_int(struct format_out *out, const char *key, int64_t value);
void app_json_key_number(struct format_out *out, const char *key, double value);
void app_json_key_bool(struct format_out *out, const char *key, bool value);

/* Where a property stands in a bike's file, as a text. */
void app_json_path(struct format_out *out, unsigned subject, unsigned property);
/* "measured", "table", "assumed", "open". */
const char *app_json_known(enum base_known known);

/* How the weakest of all that stands behind an answer is known, and what the answer waits for. */
void app_json_put_waits(struct format_out *out, enum base_known known, const struct app_open *open);

/* A known value as it stands in a file: a number, a word, a list. */
void app_json_value(struct format_out *out, const struct trade_property_row *row, const struct trade_value *value);
/* Under the key `assumed`: what was taken for granted of the bike, of all that an answer can hang on. */
void app_json_assumed(struct format_out *out, const struct trade_bike *bike);

/* Of a part of the catalogue, which property its sheet does not say. */
void app_json_lacking(struct format_out *out, const char *id, enum trade_property property);
/* Under the keys `open` and `not_stated`: what the ways of a plan wait for, in the bike's file and on the sheets of the
 * shop's parts. */
void app_json_open(struct format_out *out, const struct app_plan_shown *shown);

/* A plan as one object; into the object that is open, the keys of a bike that is turned down, and of faults. */
void app_json_put_plan(struct format_out *out, const struct app_plan_shown *shown, size_t ways);
void app_json_put_refused(struct format_out *out, const char *why, const char *can_do);
void app_json_put_faults(struct format_out *out, const struct base_faults *faults);

/* The key that a wish has in its file. */
const char *app_json_wish_name(enum plan_wish_id id);
/* Into the object that is open: what a build is worth; its parts, slot by slot. */
void app_json_values(struct format_out *out, const struct plan *plan, const struct plan_values *v);
void app_json_build_parts(struct format_out *out, const struct fit_build *build);
/* A way as an object; why: with every joint. */
void app_json_way(struct format_out *out, const struct plan *plan, const struct plan_way *way, bool why);

/* The same under a key, without joints; null where way is NULL. */
void app_json_key_way(struct format_out *out, const char *key, const struct plan *plan, const struct plan_way *way);

/* One finding, and a list of them under a key. */
void app_json_finding(struct format_out *out, const struct fit_finding *finding);
void app_json_findings(struct format_out *out, const char *key, const struct fit_finding *findings, size_t n);

#endif
