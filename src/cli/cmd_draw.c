/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->figure = argument;
    app_draw(reply, world, request);
}

const struct cli_command cli_draw = {
    .name = "draw",
    .argument = "FIGURE",
    .then = "BIKE",
    .options = CLI_MAY_CATALOGUE | CLI_WISH | CLI_WAY | CLI_ROUTE | CLI_CLIMB | CLI_RIDER | CLI_LAYOUT | CLI_MODE |
               CLI_GROUND | CLI_DATE | CLI_OUT,
    .does = "draws hills, above, side, steps, changes, choices, route",
    .run = run,
};
