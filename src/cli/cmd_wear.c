/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->bike = argument;
    app_wear(reply, world, request);
}

const struct cli_command cli_wear = {
    .name = "wear",
    .argument = "BIKE",
    .options = CLI_JSON | CLI_RULER | CLI_GAUGE | CLI_SAVE_CASE,
    .does = "what is worn, and what may stay under a new chain",
    .run = run,
};
