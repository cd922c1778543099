/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->bike = argument;
    app_ride(reply, world, request);
}

const struct cli_command cli_ride = {
    .name = "ride",
    .argument = "BIKE",
    .options =
        CLI_JSON | CLI_NEEDS_WAY | CLI_ROUTE | CLI_CLIMB | CLI_MAY_CATALOGUE | CLI_WISH | CLI_RIDER | CLI_SAVE_CASE,
    .does = "whether the gears do on a route, or on climbs",
    .run = run,
};
