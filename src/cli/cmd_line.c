/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->bike = argument;
    app_line(reply, world, request);
}

const struct cli_command cli_line = {
    .name = "line",
    .argument = "BIKE",
    .options = CLI_JSON | CLI_GEAR_USE | CLI_SAVE_CASE | CLI_MAY_CATALOGUE,
    .does = "chain line, its angles, and what brings it nearer",
    .run = run,
};
