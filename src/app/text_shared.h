/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the answers share: sentences that become paragraphs and facts, the title line, what an answer waits for.
 * Only files of this folder that lay out text include it.
 */
#ifndef APP_TEXT_SHARED_H
#define APP_TEXT_SHARED_H

#include "app/terminal.h"

#include "explain/explain.h"

/* What a buffer holds, "" for nothing; its failure becomes that of the page. */
const char *app_held(struct app_page *page, const struct base_buffer *text);

/* Lays out what the buffer holds as a paragraph, or as a fact behind the message that is its label (or NULL, for more
 * under the same label), and clears it. */
void app_end_paragraph(struct app_page *page, struct base_buffer *text);
void app_end_fact(struct app_page *page, size_t column, const char *label_code, struct base_buffer *text);
/* The same with a capital and a point. */
void app_end_sentence(struct app_page *page, struct base_buffer *text);
/* Takes the point off the end: a fact or a row is no sentence. */
void app_drop_point(struct base_buffer *text);
/* A message as heading, paragraph or fact. */
void app_question(struct app_page *page, const char *code);
void app_put_paragraph(struct app_page *page, const char *code, const struct explain_arg *args, size_t n);
void app_put_fact(struct app_page *page, const char *label_code, const char *code, const struct explain_arg *args,
                  size_t n);

/* The same with a list of arguments. */
#define app_paragraph(PAGE, CODE, ...)                                                                                 \
    app_put_paragraph(PAGE, CODE, (const struct explain_arg[]){__VA_ARGS__},                                           \
                      sizeof((const struct explain_arg[]){__VA_ARGS__}) / sizeof(struct explain_arg))
#define app_fact(PAGE, LABEL, CODE, ...)                                                                               \
    app_put_fact(PAGE, LABEL, CODE, (const struct explain_arg[]){__VA_ARGS__},                                         \
                 sizeof((const struct explain_arg[]){__VA_ARGS__}) / sizeof(struct explain_arg))

/* The bike's name, and to the right what is done with it (or NULL), then a blank line. */
void app_title(struct app_page *page, const struct trade_bike *bike, const char *right);

/* What an answer waits for: each value with its place in the bike's file and how to measure it. Nothing when n is 0. */
void app_lay_open(struct app_page *page, const struct app_open *open);

/* Findings worst first, those that fit as one line of names. cases: those that they were judged over. */
void app_lay_findings(struct app_page *page, const struct fit_finding *findings, size_t n,
                      const struct fit_cases *cases);

/* What gears make of a ride, below a title. */
struct app_ride;
void app_lay_ride(struct app_page *page, const struct app_ride *ride);

/* Gears as a person reads them: rising in three columns, or for one ring as a row of sprockets. */
void app_lay_gears(struct app_page *page, const struct app_gears *gears);
/* A row of sprockets with what a turn makes and the steps. */
void app_lay_sprocket_row(struct app_page *page, const struct app_gears *gears);

/* Sentences that the plan tells too: how the chain is cut, what the cage takes up, what a click does, where the
 * chain runs and what the frame wants. */
void app_chain_sentence(struct base_buffer *text, const struct app_chain *chain);
void app_cage_sentence(struct base_buffer *text, const struct app_chain *chain);
void app_shift_sentence(struct base_buffer *text, const struct app_shift *shift);
/* The same, or without clicks that have a length what the rules say of the pair; nothing when that is open. */
void app_shift_fact(struct base_buffer *text, const struct app_shift *shift);
void app_line_sentence(struct base_buffer *text, const struct plan_line *line);

/* The angles of each ring in the largest and the smallest sprocket, as facts; nothing when they are open. */
void app_lay_angles(struct app_page *page, const struct app_line *line);

/* A length along a road: metres, from 1 km on kilometres. */
struct explain_arg app_length_arg(double length_m, enum base_known known);

/* To the half millimetre that a computed chain line is good for. */
double app_half(double mm);

#endif
