/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    (void)world;
    (void)argument;
    app_version(reply, request);
}

const struct cli_command cli_version = {
    .name = "version",
    .options = CLI_JSON,
    .does = "prints the version",
    .run = run,
};
