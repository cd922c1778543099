/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->subject = argument;
    app_parts(reply, world, request);
}

const struct cli_command cli_parts = {
    .name = "parts",
    .argument = "KIND",
    .optional = true,
    .options = CLI_JSON | CLI_CATALOGUE,
    .does = "lists the parts of the shop, of one kind or all",
    .run = run,
};
