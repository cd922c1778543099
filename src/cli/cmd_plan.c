/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    if (request->batch) {
        app_batch(reply, world, request);
        return;
    }
    request->bike = argument;
    app_plan(reply, world, request);
}

const struct cli_command cli_plan = {
    .name = "plan",
    .argument = "BIKE",
    .options = CLI_JSON | CLI_CATALOGUE | CLI_WISH | CLI_BATCH | CLI_WAYS | CLI_MEMORY | CLI_LIMIT_S | CLI_RIDER |
               CLI_WHY | CLI_ROUTE | CLI_CLIMB | CLI_SAVE_CASE,
    .does = "every way to convert the bike that no other way beats",
    .run = run,
};
