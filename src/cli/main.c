/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/command.h"

#include <malloc.h>

/* The planner takes and frees blocks of megabytes all the time. Kept in the process, they need not be cleared by the system
 * page by page each time they come back. */
static void keep_large_blocks(void) {
    (void)mallopt(M_MMAP_THRESHOLD, 1 << 30);
    (void)mallopt(M_TRIM_THRESHOLD, 1 << 30);
}

int main(int argc, char **argv) {
    keep_large_blocks();
    return cli_run(argc, argv);
}
