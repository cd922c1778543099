/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->job = argument;
    app_record(reply, world, request);
}

const struct cli_command cli_record = {
    .name = "record",
    .argument = "JOB",
    .more = "WORD",
    .options = CLI_JSON | CLI_AT | CLI_BY | CLI_REASON | CLI_AFTER,
    .does = "what was done on a job; with words, adds to it",
    .run = run,
};
