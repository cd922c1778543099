/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    request->subject = argument;
    app_explain(reply, world, request);
}

const struct cli_command cli_explain = {
    .name = "explain",
    .argument = "NAME",
    .options = CLI_JSON,
    .does = "what a rule, a property, a slot, a kind or a word means",
    .run = run,
};
