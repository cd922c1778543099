/* SPDX-License-Identifier: Apache-2.0 */
/*
 * One value as it stands in a file, JSON value or CSV cell, and reading it as what is wanted.
 *
 * A JSON value has a type of its own; a cell is text that may stand for a number, a word or, with blanks, a list.
 * All readers here tell a fault at the place when the value is not allowed, and then give false and leave the output.
 */
#ifndef FORMAT_ITEM_H
#define FORMAT_ITEM_H

#include "format/place.h"

#include <jansson.h>
#include <stdbool.h>

enum format_item_type {
    FORMAT_NOTHING, /* JSON null, a key that is not there, an empty cell */
    FORMAT_NUMBER,
    FORMAT_TEXT,
    FORMAT_TRUTH, /* JSON true or false */
    FORMAT_LIST,
    FORMAT_OBJECT,
    FORMAT_CELL
};

struct format_item {
    enum format_item_type type;
    json_t *json;           /* the value, borrowed; NULL for a cell and for a key that is not there */
    struct base_slice text; /* FORMAT_TEXT, FORMAT_CELL; borrowed */
    double number;          /* FORMAT_NUMBER */
};

/* json may be NULL: FORMAT_NOTHING. */
struct format_item format_item_json(json_t *json);
struct format_item format_item_cell(struct base_slice text);

/* Tells that this item is not allowed here, with what was found worded from the item. nearest may be NULL. */
void format_fault_item(const struct format_place *place, const struct format_item *item, const char *allowed,
                       const char *nearest);

/* What a number may be, ends included. */
struct format_range {
    double low, high;
    bool whole;
};

/* A number in its range. A near miss (a shifted point, a comma, a unit) is told with the likely number. */
bool format_read_number(double *out, const struct format_place *place, const struct format_item *item,
                        struct format_range range) BASE_CHECKED;

/* A text of 1 to longest characters without control characters and without blanks at its ends. Borrowed. */
bool format_read_text(struct base_slice *out, const struct format_place *place, const struct format_item *item,
                      size_t longest) BASE_CHECKED;

/* One of n words, as its index. */
bool format_read_word(unsigned *out, const struct format_place *place, const struct format_item *item,
                      const char *const *words, size_t n) BASE_CHECKED;

/* true, false, or the words yes and no; a cell: the words only. */
bool format_read_truth(bool *out, const struct format_place *place, const struct format_item *item) BASE_CHECKED;

/* A list, item by item: of a JSON array, or of a cell's words between blanks. */
struct format_list {
    struct format_place place; /* of the list */
    struct format_item item;
    size_t next;             /* JSON: index of the next item. Cell: bytes gone past */
    struct format_path step; /* JSON: the path of the item in hand */
};

/* False with a fault when the item is no list. The list must not move while it is read: the places of items point into
 * it. */
bool format_list_init(struct format_list *out, const struct format_place *place, const struct format_item *item,
                      const char *allowed) BASE_CHECKED;
/* The next item and its place; false at the end. */
bool format_list_next(struct format_list *list, struct format_item *item, struct format_place *place) BASE_CHECKED;

/* A list of different words of n (at most 64), as a bit set; may be empty. */
bool format_read_words(uint64_t *out, const struct format_place *place, const struct format_item *item,
                       const char *const *words, size_t n) BASE_CHECKED;

#endif
