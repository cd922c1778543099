/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Names, kept once: equal names get the same pointer, so that rules compare pointers.
 * One table serves a bike and a catalogue that are planned together, and must outlive both.
 */
#ifndef TRADE_NAMES_H
#define TRADE_NAMES_H

#include "base/arena.h"
#include "base/text.h"

struct trade_names {
    struct base_arena arena;
    const char **slots; /* open-addressed table of pointers into the arena */
    size_t n, room;
};

/* No names yet. Never fails. */
void trade_names_init(struct trade_names *out);
/* Frees every name; the table is empty and usable again. */
void trade_names_clear(struct trade_names *names);
/* The one pointer of this name, zero-terminated, owned by names; NULL when memory is spent. */
const char *trade_name(struct trade_names *names, struct base_slice text) BASE_CHECKED;

#endif
