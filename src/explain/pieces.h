/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A line of pieces with commas between them; each says one thing of a part. Only files of this folder include it.
 */
#ifndef EXPLAIN_PIECES_H
#define EXPLAIN_PIECES_H

#include "explain/message.h"
#include "explain/value.h"

#include "plan/plan.h"

struct explain_pieces {
    struct base_buffer *out;
    size_t start;      /* of the line in out */
    const char *said;  /* what the part's name says already; such a piece is left out. NULL: nothing */
    const char *joint; /* before the next piece when it is not the first: ", " or "; " */
    const struct trade_part *part;
    unsigned subject; /* as in fit_read */
    const struct plan_hang *asked;
    size_t n_asked;
    uint64_t shown; /* bit set: which of the asked stand in the line already */
};

/* Adds a piece of text; an empty one is left out. */
void explain_piece_text(struct explain_pieces *p, const char *text);
/* Adds a message as a piece. */
void explain_piece(struct explain_pieces *p, const char *code, const struct explain_arg *args, size_t n);
/* Adds a value of the part: as {0} of the message, or as it is when code is NULL. An open one that nobody asks for is left
 * out; one that is asked for is an empty box, and behind it what it is taken as. */
void explain_piece_value(struct explain_pieces *p, enum trade_property property, const char *code);
/* Adds a message if the yes-or-no property is known and says yes (or no). */
void explain_piece_if(struct explain_pieces *p, enum trade_property property, enum trade_yes_no answer,
                      const char *code);
/* Adds what is asked of the part and does not stand in the line yet, by its name. */
void explain_pieces_rest(struct explain_pieces *p);

/* Is this property of the line's subject asked for? */
bool explain_is_asked(const struct explain_pieces *p, enum trade_property property);

#endif
