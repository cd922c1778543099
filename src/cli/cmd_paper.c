/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->paper = argument;
    app_paper(reply, world, request);
}

const struct cli_command cli_paper = {
    .name = "paper",
    .argument = "PAPER",
    .then = "BIKE-OR-JOB",
    .more = "JOB",
    .options = CLI_MAY_CATALOGUE | CLI_WISH | CLI_WAY | CLI_RIDER | CLI_ROUTE | CLI_CLIMB | CLI_DATE | CLI_DISCOUNT |
               CLI_CALL_FIRST | CLI_OLD_PARTS | CLI_SIZE | CLI_OUT | CLI_MEMORY,
    .does = "prints what is on paper, as PDF or HTML",
    .run = run,
};
