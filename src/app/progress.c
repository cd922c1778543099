/* SPDX-License-Identifier: Apache-2.0 */
#include "app/progress.h"

#include "explain/message.h"

void app_tell_progress(const struct app_world *world, const char *code, size_t done, size_t of, const char *what) {
    struct base_buffer line;
    base_buffer_init(&line, 0);
    explain_tell(&line, code, explain_count((int64_t)done), explain_count((int64_t)of),
                 explain_words(what ? what : ""));
    if (line.status == BASE_OK) {
        world->progress(world->self, explain_held(&line, &line));
    }
    base_buffer_clear(&line);
}

void app_end_progress(const struct app_world *world) { world->progress(world->self, ""); }
