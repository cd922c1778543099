/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"
#include "cli/heap.h"

int main(int argc, char **argv) {
    cli_keep_large_blocks();
    return cli_run(argc, argv);
}
