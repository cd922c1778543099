/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The files, folders and streams of this machine, as the app layer wants them.
 */
#define _POSIX_C_SOURCE 200809L

#include "cli/command.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define FILE_MOST ((size_t)256 << 20)

static enum base_status status_of(int error) {
    switch (error) {
    case ENOENT:
    case EISDIR:
    case ENOTDIR:
    case EACCES:
    case ENAMETOOLONG:
    case ELOOP:
        return BASE_BAD_INPUT;
    case ENOMEM:
        return BASE_NO_MEMORY;
    default:
        return BASE_SYSTEM;
    }
}

/* Hands on what a stream holds, piece by piece. */
static enum base_status pass_on(FILE *stream, app_take *take, void *to) {
    char block[16384];
    size_t n;
    enum base_status status = BASE_OK;
    while (status == BASE_OK && (n = fread(block, 1, sizeof block, stream)) > 0) {
        status = take(to, (struct base_slice){block, n});
    }
    return status == BASE_OK && ferror(stream) ? status_of(errno) : status;
}

static enum base_status stream_file(void *self, const char *path, app_take *take, void *to) {
    (void)self;
    if (strcmp(path, "-") == 0) {
        return pass_on(stdin, take, to);
    }
    FILE *stream = fopen(path, "rb");
    if (!stream) {
        return status_of(errno);
    }
    enum base_status status = pass_on(stream, take, to);
    fclose(stream);
    return status;
}

static enum base_status keep(void *to, struct base_slice bytes) {
    struct base_buffer *out = to;
    if (out->n + bytes.n > FILE_MOST) {
        return BASE_LIMIT;
    }
    base_buffer_slice(out, bytes);
    return out->status;
}

static enum base_status read_file(void *self, struct base_buffer *out, const char *path) {
    return stream_file(self, path, keep, out);
}

static int compare_entries(const struct dirent **a, const struct dirent **b) {
    return strcmp((*a)->d_name, (*b)->d_name);
}

static enum base_status list_folder(void *self, struct base_buffer *out, const char *folder) {
    struct dirent **entries;
    (void)self;
    int n = scandir(folder, &entries, NULL, compare_entries);
    if (n < 0) {
        return status_of(errno);
    }
    for (int i = 0; i < n; i++) {
        const char *name = entries[i]->d_name;
        if (strcmp(name, ".") != 0 && strcmp(name, "..") != 0) {
            base_buffer_text(out, name);
            base_buffer_char(out, '\n');
        }
        free(entries[i]);
    }
    free(entries);
    return out->status;
}

/* Makes every folder above the last part of the path. */
static bool make_folders(char *path) {
    for (char *at = path + 1; *at; at++) {
        if (*at == '/') {
            *at = '\0';
            bool made = mkdir(path, 0777) == 0 || errno == EEXIST;
            *at = '/';
            if (!made) {
                return false;
            }
        }
    }
    return true;
}

static bool write_all(int file, struct base_slice bytes) {
    while (bytes.n > 0) {
        ssize_t n = write(file, bytes.at, bytes.n);
        if (n < 0 && errno != EINTR) {
            return false;
        }
        bytes.at += n > 0 ? n : 0;
        bytes.n -= n > 0 ? (size_t)n : 0;
    }
    return true;
}

static bool write_whole(const char *path, struct base_slice bytes) {
    FILE *stream = fopen(path, "wb");
    if (!stream) {
        return false;
    }
    bool whole = fwrite(bytes.n ? bytes.at : "", 1, bytes.n, stream) == bytes.n;
    return fclose(stream) == 0 && whole;
}

/* Written beside the place and moved there, so that a file is never half there. */
static enum base_status write_file(void *self, const char *path, struct base_slice bytes) {
    struct base_buffer beside;
    char *folders = strdup(path);
    (void)self;
    base_buffer_init(&beside, 0);
    base_buffer_text(&beside, path);
    base_buffer_text(&beside, ".part");
    bool done = folders && beside.status == BASE_OK && make_folders(folders) && write_whole(beside.at, bytes) &&
                rename(beside.at, path) == 0;
    base_buffer_clear(&beside);
    free(folders);
    return done ? BASE_OK : BASE_SYSTEM;
}

/* Written under a name that nobody else has, then given its own: link(2) takes no name that is taken. */
static enum base_status create_file(void *self, const char *path, struct base_slice bytes) {
    struct base_buffer beside;
    char *folders = strdup(path);
    (void)self;
    base_buffer_init(&beside, 0);
    base_buffer_text(&beside, path);
    base_buffer_text(&beside, ".XXXXXX");
    enum base_status status = BASE_SYSTEM;
    int file = folders && beside.status == BASE_OK && make_folders(folders) ? mkstemp(beside.at) : -1;
    if (file >= 0) {
        bool whole = fchmod(file, 0644) == 0 && write_all(file, bytes) && fsync(file) == 0;
        if (close(file) == 0 && whole) {
            status = link(beside.at, path) == 0 ? BASE_OK : errno == EEXIST ? BASE_NO : BASE_SYSTEM;
        }
        unlink(beside.at);
    }
    base_buffer_clear(&beside);
    free(folders);
    return status;
}

static enum base_status put_out(void *self, struct base_slice bytes) {
    (void)self;
    return fwrite(bytes.n ? bytes.at : "", 1, bytes.n, stdout) == bytes.n ? BASE_OK : BASE_SYSTEM;
}

/* One line on a terminal that is written over and taken away at the end; nothing elsewhere. */
static void tell_progress(void *self, const char *line) {
    (void)self;
    if (isatty(STDERR_FILENO)) {
        fprintf(stderr, "\r\033[K%s", line);
    }
}

static enum base_status read_calendar(void *self, char out[APP_TIME]) {
    struct tm parts;
    time_t seconds = time(NULL);
    (void)self;
    bool told = seconds != (time_t)-1 && localtime_r(&seconds, &parts) &&
                strftime(out, APP_TIME, "%Y-%m-%dT%H:%M", &parts) == APP_TIME - 1;
    return told ? BASE_OK : BASE_SYSTEM;
}

static double read_clock(void *self) {
    struct timespec now;
    (void)self;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

static unsigned count_cores(void *self) {
    long n = sysconf(_SC_NPROCESSORS_ONLN);
    (void)self;
    return n > 1 ? (unsigned)n : 1;
}

const struct app_world cli_world = {.read = read_file,
                                    .stream = stream_file,
                                    .list = list_folder,
                                    .write = write_file,
                                    .create = create_file,
                                    .put = put_out,
                                    .progress = tell_progress,
                                    .now = read_calendar,
                                    .seconds = read_clock,
                                    .cores = count_cores};
