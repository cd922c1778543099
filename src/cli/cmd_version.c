/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    (void)world;
    (void)request;
    (void)argument;
    base_buffer_text(&reply->out, "chainwright " CHAINWRIGHT_VERSION "\n");
}

const struct cli_command cli_version = {
    .name = "version",
    .does = "prints the version",
    .run = run,
};
