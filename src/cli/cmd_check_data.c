/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->catalogue = argument;
    app_check_data(reply, world, request);
}

const struct cli_command cli_check_data = {
    .name = "check-data",
    .argument = "FOLDER",
    .options = CLI_JSON | CLI_BIKE | CLI_WISH,
    .does = "reads a shop's folder and tells every fault",
    .run = run,
};
