/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How far a long run is, as one line for who watches; where nobody does, nothing.
 */
#ifndef APP_PROGRESS_H
#define APP_PROGRESS_H

#include "app/world.h"

/* The line of this message with `done`, `of` and, where there is one, `what`, in place of the line before. A line that can't be
 * made is left out. what: NULL for none. */
void app_tell_progress(const struct app_world *world, const char *code, size_t done, size_t of, const char *what);
/* Takes the line away. */
void app_end_progress(const struct app_world *world);

#endif
