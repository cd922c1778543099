/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

#include <string.h>

static void pad(struct base_buffer *out, size_t from, size_t column) {
    while (out->status == BASE_OK && out->n - from < column) {
        base_buffer_char(out, ' ');
    }
}

static void overview(struct base_buffer *out) {
    base_buffer_text(out, "What can it do?\n\n"
                          "   Chainwright plans the change of a bicycle to another gearing: what stays,\n"
                          "   what goes, which parts of the shop fit together, what it costs.\n\n");
    for (size_t i = 0; i < cli_commands_n; i++) {
        size_t from = out->n;
        base_buffer_text(out, "   ");
        base_buffer_text(out, cli_commands[i]->name);
        base_buffer_char(out, ' ');
        if (cli_commands[i]->argument) {
            base_buffer_text(out, cli_commands[i]->argument);
        }
        pad(out, from, 22);
        base_buffer_text(out, cli_commands[i]->does);
        base_buffer_char(out, '\n');
    }
    base_buffer_text(out, "\n   A file named - is standard input. `chainwright help COMMAND` tells the\n"
                          "   options of a command. Exit status: 0 done, 1 the answer is no, 2 wrong\n"
                          "   usage, 3 bad input, 4 storage or system.\n\n"
                          "   Figures are guides. The component maker's instructions come first; work on\n"
                          "   brakes, frames and carbon parts belongs to a trained mechanic.\n");
}

static void one(struct base_buffer *out, const struct cli_command *command) {
    base_buffer_text(out, "   chainwright ");
    base_buffer_text(out, command->name);
    cli_usage(out, command, "\n      ");
    base_buffer_text(out, "\n\n   ");
    base_buffer_text(out, command->does);
    base_buffer_text(out, ".\n");
}

static void run(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument) {
    (void)world;
    (void)request;
    if (!argument) {
        overview(&reply->out);
        return;
    }
    for (size_t i = 0; i < cli_commands_n; i++) {
        if (strcmp(cli_commands[i]->name, argument) == 0) {
            one(&reply->out, cli_commands[i]);
            return;
        }
    }
    base_buffer_text(&reply->err, "chainwright: help: there is no command ");
    base_buffer_text(&reply->err, argument);
    base_buffer_text(&reply->err, ". `chainwright help` lists them.\n");
    reply->status = APP_USAGE;
}

const struct cli_command cli_help = {
    .name = "help",
    .argument = "COMMAND",
    .optional = true,
    .does = "lists the commands, or tells one's options",
    .run = run,
};
