/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a user can do: one function each, from a request to a reply. They never fail otherwise than by the reply's exit
 * status and what stands on `err`.
 */
#ifndef APP_COMMANDS_H
#define APP_COMMANDS_H

#include "app/text.h"
#include "app/world.h"

enum app_exit {
    APP_DONE = 0,
    APP_NO = 1,        /* the answer is no: a clash, no build, turned down */
    APP_USAGE = 2,     /* wrong usage */
    APP_BAD_INPUT = 3, /* what was read is not allowed; a line for each fault on err */
    APP_FAILED = 4     /* storage or system */
};

#define APP_WAYS_DEFAULT 100

/* What the user asked. Paths as given; "-" is standard input, for one of them at most. NULL: not given. */
struct app_request {
    const char *bike;
    const char *catalogue; /* folder with shop.json and one CSV for each kind */
    const char *wish;
    const char *subject;   /* of explain: a name; of parts: a kind; of check-data: a folder */
    const char *save_case; /* folder to write all that the run depended on to */
    bool json;
    bool why;      /* plan: every joint of every way */
    unsigned ways; /* plan: how many ways at most, picks first */
    struct app_style style;
};

struct app_reply {
    struct base_buffer out; /* standard output */
    struct base_buffer err; /* standard error */
    enum app_exit status;
};

void app_reply_init(struct app_reply *out);
void app_reply_clear(struct app_reply *reply);

void app_gears(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
void app_line(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
void app_chain(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
void app_shift(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
void app_fit(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
void app_plan(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
void app_parts(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
void app_explain(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
void app_check_data(struct app_reply *reply, const struct app_world *world, const struct app_request *request);

#endif
