/* SPDX-License-Identifier: Apache-2.0 */
/* The arena as it is released, with chunks that blocks share, where the build of the tests gives each block its own. It
 * is linked in place of the library's. */
#undef BASE_ARENA_SINGLE
#include "base/arena.c"
