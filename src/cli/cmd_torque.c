/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    (void)world;
    request->subject = argument;
    app_torques(reply, request);
}

const struct cli_command cli_torque = {
    .name = "torque",
    .argument = "NAME",
    .optional = true,
    .options = CLI_JSON | CLI_NM,
    .does = "how tight the screws are, and what that pulls",
    .run = run,
};
