/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->bike = argument;
    app_climb(reply, world, request);
}

const struct cli_command cli_climb = {
    .name = "climb",
    .argument = "BIKE",
    .options = CLI_JSON | CLI_SAVE_CASE | CLI_GRADIENT | CLI_CLIMB | CLI_CADENCE | CLI_RIDER,
    .does = "a hill in each gear: cadence, watts, the gear it takes",
    .run = run,
};
