/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A command of the program: its name, what it takes, what it does. main.c holds the table; each command has a file.
 */
#ifndef CLI_COMMAND_H
#define CLI_COMMAND_H

#include "app/commands.h"

/* Options that a command understands; a bit set. No enum: they are more bits than an int is sure to have. */
#define CLI_JSON (UINT64_C(1) << 0)
#define CLI_CATALOGUE (UINT64_C(1) << 1)
#define CLI_WISH (UINT64_C(1) << 2)
#define CLI_WAYS (UINT64_C(1) << 3)
#define CLI_WHY (UINT64_C(1) << 4)
#define CLI_SAVE_CASE (UINT64_C(1) << 5)
#define CLI_BIKE (UINT64_C(1) << 6)          /* --bike FILE; commands about one bike take it as an argument instead */
#define CLI_MAY_CATALOGUE (UINT64_C(1) << 7) /* --catalogue FOLDER, where an answer does not need it */
#define CLI_MEMORY (UINT64_C(1) << 8)
#define CLI_PART (UINT64_C(1) << 9)
#define CLI_WITH (UINT64_C(1) << 10)
#define CLI_BATCH (UINT64_C(1) << 11) /* instead of the argument */
#define CLI_LIMIT_S (UINT64_C(1) << 12)
#define CLI_RIDER (UINT64_C(1) << 13)
#define CLI_GRADIENT (UINT64_C(1) << 14)
#define CLI_CADENCE (UINT64_C(1) << 15)
#define CLI_ROUTE (UINT64_C(1) << 16) /* or the climbs in its place */
#define CLI_CLIMB (UINT64_C(1) << 17)
#define CLI_RULER (UINT64_C(1) << 18)
#define CLI_GAUGE (UINT64_C(1) << 19)
#define CLI_NM (UINT64_C(1) << 20)
#define CLI_GEAR_USE (UINT64_C(1) << 21)
#define CLI_DATE (UINT64_C(1) << 22)
#define CLI_WAY (UINT64_C(1) << 23)
#define CLI_DISCOUNT (UINT64_C(1) << 24)
#define CLI_CALL_FIRST (UINT64_C(1) << 25)
#define CLI_OLD_PARTS (UINT64_C(1) << 26)
#define CLI_JOB (UINT64_C(1) << 27)
#define CLI_CSV (UINT64_C(1) << 28)
#define CLI_AT (UINT64_C(1) << 29)
#define CLI_BY (UINT64_C(1) << 30)
#define CLI_REASON (UINT64_C(1) << 31)
#define CLI_AFTER (UINT64_C(1) << 32)
#define CLI_LAYOUT (UINT64_C(1) << 34)
#define CLI_MODE (UINT64_C(1) << 35)
#define CLI_GROUND (UINT64_C(1) << 36)
#define CLI_OUT (UINT64_C(1) << 37)
#define CLI_SIZE (UINT64_C(1) << 38)
#define CLI_NEEDS_WAY (UINT64_C(1) << 33) /* no option of its own: --route or --climb must be there */

struct cli_command {
    const char *name;
    const char *argument; /* what stands behind the name, such as BIKE; NULL for none */
    const char *then;     /* what stands behind it, needed where it is named; NULL for none */
    bool optional;        /* the argument may be left out */
    const char *more;     /* what may stand behind the argument, any number of it: request->words; NULL: nothing */
    uint64_t options;
    const char *does; /* one line of help */
    /* argument: NULL when left out. request is filled from the options, and its bike from what stands behind. */
    void (*run)(struct app_reply *reply, const struct app_world *world, struct app_request *request,
                const char *argument);
};

extern const struct cli_command cli_gears, cli_line, cli_chain, cli_shift, cli_fit, cli_wear, cli_torque, cli_plan,
    cli_work, cli_quote, cli_buy_list, cli_record, cli_handover, cli_why_not, cli_explain, cli_parts, cli_climb,
    cli_ride, cli_draw, cli_paper, cli_path, cli_suspension, cli_check_data, cli_version, cli_help;

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
