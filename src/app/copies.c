/* SPDX-License-Identifier: Apache-2.0 */
#include "app/copies.h"

#include <string.h>

struct app_copy {
    const char *name;
    struct base_slice bytes;
};

void app_copies_init(struct app_copies *out) {
    *out = (struct app_copies){.n = 0};
    base_arena_init(&out->arena, 0);
}

void app_copies_clear(struct app_copies *copies) {
    base_arena_clear(&copies->arena);
    app_copies_init(copies);
}

enum base_status app_copies_add(struct app_copies *copies, const char *name, struct base_slice bytes) {
    const char *kept_name = base_arena_copy(&copies->arena, name, strlen(name));
    const char *kept = base_arena_copy(&copies->arena, bytes.n > 0 ? bytes.at : "", bytes.n);
    void *grown =
        base_arena_grow(&copies->arena, copies->at, copies->n, &copies->room, copies->n + 1, sizeof *copies->at);
    if (!kept_name || !kept || !grown) {
        return BASE_NO_MEMORY;
    }
    copies->at = grown;
    copies->at[copies->n++] = (struct app_copy){kept_name, {kept, bytes.n}};
    return BASE_OK;
}

enum base_status app_copies_write(const struct app_copies *copies, const struct app_world *world, const char *folder,
                                  struct base_buffer *trouble) {
    enum base_status status = BASE_OK;
    for (size_t i = 0; i < copies->n && status == BASE_OK; i++) {
        struct base_buffer path;
        base_buffer_init(&path, 0);
        base_buffer_text(&path, folder);
        base_buffer_char(&path, '/');
        base_buffer_text(&path, copies->at[i].name);
        status = path.status == BASE_OK ? world->create(world->self, path.at, copies->at[i].bytes) : path.status;
        if (status != BASE_OK) {
            base_buffer_text(trouble, path.at);
        }
        base_buffer_clear(&path);
    }
    return status;
}
