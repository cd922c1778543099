/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->bike = argument;
    app_path(reply, world, request);
}

const struct cli_command cli_path = {
    .name = "path",
    .argument = "FILE",
    .options = CLI_JSON,
    .does = "length of a chain round bare wheels",
    .run = run,
};
