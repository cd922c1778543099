/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The words of the documents and the words of people, in one table.
 *
 * JSON and the code speak of keep, none, adapter, measure; a person reads stays, comes off, adapted, measure. A mark is
 * what a tile stands for: of a part, what becomes of it; of a joint, what its rule says.
 */
#ifndef EXPLAIN_WORDS_H
#define EXPLAIN_WORDS_H

#include "base/text.h"
#include "fit/judge.h"

enum explain_mark {
    EXPLAIN_FITS, /* of a joint that needs no tile */
    EXPLAIN_STAYS,
    EXPLAIN_NEW,
    EXPLAIN_ADAPTED,
    EXPLAIN_OFF,
    EXPLAIN_MEASURE,
    EXPLAIN_CLASH,
    EXPLAIN_DRAWBACK,
    EXPLAIN_MARKS
};

struct explain_word {
    const char *document; /* as it stands in JSON: fits, keep, new, adapter, none, measure, clash, drawback */
    const char *code;     /* the message with the people's word */
    const char *what;     /* the message that says what it means */
};
extern const struct explain_word explain_marks[EXPLAIN_MARKS];

/* How a value is known: measured, from a table, assumed, open. */
#define EXPLAIN_KNOWN 4
extern const struct explain_word explain_known_words[EXPLAIN_KNOWN];

/* Other words of the documents, each with the people's and what it means; a NULL document behind the last. */
extern const struct explain_word explain_words_of_documents[];

/* Of all that has a name here (rules and reasons, slots, kinds, properties, words) the one nearest to this; NULL when none is
 * near (base_text_nearest). */
const char *explain_nearest_name(struct base_slice wanted);

/* What a finding says of its joint. One that clashes in some cases only, or that hangs on an open value: measure. */
enum explain_mark explain_mark_of(const struct fit_finding *finding);

#endif
