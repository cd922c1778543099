/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

const struct cli_command *const cli_commands[] = {
    &cli_plan,  &cli_why_not,    &cli_quote,   &cli_work,   &cli_buy_list, &cli_record,     &cli_handover,
    &cli_gears, &cli_line,       &cli_chain,   &cli_shift,  &cli_fit,      &cli_wear,       &cli_climb,
    &cli_ride,  &cli_draw,       &cli_paper,   &cli_torque, &cli_path,     &cli_suspension, &cli_explain,
    &cli_parts, &cli_check_data, &cli_version, &cli_help};
const size_t cli_commands_n = sizeof cli_commands / sizeof cli_commands[0];
