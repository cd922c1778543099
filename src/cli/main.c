/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

int main(int argc, char **argv) { return cli_run(argc, argv); }
