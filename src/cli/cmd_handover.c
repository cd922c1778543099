/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->job = argument;
    app_handover(reply, world, request);
}

const struct cli_command cli_handover = {
    .name = "handover",
    .argument = "JOB",
    .options = CLI_JSON,
    .does = "what was fitted, for who rides it",
    .run = run,
};
