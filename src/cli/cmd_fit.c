/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->bike = argument;
    app_fit(reply, world, request);
}

const struct cli_command cli_fit = {
    .name = "fit",
    .argument = "BIKE",
    .options = CLI_JSON | CLI_SAVE_CASE,
    .does = "judges every joint of the bike as it stands",
    .run = run,
};
