/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Copies of files that go into a folder together once all is well: collected in memory, written at the end.
 */
#ifndef APP_COPIES_H
#define APP_COPIES_H

#include "app/world.h"
#include "base/arena.h"

struct app_copies {
    struct base_arena arena;
    struct app_copy *at;
    size_t n, room;
};

/* None yet, and the end of them. */
void app_copies_init(struct app_copies *out);
void app_copies_clear(struct app_copies *copies);
/* One more, by its name in the folder. BASE_NO_MEMORY. */
enum base_status app_copies_add(struct app_copies *copies, const char *name, struct base_slice bytes) BASE_CHECKED;
/* Creates them in their order, each whole; the last one says that all are there. trouble: the path that failed. BASE_NO: there is
 * such a file already, so that somebody else writes there; BASE_SYSTEM, BASE_NO_MEMORY. */
enum base_status app_copies_write(const struct app_copies *copies, const struct app_world *world, const char *folder,
                                  struct base_buffer *trouble) BASE_CHECKED;

#endif
