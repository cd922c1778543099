/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What is wrong with what was read: a list of faults, as data. Only src/explain and the command line make lines of it.
 *
 * A reader goes on after a fault, so that all faults of a file come in one go, up to BASE_FAULTS_MAX; further ones are
 * counted. Texts are copied into the list's own arena.
 */
#ifndef BASE_FAULT_H
#define BASE_FAULT_H

#include "base/arena.h"
#include "base/text.h"

#include <stdint.h>

#define BASE_FAULTS_MAX 50
#define BASE_FAULT_CHARS 60

struct base_fault {
    const char *file;    /* as the user named it; "-" is standard input */
    uint32_t line;       /* from 1; 0 where there is none (a JSON path says where instead) */
    uint32_t column;     /* from 1, in characters; 0 where there is none */
    const char *path;    /* JSON pointer such as /frame/hub_width_mm, or the CSV column's name, cut, or NULL */
    const char *found;   /* what stands there, cut, or NULL */
    const char *allowed; /* what is allowed, in words; never NULL */
    const char *nearest; /* the nearest known name, or NULL */
};

struct base_faults {
    struct base_arena arena;
    struct base_fault list[BASE_FAULTS_MAX];
    size_t n;     /* kept */
    size_t total; /* found, the kept ones included */
};

/* An empty list. Never fails. */
void base_faults_init(struct base_faults *faults);
/* Frees the texts; the list is empty and usable again. */
void base_faults_clear(struct base_faults *faults);
/* Adds a copy of the fault. found and path are cut to BASE_FAULT_CHARS characters, the last then being an ellipsis;
 * control characters and bytes that are not UTF-8 become '?'. Out of memory: it is counted, not kept. */
void base_faults_add(struct base_faults *faults, const struct base_fault *fault);

#endif
