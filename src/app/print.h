/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Answers on paper: what the commands print is laid out as the blocks of a paper, with its figure and title block, and written
 * as PDF or HTML. Only files of this folder include it.
 */
#ifndef APP_PRINT_H
#define APP_PRINT_H

#include "app/load.h"
#include "app/quote.h"
#include "app/work.h"

/* Each writes the file request->out and names it in the reply, or says there what went wrong. The figure is theirs for the time. */
void app_print_work(struct app_reply *reply, const struct app_loaded *loaded, struct app_work *work);
void app_print_quote(struct app_reply *reply, const struct app_loaded *loaded, struct app_quote *quote);

#endif
