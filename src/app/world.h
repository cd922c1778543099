/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The outside world, as one struct of functions: the command line, the server and a page each bring their own.
 */
#ifndef APP_WORLD_H
#define APP_WORLD_H

#include "base/status.h"
#include "base/text.h"

/* Takes the next bytes of a file; anything but BASE_OK ends the reading. */
typedef enum base_status app_take(void *to, struct base_slice bytes);

#define APP_TIME 17 /* bytes of a time of day, its end included */

struct app_world {
    void *self; /* handed to each function */

    /* The bytes of a file, appended to out; "-" is standard input. BASE_BAD_INPUT: there is no such file, or it is a
     * folder, or it may not be read; BASE_LIMIT: over 256 MiB; BASE_SYSTEM; BASE_NO_MEMORY. */
    enum base_status (*read)(void *self, struct base_buffer *out, const char *path);

    /* The same in pieces, in their order, for a file that nobody wants to hold; of any size. Errors as for read, but for
     * what `take` gives. */
    enum base_status (*stream)(void *self, const char *path, app_take *take, void *to);

    /* The names of the files in a folder, each with a line feed behind it, sorted by bytes. Errors as for read. */
    enum base_status (*list)(void *self, struct base_buffer *out, const char *folder);

    /* Writes a file whole, or not at all; folders above it are made. BASE_SYSTEM. */
    enum base_status (*write)(void *self, const char *path, struct base_slice bytes);

    /* The same, but where there is such a file already it stays, and the answer is BASE_NO: of several that create it at once one
     * does. */
    enum base_status (*create)(void *self, const char *path, struct base_slice bytes);

    /* For answers that are too many to be kept until the end: writes to standard output at once. BASE_SYSTEM. */
    enum base_status (*put)(void *self, struct base_slice bytes);

    /* How far a long run is, for who watches: a line in place of the one before; "" takes it away. */
    void (*progress)(void *self, const char *line);

    /* The time of day here, such as 2026-05-01T09:30. BASE_SYSTEM. */
    enum base_status (*now)(void *self, char out[APP_TIME]);

    /* By a clock that never goes back. */
    double (*seconds)(void *self);

    /* Cores that a run may use, at least 1. */
    unsigned (*cores)(void *self);
};

#endif
