/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->job = argument;
    app_buy_list(reply, world, request);
}

const struct cli_command cli_buy_list = {
    .name = "buy-list",
    .argument = "JOB",
    .more = "JOB",
    .options = CLI_JSON | CLI_CSV | CLI_CATALOGUE,
    .does = "what to take from the shelf and what to order",
    .run = run,
};
