/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->bike = argument;
    app_why_not(reply, world, request);
}

const struct cli_command cli_why_not = {
    .name = "why-not",
    .argument = "BIKE",
    .options = CLI_JSON | CLI_CATALOGUE | CLI_WISH | CLI_PART | CLI_WITH | CLI_MEMORY | CLI_RIDER | CLI_ROUTE |
               CLI_CLIMB | CLI_SAVE_CASE,
    .does = "what stops a part, and the nearest that would do",
    .run = run,
};
