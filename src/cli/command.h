/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A command of the program: its name, what it takes, what it does. main.c holds the table; each command has a file.
 */
#ifndef CLI_COMMAND_H
#define CLI_COMMAND_H

#include "app/commands.h"

/* Options that a command understands; a bit set. */
enum cli_option {
    CLI_JSON = 1,
    CLI_CATALOGUE = 2,
    CLI_WISH = 4,
    CLI_WAYS = 8,
    CLI_WHY = 16,
    CLI_SAVE_CASE = 32,
    CLI_BIKE = 64,           /* --bike FILE; commands about one bike take it as an argument instead */
    CLI_MAY_CATALOGUE = 128, /* --catalogue FOLDER, where an answer does not need it */
    CLI_MEMORY = 256,
    CLI_PART = 512,
    CLI_WITH = 1024,
    CLI_BATCH = 2048, /* instead of the argument */
    CLI_LIMIT_S = 4096,
    CLI_RIDER = 8192,
    CLI_GRADIENT = 16384,
    CLI_CADENCE = 32768,
    CLI_ROUTE = 65536, /* a ride needs it, or the climbs in its place */
    CLI_CLIMB = 131072,
    CLI_RULER = 262144,
    CLI_GAUGE = 524288,
    CLI_NM = 1048576,
    CLI_GEAR_USE = 2097152,
    CLI_WAY = 4194304
};

struct cli_command {
    const char *name;
    const char *argument; /* what stands behind the name, such as BIKE; NULL for none */
    bool optional;        /* the argument may be left out */
    unsigned options;
    const char *does; /* one line of help */
    /* argument: NULL when left out. request is filled from the options. */
    void (*run)(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument);
};

extern const struct cli_command cli_gears, cli_line, cli_chain, cli_shift, cli_fit, cli_wear, cli_torque, cli_plan,
    cli_work, cli_why_not, cli_explain, cli_parts, cli_climb, cli_ride, cli_path, cli_suspension, cli_check_data,
    cli_version, cli_help;

/* Every command, in the order of the help page. */
extern const struct cli_command *const cli_commands[];
extern const size_t cli_commands_n;

/* The files, folders and streams of this machine. */
extern const struct app_world cli_world;

/* Runs the program: argv as main gets it. Writes to standard output and error; returns the exit status. */
int cli_run(int argc, char **argv);

/* A command's argument, and its options each behind `between`, appended. */
void cli_usage(struct base_buffer *out, const struct cli_command *command, const char *between);

#endif
