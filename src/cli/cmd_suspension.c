/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->bike = argument;
    app_suspension(reply, world, request);
}

const struct cli_command cli_suspension = {
    .name = "suspension",
    .argument = "FILE",
    .options = CLI_JSON,
    .does = "what a rear suspension does to chain and pedals",
    .run = run,
};
