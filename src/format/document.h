/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A small JSON document whose top-level keys are a fixed list: wish, shop. Two more are always allowed, format (the
 * number 1) and label (a text): they say what the file is and mean nothing here.
 */
#ifndef FORMAT_DOCUMENT_H
#define FORMAT_DOCUMENT_H

#include "format/item.h"
#include "format/reader.h"

#define FORMAT_KEYS_MAX 16

/* One key of the document and what stands there. */
struct format_key {
    struct format_path step;
    struct format_place place; /* points at step */
    struct format_item item;   /* FORMAT_NOTHING for null and when the key is not there */
    bool there;
};

struct format_document {
    struct format_reader reader;
    json_t *root; /* owned */
    struct format_key keys[FORMAT_KEYS_MAX];
};

/* Reads the text, tells unknown keys, and finds the n (at most FORMAT_KEYS_MAX) known ones, in their order. out must
 * stay where it is until format_document_clear. what: 'a key of a wish', say. Nothing to clear unless BASE_OK;
 * BASE_BAD_INPUT with a fault told, BASE_NO_MEMORY. */
enum base_status format_document_init(struct format_document *out, struct base_slice bytes, const char *file,
                                      struct base_faults *faults, const char *const *names, size_t n,
                                      const char *what) BASE_CHECKED;
void format_document_clear(struct format_document *document);

/* The key format of any document must be the number 1; a fault when it is not. must: also when it is not there. */
void format_check_version(const struct format_source *source, json_t *root, bool must);

#endif
