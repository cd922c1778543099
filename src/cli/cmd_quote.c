/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->bike = argument;
    app_quote(reply, world, request);
}

const struct cli_command cli_quote = {
    .name = "quote",
    .argument = "BIKE",
    .options = CLI_JSON | CLI_CATALOGUE | CLI_WISH | CLI_RIDER | CLI_ROUTE | CLI_CLIMB | CLI_WAY | CLI_DATE |
               CLI_DISCOUNT | CLI_CALL_FIRST | CLI_OLD_PARTS | CLI_JOB | CLI_MEMORY,
    .does = "what ways of a plan cost the customer, side by side",
    .run = run,
};
