/* SPDX-License-Identifier: Apache-2.0 */
#include "base/fault.h"

#include <string.h>

void base_faults_init(struct base_faults *faults) {
    *faults = (struct base_faults){0};
    base_arena_init(&faults->arena, 0);
}

void base_faults_clear(struct base_faults *faults) {
    base_arena_clear(&faults->arena);
    base_faults_init(faults);
}

/* A copy of text; true also for NULL, which stays NULL. */
static bool copy_text(const char **out, struct base_arena *arena, const char *text) {
    *out = text ? base_arena_copy(arena, text, strlen(text)) : NULL;
    return *out || !text;
}

/* Bytes of the first character of s: 0 if it may not be shown (malformed, or a control of U+0000..1F, U+007F..9F). */
static size_t character_shown(struct base_slice s) {
    size_t length = base_utf8_character(s);
    const unsigned char *at = (const unsigned char *)s.at;
    bool control = length == 1 ? at[0] < 0x20 || at[0] == 0x7f : length == 2 && at[0] == 0xc2 && at[1] < 0xa0;
    return control ? 0 : length;
}

/* A copy of what a user wrote that is safe to show: well-formed, without controls, of at most BASE_FAULT_CHARS characters.
 * True also for NULL, which stays NULL. */
static bool copy_shown(const char **out, struct base_arena *arena, const char *text) {
    static const char ellipsis[] = "\xe2\x80\xa6";
    char shown[BASE_FAULT_CHARS * 4 + 1];
    size_t n = 0;
    size_t last = 0; /* where the last character of shown begins */
    struct base_slice rest = base_slice_of(text);
    for (int chars = 0; rest.n > 0; chars++) {
        if (chars == BASE_FAULT_CHARS) {
            memcpy(shown + last, ellipsis, sizeof ellipsis - 1);
            n = last + sizeof ellipsis - 1;
            break;
        }
        size_t length = character_shown(rest);
        last = n;
        if (length > 0) {
            memcpy(shown + n, rest.at, length);
            n += length;
        } else {
            shown[n++] = '?';
            length = 1;
        }
        rest.at += length;
        rest.n -= length;
    }
    shown[n] = '\0';
    return copy_text(out, arena, text ? shown : NULL);
}

void base_faults_add(struct base_faults *faults, const struct base_fault *fault) {
    faults->total++;
    if (faults->n == BASE_FAULTS_MAX) {
        return;
    }
    struct base_arena *arena = &faults->arena;
    struct base_fault kept = *fault;
    if (copy_text(&kept.file, arena, fault->file) && copy_shown(&kept.path, arena, fault->path) &&
        copy_shown(&kept.found, arena, fault->found) && copy_text(&kept.allowed, arena, fault->allowed) &&
        copy_text(&kept.nearest, arena, fault->nearest)) {
        faults->list[faults->n++] = kept;
    }
}
