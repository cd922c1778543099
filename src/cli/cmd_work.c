/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->bike = argument;
    app_work(reply, world, request);
}

const struct cli_command cli_work = {
    .name = "work",
    .argument = "BIKE",
    .options = CLI_JSON | CLI_MAY_CATALOGUE | CLI_WISH | CLI_WAY | CLI_MEMORY | CLI_RIDER | CLI_ROUTE | CLI_CLIMB,
    .does = "the bench sheet of one way: what to do, in which order",
    .run = run,
};
