/* SPDX-License-Identifier: Apache-2.0 */
#define _POSIX_C_SOURCE 200809L /* dirent, strdup */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "given.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define RINGS (1u << TRADE_SLOT_OUTER_RING | 1u << TRADE_SLOT_MIDDLE_RING | 1u << TRADE_SLOT_INNER_RING)

const struct format_rule given_rules[] = {
    {"stay-clearance", RINGS | 1u << TRADE_SLOT_CRANK | 1u << TRADE_SLOT_BOTTOM_BRACKET, false},
    {"spindle-taper", 1u << TRADE_SLOT_CRANK | 1u << TRADE_SLOT_BOTTOM_BRACKET, false},
    {"lever-brake", 1u << TRADE_SLOT_RIGHT_BRAKE_LEVER | 1u << TRADE_SLOT_LEFT_BRAKE_LEVER, true},
};
const size_t given_rules_n = sizeof given_rules / sizeof given_rules[0];

static const char *root(void) {
    const char *folder = getenv("CW_SOURCE_ROOT");
    return folder ? folder : ".";
}

struct base_slice given_file(const char *path) {
    char name[1024];
    snprintf(name, sizeof name, "%s/%s", root(), path);
    FILE *file = fopen(name, "rb");
    if (!file) {
        fail_msg("%s can't be opened", name);
    }
    struct base_buffer bytes;
    base_buffer_init(&bytes, 0);
    char block[4096];
    for (size_t n; (n = fread(block, 1, sizeof block, file)) > 0;) {
        base_buffer_put(&bytes, block, n);
    }
    fclose(file);
    assert_int_equal(bytes.status, BASE_OK);
    return (struct base_slice){.at = bytes.at, .n = bytes.n};
}

static int compare(const void *a, const void *b) { return strcmp(*(char *const *)a, *(char *const *)b); }

char **given_files(const char *folder, const char *suffix, size_t *n) {
    enum { MOST = 1000 };
    char name[1024];
    snprintf(name, sizeof name, "%s/%s", root(), folder);
    DIR *dir = opendir(name);
    if (!dir) {
        fail_msg("%s can't be opened", name);
    }
    char **files = calloc(MOST, sizeof *files);
    assert_non_null(files);
    *n = 0;
    for (struct dirent *entry; (entry = readdir(dir)) != NULL && *n < MOST;) {
        size_t length = strlen(entry->d_name), tail = strlen(suffix);
        if (length > tail && strcmp(entry->d_name + length - tail, suffix) == 0) {
            snprintf(name, sizeof name, "%s/%s", folder, entry->d_name);
            files[(*n)++] = strdup(name);
        }
    }
    closedir(dir);
    assert_true(*n > 0);
    qsort(files, *n, sizeof *files, compare);
    return files;
}

void given_files_free(char **files, size_t n) {
    for (size_t i = 0; i < n; i++) {
        free(files[i]);
    }
    free(files);
}

void given_lines(struct base_buffer *out, const struct base_faults *faults) {
    base_buffer_init(out, 0);
    for (size_t i = 0; i < faults->n; i++) {
        const struct base_fault *fault = &faults->list[i];
        const char *texts[] = {fault->path, fault->found, fault->allowed, fault->nearest};
        base_buffer_int(out, fault->line);
        base_buffer_char(out, ':');
        base_buffer_int(out, fault->column);
        for (size_t k = 0; k < sizeof texts / sizeof texts[0]; k++) {
            base_buffer_text(out, " | ");
            base_buffer_text(out, texts[k] ? texts[k] : "-");
        }
        base_buffer_char(out, '\n');
    }
}

void given_expect(const struct base_faults *faults, const char *lines) {
    struct base_buffer found;
    given_lines(&found, faults);
    const char *text = found.at ? found.at : "";
    if (strcmp(text, lines) != 0) {
        print_error("expected:\n%sfound:\n%s", lines, text);
    }
    assert_string_equal(text, lines);
    base_buffer_clear(&found);
}
